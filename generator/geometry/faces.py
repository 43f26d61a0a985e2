"""A plane face of a solid, and how the sides of a solid are numbered."""

from dataclasses import dataclass
from typing import Final

from generator.geometry.vectors import Vec3

FIRST_FLOOR: Final = -10
"""The floor of channel k is side -10 - 2k, its walls are side -11 - 2k."""


@dataclass(frozen=True, slots=True)
class Face:
    """A plane face of a solid, seen from outside counter-clockwise.

    Attributes:
        outer: Corner points in order, first not repeated.
        holes: Loops cut out of the face, clockwise seen from outside.
        normal: Outward, length 1.
        edge: Index of the outline edge this face follows; -1 for face A, -2 for face B, -3 for the
            wall of a hole; for floors and walls of channels see `floor_side` and `wall_side`.
        smooth: Which sides of ``outer`` lie within an arc, or where one runs smoothly on: no edge
            one would draw.
        is_chord: Whether the face is a chord of something round.
    """

    outer: tuple[Vec3, ...]
    holes: tuple[tuple[Vec3, ...], ...]
    normal: Vec3
    edge: int
    smooth: tuple[bool, ...]
    is_chord: bool = False


def floor_side(channel: int) -> int:
    """Return the number of the side that is the floor of a channel."""
    return FIRST_FLOOR - 2 * channel


def wall_side(channel: int) -> int:
    """Return the number of the side that is any wall of a channel."""
    return FIRST_FLOOR - 2 * channel - 1


def channel_of(side: int) -> int | None:
    """Return the channel whose floor or wall a side is, or None for any other side."""
    return (FIRST_FLOOR - side) // 2 if side <= FIRST_FLOOR else None


def is_floor(side: int) -> bool:
    """Whether a side is the floor of a channel."""
    return side <= FIRST_FLOOR and side % 2 == 0


def is_wall(side: int) -> bool:
    """Whether a side is a wall of a channel."""
    return side < FIRST_FLOOR and side % 2 == 1
