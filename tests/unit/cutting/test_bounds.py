"""How many sheets are needed at the very least."""

from generator.cutting.bounds import find_bound
from generator.cutting.trees import Pose


def _one_way(*sizes: tuple[int, int]) -> list[tuple[Pose, ...]]:
    return [(Pose(i, x, y, turned=False),) for i, (x, y) in enumerate(sizes)]


def test_nothing_to_cut_needs_no_sheet() -> None:
    assert find_bound([], [], 100, 100) == 0


def test_the_area_of_all_blanks_is_a_bound() -> None:
    assert find_bound(_one_way((50, 50)), [9], 100, 100) == 3


def test_blanks_over_half_a_sheet_each_way_need_a_sheet_each() -> None:
    assert find_bound(_one_way((51, 51)), [5], 100, 100) == 5


def test_blanks_over_a_third_each_way_go_four_to_a_sheet() -> None:
    assert find_bound(_one_way((34, 34)), [9], 100, 100) == 3


def test_a_blank_that_leaves_less_than_the_narrowest_takes_the_whole_length() -> None:
    assert find_bound(_one_way((85, 50), (20, 50)), [2, 1], 100, 100) == 2


def test_a_blank_that_may_turn_counts_the_way_that_takes_less() -> None:
    both = [(Pose(0, 60, 30, turned=False), Pose(0, 30, 60, turned=True))]

    assert find_bound(_one_way((60, 30)), [4], 100, 100) == 2
    assert find_bound(both, [4], 100, 100) == 1


def test_strips_beside_wide_ones_are_counted_by_what_the_wide_ones_leave() -> None:
    """A strip of 64 leaves 36, room for one of 19: the third of 19 needs a third sheet."""
    assert find_bound(_one_way((64, 100), (19, 100)), [2, 3], 100, 100) == 3
    assert find_bound(_one_way((62, 100), (19, 100)), [2, 3], 100, 100) == 2
