"""Boards of one stock: which lengths to buy, what comes from each, and whether less could do."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import gcd
from operator import mul

from generator.cutting.abreast import Segment, build_tree, find_segments
from generator.cutting.blanks import trim_of
from generator.cutting.boards import choose_boards, find_length_bound
from generator.cutting.bounds import find_functions
from generator.cutting.budget import BOARD_WORK
from generator.cutting.layouts import NestedSheet
from generator.cutting.lengths import Filled, Length, find_plain_bound
from generator.cutting.priced_boards import choose_priced, find_priced_bound
from generator.cutting.stock_costs import Prices, find_prices, is_plain, report_missing
from generator.cutting.trees import NO_CUT, millimetres, ticks
from generator.model.catalogue import Board
from generator.model.cutting import Blank, Effort
from generator.model.edition import Stock
from generator.model.needs import BoardNeed
from generator.problems import Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardsCut:
    """The boards of one stock.

    Attributes:
        nested: Their cut trees.
        need: How many are bought, and whether less could do.
        problems: What there is too little of.
    """

    nested: list[NestedSheet]
    need: BoardNeed
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """The blanks of one stock and what is sold, in ticks, kerf included.

    Attributes:
        prices: Of every length; None where nothing is known but lengths.
        length_step: What every length to buy is a multiple of.
        work: Most work of a linear program.
    """

    lengths: Sequence[int]
    widths: Sequence[int]
    counts: Sequence[int]
    board_width: int
    sold: Sequence[Length]
    prices: Prices | None
    length_step: int
    work: int

    @property
    def may_lie_abreast(self) -> bool:
        """Whether the narrowest two pieces fit beside each other."""
        return 2 * min(self.widths) <= self.board_width + NO_CUT


@dataclass(frozen=True, slots=True, kw_only=True)
class _Filled:
    """The boards with the segments of each, and what is known of others.

    Attributes:
        bound: No choice buys less length, in ticks.
        cost_bound: Of the costs of the lengths, where they have any.
        missing: Of which lengths there are too few.
        is_possible: False where it is proved that there are too few.
    """

    boards: list[tuple[Length, list[Segment]]]
    bound: int
    cost_bound: int
    missing: Mapping[int, int]
    is_possible: bool


def cut_boards(
    stock: Stock,
    board: Board,
    blanks: Sequence[Blank],
    kerf: int,
    before: int,
    effort: Effort = "normal",
) -> BoardsCut:
    """Return the boards of one stock, numbered on from those before, and how many are needed.

    Args:
        stock: The stock.
        board: What it is.
        blanks: All blanks of this stock; every one fits a board.
        kerf: Of the saw, in ticks.
        before: How many boards of other stocks come first.
        effort: How long to look for less.
    """
    trim_mm = trim_of(board, millimetres(kerf))
    prices = None if is_plain(board) else find_prices(board.sizes)
    job = _Job(
        lengths=[ticks(blank.length_mm) + kerf for blank in blanks],
        widths=[ticks(blank.width_mm) + kerf for blank in blanks],
        counts=[blank.count for blank in blanks],
        board_width=ticks(board.width_mm) + kerf,
        sold=_sold_lengths(board, trim_mm, kerf, prices),
        prices=prices,
        length_step=_length_step(board),
        work=BOARD_WORK[effort],
    )
    filled = _fill_boards(job)
    nested = [
        NestedSheet(
            number=number,
            stock=stock,
            size=board.sizes[length.index],
            trim_mm=trim_mm,
            tree=build_tree(segments, length.room, job.board_width, job.lengths),
            blanks=tuple(blanks),
        )
        for number, (length, segments) in enumerate(filled.boards, start=before + 1)
    ]
    problems = report_missing(stock, filled.missing, is_proved=not filled.is_possible)
    return BoardsCut(nested=nested, need=_need(stock, board, job, filled), problems=problems)


def _need(stock: Stock, board: Board, job: _Job, filled: _Filled) -> BoardNeed:
    paid = [length for length, _ in filled.boards if not board.sizes[length.index].is_owned]
    bought = sum(length.bought for length in paid)
    cost = sum(length.cost for length in paid)
    is_least = filled.bound == bought if job.prices is None else filled.cost_bound == cost
    has_money = job.prices is not None and job.prices.step > 0
    return BoardNeed(
        stock=stock,
        boards=len(paid),
        length_mm=millimetres(bought),
        bound_mm=millimetres(filled.bound),
        proved_least=is_least,
        cost=job.prices.money(cost) if job.prices is not None and has_money else None,
        cost_bound=(
            job.prices.money(filled.cost_bound) if job.prices is not None and has_money else None
        ),
    )


def _fill_boards(job: _Job) -> _Filled:
    """Return the boards with the segments of each, and what is known of other choices."""
    segments = find_segments(job.lengths, job.widths, job.counts, job.board_width)
    pieces = sorted({segment.length for segment in segments}, reverse=True)
    waiting = {p: [segment for segment in segments if segment.length == p] for p in pieces}
    counts = [len(waiting[piece]) for piece in pieces]
    if job.prices is not None:
        return _fill_priced(job, pieces, counts, waiting)
    choice = choose_boards(pieces, counts, job.sold, job.work)
    boards = _share_out(choice.boards, pieces, waiting)
    bound = _bound_abreast(job) if job.may_lie_abreast else choice.bound
    return _Filled(boards=boards, bound=bound, cost_bound=0, missing={}, is_possible=True)


def _fill_priced(
    job: _Job, pieces: Sequence[int], counts: Sequence[int], waiting: dict[int, list[Segment]]
) -> _Filled:
    """Return the cheapest boards."""
    choice = choose_priced(pieces, counts, job.sold, job.work)
    boards = _share_out(choice.boards, pieces, waiting)
    cost_bound = choice.bound
    lengths, many = list(pieces), list(counts)
    if job.may_lie_abreast:
        lengths, many = _as_full_width(job)
        cost_bound = find_priced_bound(lengths, many, job.sold, job.work)
    bound = cost_bound * job.length_step
    if job.prices is not None and job.prices.step:
        there = sum(one.bought * (one.most or 0) for one in job.sold if not one.cost)
        bound = max(0, find_plain_bound(lengths, many, job.sold) - there)
    return _Filled(
        boards=boards,
        bound=bound,
        cost_bound=cost_bound,
        missing=choice.missing(),
        is_possible=choice.is_possible or job.may_lie_abreast,
    )


def _share_out(
    chosen: Sequence[Filled], pieces: Sequence[int], waiting: dict[int, list[Segment]]
) -> list[tuple[Length, list[Segment]]]:
    boards = []
    for filled in chosen:
        pairs = zip(pieces, filled.taken, strict=True)
        taken = [waiting[piece].pop(0) for piece, count in pairs for _ in range(count)]
        boards.append((filled.length, taken))
    return boards


def _sold_lengths(board: Board, trim_mm: float, kerf: int, prices: Prices | None) -> list[Length]:
    """Return the lengths that can be had, the shortest first; none that trimming eats up.

    Where lengths have no prices but limits, or some are there, they cost what they are long.
    """
    sold = [
        Length(
            index,
            ticks(size.length_mm),
            ticks(size.length_mm - 2 * trim_mm) + kerf,
            _cost_of(index, board, prices),
            size.at_most,
        )
        for index, size in enumerate(board.sizes)
        if size.at_most != 0
    ]
    return sorted((one for one in sold if one.room > kerf), key=lambda one: one.bought)


def _cost_of(index: int, board: Board, prices: Prices | None) -> int:
    if prices is None or prices.step:
        return 0 if prices is None else prices.costs[index]
    size = board.sizes[index]
    return 0 if size.is_owned else ticks(size.length_mm) // _length_step(board)


def _length_step(board: Board) -> int:
    """Return the step, in ticks, that every length to buy is a multiple of."""
    return max(1, gcd(*(ticks(size.length_mm) for size in board.sizes if not size.is_owned)))


def _bound_abreast(job: _Job) -> int:
    """Return a length of board that no choice can do with less than, where pieces may lie abreast.

    What fits on a board fits it too as pieces of full width that are shorter by as much as they
    were narrower. And the longest piece needs a board that is as long.
    """
    lengths, counts = _as_full_width(job)
    longest = max(job.lengths)
    alone = min(one.bought for one in job.sold if one.room >= longest)
    return max(alone, find_length_bound(lengths, counts, job.sold, job.work))


def _as_full_width(job: _Job) -> tuple[list[int], list[int]]:
    """Return pieces of full width that take up no more board, the longest first, and how many."""
    shares = _shares(job)
    lengths = sorted(set(shares) - {0}, reverse=True)
    counts = [
        sum(count for share, count in zip(shares, job.counts, strict=True) if share == length)
        for length in lengths
    ]
    return lengths, counts


def _shares(job: _Job) -> list[int]:
    """Return how much length of board each blank takes up at the least.

    Where others may lie beside it, that is less than its own: in proportion to its width, or to
    what a function makes of it that keeps together what fits side by side (see `bounds`).
    """
    narrowest, widest = min(job.widths), job.board_width + NO_CUT
    shares = [
        [
            length if width + narrowest > widest else length * function(width) // whole
            for length, width in zip(job.lengths, job.widths, strict=True)
        ]
        for function, whole in find_functions(widest, job.widths)
    ]
    return max(shares, key=lambda one: sum(map(mul, one, job.counts)))
