"""The cheapest sheets or boards for a few pieces, by trying every way.

Written apart from the program. A group of pieces comes off a sheet by cuts from edge to edge if it
is one piece that fits, or falls into two groups on either side of a cut. Here the narrowest sheet
of a height that a group comes off is worked out exactly, for every way to split the group.
"""

from collections.abc import Callable, Sequence
from functools import cache
from itertools import combinations
from math import inf

Sold = tuple[tuple[float, float], float, int | None]
"""The trimmed size, the price, and how many there are (None for no end)."""

Piece = tuple[float, float, bool]
"""Length, width, and whether it may be turned."""

NEAR = 1e-6


def find_least_cost(pieces: Sequence[Piece], sold: Sequence[Sold], kerf: float) -> float:
    """Return what the cheapest sheets cost that all pieces come off; infinity where none do."""

    def fits(group: int, size: int) -> bool:
        some = tuple(sorted(piece for i, piece in enumerate(pieces) if group >> i & 1))
        length, width = sold[size][0]
        return _narrowest(some, width, kerf) <= length + NEAR

    return _share_out(len(pieces), sold, fits)


def find_least_boards(
    lengths: Sequence[float], sold: Sequence[tuple[float, float, int | None]], kerf: float
) -> float:
    """Return what the cheapest boards cost that all lengths come off.

    Args:
        lengths: Of the pieces.
        sold: What is left of each length after trimming, its price, and how many there are.
        kerf: Of the saw.
    """

    def fits(group: int, size: int) -> bool:
        some = [length for i, length in enumerate(lengths) if group >> i & 1]
        return sum(some) + kerf * (len(some) - 1) <= sold[size][0] + NEAR

    return _share_out(len(lengths), [((one, 0.0), price, n) for one, price, n in sold], fits)


def _share_out(count: int, sold: Sequence[Sold], fits: Callable[[int, int], bool]) -> float:
    """Try every way to share pieces out among what is sold, within what there is of it."""
    known = cache(fits)

    @cache
    def least(left: int, there: tuple[int, ...]) -> float:
        if not left:
            return 0.0
        first = left & -left
        others = left ^ first
        best = inf
        chosen = others
        while True:
            group = chosen | first
            for size, (_, price, _) in enumerate(sold):
                if there[size] and known(group, size):
                    rest = tuple(n - (i == size) for i, n in enumerate(there))
                    best = min(best, price + least(left ^ group, rest))
            if not chosen:
                return best
            chosen = (chosen - 1) & others

    return least((1 << count) - 1, tuple(count if n is None else min(n, count) for _, _, n in sold))


@cache
def _narrowest(pieces: tuple[Piece, ...], height: float, kerf: float) -> float:
    """Return the least length of a sheet of some width that all of these pieces come off."""
    if len(pieces) == 1:
        length, width, turns = pieces[0]
        ways = [(length, width), (width, length)] if turns else [(length, width)]
        return min((along for along, across in ways if across <= height + NEAR), default=inf)
    best = inf
    for some, others in _halves(pieces):
        beside = _narrowest(some, height, kerf) + kerf + _narrowest(others, height, kerf)
        best = min(best, beside)
        for low in _heights(some, kerf):
            if low + kerf < height:
                above = _narrowest(others, height - low - kerf, kerf)
                best = min(best, max(_narrowest(some, low, kerf), above))
    return best


def _halves(pieces: tuple[Piece, ...]) -> list[tuple[tuple[Piece, ...], tuple[Piece, ...]]]:
    """Return every way to split pieces in two, both orders of the halves."""
    every = range(len(pieces))
    return [
        (
            tuple(pieces[i] for i in every if i in some),
            tuple(pieces[i] for i in every if i not in some),
        )
        for size in range(1, len(pieces))
        for some in combinations(every, size)
    ]


@cache
def _heights(pieces: tuple[Piece, ...], kerf: float) -> tuple[float, ...]:
    """Return the widths that strips with these pieces may have: sums of their sides."""
    sums = {-kerf}
    for length, width, turns in pieces:
        sides = (length, width) if turns else (width,)
        sums |= {total + kerf + side for total in sums for side in sides}
    return tuple(sorted(total for total in sums if total > 0))
