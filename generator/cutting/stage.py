"""The cutting stage: blanks, layouts that can be sawn from edge to edge, and every setting."""

from collections.abc import Sequence

from generator.cutting.blanks import check_counts, check_size, make_blank, may_turn, trim_of
from generator.cutting.bounds import find_bound
from generator.cutting.layouts import NestedSheet, make_layout, number_cuts
from generator.cutting.nesting import Size, find_nest
from generator.cutting.shaping import find_shaping
from generator.cutting.trees import Pose, millimetres, ticks
from generator.model.catalogue import Board, Sheet, Tool
from generator.model.cutting import Blank, Cutting, StockNeed
from generator.model.edition import Stock
from generator.model.parts import Part, Parts
from generator.problems import Problem, sort_problems
from generator.units import System


def plan_cutting(
    parts: Parts, stocks: tuple[Stock, ...], saw: Tool, system: System
) -> tuple[Cutting | None, tuple[Problem, ...]]:
    """Return what is sawn from which sheet in which order; nothing where a part fits no sheet.

    Args:
        parts: All parts of the plan.
        stocks: The stocks of the design; sheets are numbered in this order.
        saw: Its kerf counts; none where it has none.
        system: Decides the allowance for bevels, which offcuts are kept, and words.
    """
    kerf = 0 if saw.kerf_mm is None else ticks(saw.kerf_mm)
    kerf_mm = millimetres(kerf)
    blanks = {part.label: make_blank(part, system) for part in parts.parts}
    problems = list(check_counts(parts.parts))
    for part in parts.parts:
        problems += check_size(part, blanks[part.label], kerf_mm, system)
    if problems:
        return None, sort_problems(problems)
    sheets: list[NestedSheet] = []
    needs: list[StockNeed] = []
    for stock in stocks:
        chosen = [part for part in parts.parts if part.stock.name == stock.name]
        if chosen:
            nested, need = _nest_stock(stock, chosen, blanks, kerf, len(sheets))
            sheets += nested
            needs.append(need)
    cuts, settings = number_cuts(sheets, kerf)
    copies: dict[str, int] = {}
    layouts = tuple(
        make_layout(sheet, made, kerf_mm, copies, system)
        for sheet, made in zip(sheets, cuts, strict=True)
    )
    shaping = find_shaping(parts.parts, blanks, len(settings), system)
    cutting = Cutting(
        blanks=tuple(blanks.values()),
        layouts=layouts,
        settings=settings + shaping,
        needs=tuple(needs),
    )
    return cutting, ()


def _nest_stock(
    stock: Stock, parts: Sequence[Part], blanks: dict[str, Blank], kerf: int, before: int
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
    nest = find_nest(poses, counts, sizes, bound, kerf)
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
