"""Strips of a sheet: below each other, inside the margins, as high as is said before."""

import pytest

from generator.outputs.panels import bounds_of
from generator.outputs.scene import Disc, Stroke
from generator.outputs.strips import (
    APART_MM,
    MARGIN_MM,
    PAGE_MM,
    Panels,
    height_of,
    make_strip,
    stack_strips,
)

LINE = Stroke(points=((0.0, -2.0), (30.0, 8.0)), layer="outline")
RING = Disc(center=(5.0, 5.0), radius_mm=5.0, layer="screw")
SHEET = Panels(title="Part A", description="A part.", scale="scale 1:5", strips=())


def test_strips_stand_below_each_other_and_fill_the_height_that_was_told() -> None:
    strips = (make_strip((0.0, (LINE,)), (40.0, (RING,))), make_strip((0.0, (RING,))))
    scene = stack_strips(SHEET, "Part A, page 1 of 2", strips)
    line, beside, below = (bounds_of([item]) for item in scene.items)

    height = 2 * MARGIN_MM + 12.0 + APART_MM + 10.0
    assert height == height_of(strips) == scene.height_mm
    assert (PAGE_MM, "Part A, page 1 of 2") == (scene.width_mm, scene.title)
    top = height - MARGIN_MM
    assert (MARGIN_MM, top - 12.0, MARGIN_MM + 30.0, top - 2.0) == pytest.approx(line)
    assert (MARGIN_MM + 40.0, top - 10.0, MARGIN_MM + 50.0, top) == pytest.approx(beside)
    assert (MARGIN_MM, MARGIN_MM, MARGIN_MM + 10.0, MARGIN_MM + 10.0) == pytest.approx(below)
