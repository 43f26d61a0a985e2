"""The law: no choice of boards is cheaper, within what there is, and every board can be sawn."""

from collections import Counter
from collections.abc import Sequence
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting import plan_cutting
from generator.model.catalogue import SheetSize
from generator.model.cutting import Cutting
from generator.problems import Problem
from tests.least_cost import find_least_boards
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_size, with_sizes
from tests.sawing import find_faults, read_sawing

KERF_MM, TRIM_MM, WIDTH_MM = 3.0, 10.0, 90.0
PRICES = st.integers(100, 2000).map(lambda cents: cents / 100)
LIMITS = st.sampled_from([None, None, 0, 1, 2])
PIECES = st.lists(st.integers(150, 2900), min_size=1, max_size=7)
SMALL = settings(max_examples=60, deadline=None, derandomize=True)


def _cut(
    pieces: Sequence[int], sizes: Sequence[SheetSize]
) -> tuple[Cutting | None, tuple[Problem, ...]]:
    stock = with_sizes(make_board([3000.0], WIDTH_MM, trim_mm=TRIM_MM), sizes)
    lines = [
        Line(label=f"P{i}", count=1, length_mm=length, width_mm=WIDTH_MM, stock="board")
        for i, length in enumerate(pieces)
    ]
    parts = make_parts(lines, [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(KERF_MM), "metric")
    if cutting is not None:
        assert find_faults(read_sawing(cutting, parts)) == []
        used = Counter(board.size for board in cutting.boards)
        assert all(size.at_most is None or used[size] <= size.at_most for size in sizes)
        assert sum(not s.is_owned for s in used.elements()) == cutting.board_needs[0].boards
    return cutting, problems


def _sold(prices: Sequence[float | None], limits: Sequence[int | None]) -> list[SheetSize]:
    pairs = zip((1800.0, 2400.0, 3000.0), prices, limits, strict=True)
    return [make_size(length, WIDTH_MM, price, limit) for length, price, limit in pairs]


def _least(pieces: Sequence[int], sizes: Sequence[SheetSize]) -> float:
    rooms = [(s.length_mm - 2 * TRIM_MM, s.price or 0.0, s.at_most) for s in sizes]
    return find_least_boards([float(piece) for piece in pieces], rooms, KERF_MM)


@SMALL
@given(
    PIECES,
    st.tuples(PRICES, PRICES, PRICES),
    st.tuples(LIMITS, LIMITS, LIMITS),
    st.lists(st.integers(200, 2000), max_size=2, unique=True),
)
def test_no_choice_of_boards_is_cheaper(
    pieces: list[int],
    prices: tuple[float, float, float],
    limits: tuple[int | None, ...],
    owned: list[int],
) -> None:
    sizes = _sold(prices, limits)
    sizes += [make_size(float(one), WIDTH_MM, at_most=1, is_owned=True) for one in owned]
    cutting, problems = _cut(pieces, sizes)
    least = _least(pieces, sizes)

    if least == inf:
        assert cutting is None
        assert {problem.code for problem in problems} <= {"N103", "N104"}
        return
    assert problems == ()
    assert cutting is not None
    (need,) = cutting.board_needs
    assert least == pytest.approx(need.cost)
    assert need.proved_least
    assert need.cost_bound == need.cost


@SMALL
@given(PIECES, st.lists(st.integers(200, 2900), min_size=1, max_size=2, unique=True))
def test_without_prices_no_choice_beside_offcuts_buys_less_length(
    pieces: list[int], owned: list[int]
) -> None:
    sizes = _sold((None,) * 3, (None,) * 3)
    there = [make_size(float(one), WIDTH_MM, at_most=1, is_owned=True) for one in owned]
    cutting, _ = _cut(pieces, [*sizes, *there])
    as_priced = [make_size(s.length_mm, WIDTH_MM, s.length_mm) for s in sizes]

    assert cutting is not None
    (need,) = cutting.board_needs
    assert _least(pieces, [*as_priced, *there]) == pytest.approx(need.length_mm)
    assert need.cost is None
    assert need.proved_least
    assert need.bound_mm == need.length_mm
