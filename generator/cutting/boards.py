"""The search for boards: which lengths to buy, and which pieces come from each.

Aims in their order: least length bought, fewest boards. Small jobs are searched whole (branch and
bound over ways to fill a board), so that the answer is known to be the least; in large ones the
search stops after a set number of trials and keeps the best it has seen.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

EFFORT = 20_000
"""Ways to fill a board that are tried in one search: well under a second's work."""

MOST_WAYS = 2_000
"""Ways to fill the next board that are compared at one point of the search."""

MOST_SEARCHED = 120
"""Pieces in one search; of more, the least wasteful boards are set aside first."""

Left = tuple[int, ...]
Cost = tuple[int, int]
"""Ticks of board bought, and how many boards."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length a board is sold in, in ticks; ``index`` counts the lengths of its stock.

    Attributes:
        bought: As sold.
        room: After trimming, one kerf included.
    """

    index: int
    bought: int
    room: int


@dataclass(frozen=True, slots=True)
class Filled:
    """A board to buy and how many of each piece come from it."""

    length: Length
    taken: Left


@dataclass(frozen=True, slots=True)
class Choice:
    """The boards to buy, and whether every other choice has been ruled out."""

    boards: tuple[Filled, ...]
    is_least: bool


@dataclass(slots=True)
class _Search:
    """The state of one search; never leaves this module."""

    pieces: Sequence[int]
    lengths: Sequence[Length]
    best: Cost | None = None
    boards: tuple[Filled, ...] = ()
    trials: int = 0
    is_whole: bool = True
    seen: dict[Left, Cost] = field(default_factory=dict)


def choose_boards(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length]
) -> Choice:
    """Return the boards to buy for pieces of some lengths.

    Args:
        pieces: Different lengths in ticks, kerf included, the longest first; each has a board.
        counts: How many of each.
        lengths: What is sold, the shortest first.
    """
    search = _Search(pieces, lengths)
    left = tuple(counts)
    boards: tuple[Filled, ...] = ()
    while sum(left) > MOST_SEARCHED:
        filled = _ways(search, left)[0]
        pairs = zip(left, filled.taken, strict=True)
        times = min(have // taken for have, taken in pairs if taken)
        boards += (filled,) * times
        left = tuple(h - t * times for h, t in zip(left, filled.taken, strict=True))
        search.is_whole = False
    _go_on(search, left, boards, (sum(one.length.bought for one in boards), len(boards)))
    total = sum(board.length.bought for board in search.boards)
    is_least = search.is_whole or total == find_length_bound(pieces, counts, lengths)
    return Choice(search.boards, is_least)


def find_length_bound(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length]
) -> int:
    """Return a length of board, in ticks, that no choice can do with less than.

    Two reasons: all pieces together need room, and what is sold comes in whole steps; and pieces
    longer than half of the longest board never share one.
    """
    need = sum(piece * count for piece, count in zip(pieces, counts, strict=True))
    if need == 0:
        return 0
    best = min(lengths, key=lambda one: one.bought / one.room)
    step = math.gcd(*(one.bought for one in lengths))
    longest = max(one.room for one in lengths)
    alone = sum(
        count * min(one.bought for one in lengths if one.room >= piece)
        for piece, count in zip(pieces, counts, strict=True)
        if 2 * piece > longest
    )
    return max(-(-need * best.bought // (best.room * step)) * step, alone)


def _go_on(search: _Search, left: Left, boards: tuple[Filled, ...], cost: Cost) -> None:
    """Try all ways to fill the next board, the least wasteful first, and go on with each."""
    if not any(left):
        if search.best is None or cost < search.best:
            search.best, search.boards = cost, boards
        return
    if search.best is not None and _bound(search, left, cost) >= search.best:
        return
    if left in search.seen and search.seen[left] <= cost:
        return
    search.seen[left] = cost
    for filled in _ways(search, left):
        if search.trials >= EFFORT and search.best is not None:
            search.is_whole = False
            return
        search.trials += 1
        rest = tuple(have - taken for have, taken in zip(left, filled.taken, strict=True))
        _go_on(search, rest, (*boards, filled), (cost[0] + filled.length.bought, cost[1] + 1))


def _bound(search: _Search, left: Left, cost: Cost) -> Cost:
    longest = max(one.room for one in search.lengths)
    need = sum(piece * count for piece, count in zip(search.pieces, left, strict=True))
    length = find_length_bound(search.pieces, left, search.lengths)
    return (cost[0] + length, cost[1] + -(-need // longest))


def _ways(search: _Search, left: Left) -> list[Filled]:
    """Return the ways to fill a board with the longest piece left and what else fits in."""
    found: dict[Left, Filled] = {}
    for length in search.lengths:
        for taken in _fillings(search.pieces, left, length.room):
            if len(found) >= MOST_WAYS:
                search.is_whole = False
                break
            found.setdefault(taken, Filled(length, taken))
    return sorted(found.values(), key=lambda one: _waste(search.pieces, one))


def _waste(pieces: Sequence[int], filled: Filled) -> tuple[float, int, Left]:
    used = sum(piece * count for piece, count in zip(pieces, filled.taken, strict=True))
    return (filled.length.bought / used, -used, tuple(-count for count in filled.taken))


def _fillings(pieces: Sequence[int], left: Left, room: int) -> Iterator[Left]:
    """Yield every choice of pieces that holds the longest one left and to which none can be added.

    Filling a board to the brim never costs more than leaving room in it.
    """
    first = next(index for index, count in enumerate(left) if count)

    def fill(index: int, rest: int, taken: Left) -> Iterator[Left]:
        if index == len(pieces):
            if not any(
                have > used and piece <= rest
                for have, used, piece in zip(left, taken, pieces, strict=True)
            ):
                yield taken
            return
        most = min(left[index], rest // pieces[index])
        for count in range(most, 0 if index == first else -1, -1):
            yield from fill(index + 1, rest - count * pieces[index], (*taken, count))

    yield from fill(first, room, (0,) * first)
