"""The drawing of a router sheet: every outline where plan.json has it, and what is left out."""

import functools
import re

import pytest
from shapely.geometry import Polygon, box

from generator.outputs.router_drawing import draw_router_sheet
from generator.outputs.scene import Scene, Stroke, Words
from generator.units import SYSTEMS, System
from tests.demo_plans import demo_plan
from tests.drawn_sizes import sizes_of

stool = functools.cache(functools.partial(demo_plan, "step-stool"))


def texts(scene: Scene) -> list[str]:
    return [item.text for item in scene.items if isinstance(item, Words)]


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_outline_lies_on_the_paper_as_on_the_sheet(system: System) -> None:
    plan = stool(system)
    assert plan.cutting.router
    for layout in plan.cutting.router:
        scene = draw_router_sheet(plan, layout)
        sheet, *outlines = [
            item.points
            for item in scene.items
            if isinstance(item, Stroke) and item.closed and item.layer == "outline"
        ]
        length = sizes_of(scene)[0]
        assert length.span is not None
        scale = (length.span[1][0] - length.span[0][0]) / layout.size.length_mm
        x, y = sheet[0]
        expected = [
            [(x + scale * a, y + scale * b) for a, b in outline.points]
            for one in layout.placements
            for outline in (one.outline, *one.openings)
        ]

        assert len(expected) == len(outlines)
        for wanted, found in zip(expected, outlines, strict=True):
            assert sum(wanted, ()) == pytest.approx(sum(found, ()))


def test_no_outline_leaves_the_dashed_border_of_the_sheet() -> None:
    plan = stool("metric")
    scene = draw_router_sheet(plan, plan.cutting.router[0])
    strokes = [item for item in scene.items if isinstance(item, Stroke) and item.closed]
    border = next(Polygon(item.points) for item in strokes if item.layer == "hidden")
    outlines = [Polygon(item.points) for item in strokes if item.layer == "outline"][1:]

    assert outlines
    assert all(box(*border.buffer(1e-6).bounds).contains(outline) for outline in outlines)


def test_it_tells_the_bit_and_what_it_leaves_out() -> None:
    plan = stool("metric")
    layout = plan.cutting.router[0]
    shown = " ".join(texts(draw_router_sheet(plan, layout)))

    assert re.search(rf"Laid for a {layout.bit_mm:g} mm bit", shown)
    assert "Not here: bevels" in shown
    assert {one.label for one in layout.placements} <= set(shown.split())


def test_it_names_the_parts_that_are_bevelled_afterwards() -> None:
    plan = demo_plan("cleat-wall", "metric")
    layout = plan.cutting.router[0]
    shown = " ".join(texts(draw_router_sheet(plan, layout)))

    assert layout.bevels
    assert f"Cut square at the long point, bevel afterwards: {', '.join(layout.bevels)}." in shown
