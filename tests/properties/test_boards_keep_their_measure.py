"""The laws of boards: nothing is lost, and what asks for more never buys less."""

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting import plan_cutting
from generator.model.cutting import Cutting, Layout
from tests.plain_parts import Line, make_board, make_parts, make_saw

SOLD_MM, WIDTH_MM = (1800, 2400, 3000), 90.0
CASES = settings(max_examples=40, deadline=None, derandomize=True)
PIECES = st.lists(st.integers(150, 2900), min_size=1, max_size=9)


def _cut(pieces: Sequence[int], kerf_mm: float = 3.0, copies: int = 1) -> Cutting:
    stock = make_board(SOLD_MM, WIDTH_MM, trim_mm=10)
    lines = [
        Line(label=f"P{i}", count=copies, length_mm=length, width_mm=WIDTH_MM, stock="board")
        for i, length in enumerate(pieces)
    ]
    saw = make_saw(kerf_mm or None)
    cutting, problems = plan_cutting(make_parts(lines, [stock]), (stock,), saw, "metric")
    assert problems == ()
    assert cutting is not None
    return cutting


def _bought(cutting: Cutting) -> float:
    (need,) = cutting.board_needs
    assert need.proved_least
    return need.length_mm


def _rest(board: Layout) -> float:
    """Return what lies beyond the last crosscut; below zero where its kerf runs over the end."""
    far = board.size.length_mm - board.trim_mm[1]
    ends = [cut.start[0] for cut in board.cuts if cut.kind == "crosscut"]
    last = max(one.x_mm + one.length_mm for one in board.placements)
    return far - max(ends) - board.kerf_mm / 2 if ends and max(ends) >= last - 1e-6 else 0.0


@CASES
@given(PIECES, st.sampled_from([0.0, 1.6, 3.2]))
def test_pieces_rest_kerfs_and_trims_make_up_every_board(pieces: list[int], kerf: float) -> None:
    cutting = _cut(pieces, kerf)

    assert sorted(pieces) == sorted(
        round(one.length_mm, 6) for board in cutting.boards for one in board.placements
    )
    for board in cutting.boards:
        crosscuts = sum(cut.kind == "crosscut" for cut in board.cuts)
        sawn = sum(one.length_mm for one in board.placements) + crosscuts * board.kerf_mm
        trims = board.trim_mm[0] + board.trim_mm[1]
        rest = _rest(board)
        assert board.size.length_mm == pytest.approx(sawn + rest + trims, abs=1e-4)
        assert rest > -board.kerf_mm - 1e-4
        assert [one.length_mm for one in board.offcuts if one.x_mm] in (
            [],
            [pytest.approx(rest, abs=1e-4)],
        )


@CASES
@given(PIECES, st.sampled_from([(0.0, 1.6), (1.6, 2.4), (2.4, 3.2), (0.0, 8.0)]))
def test_a_larger_kerf_never_buys_less_board(pieces: list[int], kerfs: tuple[float, float]) -> None:
    thin, thick = (_bought(_cut(pieces, kerf)) for kerf in kerfs)

    assert thin <= thick


@CASES
@given(PIECES, st.integers(150, 2900))
def test_one_part_more_never_buys_less_board(pieces: list[int], another: int) -> None:
    assert _bought(_cut(pieces)) <= _bought(_cut([*pieces, another]))


@settings(max_examples=8, deadline=None, derandomize=True)
@given(st.lists(st.integers(300, 1400), min_size=8, max_size=12, unique=True))
def test_one_part_more_never_buys_less_of_a_hundred_pieces(pieces: list[int]) -> None:
    """Where the program has no proof, its bound still says no more than what is bought."""
    (fewer,) = _cut(pieces[:-1], copies=9).board_needs
    (more,) = _cut(pieces, copies=9).board_needs

    assert fewer.bound_mm <= fewer.length_mm
    assert fewer.bound_mm <= more.length_mm
    assert fewer.length_mm <= more.length_mm


def test_boards_are_the_same_under_every_seed_of_hashing() -> None:
    code = (
        "from tests.properties.test_boards_keep_their_measure import _cut\n"
        "print(_cut([1733 - 61 * k for k in range(20)], copies=5).boards)"
    )
    said = [
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=Path(__file__).parents[2],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]

    assert said[0] == said[1]
    assert b"Placement" in said[0]


def test_ten_thousand_pieces_are_refused_in_words_and_two_thousand_are_cut() -> None:
    stock = make_board(SOLD_MM, WIDTH_MM)

    def plan(lines: int, copies: int) -> tuple[Cutting | None, list[str]]:
        rows = [
            Line(label=f"P{i}", count=copies, length_mm=200 + i, width_mm=WIDTH_MM, stock="board")
            for i in range(lines)
        ]
        cutting, problems = plan_cutting(
            make_parts(rows, [stock]), (stock,), make_saw(3.0), "metric"
        )
        return cutting, [problem.code for problem in problems]

    assert (None, ["N102"]) == plan(25, 400)
    cutting, codes = plan(5, 400)
    assert codes == []
    assert cutting is not None
    assert 2000 == sum(len(board.placements) for board in cutting.boards)


def test_boards_that_trimming_eats_up_are_no_boards() -> None:
    stock = make_board([100], trim_mm=50)
    line = Line(label="A", count=1, length_mm=40, width_mm=WIDTH_MM, stock="board")
    cutting, problems = plan_cutting(make_parts([line], [stock]), (stock,), make_saw(3.0), "metric")

    assert cutting is None
    assert ["N103"] == [problem.code for problem in problems]
