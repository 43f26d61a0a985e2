"""The search for boards in small jobs: all ways to fill one after the other (branch and bound).

Aims in their order: least length bought, fewest boards. The search stops after a set number of
trials; if it ends before that, every other choice has been ruled out.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from generator.cutting.lengths import Cost, Filled, Left, Length, cost_of, find_plain_bound

EFFORT = 20_000
"""Ways to fill a board that are tried in one search: well under a second's work."""

MOST_WAYS = 2_000
"""Ways to fill the next board that are compared at one point of the search."""


@dataclass(slots=True)
class _Search:
    """The state of one search; never leaves this module."""

    pieces: Sequence[int]
    lengths: Sequence[Length]
    best: Cost
    boards: tuple[Filled, ...]
    trials: int = 0
    is_whole: bool = True
    seen: dict[Left, Cost] = field(default_factory=dict)


def search_boards(
    pieces: Sequence[int],
    counts: Sequence[int],
    lengths: Sequence[Length],
    start: tuple[Filled, ...],
) -> tuple[tuple[Filled, ...], bool]:
    """Return boards at least as good as some to start from, and whether none are better.

    Args:
        pieces: Different lengths in ticks, kerf included, the longest first; each has a board.
        counts: How many of each.
        lengths: What is sold, the shortest first.
        start: Boards that hold all pieces.
    """
    search = _Search(pieces, lengths, cost_of(start), start)
    _go_on(search, tuple(counts), (), (0, 0))
    return search.boards, search.is_whole


def _go_on(search: _Search, left: Left, boards: tuple[Filled, ...], cost: Cost) -> None:
    """Try all ways to fill the next board, the least wasteful first, and go on with each."""
    if not any(left):
        if cost < search.best:
            search.best, search.boards = cost, boards
        return
    if _bound(search, left, cost) >= search.best:
        return
    if left in search.seen and search.seen[left] <= cost:
        return
    search.seen[left] = cost
    for filled in _ways(search, left):
        if search.trials >= EFFORT:
            search.is_whole = False
            return
        search.trials += 1
        rest = tuple(have - taken for have, taken in zip(left, filled.taken, strict=True))
        _go_on(search, rest, (*boards, filled), (cost[0] + filled.length.bought, cost[1] + 1))


def _bound(search: _Search, left: Left, cost: Cost) -> Cost:
    longest = max(one.room for one in search.lengths)
    need = sum(piece * count for piece, count in zip(search.pieces, left, strict=True))
    length = find_plain_bound(search.pieces, left, search.lengths)
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
