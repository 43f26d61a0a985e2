"""How far and which way the pieces of an exploded view move: along the normals of their contacts.

Contacts that look the same way (or the opposite one) make an axis. Along it the second piece of a
contact stands at least one level beyond the first:

    side | shelf | side        level 0 | 1 | 2 along the common normal

A piece that touches nothing along an axis goes with what it touches otherwise. What stands in a
channel comes out of it along the normal of the floor; the walls are left aside.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median_low
from typing import Final, Protocol

from generator.geometry.faces import is_wall
from generator.geometry.vectors import Vec3, add, angle_between_deg, dot, scale
from generator.model.joinery import Contact

SAME_WAY_DEG: Final = 2.0
"""Directions that differ by less look the same on a drawing."""
MOST_LEVELS: Final = 4.0
"""With more levels along an axis the gaps shrink, so that pieces stay large on paper."""


class Touch(Protocol):
    """Two pieces that touch, and the way from the first to the second."""

    @property
    def first(self) -> str:
        """Name of a piece."""

    @property
    def second(self) -> str:
        """Name of the other piece."""

    @property
    def normal(self) -> Vec3:
        """From the first to the second, length 1."""


@dataclass(frozen=True, slots=True)
class _Axis:
    """A direction and which piece stands before which along it."""

    direction: Vec3
    pairs: tuple[tuple[str, str], ...]


def find_moves(names: Sequence[str], contacts: Iterable[Touch], gap_mm: float) -> dict[str, Vec3]:
    """Return how far every piece moves.

    Args:
        names: Of all pieces.
        contacts: Of these pieces.
        gap_mm: How far touching pieces part at least; less along an axis with many levels.
    """
    found = tuple(
        contact
        for contact in contacts
        if not isinstance(contact, Contact)
        or not (is_wall(contact.first_side) or is_wall(contact.second_side))
    )
    moves: dict[str, Vec3] = dict.fromkeys(names, (0.0, 0.0, 0.0))
    axes = _find_axes(found)
    for axis in axes:
        levels = _find_levels(names, axis, found)
        rise = max(levels.values()) - min(levels.values())
        gap = gap_mm * min(1.0, MOST_LEVELS / rise) if rise else gap_mm
        for name in names:
            step = scale(axis.direction, levels[name] * gap)
            moves[name] = add(moves[name], step)
    return moves


def _find_axes(contacts: Sequence[Touch]) -> list[_Axis]:
    groups: dict[Vec3, list[tuple[str, str]]] = {}
    for contact in contacts:
        same = (d for d in groups if _is_same_way(d, contact.normal))
        direction = next(same, contact.normal)
        ahead = dot(direction, contact.normal) > 0
        pair = (contact.first, contact.second) if ahead else (contact.second, contact.first)
        groups.setdefault(direction, []).append(pair)
    return [_Axis(direction, tuple(pairs)) for direction, pairs in groups.items()]


def _is_same_way(one: Vec3, other: Vec3) -> bool:
    angle = angle_between_deg(one, other)
    return min(angle, 180 - angle) < SAME_WAY_DEG


def _find_levels(names: Sequence[str], axis: _Axis, contacts: Sequence[Touch]) -> dict[str, float]:
    """Return the level of every piece along an axis."""
    bound = [name for name in names if any(name in pair for pair in axis.pairs)]
    levels = _rise(bound, axis.pairs)
    levels = _sink(levels, axis.pairs)
    beside: dict[str, list[str]] = {name: [] for name in names}
    for contact in contacts:
        beside[contact.first].append(contact.second)
        beside[contact.second].append(contact.first)
    for _ in names:
        for name in names:
            near = [levels[other] for other in beside[name] if other in levels]
            if name not in levels and near:
                levels[name] = median_low(near)
    middle = median_low(levels.values())
    return {name: levels.get(name, middle) for name in names}


def _rise(names: Sequence[str], pairs: Sequence[tuple[str, str]]) -> dict[str, float]:
    """Return the least levels at which every second piece stands beyond the first."""
    levels = dict.fromkeys(names, 0.0)
    for _ in names:
        for before, after in pairs:
            levels[after] = max(levels[after], levels[before] + 1)
        if all(levels[after] >= levels[before] + 1 for before, after in pairs):
            break
    return levels


def _sink(levels: Mapping[str, float], pairs: Sequence[tuple[str, str]]) -> dict[str, float]:
    """Raise pieces with nothing before them to just before what follows."""
    sunk = dict(levels)
    seconds = {after for _, after in pairs}
    for name in levels:
        after = [levels[second] for first, second in pairs if first == name]
        if name not in seconds and after:
            sunk[name] = min(after) - 1
    return sunk
