"""The drawing of a sheet: blanks, offcuts, cuts with numbers, texts that can be read."""

import math
from dataclasses import replace

import pytest

from generator.geometry.vectors import Vec2
from generator.model.cutting import Cut, Layout, Offcut, Placement
from generator.model.plan import Plan
from generator.outputs.layout_drawing import draw_layout
from generator.outputs.scene import Area, Disc, Scene, Stroke, Words
from generator.outputs.scene_check import find_text_faults
from generator.outputs.spread import spread_places
from generator.units import SYSTEMS, System
from tests.samples import sample_plan


def texts(scene: Scene) -> list[str]:
    return [item.text for item in scene.items if isinstance(item, Words)]


def crowded(plan: Plan) -> Layout:
    """Return a sheet of 12 strips of 12 narrow blanks, a cut after each."""
    plain = plan.cutting.layouts[0]
    placements: list[Placement] = []
    cuts = list(plain.cuts[:4])
    for row in range(12):
        y = 10.0 + row * 98
        cuts.append(cut_of(len(cuts) + 1, "rip", (6.0, y + 96.5), (2434.0, y + 96.5)))
        for column in range(12):
            x = 10.0 + column * 190
            cuts.append(cut_of(len(cuts) + 1, "crosscut", (x + 186.5, y), (x + 186.5, y + 95)))
            placements.append(
                Placement(
                    label="C",
                    copy=len(placements) + 1,
                    x_mm=x,
                    y_mm=y,
                    length_mm=185.0,
                    width_mm=95.0,
                    turned=False,
                )
            )
    return replace(plain, placements=tuple(placements), cuts=tuple(cuts), offcuts=())


def cut_of(order: int, kind: str, start: Vec2, end: Vec2) -> Cut:
    return Cut(
        order=order,
        setting=1,
        kind="rip" if kind == "rip" else "crosscut",
        setting_mm=95.0,
        start=start,
        end=end,
        of="sheet 1",
        frees="C",
    )


@pytest.mark.parametrize("system", SYSTEMS)
def test_no_text_of_a_sheet_is_cut_off_or_too_small_or_stands_on_another(system: System) -> None:
    plan = sample_plan(system)
    scene = draw_layout(plan, plan.cutting.layouts[0])

    assert find_text_faults(scene) == []


def test_the_bubbles_of_a_sheet_leave_each_other_free() -> None:
    plan = sample_plan("metric")
    scene = draw_layout(plan, plan.cutting.layouts[0])
    bubbles = [item for item in scene.items if isinstance(item, Disc)]

    assert len(bubbles) == len(plan.cutting.layouts[0].cuts)
    for i, one in enumerate(bubbles):
        for other in bubbles[i + 1 :]:
            assert math.dist(one.center, other.center) >= one.radius_mm + other.radius_mm


def test_every_cut_is_a_line_with_its_number_in_the_whole_plan() -> None:
    plan = sample_plan("metric")
    layout = plan.cutting.layouts[0]
    scene = draw_layout(plan, layout)

    lines = [item for item in scene.items if isinstance(item, Stroke) and item.layer == "cut"]
    assert len(lines) == len(layout.cuts)
    for cut in layout.cuts:
        assert str(cut.order) in texts(scene)


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_blank_and_every_offcut_says_its_size(system: System) -> None:
    expected = {
        "metric": ["400 × 250", "564 × 256", "564 × 236", "offcut 2428 × 459.4"],
        "imperial": [
            "16 × 10",
            "22 9/16 × 10 1/4",
            "22 9/16 × 9 1/4",
            "offcut 95 1/2 × 17 3/4 bare",
        ],
    }[system]
    plan = sample_plan(system)
    shown = texts(draw_layout(plan, plan.cutting.layouts[0]))

    for size in expected:
        assert size in shown


def test_a_sheet_names_its_stock_and_its_place_among_the_sheets() -> None:
    plan = sample_plan("metric")
    layout = plan.cutting.layouts[0]
    second = replace(layout, number=2)
    two = replace(plan, cutting=replace(plan.cutting, layouts=(layout, second)))
    shown = texts(draw_layout(two, second))

    assert "Sheet 2 of 2" in shown
    assert any(text.startswith(layout.stock.title) for text in shown)


def test_the_whole_sheet_is_waste_where_nothing_lies_on_it() -> None:
    plan = sample_plan("metric")
    layout = replace(plan.cutting.layouts[0], placements=(), cuts=(), offcuts=())
    scene = draw_layout(plan, layout)

    areas = [item for item in scene.items if isinstance(item, Area) and item.tone == "waste"]
    xs = [x for x, _ in areas[0].rings[0]]
    ys = [y for _, y in areas[0].rings[0]]
    ratio = (max(xs) - min(xs)) / (max(ys) - min(ys))
    assert ratio == pytest.approx(layout.size.length_mm / layout.size.width_mm)


def test_a_blank_too_small_for_its_name_still_carries_its_label() -> None:
    plan = sample_plan("metric")
    plain = plan.cutting.layouts[0]
    small = replace(plain.placements[0], length_mm=90.0, width_mm=70.0)
    scene = draw_layout(plan, replace(plain, placements=(small,), cuts=(), offcuts=()))

    assert "A" in texts(scene)
    assert find_text_faults(scene) == []


def test_an_offcut_too_small_for_its_size_says_nothing() -> None:
    plan = sample_plan("metric")
    plain = plan.cutting.layouts[0]
    small = Offcut(x_mm=1000.0, y_mm=900.0, length_mm=100.0, width_mm=60.0)
    scene = draw_layout(plan, replace(plain, placements=(), cuts=(), offcuts=(small,)))

    assert not any(text.startswith("offcut 1") or text == "100 × 60" for text in texts(scene))
    assert "Offcuts: 100 × 60 mm." in scene.description


def test_a_crowded_sheet_keeps_every_number_on_the_paper() -> None:
    plan = sample_plan("metric")
    layout = crowded(plan)
    scene = draw_layout(plan, layout)

    assert not [fault for fault in find_text_faults(scene) if "leaves" in fault or "pt" in fault]
    for cut in layout.cuts:
        assert str(cut.order) in texts(scene)


def test_the_description_gives_the_numbers_a_screen_reader_needs() -> None:
    plan = sample_plan("metric")
    description = draw_layout(plan, plan.cutting.layouts[0]).description

    assert "2440 mm by 1220 mm" in description
    assert "2 × A Side 400 × 250 mm" in description
    assert "Cuts 1 to 11" in description


def test_places_that_are_too_near_are_spread_about_their_middle() -> None:
    assert spread_places([(0.0, 1.0), (1.0, 1.0)], 5.0) == pytest.approx([-2.0, 3.0])


def test_a_heavy_place_hardly_moves() -> None:
    places = spread_places([(10.0, 1000.0), (10.5, 1.0)], 4.0)

    assert places[0] == pytest.approx(10.0, abs=0.01)
    assert places[1] - places[0] == pytest.approx(4.0)
