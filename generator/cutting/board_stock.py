"""Boards of one stock: which lengths to buy, what comes from each, and whether less could do."""

from collections.abc import Sequence
from dataclasses import dataclass
from operator import mul

from generator.cutting.abreast import Segment, build_tree, find_segments
from generator.cutting.blanks import trim_of
from generator.cutting.boards import choose_boards, find_length_bound
from generator.cutting.bounds import find_functions
from generator.cutting.layouts import NestedSheet
from generator.cutting.lengths import Length
from generator.cutting.trees import NO_CUT, millimetres, ticks
from generator.model.catalogue import Board
from generator.model.cutting import Blank, BoardNeed
from generator.model.edition import Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """The blanks of one stock and what is sold, in ticks, kerf included."""

    lengths: Sequence[int]
    widths: Sequence[int]
    counts: Sequence[int]
    board_width: int
    sold: Sequence[Length]


def cut_boards(
    stock: Stock, board: Board, blanks: Sequence[Blank], kerf: int, before: int
) -> tuple[list[NestedSheet], BoardNeed]:
    """Return the boards of one stock, numbered on from those before, and how many are needed.

    Args:
        stock: The stock.
        board: What it is.
        blanks: All blanks of this stock; every one fits a board.
        kerf: Of the saw, in ticks.
        before: How many boards of other stocks come first.
    """
    trim_mm = trim_of(board, millimetres(kerf))
    job = _Job(
        lengths=[ticks(blank.length_mm) + kerf for blank in blanks],
        widths=[ticks(blank.width_mm) + kerf for blank in blanks],
        counts=[blank.count for blank in blanks],
        board_width=ticks(board.width_mm) + kerf,
        sold=_sold_lengths(board, trim_mm, kerf),
    )
    filled, bound = _fill_boards(job)
    nested = [
        NestedSheet(
            number=number,
            stock=stock,
            size=board.sizes[length.index],
            trim_mm=trim_mm,
            tree=build_tree(segments, length.room, job.board_width, job.lengths),
            blanks=tuple(blanks),
        )
        for number, (length, segments) in enumerate(filled, start=before + 1)
    ]
    bought = sum(length.bought for length, _ in filled)
    need = BoardNeed(
        stock=stock,
        boards=len(nested),
        length_mm=millimetres(bought),
        bound_mm=millimetres(bound),
        proved_least=bound == bought,
    )
    return nested, need


def _fill_boards(job: _Job) -> tuple[list[tuple[Length, list[Segment]]], int]:
    """Return the boards with the segments of each, and a length no choice can do with less than."""
    segments = find_segments(job.lengths, job.widths, job.counts, job.board_width)
    pieces = sorted({segment.length for segment in segments}, reverse=True)
    waiting = {p: [segment for segment in segments if segment.length == p] for p in pieces}
    choice = choose_boards(pieces, [len(waiting[piece]) for piece in pieces], job.sold)
    boards = []
    for filled in choice.boards:
        pairs = zip(pieces, filled.taken, strict=True)
        taken = [waiting[piece].pop(0) for piece, count in pairs for _ in range(count)]
        boards.append((filled.length, taken))
    if 2 * min(job.widths) > job.board_width + NO_CUT:
        return boards, choice.bound
    return boards, _bound_abreast(job)


def _sold_lengths(board: Board, trim_mm: float, kerf: int) -> list[Length]:
    """Return the lengths a board is sold in, the shortest first; none that trimming eats up."""
    sold = [
        Length(index, ticks(size.length_mm), ticks(size.length_mm - 2 * trim_mm) + kerf)
        for index, size in enumerate(board.sizes)
    ]
    return sorted((one for one in sold if one.room > kerf), key=lambda one: one.bought)


def _bound_abreast(job: _Job) -> int:
    """Return a length of board that no choice can do with less than, where pieces may lie abreast.

    What fits on a board fits it too as pieces of full width that are shorter by as much as they
    were narrower. And the longest piece needs a board that is as long.
    """
    shares = _shares(job)
    lengths = sorted(set(shares) - {0}, reverse=True)
    counts = [
        sum(count for share, count in zip(shares, job.counts, strict=True) if share == length)
        for length in lengths
    ]
    longest = max(job.lengths)
    alone = min(one.bought for one in job.sold if one.room >= longest)
    return max(alone, find_length_bound(lengths, counts, job.sold))


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
