"""Cut lists nobody would write: a problem in plain words, or an answer in bounded work."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from generator.cutting import plan_cutting
from generator.cutting.blanks import MOST_COPIES, MOST_COPIES_IN_ALL
from generator.model.cutting import Cutting
from generator.model.edition import Stock
from generator.problems import Problem
from tests.plain_parts import Line, make_parts, make_saw, make_stock
from tests.sawing import find_faults, read_sawing


def _cut(stock: Stock, kerf_mm: float, *lines: Line) -> tuple[Cutting | None, tuple[Problem, ...]]:
    parts = make_parts(lines, [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(kerf_mm), "metric")
    if cutting is not None:
        assert find_faults(read_sawing(cutting, parts)) == []
    return cutting, problems


@contextmanager
def _counting() -> Iterator[list[int]]:
    """Count the calls of functions written in Python."""
    calls = [0]

    def count(_frame: FrameType, event: str, _what: object) -> None:
        calls[0] += event == "call"

    before = sys.getprofile()
    sys.setprofile(count)
    try:
        yield calls
    finally:
        sys.setprofile(before)


def _line(count: int, length_mm: float, width_mm: float, label: str = "A") -> Line:
    return Line(label=label, count=count, length_mm=length_mm, width_mm=width_mm)


def test_strips_narrower_than_the_kerf_are_cut_a_kerf_apart() -> None:
    """Three strips of 10 mm with two kerfs of 20 mm need 70 mm: one sheet of 70, two of 69."""
    wide, _ = _cut(make_stock([(500.0, 70.0)]), 20.0, _line(3, 500, 10))
    narrow, _ = _cut(make_stock([(500.0, 69.0)]), 20.0, _line(3, 500, 10))

    assert wide is not None
    assert narrow is not None
    assert (len(wide.layouts), len(narrow.layouts)) == (1, 2)


def test_a_kerf_that_eats_the_sheet_with_its_trims_is_told_in_these_words() -> None:
    """A trim is never less than the kerf: two of 20 mm leave 1 mm of 41 and nothing of 40."""
    thin, _ = _cut(make_stock([(500.0, 41.0)], trim_mm=3.0), 20.0, _line(1, 100, 1))
    cutting, (problem,) = _cut(make_stock([(500.0, 40.0)], trim_mm=3.0), 20.0, _line(1, 100, 1))

    assert thin is not None
    assert cutting is None
    assert problem.code == "N101"
    assert [note.text for note in problem.notes] == [
        "two trims of 20 mm leave nothing of 40 mm across the sheet"
    ]
    assert problem.help == "take a larger sheet, or a saw with a thinner blade"


def test_ten_thousand_copies_are_refused_before_anything_is_laid_out() -> None:
    """Work is counted in calls of functions; laying out a fifth as many takes millions of them."""
    stock = make_stock([(2440.0, 1220.0)])
    with _counting() as calls:
        one, told = _cut(stock, 3.0, _line(10_000, 100, 10))
        many, told_of_all = _cut(
            stock, 3.0, *(_line(MOST_COPIES, 100, 10 + i, label=f"P{i}") for i in range(20))
        )

    assert calls[0] < 100_000
    assert (one, many) == (None, None)
    assert [problem.code for problem in (*told, *told_of_all)] == ["N102", "N102"]
    assert f"{MOST_COPIES_IN_ALL}" in told_of_all[0].what
