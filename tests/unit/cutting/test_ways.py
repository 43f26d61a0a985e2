"""The best way to fill a board, beside every way there is."""

from itertools import product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting.ways import MOST_STEPS, WayFinder

PIECES = st.lists(
    st.tuples(st.integers(1, 40), st.integers(0, 9), st.integers(0, 3)),
    min_size=1,
    max_size=5,
    unique_by=lambda piece: piece[0],
)


@settings(max_examples=60, deadline=None)
@given(PIECES, st.lists(st.integers(40, 100), min_size=1, max_size=3))
def test_no_other_way_to_fill_a_board_is_worth_more(
    rows: list[tuple[int, int, int]], rooms: list[int]
) -> None:
    sizes, worth, counts = zip(*rows, strict=True)
    ways = WayFinder(sizes, rooms).find_ways(np.array(worth), np.array(counts))
    every = list(product(*(range(count + 1) for count in counts)))

    for room, (value, way) in zip(rooms, ways, strict=True):
        fitting = [one for one in every if np.dot(one, sizes) <= room]
        assert max(int(np.dot(one, worth)) for one in fitting) == value
        assert value == way @ np.array(worth)
        assert tuple(way) in fitting


def test_steps_too_fine_for_a_table_promise_no_more_than_is_so() -> None:
    """Three pieces of 1000 fit 3000, two of 1501 do not; and nothing divides them all."""
    fine = MOST_STEPS * 1000 + 1
    sizes, rooms = (501 * fine, 500 * fine + 1), [1001 * fine + 1, 1001 * fine - 1]
    finder = WayFinder(sizes, rooms)
    worth, counts = np.array([3, 2]), np.array([2, 2])
    (_, way), (short, _) = finder.find_ways(worth, counts)
    limits = finder.find_limits(worth, counts)

    assert not finder.is_exact
    assert way @ np.array(sizes) <= rooms[0]
    assert limits[0] >= 5
    assert short <= 4 <= limits[1]
