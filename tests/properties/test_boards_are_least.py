"""The law: no other choice of boards buys less length, and every choice can be sawn."""

from collections.abc import Sequence
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting import plan_cutting
from tests.plain_parts import Line, make_board, make_parts, make_saw
from tests.sawing import find_faults, read_sawing

KERF_MM, TRIM_MM, WIDTH_MM = 3.0, 10.0, 90.0
SOLD_MM = (1800, 2400, 3000)


def _least_length(pieces: Sequence[int]) -> int:
    """Try every way to share pieces out among boards; written apart from the program."""

    @cache
    def least(left: int) -> int:
        if not left:
            return 0
        first = left & -left
        best = 10**9
        others = left ^ first
        chosen = others
        while True:
            group = chosen | first
            some = [piece for i, piece in enumerate(pieces) if group >> i & 1]
            need = sum(some) + KERF_MM * (len(some) - 1) + 2 * TRIM_MM
            holds = [sold for sold in SOLD_MM if need <= sold]
            if holds:
                best = min(best, holds[0] + least(left ^ group))
            if not chosen:
                return best
            chosen = (chosen - 1) & others

    return least((1 << len(pieces)) - 1)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(150, 2900), min_size=1, max_size=7))
def test_no_choice_of_boards_buys_less_length(pieces: list[int]) -> None:
    stock = make_board(SOLD_MM, WIDTH_MM, trim_mm=TRIM_MM)
    lines = [
        Line(label=f"P{i}", count=1, length_mm=length, width_mm=WIDTH_MM, stock="board")
        for i, length in enumerate(pieces)
    ]
    cutting, _ = plan_cutting(make_parts(lines, [stock]), (stock,), make_saw(KERF_MM), "metric")

    assert cutting is not None
    (need,) = cutting.board_needs
    assert _least_length(pieces) == round(need.length_mm, 6)
    assert need.proved_least
    assert need.bound_mm == need.length_mm


LINES = st.lists(
    st.tuples(
        st.integers(1, 4), st.integers(40, 1700), st.sampled_from([20, 28, 43.5, 60, 88, 90])
    ),
    min_size=1,
    max_size=6,
)


@settings(max_examples=60, deadline=None)
@given(LINES, st.sampled_from([None, 1.2, 3.0]), st.sampled_from([0.0, 1.0, 10.0]))
def test_every_board_can_be_sawn_into_its_pieces(
    rows: list[tuple[int, int, float]], kerf: float | None, trim: float
) -> None:
    stock = make_board(SOLD_MM, WIDTH_MM, trim_mm=trim)
    lines = [
        Line(label=f"P{i}", count=count, length_mm=length, width_mm=width, stock="board")
        for i, (count, length, width) in enumerate(rows)
    ]
    parts = make_parts(lines, [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(kerf), "metric")

    assert problems == ()
    assert cutting is not None
    assert find_faults(read_sawing(cutting, parts)) == []
    (need,) = cutting.board_needs
    assert need.bound_mm <= need.length_mm
    area = sum(count * length * width for count, length, width in rows)
    assert area / WIDTH_MM <= need.bound_mm
