"""Dimensions: their lines, their arrowheads and where their text stands."""

from itertools import pairwise

import pytest

from generator.outputs.dimensions import (
    ARROW_MM,
    FIRST_MM,
    LANE_MM,
    Dimension,
    dimension_span,
    draw_angle,
    draw_dimension,
    draw_leader,
    stack_dimensions,
)
from generator.outputs.scene import SMALLEST_TEXT_MM, Arrowhead, Item, Stroke, Words
from generator.outputs.text_width import text_width_mm


def words_of(items: tuple[Item, ...]) -> list[Words]:
    return [item for item in items if isinstance(item, Words)]


def arrows_of(items: tuple[Item, ...]) -> list[Arrowhead]:
    return [item for item in items if isinstance(item, Arrowhead)]


def line_height(items: tuple[Item, ...], text: str) -> float:
    """Return the y of the dimension line a horizontal text stands on."""
    word = next(word for word in words_of(items) if word.text == text)
    heights = {arrow.at[1] for arrow in arrows_of(items)}
    return max(height for height in heights if height < word.at[1])


def test_a_wide_dimension_has_its_text_in_the_middle_and_its_arrows_pointing_outward() -> None:
    items = draw_dimension((0, 0), (60, 0), 8, "34 1/2")

    text = words_of(items)[0]
    assert (text.at[0], text.anchor, text.angle_deg) == (30, "middle", 0)
    assert text.at[1] > 8
    assert [(arrow.at, arrow.direction) for arrow in arrows_of(items)] == [
        ((0, 8), (-1, 0)),
        ((60, 8), (1, 0)),
    ]


def test_extension_lines_leave_a_gap_at_the_part_and_run_past_the_dimension_line() -> None:
    items = draw_dimension((0, 0), (60, 0), 8, "600")

    strokes = [item for item in items if isinstance(item, Stroke)]
    assert strokes[0].points == ((0, 1), (0, 9.6))
    assert strokes[1].points == ((60, 1), (60, 9.6))


def test_a_narrow_dimension_has_its_arrows_and_text_outside() -> None:
    items = draw_dimension((0, 0), (4, 0), 8, "34 1/2")

    text = words_of(items)[0]
    assert text.anchor == "start"
    assert text.at[0] > 4 + ARROW_MM
    assert [arrow.direction for arrow in arrows_of(items)] == [(1, 0), (-1, 0)]


def test_a_text_that_fits_without_arrows_stays_between_the_lines() -> None:
    width = text_width_mm("34 1/2", SMALLEST_TEXT_MM)
    items = draw_dimension((0, 0), (width + 2, 0), 8, "34 1/2")

    assert words_of(items)[0].anchor == "middle"
    assert [arrow.direction for arrow in arrows_of(items)] == [(1, 0), (-1, 0)]


@pytest.mark.parametrize("ends", [((0.0, 0.0), (0.0, 60.0)), ((0.0, 60.0), (0.0, 0.0))])
def test_an_upright_text_reads_from_the_right(
    ends: tuple[tuple[float, float], tuple[float, float]],
) -> None:
    text = words_of(draw_dimension(*ends, 8, "600"))[0]

    assert text.angle_deg == 90


def test_a_dimension_drawn_from_right_to_left_still_reads_from_the_bottom() -> None:
    text = words_of(draw_dimension((60, 0), (0, 0), 8, "600"))[0]

    assert abs(text.angle_deg) == 0
    assert text.at[1] > -8


def test_the_shortest_dimension_of_a_stack_lies_nearest_to_the_part() -> None:
    stack = stack_dimensions(
        [Dimension((0, 0), (100, 0), "1000"), Dimension((0, 0), (40, 0), "400")], "above", 0
    )

    assert line_height(stack.items, "400") == FIRST_MM
    assert pytest.approx(line_height(stack.items, "1000")) == FIRST_MM + LANE_MM
    assert stack.reach_mm > FIRST_MM + LANE_MM


def test_dimensions_that_leave_each_other_free_share_a_line() -> None:
    chain = (Dimension((0, 0), (30, 0), "300"), Dimension((30, 0), (70, 0), "400"))
    stack = stack_dimensions(chain, "below", 0)

    assert {-FIRST_MM} == {arrow.at[1] for arrow in arrows_of(stack.items)}


def test_neighbours_too_narrow_for_their_text_never_overlap_on_one_line() -> None:
    points = [(float(x), 0.0) for x in (0, 4, 8, 12, 60)]
    texts_told = ("40 1/16", "40 1/8", "40 3/16", "480")
    chain = tuple(
        Dimension(start, end, text)
        for (start, end), text in zip(pairwise(points), texts_told, strict=True)
    )
    stack = stack_dimensions(chain, "above", 0)

    texts = words_of(stack.items)
    assert len(texts) == 4
    boxes = []
    for text in texts:
        width = text_width_mm(text.text, text.size_mm)
        shift = {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
        boxes.append((text.at[0] - shift, text.at[0] - shift + width, text.at[1]))
    for i, one in enumerate(boxes):
        for other in boxes[i + 1 :]:
            apart = one[1] <= other[0] or other[1] <= one[0]
            assert apart or abs(one[2] - other[2]) >= SMALLEST_TEXT_MM


def test_a_text_goes_to_the_side_that_no_other_line_crosses() -> None:
    narrow = Dimension((20, 0), (23, 0), "30")
    stack = stack_dimensions([narrow, Dimension((0, 0), (30, 0), "300")], "above", 0)

    text = next(word for word in words_of(stack.items) if word.text == "30")
    assert text.anchor == "end"
    assert text.at[0] < 20


def test_the_texts_of_two_corner_sizes_go_outside_the_part() -> None:
    """Between them stands the name of the edge."""
    corners = [Dimension((5, 0), (0, 0), "2 5/8"), Dimension((55, 0), (60, 0), "2 3/8")]
    first, second = words_of(stack_dimensions(corners, "below", 0).items)

    assert ("2 5/8", "end") == (first.text, first.anchor)
    assert ("2 3/8", "start") == (second.text, second.anchor)
    assert first.at[0] < 0
    assert second.at[0] > 60


def test_a_stack_to_the_left_reaches_further_left_with_every_line() -> None:
    one = Dimension((0, 0), (0, 50), "500")
    two = Dimension((0, 0), (0, 80), "800")

    assert stack_dimensions([one], "left", 0).reach_mm < -FIRST_MM
    assert stack_dimensions([one, two], "left", 0).reach_mm == pytest.approx(
        stack_dimensions([one], "left", 0).reach_mm - LANE_MM
    )


def test_a_stack_of_nothing_reaches_no_further_than_the_part() -> None:
    assert stack_dimensions([], "right", 12).reach_mm == 12


def test_the_span_of_a_narrow_dimension_holds_its_text() -> None:
    low, high = dimension_span(Dimension((10, 0), (13, 0), "34 1/2"), 0)

    assert low < 10
    assert high > 13 + text_width_mm("34 1/2", SMALLEST_TEXT_MM)


def test_a_leader_points_at_what_it_names_and_its_text_stands_away_from_it() -> None:
    items = draw_leader((10, 10), (4, 16), "R 12")

    assert arrows_of(items)[0].at == (10, 10)
    assert arrows_of(items)[0].direction[0] > 0
    assert words_of(items)[0].anchor == "end"
    assert words_of(items)[0].at[0] < 4


def test_a_wide_angle_has_arrowheads_at_both_ends_and_a_narrow_one_has_none() -> None:
    assert len(arrows_of(draw_angle((0, 0), 12, 45, 90))) == 2
    assert arrows_of(draw_angle((0, 0), 12, 85, 90)) == []
