"""Rows of holes for shelf pins, as read."""

from dataclasses import dataclass

from generator.formula.tree import Formula
from generator.model.edition import Direction
from generator.problems import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PinSource:
    """A row of blind holes for shelf pins.

    Attributes:
        face: A face of the part by its word, ``inside`` or ``outside``.
        along: The way the row runs from its first hole.
        count: How many holes; None for as many as fit.
        leave: From the last hole to the far edge at least; None for as much as before the first.
        distances: From each of two edges to the middle of the first hole.
    """

    hole: Formula
    deep: Formula
    pitch: Formula
    face: str
    along: Direction
    count: Formula | None
    leave: Formula | None
    distances: tuple[tuple[Direction, Formula], tuple[Direction, Formula]]
    place: Place
    when: Formula | None = None
