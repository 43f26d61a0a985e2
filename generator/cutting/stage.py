"""The cutting stage: blanks, layouts of sheets and boards that can be sawn, and every setting."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from generator.cutting.blanks import check_counts, check_size, make_blank
from generator.cutting.board_stock import BoardsCut, cut_boards
from generator.cutting.layouts import NestedSheet, make_layout, number_cuts
from generator.cutting.lifting import find_lifting
from generator.cutting.other_saws import find_other_saws
from generator.cutting.replay import Sawn, keep_blank, resize_sheets
from generator.cutting.router_stage import lay_for_router
from generator.cutting.shaping import find_shaping
from generator.cutting.sheet_stock import SheetsCut, nest_sheets
from generator.cutting.shop_lists import list_shop_cuts
from generator.cutting.stock_costs import check_there
from generator.cutting.trees import millimetres, ticks
from generator.model.catalogue import Sheet, Tool
from generator.model.cutting import (
    Blank,
    Cut,
    Cutting,
    Effort,
    Layout,
    SettingsNeed,
)
from generator.model.edition import Stock
from generator.model.parts import Part, Parts
from generator.model.workshop import Car, RouterWork
from generator.problems import Problem, sort_problems
from generator.units import System

MOST_RELAID = 300
"""Blanks that are laid out anew with all care for another saw; of more, few rules do."""


def plan_cutting(
    parts: Parts,
    stocks: tuple[Stock, ...],
    saw: Tool,
    system: System,
    effort: Effort = "normal",
    car: Car | None = None,
    *,
    router: RouterWork | None = None,
) -> tuple[Cutting | None, tuple[Problem, ...]]:
    """Return what is sawn from what in which order; nothing where a part fits no sheet or board.

    Args:
        parts: All parts of the plan.
        stocks: The stocks of the design; sheets are numbered in this order, and so are boards.
        saw: Its kerf counts; none where it has none.
        system: Decides the allowance for bevels, which offcuts are kept, and words.
        effort: How long to look for fewer sheets.
        car: What takes the sheets home, where the maker says so.
        router: What sheets for a router are laid for; None where none are wanted.
    """
    kerf = _kerf_of(saw)
    blanks = {part.label: make_blank(part, system) for part in parts.parts}
    problems = list(check_counts(parts.parts)) + _check_sizes(parts, blanks, kerf, system)
    if problems:
        return None, sort_problems(problems)
    sawn = _lay_out(parts, stocks, blanks, kerf, effort)
    if sawn.problems:
        return None, sort_problems(sawn.problems)
    cutting, sheets, boards = _tell(sawn, parts, blanks, system), sawn.sheets, sawn.boards
    cut_with = partial(_cut_again, parts, stocks, blanks, system, effort)
    if router is not None:
        sheets_routed, not_routed = lay_for_router(parts, stocks, cutting.layouts, router)
        cutting = replace(cutting, router=sheets_routed, not_routed=not_routed)
    return replace(
        cutting,
        shop_lists=list_shop_cuts(*_bought(sheets, cutting.layouts), kerf, car, system),
        other_saws=find_other_saws([*sheets, *boards], kerf, cut_with, system),
    ), ()


def _bought(
    sheets: Sequence[NestedSheet], layouts: Sequence[Layout]
) -> tuple[list[NestedSheet], list[Layout]]:
    """Return the sheets that come from the shop, and the same as the plan tells of them."""
    pairs = [one for one in zip(sheets, layouts, strict=True) if not one[0].size.is_owned]
    return [sheet for sheet, _ in pairs], [layout for _, layout in pairs]


def _cut_again(
    parts: Parts,
    stocks: Sequence[Stock],
    blanks: dict[str, Blank],
    system: System,
    effort: Effort,
    kerf: int,
) -> Cutting | None:
    """Return what is sawn with another kerf, None where that cannot be; long lists in a hurry."""
    if _check_sizes(parts, blanks, kerf, system):
        return None
    many = sum(blank.count for blank in blanks.values()) > MOST_RELAID
    quick: Effort = "quick" if many else effort
    sawn = _lay_out(parts, stocks, blanks, kerf, quick, hurried=many)
    return None if sawn.problems else _tell(sawn, parts, blanks, system)


def lay_out_again(
    parts: Parts, stocks: tuple[Stock, ...], saw: Tool, system: System, effort: Effort
) -> Sawn:
    """Return the cut trees that `plan_cutting` finds for the same parts, for `saw_again`."""
    blanks = {part.label: make_blank(part, system) for part in parts.parts}
    return _lay_out(parts, stocks, blanks, _kerf_of(saw), effort)


def saw_again(
    sawn: Sawn,
    planned: Cutting,
    parts: Parts,
    stocks: tuple[Stock, ...],
    system: System,
    car: Car | None = None,
) -> Cutting | None:
    """Return what is sawn where parts have slightly other sizes: the same cuts, set otherwise.

    Args:
        sawn: The cut trees of the plan.
        planned: What the plan says of them; what other saws change and the sheets for a router
            stay as they are there.
        parts: With their other sizes, under the same labels.
        stocks: The stocks they are sawn from.
        system: As for `plan_cutting`.
        car: The same.

    Returns:
        None where a sheet or board no longer gives its blanks.
    """
    blanks: dict[str, Blank] = {}
    for part, old in zip(parts.parts, planned.blanks, strict=True):
        blank = keep_blank(make_blank(part, system), old)
        if blank is None:
            return None
        blanks[part.label] = blank
    by_name = {stock.name: stock for stock in stocks}
    sheets = resize_sheets(sawn.sheets, blanks, by_name, sawn.kerf)
    boards = resize_sheets(sawn.boards, blanks, by_name, sawn.kerf)
    if sheets is None or boards is None:
        return None
    cutting = _tell(replace(sawn, sheets=sheets, boards=boards), parts, blanks, system)
    return replace(
        cutting,
        router=planned.router,
        not_routed=planned.not_routed,
        shop_lists=list_shop_cuts(sheets, cutting.layouts, sawn.kerf, car, system),
        other_saws=planned.other_saws,
    )


def _kerf_of(saw: Tool) -> int:
    return 0 if saw.kerf_mm is None else ticks(saw.kerf_mm)


def _check_sizes(
    parts: Parts, blanks: dict[str, Blank], kerf: int, system: System
) -> list[Problem]:
    """Return what fits no sheet or board, and the stocks of which there is nothing."""
    needed = {part.stock.name: part.stock for part in parts.parts}
    empty = {name: check_there(stock) for name, stock in needed.items()}
    found = [problem for problems in empty.values() for problem in problems]
    for part in parts.parts:
        if not empty[part.stock.name]:
            found += check_size(part, blanks[part.label], millimetres(kerf), system)
    return found


def _lay_out(
    parts: Parts,
    stocks: Sequence[Stock],
    blanks: dict[str, Blank],
    kerf: int,
    effort: Effort,
    *,
    hurried: bool = False,
) -> Sawn:
    """Return the cut trees of sheets and boards, and what there is too little of."""
    sheet_cuts = _nest_sheets(parts, stocks, blanks, kerf, effort, hurried=hurried)
    board_cuts = _cut_boards(parts, stocks, blanks, kerf, effort)
    problems = [problem for one in sheet_cuts for problem in one.problems]
    problems += [problem for one in board_cuts for problem in one.problems]
    return Sawn(
        sheets=tuple(sheet for one in sheet_cuts for sheet in one.nested),
        boards=tuple(board for one in board_cuts for board in one.nested),
        needs=tuple(one.need for one in sheet_cuts),
        board_needs=tuple(one.need for one in board_cuts),
        kerf=kerf,
        problems=tuple(problems),
    )


def _tell(sawn: Sawn, parts: Parts, blanks: dict[str, Blank], system: System) -> Cutting:
    """Return what a plan says of cut trees: layouts, cuts in order, and every setting."""
    sheets, boards, kerf, kerf_mm = sawn.sheets, sawn.boards, sawn.kerf, millimetres(sawn.kerf)
    on_sheets = number_cuts(sheets, kerf)
    on_boards = number_cuts(boards, kerf, sum(map(len, on_sheets.cuts)), len(on_sheets.settings))
    settings = on_sheets.settings + on_boards.settings
    shaping = find_shaping(parts.parts, blanks, len(settings), system)
    return Cutting(
        blanks=tuple(blanks.values()),
        layouts=_make_layouts(sheets, on_sheets.cuts, kerf_mm, system),
        settings=settings + shaping,
        needs=sawn.needs,
        boards=_make_layouts(boards, on_boards.cuts, kerf_mm, system),
        board_needs=sawn.board_needs,
        lifting=find_lifting(sheets, kerf_mm, system),
        settings_need=SettingsNeed(settings=len(settings), bound=on_sheets.bound + on_boards.bound),
    )


def _nest_sheets(
    parts: Parts,
    stocks: Sequence[Stock],
    blanks: dict[str, Blank],
    kerf: int,
    effort: Effort,
    *,
    hurried: bool,
) -> list[SheetsCut]:
    found: list[SheetsCut] = []
    before = 0
    for stock in stocks:
        chosen = _parts_of(parts, stock)
        if chosen and isinstance(stock.goods, Sheet):
            found.append(
                nest_sheets(
                    stock, stock.goods, chosen, blanks, kerf, before, effort, hurried=hurried
                )
            )
            before += len(found[-1].nested)
    return found


def _cut_boards(
    parts: Parts, stocks: Sequence[Stock], blanks: dict[str, Blank], kerf: int, effort: Effort
) -> list[BoardsCut]:
    found: list[BoardsCut] = []
    before = 0
    for stock in stocks:
        chosen = [blanks[part.label] for part in _parts_of(parts, stock)]
        if chosen and stock.board is not None:
            found.append(cut_boards(stock, stock.board, chosen, kerf, before, effort))
            before += len(found[-1].nested)
    return found


def _parts_of(parts: Parts, stock: Stock) -> list[Part]:
    return [part for part in parts.parts if part.stock.name == stock.name]


def _make_layouts(
    sheets: Sequence[NestedSheet],
    cuts: Sequence[tuple[Cut, ...]],
    kerf_mm: float,
    system: System,
) -> tuple[Layout, ...]:
    copies: dict[str, int] = {}
    return tuple(
        make_layout(sheet, made, kerf_mm, copies, system)
        for sheet, made in zip(sheets, cuts, strict=True)
    )
