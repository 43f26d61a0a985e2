"""Running dimensions: all from one edge, each readable, each arrow at its place."""

import itertools

from generator.outputs.running_dimensions import Reading, draw_running_dimensions
from generator.outputs.scene import SMALLEST_TEXT_MM, Arrowhead, Item, Words


def words_of(items: tuple[Item, ...]) -> list[Words]:
    return [item for item in items if isinstance(item, Words)]


def test_every_place_has_an_arrow_that_points_away_from_the_edge_measured_from() -> None:
    row = draw_running_dimensions(
        [Reading((30.0, 5.0), "300"), Reading((60.0, 5.0), "600")], (0.0, 0.0), "below", -7.0
    )

    arrows = [item for item in row.items if isinstance(item, Arrowhead)]
    assert [(arrow.at, arrow.direction) for arrow in arrows] == [
        ((30.0, -7.0), (1.0, 0.0)),
        ((60.0, -7.0), (1.0, 0.0)),
    ]


def test_sizes_from_an_edge_at_the_right_run_to_the_left() -> None:
    row = draw_running_dimensions([Reading((30.0, 5.0), "700")], (100.0, 0.0), "below", -7.0)

    arrows = [item for item in row.items if isinstance(item, Arrowhead)]
    assert [arrow.direction for arrow in arrows] == [(-1.0, 0.0)]


def test_texts_of_near_places_keep_their_order_and_leave_each_other_free() -> None:
    places = [20.0, 21.0, 22.0, 50.0]
    row = draw_running_dimensions(
        [Reading((x, 0.0), f"{x * 10:.0f}") for x in places], (0.0, 0.0), "above", 7.0
    )

    texts = sorted(words_of(row.items), key=lambda word: word.at[0])
    assert [text.text for text in texts] == ["0", "200", "210", "220", "500"]
    steps = [b.at[0] - a.at[0] for a, b in itertools.pairwise(texts)]
    assert min(steps) >= SMALLEST_TEXT_MM


def test_texts_beside_a_part_stand_upright_and_those_above_read_from_the_right() -> None:
    beside = draw_running_dimensions([Reading((0.0, 30.0), "300")], (0.0, 0.0), "right", 9.0)
    above = draw_running_dimensions([Reading((30.0, 0.0), "300")], (0.0, 0.0), "above", 9.0)

    assert {word.angle_deg for word in words_of(beside.items)} == {0.0}
    assert {word.angle_deg for word in words_of(above.items)} == {90.0}


def test_a_text_keeps_off_the_place_of_another_extension_line() -> None:
    row = draw_running_dimensions(
        [Reading((30.0, 0.0), "300")], (0.0, 0.0), "above", 7.0, blocked=[30.5]
    )

    text = next(word for word in words_of(row.items) if word.text == "300")
    # Turned upright, its base line is the right border of its ink: a millimetre of paper is left.
    assert text.at[0] < 30.5 - 0.9


def test_a_text_whose_place_a_line_passes_stands_beside_it_on_the_outer_side() -> None:
    row = draw_running_dimensions(
        [Reading((40.0, 0.0), "400")], (0.0, 0.0), "above", 7.0, blocked=[0.0, 0.0, 40.0]
    )

    zero, last = sorted(words_of(row.items), key=lambda word: word.at[0])
    assert [zero.text, last.text] == ["0", "400"]
    assert zero.at[0] < 0.0 - 0.5
    assert last.at[0] - 0.73 * SMALLEST_TEXT_MM > 40.0 + 0.5


def test_the_row_reaches_as_far_as_its_longest_text() -> None:
    short = draw_running_dimensions([Reading((30.0, 0.0), "3")], (0.0, 0.0), "above", 7.0)
    long = draw_running_dimensions([Reading((30.0, 0.0), "13 11/16")], (0.0, 0.0), "above", 7.0)

    assert long.reach_mm > short.reach_mm + 5
