"""The search: sheets that were cut at random are put together again, and the budget is kept."""

import random

import numpy as np
import pytest

from generator.cutting.budget import CountedBudget, start_budget
from generator.cutting.many_fills import Filler
from generator.cutting.pieces import find_pieces
from generator.cutting.pool import Pool
from generator.cutting.search import Task, find_sheets
from generator.cutting.trees import Pose, Size

SHEET = Size(0, 244, 122)


def _cut_up(sheets: int, pieces: int, draw: int) -> list[tuple[int, int]]:
    """Return the sizes of what some sheets fall into by random cuts from edge to edge."""
    random_cuts = random.Random(draw)
    found: list[tuple[int, int]] = []
    for _ in range(sheets):
        parts = [(SHEET.along_x, SHEET.along_y)]
        while len(parts) < pieces:
            parts.sort(key=lambda part: part[0] * part[1])
            long, wide = parts.pop()
            if long >= wide:
                first = random_cuts.randint(long // 4, long - long // 4)
                parts += [(first, wide), (long - first, wide)]
            else:
                first = random_cuts.randint(wide // 4, wide - wide // 4)
                parts += [(long, first), (long, wide - first)]
        found += parts
    return found


def _task(sizes: list[tuple[int, int]], bound: int) -> Task:
    ways = [(Pose(blank, *size, turned=False),) for blank, size in enumerate(sizes)]
    return Task(tuple(ways), (1,) * len(sizes), (SHEET,), bound)


@pytest.mark.parametrize("draw", range(6))
def test_sheets_cut_at_random_are_put_together_again_without_any_waste(draw: int) -> None:
    sizes = _cut_up(2, 6, draw)
    found = find_sheets(_task(sizes, 2), start_budget("normal"))

    assert [2] == sorted({len(sheets) for sheets in found})
    for sheets in found:
        assert [1] * 12 == np.sum([fill.counts for fill in sheets], axis=0).tolist()


@pytest.mark.parametrize("draw", range(3))
def test_sheets_of_many_small_pieces_are_put_together_with_little_to_spare(draw: int) -> None:
    sizes = [(long, max(1, wide - 2)) for long, wide in _cut_up(2, 8, draw)]
    found = find_sheets(_task(sizes, 2), start_budget("normal"))

    assert [2] == sorted({len(sheets) for sheets in found})
    for sheets in found:
        assert [1] * 16 == np.sum([fill.counts for fill in sheets], axis=0).tolist()


def test_no_layout_holds_too_little_and_all_have_equally_many_sheets() -> None:
    sizes = _cut_up(6, 5, 9)
    task = _task([(long, max(1, wide - 3)) for long, wide in sizes], 1)
    found = find_sheets(task, CountedBudget(total=3_000_000))

    assert 1 == len({len(sheets) for sheets in found})
    for sheets in found:
        assert np.sum([fill.counts for fill in sheets], axis=0).min() >= 1


def test_more_work_than_the_budget_is_not_begun() -> None:
    budget = CountedBudget(total=2_000_000)
    find_sheets(_task(_cut_up(5, 7, 1), 1), budget)

    assert 1 <= budget.used() < 4


def test_the_program_in_fractions_and_in_whole_numbers_on_a_case_worked_by_hand() -> None:
    """Three blanks of which any two fill a sheet: 1.5 sheets in fractions, 2 in fact."""
    sizes = [(122, 122), (122, 122), (122, 122)]
    ways = [(Pose(blank, *size, turned=False),) for blank, size in enumerate(sizes)]
    pieces = find_pieces(ways, [1, 1, 1], SHEET, 0)
    filler = Filler(pieces, np.random.default_rng(1))
    pool = Pool(np.ones(3, np.int64))
    for _, fill in filler.fill(np.ones(3), np.ones(3, np.int64), 200, 10, 0.0):
        pool.add(fill)
    fractions = pool.solve()

    assert 3 == len(pool.fills)
    assert pytest.approx(1.5) == fractions.sheets
    assert [0.5, 0.5, 0.5] == pytest.approx(fractions.worth.tolist())
    picked = pool.pick(3, 100, float("inf"))
    assert picked is not None
    assert 2 == len(picked)
    assert pool.pick(2, 100, float("inf")) is None
    assert pytest.approx(1.0) == pool.solve(np.array([1, 1, 0])).sheets


def test_a_sheet_with_the_same_blanks_is_not_taken_into_the_pool_twice() -> None:
    task = _task([(100, 50), (60, 40)], 1)
    pieces = find_pieces(task.poses, task.counts, SHEET)
    filler = Filler(pieces, np.random.default_rng(1))
    (worth, fill), *_ = filler.fill(np.ones(2), np.ones(2, np.int64), 50, 1, 0.0)
    pool = Pool(np.ones(2, np.int64))

    assert pytest.approx(2.0) == worth
    assert [True, False] == [pool.add(fill), pool.add(fill)]
