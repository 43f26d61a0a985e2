"""Volume, area and centre of every demo part to one part in a million, arcs and all.

Source: trimesh (mass properties of a triangle mesh). The skin is asked for with chords so short
that what they cut off arcs is below that; the areas are worked out here from outlines and angles.
"""

import math
from functools import cache

import numpy as np
import pytest
import trimesh

from generator.build import build_plan
from generator.design.overrides import choose_size
from generator.design.read import read_design
from generator.geometry.outlines import Outline, arc_of
from generator.geometry.rods import Body, Rod
from generator.geometry.slabs import Slab
from generator.geometry.vectors import Vec3
from generator.model.parts import Part
from generator.targets import DESIGN_FILE, Target, find_targets
from generator.units import SYSTEMS, System
from tests.little_designs import ROOT, say, shared_catalogue

FINE_MM = 1e-5
FINE_ON_RODS_MM = 4e-6
"""A rod is small and round all over: the same chords would take more of it."""

FINE_WITH_CHANNELS_MM = 1e-4
"""The arcs of these are large, and a face with many corners takes long to cut into triangles."""

MILLIONTH = 1e-6
TARGETS = find_targets(ROOT / "designs")
EVERY_PLAN = pytest.mark.parametrize(
    ("target", "system"),
    [(target, system) for target in TARGETS for system in SYSTEMS],
    ids=lambda value: value.slug if isinstance(value, Target) else value,
)


@EVERY_PLAN
def test_every_part_has_volume_area_and_centre_of_its_mesh_to_a_millionth(
    target: Target, system: System
) -> None:
    for part in parts_of(target, system):
        slab = part.slab
        mesh = mesh_of(slab)

        assert mesh.is_watertight, part.name
        assert mesh.volume == pytest.approx(slab.volume_mm3, rel=MILLIONTH), part.name
        assert mesh.area == pytest.approx(area_of(slab), rel=MILLIONTH), part.name
        near = MILLIONTH * max(slab.bounds)
        assert mesh.center_mass == pytest.approx(np.array(slab.center), abs=near), part.name


@EVERY_PLAN
def test_every_face_has_the_area_that_is_told_of_it(target: Target, system: System) -> None:
    """What lies level at the height of a face, added up over the mesh, is that face."""
    for part in parts_of(target, system):
        slab = part.slab
        if slab.channels or isinstance(slab, Rod):
            continue
        mesh = mesh_of(slab)
        holes = sum(hole.area_mm2 for hole in slab.holes)
        for face, z in ((slab.face_a, 0.0), (slab.face_b, slab.thickness_mm)):
            level = np.all(np.abs(mesh.triangles[:, :, 2] - z) < MILLIONTH, axis=1)
            area = mesh.area_faces[level].sum()

            assert area == pytest.approx(face.area_mm2 - holes, rel=MILLIONTH), part.name


def test_the_demo_parts_have_bevels_arcs_and_holes_to_be_measured() -> None:
    slabs = [part.slab for target in TARGETS for part in parts_of(target, "metric")]

    assert any(slab.face_a != slab.face_b for slab in slabs)
    assert any(any(slab.face_a.bulges) for slab in slabs)
    assert any(slab.holes for slab in slabs)


@cache
def parts_of(target: Target, system: System) -> tuple[Part, ...]:
    path = ROOT / "designs" / target.design / DESIGN_FILE
    design, problems = read_design(path, str(path))
    assert design is not None, say(problems)
    plan, problems = build_plan(choose_size(design, target.size), shared_catalogue(), system)
    assert plan is not None, say(problems)
    return plan.parts.parts


def mesh_of(slab: Body) -> trimesh.Trimesh:
    corners = np.array(slab.triangles(fine_mm(slab))).reshape(-1, 3)
    faces = np.arange(len(corners)).reshape(-1, 3)
    mesh = trimesh.Trimesh(corners, faces, process=False)
    mesh.merge_vertices(digits_vertex=6)
    return mesh


def fine_mm(slab: Body) -> float:
    if isinstance(slab, Rod):
        return FINE_ON_RODS_MM
    return FINE_WITH_CHANNELS_MM if slab.channels else FINE_MM


def area_of(slab: Body) -> float:
    """Return the whole skin: both faces, the walls of edges and holes; channels by their faces."""
    if isinstance(slab, Rod):
        return math.pi * slab.diameter_mm * (slab.length_mm + slab.diameter_mm / 2)
    if slab.channels:
        return sum(
            math.hypot(*_area_vector(face.outer)) - sum(map(_length_of_area, face.holes))
            for face in slab.faces(fine_mm(slab))
        )
    area = slab.face_a.area_mm2 + slab.face_b.area_mm2
    area += sum(_wall(slab, i) for i in range(len(slab.face_a.points)))
    for hole in slab.holes:
        around = sum(_length(hole, i) for i in range(len(hole.points)))
        area += around * slab.thickness_mm - 2 * hole.area_mm2
    return area


def _wall(slab: Slab, index: int) -> float:
    """Return the area of an edge: a trapezium between both faces, or an upright arc."""
    if slab.face_a.bulges[index]:
        return _length(slab.face_a, index) * slab.thickness_mm
    (x0, y0), (x1, y1), _ = slab.face_a.edges()[index]
    (u0, v0), (u1, v1), _ = slab.face_b.edges()[index]
    t = slab.thickness_mm
    return math.hypot(*_area_vector(((x0, y0, 0.0), (x1, y1, 0.0), (u1, v1, t), (u0, v0, t))))


def _length(outline: Outline, index: int) -> float:
    start, end, bulge = outline.edges()[index]
    if not bulge:
        return math.dist(start, end)
    _, radius, sweep = arc_of(start, end, bulge)
    return radius * abs(sweep)


def _length_of_area(ring: tuple[Vec3, ...]) -> float:
    return math.hypot(*_area_vector(ring))


def _area_vector(ring: tuple[Vec3, ...]) -> Vec3:
    """Return half the sum of the products of neighbouring corners (Newell's rule)."""
    points = np.array(ring) - np.array(ring[0])
    x, y, z = (np.cross(points, np.roll(points, -1, axis=0)).sum(axis=0) / 2).tolist()
    return (x, y, z)
