"""Labels along a line keep their order, stay a pitch apart, and stand on no line that passes."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.outputs.spread import spread_between

PITCH_MM = 4.0
CLEAR_MM = 2.0

PLACES = st.lists(st.floats(0, 100), min_size=1, max_size=12).map(sorted)
LINES = st.lists(st.floats(0, 100), max_size=12)


@given(PLACES, LINES)
def test_labels_keep_their_order_a_pitch_apart(wanted: list[float], lines: list[float]) -> None:
    places = spread_between(wanted, lines, PITCH_MM, CLEAR_MM)

    assert len(wanted) == len(places)
    assert all(b - a >= PITCH_MM - 1e-6 for a, b in itertools.pairwise(places))


@given(PLACES, LINES)
def test_no_label_stands_on_a_line(wanted: list[float], lines: list[float]) -> None:
    places = spread_between(wanted, lines, PITCH_MM, CLEAR_MM)

    assert all(abs(place - line) >= CLEAR_MM - 1e-6 for place in places for line in lines)


@given(PLACES)
def test_labels_with_room_stay_where_they_are_wanted(wanted: list[float]) -> None:
    spaced = [place + i * PITCH_MM for i, place in enumerate(wanted)]

    assert spaced == pytest.approx(spread_between(spaced, [], PITCH_MM, CLEAR_MM))
