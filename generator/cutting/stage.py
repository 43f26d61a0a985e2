"""The cutting stage: blanks, layouts of sheets and boards that can be sawn, and every setting."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from generator.cutting.blanks import check_counts, check_size, make_blank, may_turn, trim_of
from generator.cutting.board_stock import cut_boards
from generator.cutting.bounds import find_bound
from generator.cutting.budget import start_budget
from generator.cutting.layouts import NestedSheet, make_layout, number_cuts
from generator.cutting.lifting import find_lifting
from generator.cutting.nesting import find_nest
from generator.cutting.other_saws import find_other_saws
from generator.cutting.router_stage import lay_for_router
from generator.cutting.shaping import find_shaping
from generator.cutting.shop_lists import list_shop_cuts
from generator.cutting.trees import Pose, Size, millimetres, ticks
from generator.model.catalogue import Board, Sheet, Tool
from generator.model.cutting import (
    Blank,
    BoardNeed,
    Cut,
    Cutting,
    Effort,
    Layout,
    SettingsNeed,
    StockNeed,
)
from generator.model.edition import Stock
from generator.model.parts import Part, Parts
from generator.model.workshop import Car, RouterWork
from generator.problems import Problem, sort_problems
from generator.units import System


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
    cutting, sheets, boards = _cut(parts, stocks, blanks, kerf, system, effort)

    def cut_with(other: int) -> Cutting | None:
        if _check_sizes(parts, blanks, other, system):
            return None
        return _cut(parts, stocks, blanks, other, system, effort)[0]

    if router is not None:
        sheets_routed, not_routed = lay_for_router(parts, stocks, cutting.layouts, router)
        cutting = replace(cutting, router=sheets_routed, not_routed=not_routed)
    return replace(
        cutting,
        shop_lists=list_shop_cuts(sheets, cutting.layouts, kerf, car, system),
        other_saws=find_other_saws([*sheets, *boards], kerf, cut_with, system),
    ), ()


def _check_sizes(
    parts: Parts, blanks: dict[str, Blank], kerf: int, system: System
) -> list[Problem]:
    found: list[Problem] = []
    for part in parts.parts:
        found += check_size(part, blanks[part.label], millimetres(kerf), system)
    return found


def _cut(
    parts: Parts,
    stocks: Sequence[Stock],
    blanks: dict[str, Blank],
    kerf: int,
    system: System,
    effort: Effort,
) -> tuple[Cutting, list[NestedSheet], list[NestedSheet]]:
    """Return what is sawn from what with a kerf, and the cut trees of its sheets and boards."""
    kerf_mm = millimetres(kerf)
    sheets, needs = _nest_sheets(parts, stocks, blanks, kerf, effort)
    boards, board_needs = _cut_boards(parts, stocks, blanks, kerf)
    on_sheets = number_cuts(sheets, kerf)
    on_boards = number_cuts(boards, kerf, sum(map(len, on_sheets.cuts)), len(on_sheets.settings))
    settings = on_sheets.settings + on_boards.settings
    shaping = find_shaping(parts.parts, blanks, len(settings), system)
    layouts = _make_layouts(sheets, on_sheets.cuts, kerf_mm, system)
    cutting = Cutting(
        blanks=tuple(blanks.values()),
        layouts=layouts,
        settings=settings + shaping,
        needs=tuple(needs),
        boards=_make_layouts(boards, on_boards.cuts, kerf_mm, system),
        board_needs=tuple(board_needs),
        lifting=find_lifting(sheets, kerf_mm, system),
        settings_need=SettingsNeed(settings=len(settings), bound=on_sheets.bound + on_boards.bound),
    )
    return cutting, sheets, boards


def _nest_sheets(
    parts: Parts, stocks: Sequence[Stock], blanks: dict[str, Blank], kerf: int, effort: Effort
) -> tuple[list[NestedSheet], list[StockNeed]]:
    sheets: list[NestedSheet] = []
    needs: list[StockNeed] = []
    for stock in stocks:
        chosen = _parts_of(parts, stock)
        if chosen and stock.board is None:
            nested, need = _nest_stock(stock, chosen, blanks, kerf, len(sheets), effort)
            sheets += nested
            needs.append(need)
    return sheets, needs


def _cut_boards(
    parts: Parts, stocks: Sequence[Stock], blanks: dict[str, Blank], kerf: int
) -> tuple[list[NestedSheet], list[BoardNeed]]:
    boards: list[NestedSheet] = []
    needs: list[BoardNeed] = []
    for stock in stocks:
        chosen = [blanks[part.label] for part in _parts_of(parts, stock)]
        if chosen and stock.board is not None:
            cut, need = cut_boards(stock, stock.board, chosen, kerf, len(boards))
            boards += cut
            needs.append(need)
    return boards, needs


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


def _nest_stock(
    stock: Stock,
    parts: Sequence[Part],
    blanks: dict[str, Blank],
    kerf: int,
    before: int,
    effort: Effort,
) -> tuple[list[NestedSheet], StockNeed]:
    """Return the sheets of one stock, numbered on from those before, and how many are needed."""
    trim_mm = trim_of(stock.goods, millimetres(kerf))
    sizes = _sizes(stock.goods, trim_mm, kerf)
    chosen = tuple(blanks[part.label] for part in parts)
    poses = [
        _poses(index, blank, may_turn(part), sizes, kerf)
        for index, (part, blank) in enumerate(zip(parts, chosen, strict=True))
    ]
    counts = [blank.count for blank in chosen]
    along_x = max(size.along_x for size in sizes)
    bound = find_bound(poses, counts, along_x, max(size.along_y for size in sizes))
    nest = find_nest(poses, counts, sizes, bound, kerf, partial(start_budget, effort))
    nested = [
        NestedSheet(
            number=before + place,
            stock=stock,
            size=stock.goods.sizes[sheet.size.index],
            trim_mm=trim_mm,
            tree=sheet.tree,
            blanks=chosen,
        )
        for place, sheet in enumerate(nest, start=1)
    ]
    need = StockNeed(stock=stock, sheets=len(nest), bound=bound, proved_least=len(nest) == bound)
    return nested, need


def _sizes(sheet: Sheet | Board, trim_mm: float, kerf: int) -> list[Size]:
    """Return the sizes of a sheet as they are after trimming; none that trimming eats up."""
    sizes = [
        Size(
            index,
            ticks(size.length_mm - 2 * trim_mm) + kerf,
            ticks(size.width_mm - 2 * trim_mm) + kerf,
        )
        for index, size in enumerate(sheet.sizes)
    ]
    return [size for size in sizes if size.along_x > kerf and size.along_y > kerf]


def _poses(
    index: int, blank: Blank, turns: bool, sizes: Sequence[Size], kerf: int
) -> tuple[Pose, ...]:
    """Return the ways a blank may lie that at least one size holds."""
    length, width = ticks(blank.length_mm) + kerf, ticks(blank.width_mm) + kerf
    ways = [Pose(index, length, width, turned=False)]
    if turns and length != width:
        ways.append(Pose(index, width, length, turned=True))
    return tuple(pose for pose in ways if any(size.holds(pose) for size in sizes))
