"""Stock that is not there, or too little of it: told in plain words, by how much, with a note."""

from collections.abc import Sequence

import pytest

from generator.cutting import plan_cutting
from generator.cutting.stock_costs import find_prices
from generator.model.catalogue import SheetSize
from generator.model.cutting import Cutting, Effort
from generator.model.edition import Stock
from generator.problems import Problem
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_size, make_stock
from tests.plain_parts import with_sizes as _with

FULL, HALF = (2440.0, 1220.0), (1220.0, 1220.0)


def _cut(
    stock: Stock, *lines: Line, kerf: float = 3.0, effort: Effort = "normal"
) -> tuple[Cutting | None, tuple[Problem, ...]]:
    return plan_cutting(make_parts(lines, [stock]), (stock,), make_saw(kerf), "metric", effort)


def _sheets(*sizes: SheetSize) -> Stock:
    return _with(make_stock([FULL], trim_mm=5.0), sizes)


def _boards(*sizes: SheetSize) -> Stock:
    return _with(make_board([3000.0], trim_mm=10.0), sizes)


def _line(count: int, length_mm: float, width_mm: float, stock: str = "panel") -> Line:
    return Line(label="A", count=count, length_mm=length_mm, width_mm=width_mm, stock=stock)


def _words(problems: Sequence[Problem]) -> list[str]:
    return [words for problem in problems for words in _said(problem)]


def _said(problem: Problem) -> list[str]:
    return [problem.code, problem.what, *(note.text for note in problem.notes)]


def test_a_stock_of_which_there_is_nothing_is_told_once() -> None:
    stock = _sheets(make_size(*FULL, 58.0, 0), make_size(*HALF, 33.0, 0))
    cutting, problems = _cut(
        stock, _line(1, 500, 300), Line(label="B", count=1, length_mm=90, width_mm=80)
    )

    assert cutting is None
    assert [
        "N104",
        "there is too little `panel-18`: none can be had in any size",
    ] == _words(problems)
    assert problems[0].place == stock.place


def test_too_few_sheets_are_told_with_how_many_and_that_no_layout_can_do() -> None:
    """Each part takes more than half a sheet in both directions: three need three."""
    cutting, problems = _cut(_sheets(make_size(*FULL, 58.0, 2)), _line(3, 1400, 700))

    assert cutting is None
    assert [
        "N104",
        "there is too little `panel-18`: 1 too few of `2440 x 1220`",
        "of `2440 x 1220` there are 2; the best layouts found need 3",
        "no other layouts can do with what there is",
    ] == _words(problems)


def test_just_enough_sheets_are_enough() -> None:
    cutting, problems = _cut(_sheets(make_size(*FULL, 58.0, 3)), _line(3, 1400, 700))

    assert problems == ()
    assert cutting is not None
    assert [(3, 174.0)] == [(need.sheets, need.cost) for need in cutting.needs]


def test_too_few_boards_are_told_with_how_many() -> None:
    stock = _boards(make_size(2400.0, 90.0, 8.0, 1), make_size(3000.0, 90.0, None, 0))
    cutting, problems = _cut(stock, _line(3, 1300, 90, "board"))

    assert cutting is None
    assert [
        "N104",
        "there is too little `18x90`: 2 too few of `2400 x 90`",
        "of `2400 x 90` there are 1; the best layouts found need 3",
        "no other layouts can do with what there is",
    ] == _words(problems)


def test_a_part_larger_than_every_sheet_that_may_still_be_bought_names_the_one_that_is_gone() -> (
    None
):
    stock = _sheets(make_size(*FULL, 58.0, 0), make_size(*HALF, 33.0))
    cutting, problems = _cut(stock, _line(1, 1500, 400))
    half, _ = _cut(stock, _line(1, 1210, 400))

    assert cutting is None
    assert half is not None
    assert ["N101"] == [problem.code for problem in problems]
    assert "a 2440 x 1220 would hold it, but none can be had" in _words(problems)


def test_a_board_longer_than_those_left_names_the_length_that_is_gone() -> None:
    stock = _boards(make_size(2400.0, 90.0, 8.0), make_size(3000.0, 90.0, 11.0, 0))
    cutting, problems = _cut(stock, _line(1, 2500, 90, "board"))

    assert cutting is None
    assert ["N103"] == [problem.code for problem in problems]
    assert "a 3000 x 90 would hold it, but none can be had" in _words(problems)


