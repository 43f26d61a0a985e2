"""What a template is laid against: straight edges of the part, or lines to draw on it first."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from shapely import box, unary_union

from generator.outputs.full_size.shapes import Shape, Side
from generator.outputs.full_size.tiles import Tile
from generator.units import System, format_length

SIDES: Final[tuple[tuple[Side, Side], tuple[Side, Side]]] = (("left", "right"), ("bottom", "top"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """A line across a template, which the builder draws on the part as well.

    Attributes:
        axis: 0 for an upright line, at a distance along the length; 1 for a level one.
        at_mm: Where it is, as the part is seen.
        words: Such as ``215 mm from the left end``.
    """

    axis: Literal[0, 1]
    at_mm: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """How the sheets of one region are laid on the part.

    Attributes:
        edges: Names of the straight edges that are on them.
        references: One for each way in which no edge is.
    """

    edges: tuple[str, ...]
    references: tuple[Reference, ...]

    @property
    def words(self) -> str:
        """A sentence or two."""
        told = [f"Lay it against the {' and the '.join(self.edges)}."] if self.edges else []
        told += [f"Draw a line {one.words} and lay it on that." for one in self.references]
        return " ".join(told)


def find_alignment(shape: Shape, tiles: Sequence[Tile], region: int, system: System) -> Alignment:
    """Return what the sheets of a region are laid against."""
    mine = [tile for tile in tiles if tile.region == region]
    names = dict(shape.sides)
    size = (shape.part.length_mm, shape.part.width_mm)
    edges: list[str] = []
    references: list[Reference] = []
    for axis in (0, 1):
        low, high = SIDES[axis]
        seen = [low] if any(tile.window[axis] < 0.0 for tile in mine) else []
        seen += [high] if any(tile.window[axis + 2] > size[axis] for tile in mine) else []
        found = [names[side] for side in seen if side in names]
        edges += found
        if not found:
            references += _reference(shape, mine, axis, names, system)
    return Alignment(edges=tuple(edges), references=tuple(references))


def _reference(
    shape: Shape, tiles: Sequence[Tile], axis: int, names: dict[Side, str], system: System
) -> list[Reference]:
    """Return a line through the middle of what is shown, measured from an edge with a name."""
    windows = unary_union([box(*tile.window) for tile in tiles])
    bounds = unary_union([one for one in shape.shown if one.intersects(windows)]).bounds
    middle = (bounds[axis] + bounds[axis + 2]) / 2
    low, high = SIDES[axis]
    size = (shape.part.length_mm, shape.part.width_mm)[axis]
    for side, distance in ((low, middle), (high, size - middle)):
        if side in names:
            words = f"{format_length(distance, system)} from the {names[side]}"
            return [Reference(axis=0 if axis == 0 else 1, at_mm=middle, words=words)]
    return []
