"""The cutting stage: blanks, layouts of sheets and boards that can be sawn, and every setting."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from generator.cutting.blanks import check_counts, check_size, make_blank
from generator.cutting.board_stock import BoardsCut, cut_boards
from generator.cutting.layouts import NestedSheet, make_layout, number_cuts
from generator.cutting.lifting import find_lifting
from generator.cutting.other_saws import find_other_saws
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
    kerf = 0 if saw.kerf_mm is None else ticks(saw.kerf_mm)
    blanks = {part.label: make_blank(part, system) for part in parts.parts}
    problems = list(check_counts(parts.parts)) + _check_sizes(parts, blanks, kerf, system)
    if problems:
        return None, sort_problems(problems)
    sawn = _cut(parts, stocks, blanks, kerf, system, effort)
    if sawn.problems:
        return None, sort_problems(sawn.problems)
    cutting, sheets, boards = sawn.cutting, sawn.sheets, sawn.boards
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
    sawn = _cut(parts, stocks, blanks, kerf, system, quick, hurried=many)
    return None if sawn.problems else sawn.cutting


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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sawn:
    """What is sawn from what with a kerf, the cut trees, and what there is too little of."""

    cutting: Cutting
    sheets: list[NestedSheet]
    boards: list[NestedSheet]
    problems: tuple[Problem, ...]


def _cut(
    parts: Parts,
    stocks: Sequence[Stock],
    blanks: dict[str, Blank],
    kerf: int,
    system: System,
    effort: Effort,
    *,
    hurried: bool = False,
) -> _Sawn:
    """Return what is sawn from what with a kerf."""
    kerf_mm = millimetres(kerf)
    sheet_cuts = _nest_sheets(parts, stocks, blanks, kerf, effort, hurried=hurried)
    board_cuts = _cut_boards(parts, stocks, blanks, kerf, effort)
    sheets = [sheet for one in sheet_cuts for sheet in one.nested]
    boards = [board for one in board_cuts for board in one.nested]
    on_sheets = number_cuts(sheets, kerf)
    on_boards = number_cuts(boards, kerf, sum(map(len, on_sheets.cuts)), len(on_sheets.settings))
    settings = on_sheets.settings + on_boards.settings
    shaping = find_shaping(parts.parts, blanks, len(settings), system)
    layouts = _make_layouts(sheets, on_sheets.cuts, kerf_mm, system)
    cutting = Cutting(
        blanks=tuple(blanks.values()),
        layouts=layouts,
        settings=settings + shaping,
        needs=tuple(one.need for one in sheet_cuts),
        boards=_make_layouts(boards, on_boards.cuts, kerf_mm, system),
        board_needs=tuple(one.need for one in board_cuts),
        lifting=find_lifting(sheets, kerf_mm, system),
        settings_need=SettingsNeed(settings=len(settings), bound=on_sheets.bound + on_boards.bound),
    )
    problems = [problem for one in sheet_cuts for problem in one.problems]
    problems += [problem for one in board_cuts for problem in one.problems]
    return _Sawn(cutting=cutting, sheets=sheets, boards=boards, problems=tuple(problems))


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
