"""Router sheets in DXF, read back by ezdxf and by GDAL's ogrinfo, which share no code with ours.

Units and bulges as in the DXF reference of the format's owner: $INSUNITS 1 inches, 4 millimetres.
"""

import io
import re
import shutil
import subprocess
from functools import cache
from itertools import combinations
from pathlib import Path

import ezdxf.filemanagement
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.path import make_path
from shapely.geometry import Polygon

from generator.model.plan import Plan
from generator.outputs.dxf import router_dxf
from generator.units import SYSTEMS, System
from tests.little_designs import plan_of

RACK = """
parts:
  side:
    from: panel
    runs: {length: up, width: back}
    outline:
      - [0 mm, 0 mm]
      - [400 mm, 0 mm]
      - {to: [500 mm, 100 mm], rise: -20 mm}
      - {to: [400 mm, 200 mm], through: [470 mm, 170 mm]}
      - [0 mm, 200 mm]
    openings:
      - {hole: 25 mm, from bottom: 420 mm, from front: 100 mm}
      - {slot: [90 mm, 30 mm], along: up, from bottom: 200 mm, from front: 100 mm}
    pins:
      - {hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up, from bottom: 60 mm,
         from front: 40 mm, count: 8}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  floor:
    from: panel
    width: 200 mm
    runs: {length: right, width: back}
    edges:
      left: against side.left
      right: against side.right
      back: "bevel 30 deg, long on top"
joints:
  - {join: floor to side, with: pocket screws, pockets: bottom}
steps:
  - {title: All, fit: "side, floor"}
"""
MM = {"imperial": 25.4, "metric": 1.0}
FLAT = 0.002
"""How far chords may leave arcs here, in the unit of the file."""


@cache
def rack(system: System) -> Plan:
    return plan_of(RACK, system)


def read(system: System) -> Drawing:
    data = router_dxf(rack(system), rack(system).cutting.router[0])
    return ezdxf.filemanagement.read(io.StringIO(data.decode("ascii")))


def polygons(drawing: Drawing, layer: str) -> list[Polygon]:
    found = [one for one in drawing.modelspace() if one.dxf.layer == layer]
    assert all(isinstance(one, LWPolyline) for one in found)
    return [
        Polygon([(point.x, point.y) for point in make_path(one).flattening(FLAT)]) for one in found
    ]


@pytest.mark.parametrize("system", SYSTEMS)
def test_outlines_in_the_file_are_a_bit_apart_and_as_far_from_the_sheet(system: System) -> None:
    drawing, layout = read(system), rack(system).cutting.router[0]
    placed, (sheet,) = polygons(drawing, "outlines outside"), polygons(drawing, "sheet")
    bit = layout.bit_mm / MM[system]

    assert {"imperial": 6.35, "metric": 6.0}[system] == pytest.approx(layout.bit_mm)
    assert 3 == len(placed)
    assert bit <= min(one.distance(other) for one, other in combinations(placed, 2))
    assert bit <= min(sheet.exterior.distance(one) for one in placed) + 1e-9
    assert all(sheet.contains(one) for one in placed)


@pytest.mark.parametrize("system", SYSTEMS)
def test_holes_openings_and_pin_holes_lie_within_their_outlines(system: System) -> None:
    drawing = read(system)
    placed = polygons(drawing, "outlines outside")
    (hole, other), pins = (
        [one for one in drawing.modelspace().query("CIRCLE") if one.dxf.layer == layer]
        for layer in ("holes inside", "pin holes face A")
    )
    slots = polygons(drawing, "openings inside")

    assert 25.0 == pytest.approx(2 * hole.dxf.radius * MM[system])
    assert hole.dxf.center != other.dxf.center
    assert 2 == len(slots)
    assert all(any(one.contains(slot) for one in placed) for slot in slots)
    # Of a mirrored pair one has its pin holes in the face that lies below.
    assert 8 == len(pins)
    for pin in pins:
        at = Polygon([(pin.dxf.center.x + d, pin.dxf.center.y + e) for d, e in CORNERS])
        assert any(one.contains(at) for one in placed)


CORNERS = ((0.01, 0.01), (-0.01, 0.01), (-0.01, -0.01), (0.01, -0.01))


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_file_says_what_is_bevelled_afterwards_and_what_it_leaves_out(system: System) -> None:
    words = [text.dxf.text for text in read(system).modelspace().query("TEXT")]
    floor = next(part.label for part in rack(system).parts.parts if part.name == "floor")

    assert any(f"bevel afterwards: {floor}." in text for text in words)
    assert any("Not in this file: bevels, channels" in text for text in words)
    assert any("bit" in text and "operator's" in text for text in words)
    assert any(text.startswith(f"{floor}1 ") for text in words)


@pytest.mark.parametrize("system", SYSTEMS)
def test_gdal_measures_the_area_of_the_outlines_as_the_plan_tells_it(
    system: System, tmp_path: Path
) -> None:
    if shutil.which("ogrinfo") is None:
        pytest.fail("ogrinfo is missing: install the package gdal-bin")
    layout = rack(system).cutting.router[0]
    (tmp_path / "1.dxf").write_bytes(router_dxf(rack(system), layout))
    query = (
        "SELECT Area(ST_MakePolygon(geometry)) AS area FROM entities "
        "WHERE Layer = 'outlines outside' GROUP BY EntityHandle"
    )
    step = ("--config", "OGR_ARC_STEPSIZE", "0.1")
    report = subprocess.run(
        ["ogrinfo", "-q", *step, "-dialect", "SQLite", "-sql", query, "1.dxf"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    areas = [float(text) for text in re.findall(r"area \(Real\) = (.*)", report.stdout)]
    told = sum(one.outline.area_mm2 for one in layout.placements)

    assert 3 == len(areas)
    assert told == pytest.approx(sum(areas) * MM[system] ** 2, abs=0.5)