def test_an_offcut_that_holds_everything_costs_nothing_and_nothing_is_bought() -> None:
    owned = make_size(600.0, 400.0, at_most=1, is_owned=True)
    cutting, _ = _cut(_sheets(make_size(*FULL, 58.0), owned), _line(2, 280, 300))

    assert cutting is not None
    assert [owned] == [layout.size for layout in cutting.layouts]
    (need,) = cutting.needs
    assert (0, 0.0, True) == (need.sheets, need.cost, need.proved_least)


def test_an_offcut_is_left_on_the_shelf_where_it_saves_nothing() -> None:
    owned = make_size(600.0, 400.0, at_most=1, is_owned=True)
    cutting, _ = _cut(
        _sheets(make_size(*FULL, 58.0), owned),
        _line(1, 1300, 600),
    )

    assert cutting is not None
    assert [False] == [layout.size.is_owned for layout in cutting.layouts]


@pytest.mark.parametrize(("turned", "owned"), [(False, 1), (True, 0)])
def test_the_grain_of_an_offcut_counts(turned: bool, owned: int) -> None:
    """The part is 500 along the grain: an offcut of 520 by 220 holds it, of 220 by 520 not."""
    size = (220.0, 520.0) if turned else (520.0, 220.0)
    stock = _sheets(make_size(*FULL, 58.0), make_size(*size, at_most=1, is_owned=True))
    cutting, _ = _cut(stock, _line(1, 500, 200))

    assert cutting is not None
    assert owned == sum(layout.size.is_owned for layout in cutting.layouts)


@pytest.mark.parametrize(("price_of_half", "sizes"), [(28.0, 2), (30.0, 1)])
def test_two_halves_are_bought_where_they_are_cheaper_than_a_full_sheet(
    price_of_half: float, sizes: int
) -> None:
    stock = _sheets(make_size(*FULL, 58.0), make_size(*HALF, price_of_half))
    cutting, _ = _cut(stock, _line(4, 1100, 590))

    assert cutting is not None
    assert sizes == len(cutting.layouts)
    assert cutting.needs[0].proved_least


def test_prices_count_only_where_every_size_that_is_sold_has_one() -> None:
    assert (58, 33) == find_prices([make_size(*FULL, 58.0), make_size(*HALF, 33.0)]).costs
    assert (1, 1) == find_prices([make_size(*FULL, 58.0), make_size(*HALF)]).costs
    assert (29, 20) == find_prices([make_size(*FULL, 0.58), make_size(*HALF, 0.4)]).costs
    assert (1, 0) == find_prices([make_size(*FULL, 0.58), make_size(*HALF, None, 0)]).costs


@pytest.mark.parametrize("effort", ["quick", "normal", "best"])
def test_every_effort_finds_boards_and_more_effort_never_dearer_ones(effort: Effort) -> None:
    stock = _boards(make_size(2400.0, 90.0, 7.9), make_size(3000.0, 90.0, 10.5))
    lines = [
        Line(label=f"P{n}", count=5, length_mm=400 + 137 * n, width_mm=90, stock="board")
        for n in range(12)
    ]
    quick, _ = _cut(stock, *lines, effort="quick")
    other, _ = _cut(stock, *lines, effort=effort)

    assert quick is not None
    assert other is not None
    costs = [found.board_needs[0].cost for found in (other, quick)]
    assert costs == sorted(costs, key=lambda cost: cost or 0.0)
    assert (other.board_needs[0].cost_bound or 0.0) <= (other.board_needs[0].cost or 0.0)


def test_an_offcut_is_not_taken_to_the_shop_to_be_cut() -> None:
    """Both sheets have two parts each that no car of 1100 by 700 mm takes in one piece."""
    owned = make_size(1300.0, 700.0, at_most=1, is_owned=True)
    stock = _sheets(make_size(*FULL, 58.0), owned)
    cutting, _ = _cut(stock, _line(7, 640, 600))

    assert cutting is not None
    at_shop = {layout.number for layout in cutting.layouts if not layout.size.is_owned}
    assert len(at_shop) < len(cutting.layouts)
    assert at_shop == {piece.sheet for one in cutting.shop_lists for piece in one.pieces}
