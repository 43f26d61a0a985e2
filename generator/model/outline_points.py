"""A free outline, as read and worked out: points along length and width, lines and arcs."""

from dataclasses import dataclass

from generator.formula.tree import Formula
from generator.geometry.vectors import Vec2
from generator.problems import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlinePointSource:
    """``{to: [along the length, along the width], rise: 1 in}``, or the point alone.

    Attributes:
        rise: How far the arc that leads here swells out; None without.
        radius: Of that arc.
        through: A point that arc goes through.
    """

    to: tuple[Formula, Formula]
    rise: Formula | None
    radius: Formula | None
    through: tuple[Formula, Formula] | None
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlinePoint:
    """A point of a free outline and the line or arc that leads to it from the point before.

    Attributes:
        at: Along the length and along the width from the corner, in mm.
        rise_mm: How far the arc swells out over the line between the points, below 0 inwards.
        radius_mm: Of the arc, below 0 where it swells inwards.
        through: A point of the arc.
    """

    at: Vec2
    rise_mm: float | None
    radius_mm: float | None
    through: Vec2 | None
    place: Place
