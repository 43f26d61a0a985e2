"""DXF files read back by two libraries that did not write our geometry.

Units in the header: DXF reference of the format's owner, header section: $INSUNITS 1 inches,
4 millimetres; $MEASUREMENT 0 imperial, 1 metric. Areas from vertices and bulges: the area of a
circle segment, r² (angle - sin angle) / 2, worked out here and not by the code under test.
The second reader is GDAL's ogrinfo.
"""

import io
import math
import os
import re
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import ezdxf.filemanagement
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline

from generator.geometry.outlines import Outline
from generator.geometry.slabs import Slab
from generator.model.parts import Opening, Part
from generator.outputs.dxf import layout_dxf, part_dxf
from generator.outputs.plan_files import compute_plan_files
from generator.units import SYSTEMS, System
from tests.little_designs import plan_of
from tests.samples import sample_plan

ROOT = Path(__file__).parents[2]
MM = {"imperial": 25.4, "metric": 1.0}
"""Millimetres in a unit of the file: 25.4 by the international yard and pound agreement, 1959."""


def read(data: bytes) -> Drawing:
    return ezdxf.filemanagement.read(io.StringIO(data.decode("ascii")))


def area_of(polyline: LWPolyline) -> float:
    """Return the area in square units of the file: chords plus circle segments."""
    vertices = [tuple(vertex) for vertex in polyline.get_points("xyb")]
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1], strict=True):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(abs(bulge))
            radius = math.hypot(x1 - x0, y1 - y0) / 2 / math.sin(angle / 2)
            total += math.copysign(radius**2 * (angle - math.sin(angle)) / 2, bulge)
    return total


def outlines(drawing: Drawing, layer: str) -> list[LWPolyline]:
    return [
        entity
        for entity in drawing.modelspace()
        if isinstance(entity, LWPolyline) and entity.dxf.layer == layer
    ]


def parts_of(system: System) -> list[tuple[Part, Drawing]]:
    plan = sample_plan(system)
    return [(part, read(part_dxf(plan, part))) for part in plan.parts.parts]


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_header_names_the_unit_of_the_edition(system: System) -> None:
    expected = {"imperial": (1, 0), "metric": (4, 1)}[system]
    plan = sample_plan(system)
    drawings = [drawing for _, drawing in parts_of(system)]
    drawings.append(read(layout_dxf(plan, plan.cutting.layouts[0])))

    for drawing in drawings:
        assert expected == (drawing.header["$INSUNITS"], drawing.header["$MEASUREMENT"])


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_outline_of_face_a_has_the_area_of_the_plan(system: System) -> None:
    for part, drawing in parts_of(system):
        found = outlines(drawing, "face A outline")

        assert found
        for outline in found:
            expected = part.slab.face_a.area_mm2
            assert outline.closed
            assert area_of(outline) * MM[system] ** 2 == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_outline_of_face_b_has_the_area_of_the_plan_where_it_differs(system: System) -> None:
    bevelled = [pair for pair in parts_of(system) if any(e.tilt_deg for e in pair[0].edges)]

    assert len(bevelled) == 2
    for part, drawing in bevelled:
        for outline in outlines(drawing, "face B outline"):
            expected = part.slab.face_b.area_mm2
            assert area_of(outline) * MM[system] ** 2 == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_two_outlines_together_are_as_large_as_the_finished_size(system: System) -> None:
    for part, drawing in parts_of(system):
        both = outlines(drawing, "face A outline")[:1] + outlines(drawing, "face B outline")[:1]
        points = [point for outline in both for point in outline.get_points("xy")]
        spans = [max(p[i] for p in points) - min(p[i] for p in points) for i in (0, 1)]

        assert part.length_mm == pytest.approx(spans[0] * MM[system], abs=0.001)
        assert part.width_mm == pytest.approx(spans[1] * MM[system], abs=0.001)


