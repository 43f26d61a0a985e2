"""The choice of boards on jobs too large to be searched whole."""

from collections.abc import Sequence

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting.board_program import Task, find_cheaper, find_cost_bound
from generator.cutting.boards import choose_boards, find_length_bound
from generator.cutting.lengths import Filled, Length

SOLD = [Length(0, 1800, 1790), Length(1, 2400, 2390), Length(2, 3000, 2990)]


def _taken(boards: Sequence[Filled]) -> list[int]:
    return [sum(column) for column in zip(*(board.taken for board in boards), strict=True)]


def test_triplets_that_fill_boards_to_the_brim_are_found_in_a_job_of_a_hundred_pieces() -> None:
    """Made by cutting 40 full boards in three, so that 40 is the least there can be."""
    cuts = [(200 + 7 * k, 250 + 5 * (k * 17 % 40)) for k in range(40)]
    pieces = sorted([p for a, b in cuts for p in (a, b, 1000 - a - b)], reverse=True)
    lengths = sorted(set(pieces), reverse=True)
    counts = [pieces.count(length) for length in lengths]
    choice = choose_boards(lengths, counts, [Length(0, 1000, 1000)])

    assert len(pieces) == 120
    assert counts == _taken(choice.boards)
    assert 40_000 == choice.bound
    assert [1000] * 40 == [board.length.bought for board in choice.boards]


def test_a_longer_board_takes_the_place_of_two_if_it_buys_no_more() -> None:
    sold = [Length(0, 1200, 1190), Length(1, 2400, 2390)]
    choice = choose_boards([1100], [101], sold)

    assert sorted([2400] * 50 + [1200]) == sorted(one.length.bought for one in choice.boards)
    assert 101 * 1200 == choice.bound


def test_the_program_finds_boards_cheaper_than_those_known_and_proves_them() -> None:
    """Pairs 600 + 300 and 500 + 400 fill a board of 900; the longest first would need more."""
    task = Task((600, 500, 400, 300), (10, 10, 10, 10), (900,), (1,), 10**8)

    answer = find_cheaper(task, 21)

    assert len(answer.boards) == answer.bound == find_cost_bound(task) == 20
    assert find_cheaper(task, 20).boards == ()


def test_the_bound_of_the_program_sees_what_a_board_cannot_hold() -> None:
    """Two of 400 and none beside them fill a board of 1000: together 30 need 15, not 12."""
    assert 15_000 == find_length_bound([400], [30], [Length(0, 1000, 1000)])


@settings(max_examples=20, deadline=None)
@given(st.lists(st.integers(150, 2900), min_size=2, max_size=7, unique=True))
def test_the_program_and_the_search_of_everything_agree(lengths: list[int]) -> None:
    pieces = sorted(lengths, reverse=True)
    counts = [1 + index % 2 for index in range(len(pieces))]
    searched = choose_boards(pieces, counts, SOLD)
    least = sum(board.length.bought for board in searched.boards)
    rooms, costs = [one.room for one in SOLD], [one.bought // 600 for one in SOLD]
    answer = find_cheaper(Task(pieces, counts, rooms, costs, 10**8), 10**6)

    assert least == searched.bound
    assert answer.bound * 600 <= least
    assert sum(costs[place] for place, _ in answer.boards) * 600 == least


def test_the_same_job_gets_the_same_boards_every_time() -> None:
    pieces, counts = [1733 - 61 * k for k in range(20)], [4] * 20

    assert choose_boards(pieces, counts, SOLD) == choose_boards(pieces, counts, SOLD)
