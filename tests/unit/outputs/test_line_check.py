"""Lines through texts, texts on lines and crossing leaders are found; near misses are not."""

import pytest

from generator.outputs.line_check import find_line_faults
from generator.outputs.scene import Arrowhead, Disc, Item, Layer, Scene, Stroke, Words

WORD = Words(at=(10, 20), text="34 1/2", size_mm=3.0)
"""Its ink is 3 · 0.73 = 2.19 mm high: from y = 20 to y = 22.19."""


def faults(*items: Item) -> list[str]:
    scene = Scene(width_mm=60, height_mm=40, title="", description="", items=items)
    return find_line_faults(scene)


def level(y: float, layer: Layer = "dimension") -> Stroke:
    return Stroke(points=((0.0, y), (50.0, y)), layer=layer)


def test_a_line_through_a_text_is_reported_and_one_under_it_is_not() -> None:
    through = faults(level(21.0), WORD)

    assert through == ["a line (dimension) runs through text `34 1/2`"]
    assert faults(level(19.9), WORD) == []


def test_an_arc_through_a_text_is_followed() -> None:
    # Half a circle from (2, 15) to (22, 15), 10 high: it passes (12, 25), above the text, and
    # through it on its way there where the text starts, at x = 10.
    chord = Stroke(points=((2.0, 15.0), (22.0, 15.0)), layer="outline")
    low = Stroke(points=((2.0, 15.0), (22.0, 15.0)), layer="outline", bulges=(-0.6, 0.0))

    assert faults(chord, WORD) == []
    assert faults(low, WORD) == ["a line (outline) runs through text `34 1/2`"]


def test_an_arrowhead_counts_as_a_line() -> None:
    head = Arrowhead(at=(14.0, 21.0), direction=(1.0, 0.0))
    beside = Arrowhead(at=(9.8, 21.0), direction=(1.0, 0.0))

    assert len(faults(head, WORD)) == 1
    assert faults(beside, WORD) == []


def test_a_name_may_interrupt_a_narrow_line_and_a_number_may_not() -> None:
    name = Words(at=(10, 20), text="left end", size_mm=3.0, halo=True)
    number = Words(at=(10, 20), text="34 1/2", size_mm=3.0, halo=True)

    assert faults(level(21.0), name) == []
    assert faults(level(21.0), number) == ["a line (dimension) runs through text `34 1/2`"]


@pytest.mark.parametrize("layer", ["outline", "cut", "screw", "edging"])
def test_no_name_hides_a_wide_line(layer: Layer) -> None:
    name = Words(at=(10, 20), text="left end", size_mm=3.0, halo=True)

    assert faults(level(21.0, layer), name) == [f"a line ({layer}) runs through text `left end`"]


def test_a_line_drawn_later_lies_over_the_paper_of_a_text() -> None:
    name = Words(at=(10, 20), text="left end", size_mm=3.0, halo=True)

    assert faults(name, level(21.0)) == ["a line (dimension) runs through text `left end`"]


def test_a_disc_of_paper_between_line_and_text_keeps_them_apart() -> None:
    letter = Words(at=(20, 19), text="A", size_mm=3.0, anchor="middle")
    disc = Disc(center=(20, 20), radius_mm=3, tone="bubble", layer="leader")

    assert faults(level(20.0), disc, letter) == []
    assert faults(disc, level(20.0), letter) == ["a line (dimension) runs through text `A`"]


def test_a_disc_that_lies_over_a_text_is_reported() -> None:
    disc = Disc(center=(9, 21), radius_mm=2, tone="bubble", layer="leader")
    beside = Disc(center=(7.9, 21), radius_mm=2, tone="bubble", layer="leader")

    assert faults(WORD, disc) == ["a disc lies over text `34 1/2`"]
    assert faults(disc, WORD) == ["a disc lies over text `34 1/2`"]
    assert faults(beside, WORD) == []


def test_leaders_that_cross_are_reported_and_leaders_that_meet_are_not() -> None:
    rising = Stroke(points=((0.0, 0.0), (20.0, 20.0)), layer="leader")
    falling = Stroke(points=((0.0, 20.0), (20.0, 0.0)), layer="leader")
    from_the_same_point = Stroke(points=((0.0, 0.0), (20.0, 0.0)), layer="leader")

    assert faults(rising, falling) == ["leaders cross at (10.0, 10.0)"]
    assert faults(rising, from_the_same_point) == []


def test_a_text_turned_upright_is_crossed_by_what_crosses_its_turned_box() -> None:
    upright = Words(at=(30, 5), text="bottom end", size_mm=3.0, angle_deg=90)
    line = Stroke(points=((0.0, 12.0), (29.9, 12.0)), layer="hidden")
    short = Stroke(points=((0.0, 12.0), (27.7, 12.0)), layer="hidden")

    assert faults(line, upright) == ["a line (hidden) runs through text `bottom end`"]
    assert faults(short, upright) == []
