"""Boards as lengths: what is sold, what a board is filled with, and the least that can do."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

Left = tuple[int, ...]
"""How many of each piece, the longest piece first."""

Cost = tuple[int, int]
"""Ticks of board bought, and how many boards."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length a board is sold in, in ticks; ``index`` counts the lengths of its stock.

    Attributes:
        bought: As sold.
        room: After trimming, one kerf included.
        cost: Of one, where prices are known or there are only so many of a length.
        most: How many there are; None for as many as are wanted.
    """

    index: int
    bought: int
    room: int
    cost: int = 0
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Filled:
    """A board to buy and how many of each piece come from it."""

    length: Length
    taken: Left


def find_step(lengths: Sequence[Length]) -> int:
    """Return the step that every total length of boards is a multiple of."""
    return gcd(*(one.bought for one in lengths))


def cost_of(boards: Sequence[Filled]) -> Cost:
    """Return what boards cost."""
    return (sum(board.length.bought for board in boards), len(boards))


def find_plain_bound(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length]
) -> int:
    """Return a length of board that no choice can do with less than, found without a program.

    Two reasons: all pieces together need room, and what is sold comes in whole steps; and pieces
    longer than half of the longest board never share one.
    """
    need = sum(piece * count for piece, count in zip(pieces, counts, strict=True))
    if need == 0:
        return 0
    best = min(lengths, key=lambda one: one.bought / one.room)
    step = find_step(lengths)
    longest = max(one.room for one in lengths)
    alone = sum(
        count * min(one.bought for one in lengths if one.room >= piece)
        for piece, count in zip(pieces, counts, strict=True)
        if 2 * piece > longest
    )
    return max(-(-need * best.bought // (best.room * step)) * step, alone)