def rounded_part() -> Part:
    """Return a part of 200 by 100 mm with a round of 30 mm at one corner and a slot."""
    bulge = math.tan(math.pi / 8)
    corners = ((0.0, 0.0), (200.0, 0.0), (200.0, 70.0), (170.0, 100.0), (0.0, 100.0))
    outline = Outline(corners, (0.0, 0.0, bulge, 0.0, 0.0))
    slot = Outline(((60.0, 40.0), (120.0, 40.0), (120.0, 60.0), (60.0, 60.0)), (0.0, 1.0, 0.0, 1.0))
    opening = Opening(
        name="slot", center=(90.0, 50.0), sizes_mm=(80.0, 20.0), along_x=True, outline=slot
    )
    plain = sample_plan("metric").parts.part("A")
    return replace(
        plain,
        slab=Slab(outline, outline, 18.0, (slot,)),
        openings=(opening,),
        length_mm=200.0,
        width_mm=100.0,
    )


@pytest.mark.parametrize("system", SYSTEMS)
def test_arcs_are_read_back_as_arcs_with_the_exact_area(system: System) -> None:
    plan = sample_plan(system)
    drawing = read(part_dxf(plan, rounded_part()))

    round_off = 30**2 * (1 - math.pi / 4)
    outline = outlines(drawing, "face A outline")[0]
    slots = outlines(drawing, "holes")
    assert len(outline) == 5
    assert area_of(outline) * MM[system] ** 2 == pytest.approx(20000 - round_off, abs=0.1)
    assert area_of(slots[0]) * MM[system] ** 2 == pytest.approx(60 * 20 + math.pi * 10**2, abs=0.1)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_blanks_of_a_sheet_have_the_sizes_of_the_plan(system: System) -> None:
    plan = sample_plan(system)
    layout = plan.cutting.layouts[0]
    found = outlines(read(layout_dxf(plan, layout)), "blanks")

    expected = [blank.length_mm * blank.width_mm for blank in layout.placements]
    areas = [area_of(outline) * MM[system] ** 2 for outline in found]
    assert areas == pytest.approx(expected, abs=0.1)


def size_mm(polyline: LWPolyline, system: System) -> tuple[float, float]:
    """Return how long and wide a rectangle is."""
    xs, ys = zip(*polyline.get_points("xy"), strict=True)
    return (max(xs) - min(xs)) * MM[system], (max(ys) - min(ys)) * MM[system]


RACK = """
parts:
  rail:
    from: stick
    each: n in 1..3
    length: 1700 mm
    corner: [0 mm, stick * n, 0 mm]
    runs: {length: right, width: up}
joints: [{join: "rail[1] to rail[2]", with: glue}, {join: "rail[2] to rail[3]", with: glue}]
steps: [{title: All, fit: rail}]
"""
RACK_HEAD = "title: Rack\ndate: 2026-11-25\nstock:\n  stick: {imperial: 2x4, metric: 38x89}\n"


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_board_has_a_file_with_its_pieces_at_their_length_and_the_section(
    system: System,
) -> None:
    """A 2×4 is 1 1/2 by 3 1/2 in dressed (PS 20), which is 88.9 mm wide."""
    plan = plan_of(RACK, system, RACK_HEAD)
    _, files = compute_plan_files(plan)
    boards = [files[path] for path in sorted(files) if "/boards/" in path]
    blanks = [one for data in boards for one in outlines(read(data), "blanks")]
    found = [size_mm(blank, system) for blank in blanks]

    width_mm = {"imperial": 88.9, "metric": 89.0}[system]
    assert len(plan.cutting.boards) == len(boards)
    assert found == [pytest.approx((1700.0, width_mm), abs=1e-6)] * 3


HOOKED = """
parts:
  low: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  high:
    {from: panel, length: 400 mm, width: 300 mm, corner: [200 mm, 0 mm, panel],
     runs: {length: up, width: back}}
joints: [{join: low to high, with: glue}]
steps: [{title: All, fit: "low, high"}]
hardware:
  hook: {item: hooks, on: low, face: top, places: [{from left: 100 mm, from front: 50 mm}]}
"""


