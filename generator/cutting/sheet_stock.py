"""Sheets of one stock: layouts, what they cost, and whether fewer or cheaper sheets could do."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from generator.cutting.blanks import may_turn, trim_of
from generator.cutting.bounds import find_bound
from generator.cutting.budget import start_budget
from generator.cutting.by_rules import Nest
from generator.cutting.cost_bounds import find_cost_bound, find_shares
from generator.cutting.layouts import NestedSheet
from generator.cutting.nesting import count_missing, find_nest
from generator.cutting.stock_costs import Prices, find_prices, is_plain, report_missing
from generator.cutting.trees import Pose, Size, millimetres, ticks
from generator.model.catalogue import Sheet
from generator.model.cutting import Blank, Effort
from generator.model.edition import Stock
from generator.model.needs import StockNeed
from generator.model.parts import Part
from generator.problems import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetsCut:
    """The sheets of one stock.

    Attributes:
        nested: Their cut trees.
        need: How many are bought, and whether fewer or cheaper ones could do.
        problems: What there is too little of.
    """

    nested: list[NestedSheet]
    need: StockNeed
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class _Job:
    """Blanks as poses with their copies, and the sizes they may lie on."""

    poses: tuple[tuple[Pose, ...], ...]
    counts: tuple[int, ...]
    sizes: tuple[Size, ...]
    kerf: int
    effort: Effort
    hurried: bool


def nest_sheets(
    stock: Stock,
    sheet: Sheet,
    parts: Sequence[Part],
    blanks: Mapping[str, Blank],
    kerf: int,
    before: int,
    effort: Effort,
    *,
    hurried: bool,
) -> SheetsCut:
    """Return the sheets of one stock, numbered on from those before, and how many are needed.

    Args:
        stock: The stock.
        sheet: What it is.
        parts: All parts of this stock; every one fits a sheet.
        blanks: By label.
        kerf: Of the saw, in ticks.
        before: How many sheets of other stocks come first.
        effort: How long to look for fewer or cheaper sheets.
        hurried: Whether few rules do.
    """
    trim_mm = trim_of(sheet, millimetres(kerf))
    prices = find_prices(sheet.sizes)
    sizes = _sizes(sheet, prices, trim_mm, kerf)
    chosen = tuple(blanks[part.label] for part in parts)
    poses = tuple(
        _poses(index, blank, may_turn(part), sizes, kerf)
        for index, (part, blank) in enumerate(zip(parts, chosen, strict=True))
    )
    job = _Job(poses, tuple(blank.count for blank in chosen), sizes, kerf, effort, hurried)
    nest, need, problems = (_nest_plain if is_plain(sheet) else _nest_priced)(job, stock, prices)
    nested = [
        NestedSheet(
            number=before + place,
            stock=stock,
            size=sheet.sizes[one.size.index],
            trim_mm=trim_mm,
            tree=one.tree,
            blanks=chosen,
        )
        for place, one in enumerate(nest, start=1)
    ]
    return SheetsCut(nested=nested, need=need, problems=problems)


def _nest_plain(job: _Job, stock: Stock, _: Prices) -> tuple[Nest, StockNeed, tuple[Problem, ...]]:
    """Return the fewest sheets found."""
    bound = _bound(job)
    start = partial(start_budget, job.effort)
    nest = find_nest(job.poses, job.counts, job.sizes, bound, job.kerf, start, hurried=job.hurried)
    need = StockNeed(stock=stock, sheets=len(nest), bound=bound, proved_least=len(nest) == bound)
    return nest, need, ()


def _bound(job: _Job) -> int:
    along_x = max(size.along_x for size in job.sizes)
    along_y = max(size.along_y for size in job.sizes)
    return find_bound(job.poses, job.counts, along_x, along_y)


def _nest_priced(
    job: _Job, stock: Stock, prices: Prices
) -> tuple[Nest, StockNeed, tuple[Problem, ...]]:
    """Return the cheapest sheets found; what there is too little of is bought all the same."""
    copies = sum(job.counts)
    shares = find_shares(job.poses, job.counts, job.sizes)
    bound = find_cost_bound(shares, job.sizes, copies)
    is_possible = bound is not None
    if bound is None:
        endless = [replace(size, most=None) for size in job.sizes]
        bound = find_cost_bound(shares, endless, copies) or 0
    start = partial(start_budget, job.effort)
    nest = find_nest(
        job.poses, job.counts, job.sizes, bound, job.kerf, start, shares, hurried=job.hurried
    )
    cost = sum(one.size.cost for one in nest)
    bought = sum(not stock.goods.sizes[one.size.index].is_owned for one in nest)
    fewest = bound
    if prices.step:
        single = [replace(size, cost=min(1, size.cost)) for size in job.sizes]
        fewest = find_cost_bound(shares, single, copies) or 0
    need = StockNeed(
        stock=stock,
        sheets=bought,
        bound=fewest,
        proved_least=cost == bound,
        cost=prices.money(cost),
        cost_bound=prices.money(bound),
    )
    return nest, need, report_missing(stock, count_missing(nest), is_proved=not is_possible)


def _sizes(sheet: Sheet, prices: Prices, trim_mm: float, kerf: int) -> tuple[Size, ...]:
    """Return the sizes that can be had as they are after trimming; none that trimming eats up."""
    sizes = [
        Size(
            index,
            ticks(size.length_mm - 2 * trim_mm) + kerf,
            ticks(size.width_mm - 2 * trim_mm) + kerf,
            prices.costs[index],
            size.at_most,
        )
        for index, size in enumerate(sheet.sizes)
        if size.at_most != 0
    ]
    return tuple(size for size in sizes if size.along_x > kerf and size.along_y > kerf)


def _poses(
    index: int, blank: Blank, turns: bool, sizes: Sequence[Size], kerf: int
) -> tuple[Pose, ...]:
    """Return the ways a blank may lie that at least one size holds."""
    length, width = ticks(blank.length_mm) + kerf, ticks(blank.width_mm) + kerf
    ways = [Pose(index, length, width, turned=False)]
    if turns and length != width:
        ways.append(Pose(index, width, length, turned=True))
    return tuple(pose for pose in ways if any(size.holds(pose) for size in sizes))
