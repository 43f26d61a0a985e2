"""The drawings of a plan in one DXF file, read back by two libraries that did not draw them.

Bulge: the tangent of a quarter of the angle of an arc, DXF reference of the format's owner. The
second reader is GDAL's ogrinfo, which turns arcs into chords.
"""

import functools
import io
import math
import re
import shutil
import subprocess
from collections import Counter
from pathlib import Path

import ezdxf.filemanagement
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline

from generator.outputs.dxf_drawing import DRAWING_LAYERS, drawing_dxf
from generator.outputs.plan_files import draw_pictures
from generator.outputs.scene import Arrowhead, Disc, Scene, Stroke, Words
from generator.units import SYSTEMS, System
from tests.demo_plans import demo_plan

UNIT_MM = {"imperial": 25.4, "metric": 1.0}


@functools.cache
def scenes_of(system: System) -> tuple[Scene, ...]:
    artifacts, scenes = draw_pictures(demo_plan("tool-tote", system))
    parts = [picture for _, pictures in artifacts.parts for picture in pictures]
    return tuple(scenes[picture.path] for picture in (artifacts.three_views, *parts))


@functools.cache
def written(system: System) -> bytes:
    return drawing_dxf(scenes_of(system), system)


def read(data: bytes) -> Drawing:
    return ezdxf.filemanagement.read(io.StringIO(data.decode("ascii")))


def polylines(drawing: Drawing, layer: str) -> list[LWPolyline]:
    found = drawing.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    return [one for one in found if isinstance(one, LWPolyline)]


@pytest.mark.parametrize("system", SYSTEMS)
def test_another_reader_finds_every_text_arrow_and_line_on_its_layer(system: System) -> None:
    drawing = read(written(system))
    items = [item for scene in scenes_of(system) for item in scene.items]
    found = Counter((entity.dxftype(), entity.dxf.layer) for entity in drawing.modelspace())
    lines = Counter(("LWPOLYLINE", str(item.layer)) for item in items if isinstance(item, Stroke))
    lines["LWPOLYLINE", "paper"] = len(scenes_of(system))
    heads = Counter(("SOLID", item.layer) for item in items if isinstance(item, Arrowhead))
    texts = sum(isinstance(item, Words) for item in items)
    rings = Counter(("CIRCLE", i.layer) for i in items if isinstance(i, Disc) and i.layer)

    assert texts == found["TEXT", "texts"]
    assert lines == {key: count for key, count in found.items() if key[0] == "LWPOLYLINE"}
    assert heads == {key: count for key, count in found.items() if key[0] == "SOLID"}
    assert rings.items() <= found.items()
    assert set(DRAWING_LAYERS) >= {layer for _, layer in found}
    assert drawing.audit().errors == []


@pytest.mark.parametrize("system", SYSTEMS)
def test_sizes_are_text_that_reads_as_on_the_drawing(system: System) -> None:
    texts = {entity.dxf.text for entity in read(written(system)).modelspace().query("TEXT")}
    sizes = [
        item.text
        for scene in scenes_of(system)
        for item in scene.items
        if isinstance(item, Words) and item.span is not None
    ]

    assert sizes
    assert {size.replace("Ø", "dia.") for size in sizes} <= texts


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_header_says_the_unit_and_the_sheets_are_as_wide_as_their_paper(
    system: System,
) -> None:
    drawing = read(written(system))
    borders = [[point[0] for point in one] for one in polylines(drawing, "paper")]
    widths = [max(xs) - min(xs) for xs in borders]

    assert {"imperial": 1, "metric": 4}[system] == drawing.header["$INSUNITS"]
    assert [scene.width_mm for scene in scenes_of(system)] == pytest.approx(
        [width * UNIT_MM[system] for width in widths]
    )


def test_arcs_stay_arcs() -> None:
    # The ends of the tote are rounded by quarter circles: bulge tan(90° / 4), either way round.
    outlines = polylines(read(written("metric")), "outline")
    bulges = {round(abs(point[4]), 6) for outline in outlines for point in outline if point[4]}

    assert round(math.tan(math.radians(90 / 4)), 6) in bulges


def test_hidden_lines_are_narrow_and_dashed_and_outlines_twice_as_wide() -> None:
    # ISO 128: wide and narrow lines 2:1. In hundredths of a millimetre; dashes are positive.
    drawing = read(written("metric"))
    hidden, outline = drawing.layers.get("hidden"), drawing.layers.get("outline")

    assert outline.dxf.lineweight == 2 * hidden.dxf.lineweight == 50
    assert outline.dxf.linetype == "Continuous"
    assert hidden.dxf.linetype in drawing.linetypes
    assert hidden.dxf.linetype != "Continuous"


@pytest.mark.parametrize("system", SYSTEMS)
def test_gdal_finds_every_entity_on_its_layer(system: System, tmp_path: Path) -> None:
    if shutil.which("ogrinfo") is None:
        pytest.fail("ogrinfo is missing: install the package gdal-bin")
    (tmp_path / "drawings.dxf").write_bytes(written(system))
    report = subprocess.run(
        ["ogrinfo", "-al", "drawings.dxf"],
        cwd=tmp_path, capture_output=True, text=True, check=True,
    )  # fmt: skip
    expected = sorted(entity.dxf.layer for entity in read(written(system)).modelspace())

    assert expected == sorted(re.findall(r"Layer \(String\) = (.*)", report.stdout))
    assert report.stderr == ""
