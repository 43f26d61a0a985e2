"""The checks of drawn sizes find what is wrong by a hair and leave what is right alone."""

from typing import Any

import pytest

from generator.outputs.dimensions import draw_dimension
from generator.outputs.scene import Item, Scene, Words
from tests.drawn_sizes import (
    find_chain_faults,
    find_places_off_the_plan,
    find_scale_faults,
    find_table_faults,
    read_size,
)

SCALE = Words(at=(0, 90), text="scale 1:10")
BOARD: dict[str, Any] = {
    "length_mm": 400.0,
    "width_mm": 100.0,
    "outline_mm": [[0, 0], [400, 0], [400, 100], [0, 100]],
    "outline_b_mm": [[0, 0], [400, 0], [400, 100], [0, 100]],
    "features": [{"center_mm": [120.0, 50.0]}],
    "holes": [{"at_mm": [63.0, 20.0, 0.0], "side": "A"}],
}


def scene(*items: Item) -> Scene:
    return Scene(width_mm=100, height_mm=100, title="", description="", items=(SCALE, *items))


def level(start: float, end: float, text: str, offset: float = 9.0) -> tuple[Item, ...]:
    return draw_dimension((start, 10.0), (end, 10.0), offset, text)


@pytest.mark.parametrize(
    ("text", "edition", "inside", "outside"),
    [
        # 34 1/2 in are 876.3 mm; 1/64 in, half a step of 1/32, are 0.397 mm.
        ("34 1/2 in", "imperial", 876.39, 876.41),
        ("34 1/2 in full", "imperial", 876.69, 876.71),
        ("34 1/2 bare", "imperial", 875.91, 875.89),
        ("23/32", "imperial", 18.25625, 18.4),
        ("876 mm", "metric", 876.09, 876.11),
        ("Ø 25.5", "metric", 25.54, 25.56),
    ],
)
def test_a_printed_size_stands_for_lengths_up_to_its_precision(
    text: str, edition: str, inside: float, outside: float
) -> None:
    low, high = read_size(text, edition)

    assert low <= inside <= high
    assert not low <= outside <= high


def test_a_size_that_is_not_as_long_as_drawn_is_found() -> None:
    assert find_scale_faults(scene(*level(0, 40, "400 mm")), "metric") == []
    assert find_scale_faults(scene(*level(0, 40, "401 mm")), "metric") == [
        "`401 mm` is drawn 400.00 mm long"
    ]


def test_a_size_beside_what_is_not_to_scale_is_not_measured() -> None:
    section = draw_dimension((0, 10), (40, 10), 9.0, "760 mm", to_scale=False)

    assert find_scale_faults(scene(*section), "metric") == []


def test_a_chain_that_does_not_add_up_as_printed_is_found() -> None:
    whole = level(0, 40, "400 mm", 18.0)
    closing = scene(*whole, *level(0, 15, "150"), *level(15, 40, "250"))
    gaping = scene(*whole, *level(0, 15, "150"), *level(15, 40, "249"))

    assert find_chain_faults(closing, "metric") == []
    assert find_chain_faults(gaping, "metric") == ["150 + 249 is not 400 mm"]


def test_a_chain_may_be_off_by_the_hairs_it_tells_of_and_no_more() -> None:
    # 15 13/64 + 15 13/64 + 15 13/64 in = 45 39/64 in, printed on marks of 1/32 in.
    third, whole = "15 3/16 full", "45 5/8 in bare"
    links = [item for i in range(3) for item in level(13 * i, 13 * (i + 1), third)]

    assert find_chain_faults(scene(*level(0, 39, whole, 18.0), *links), "imperial") == []
    assert find_chain_faults(scene(*level(0, 39, "45 3/4 in", 18.0), *links), "imperial") == [
        "15 3/16 full + 15 3/16 full + 15 3/16 full is not 45 3/4 in"
    ]


def test_a_size_that_no_two_points_of_the_plan_have_is_found() -> None:
    # The hole is 63 mm from the left end and 337 from the right; 120 is the middle of an opening.
    right = scene(*level(0, 6.3, "63"), *level(6.3, 40, "337"), *level(0, 12, "120"))
    wrong = scene(*level(0, 6.4, "64"))

    assert find_places_off_the_plan(right, BOARD, [], "metric") == []
    assert find_places_off_the_plan(wrong, BOARD, [], "metric") == [
        "nothing in the plan is `64` apart"
    ]


def test_a_distance_in_the_table_that_no_hole_has_is_found() -> None:
    bore = "Holes in the top face: 5 mm bit, through"
    row = bore + ": 1 × into B, from left end: {}, from front edge: 20."
    right, wrong = row.format("63"), row.format("66")

    assert find_table_faults(right, BOARD, "metric") == []
    assert find_table_faults(wrong, BOARD, "metric") == ["no hole is 65.9 to 66.1 mm from its edge"]