@pytest.mark.parametrize("system", SYSTEMS)
def test_hardware_is_a_cross_on_the_layer_of_its_face_at_its_distances(system: System) -> None:
    """Seen on face A, the underside, the left end is at the right or at the left, but as far."""
    plan = plan_of(HOOKED, system)
    lines = [
        entity
        for entity in read(part_dxf(plan, plan.parts.part("A"))).modelspace()
        if entity.dxf.layer == "hardware face B" and entity.dxftype() == "LINE"
    ]
    xs = {round((one.dxf.start.x + one.dxf.end.x) / 2 * MM[system], 3) for one in lines}
    ys = {round((one.dxf.start.y + one.dxf.end.y) / 2 * MM[system], 3) for one in lines}

    assert len(lines) == 2
    assert (len(xs), len(ys)) == (1, 1)
    assert xs <= {100, 500}
    assert ys <= {50, 250}


@pytest.mark.parametrize("system", SYSTEMS)
def test_an_audit_finds_nothing_wrong(system: System) -> None:
    plan = sample_plan(system)
    drawings = [drawing for _, drawing in parts_of(system)]
    drawings.append(read(layout_dxf(plan, plan.cutting.layouts[0])))

    for drawing in drawings:
        audit = drawing.audit()
        assert audit.errors == []
        assert audit.fixes == []


@pytest.mark.parametrize("system", SYSTEMS)
def test_gdal_finds_every_entity_on_its_layer(system: System, tmp_path: Path) -> None:
    if shutil.which("ogrinfo") is None:
        pytest.fail("ogrinfo is missing: install the package gdal-bin")
    plan = sample_plan(system)
    files = {f"{part.label}.dxf": part_dxf(plan, part) for part in plan.parts.parts}
    files["sheet.dxf"] = layout_dxf(plan, plan.cutting.layouts[0])
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
        expected = sorted(entity.dxf.layer for entity in read(data).modelspace())
        report = subprocess.run(
            ["ogrinfo", "-al", name], cwd=tmp_path, capture_output=True, text=True, check=True
        )

        assert expected == sorted(re.findall(r"Layer \(String\) = (.*)", report.stdout))
        assert report.stderr == ""


@pytest.mark.parametrize("system", SYSTEMS)
def test_gdal_measures_the_same_area_as_the_plan(system: System, tmp_path: Path) -> None:
    if shutil.which("ogrinfo") is None:
        pytest.fail("ogrinfo is missing: install the package gdal-bin")
    plan = sample_plan(system)
    for part in plan.parts.parts:
        (tmp_path / "part.dxf").write_bytes(part_dxf(plan, part))
        query = (
            "SELECT Area(ST_Polygonize(geometry)) AS area FROM entities "
            "WHERE Layer = 'face A outline' GROUP BY EntityHandle"
        )
        report = subprocess.run(
            ["ogrinfo", "-q", "-dialect", "SQLite", "-sql", query, "part.dxf"],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=True,
        )
        areas = [float(text) for text in re.findall(r"area \(Real\) = (.*)", report.stdout)]

        assert areas
        for area in areas:
            assert part.slab.face_a.area_mm2 == pytest.approx(area * MM[system] ** 2, abs=0.1)


HASH_PROGRAM = """
import hashlib
from generator.outputs.dxf import layout_dxf, part_dxf
from tests.samples import sample_plan
digest = hashlib.sha256()
for system in ("imperial", "metric"):
    plan = sample_plan(system)
    for part in plan.parts.parts:
        digest.update(part_dxf(plan, part))
    digest.update(layout_dxf(plan, plan.cutting.layouts[0]))
print(digest.hexdigest())
"""


def test_the_files_are_the_same_bytes_whatever_the_hash_seed() -> None:
    digests = []
    for seed in range(4):
        run = subprocess.run(
            [sys.executable, "-c", HASH_PROGRAM],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            capture_output=True,
            text=True,
            check=True,
        )
        digests.append(run.stdout.strip())

    assert len(digests[0]) == 64
    assert digests == digests[:1] * 4
