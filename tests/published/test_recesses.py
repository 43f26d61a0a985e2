"""Notches, arches and cut-outs against reference libraries.

Sources: trimesh (mass properties of a triangle mesh), ezdxf (reading a drawing back).
"""

import math

import pytest

from generator.geometry.frames import Frame
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.dxf import part_dxf
from generator.units import SYSTEMS, System
from tests.little_designs import part_named, plan_of
from tests.published.test_dxf_read_back import MM, area_of, outlines, read
from tests.published.test_solids_against_trimesh import compare

FOOT = """
parts:
  foot:
    from: panel
    length: 500 mm
    width: 300 mm
    runs: {length: right, width: back}
    edges: {back: bevel 20 deg long on top}
    corners: {front left: notch 60 mm right by 40 mm back}
    cuts:
      - {arch: [200 mm, 40 mm], in: front, from left: 120 mm}
      - {notch: [80 mm, 30 mm], in: right, from front: 50 mm}
    openings:
      - cutout: [100 mm, 30 mm]
        along: right
        round: 12 mm
        from left: 250 mm
        from front: 150 mm
  post:
    from: panel
    corner: [100 mm, 282 mm, 18 mm]
    length: 200 mm
    width: 100 mm
    runs: {length: right, width: up}
joints:
  - {join: post to foot, with: glue}
steps:
  - {title: Stand the post on the foot, fit: "foot, post"}
"""


def foot(system: System) -> tuple[Plan, Part]:
    plan = plan_of(FOOT, system)
    return plan, part_named(plan.parts, "foot")


def taken_mm2() -> float:
    radius = (200**2 / 4 + 40**2) / (2 * 40)
    angle = 2 * math.asin(100 / radius)
    arch = radius**2 * (angle - math.sin(angle)) / 2
    return 60 * 40 + arch + 80 * 30 + 100 * 30 - (4 - math.pi) * 12**2


def test_a_part_with_recesses_has_the_volume_and_the_centre_of_its_mesh() -> None:
    _, part = foot("metric")

    compare(part.slab, Frame((10.0, 20.0, 30.0)).turned((1.0, 0.0, 0.0), 33.0))


@pytest.mark.parametrize("system", SYSTEMS)
def test_inward_arcs_are_read_back_from_dxf_with_the_area_of_the_formula(system: System) -> None:
    plan, part = foot(system)
    drawing = read(part_dxf(plan, part))

    outer = [outlines(drawing, f"face {face} outline")[0] for face in "AB"]
    hole = area_of(outlines(drawing, "holes")[0]) * MM[system] ** 2
    areas = [area_of(outline) * MM[system] ** 2 - hole for outline in outer]
    lean = 500 * part.thickness_mm * math.tan(math.radians(20))
    whole = 500 * 300 - taken_mm2()
    assert sorted(areas) == pytest.approx([whole - lean, whole], abs=0.1)
    assert all(sum(point[4] < 0 for point in outline) == 1 for outline in outer)
