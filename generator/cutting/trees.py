"""Cut trees: how a sheet falls apart by cuts from edge to edge.

Sizes are whole ticks, so that sums are exact. Every box carries one kerf on its right and one on
its upper side: a piece of 300 mm is 303.2 mm long for a kerf of 3.2 mm, and so is the trimmed
sheet. That makes the kerf exact without any special case.

    +-----------------+-------+
    | first strip     | waste |      Split(axis="y") cuts along the sheet's length,
    +------+----+-----+-------+      Split(axis="x") across it; children lie side by side
    |   A  | A  |  B  | waste |      in the direction of the axis and fill the box.
    +------+----+-----+-------+
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.geometry.tolerance import SAME_POINT_MM

Axis = Literal["x", "y"]

TICKS_PER_MM = 100_000
"""1/32 in is 79 375 of them: every size on a tape measure is a whole number of ticks."""

NO_CUT = round(SAME_POINT_MM * TICKS_PER_MM)
"""A piece that is too large by no more than this is left as it is."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in ticks, the kerf after it included."""

    x: int
    y: int
    along_x: int
    along_y: int

    def extent(self, axis: Axis) -> int:
        """Return its size in the direction of an axis."""
        return self.along_x if axis == "x" else self.along_y

    def slice(self, axis: Axis, start: int, extent: int) -> "Box":
        """Return the part of the box from ``start`` (counted from its own corner)."""
        if axis == "x":
            return Box(self.x + start, self.y, extent, self.along_y)
        return Box(self.x, self.y + start, self.along_x, extent)

    def transposed(self) -> "Box":
        """Return the box with x and y changed over."""
        return Box(self.y, self.x, self.along_y, self.along_x)


@dataclass(frozen=True, slots=True)
class Leaf:
    """A box that is not cut further: a blank, by its number, or waste (None)."""

    box: Box
    blank: int | None
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Split:
    """A box cut into two or more children, side by side in the direction of the axis."""

    box: Box
    axis: Axis
    children: tuple["Node", ...]


Node = Leaf | Split


@dataclass(frozen=True, slots=True)
class Pose:
    """One way a blank may lie: its size in ticks, kerf included."""

    blank: int
    along_x: int
    along_y: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Size:
    """A sheet size, trimmed, in ticks, kerf included; ``index`` counts the sizes of its stock.

    Attributes:
        cost: Of one; 1 for each sheet where no prices are known, 0 for an offcut that is there.
        most: How many can be had; None for as many as are wanted.
    """

    index: int
    along_x: int
    along_y: int
    cost: int = 1
    most: int | None = None

    @property
    def area(self) -> int:
        """Its area, for comparing."""
        return self.along_x * self.along_y

    @property
    def box(self) -> Box:
        """The whole of it."""
        return Box(0, 0, self.along_x, self.along_y)

    def holds(self, pose: Pose) -> bool:
        """Whether a blank that lies so is no larger than it."""
        return pose.along_x <= self.along_x and pose.along_y <= self.along_y


def ticks(value_mm: float) -> int:
    """Return a length in ticks."""
    return round(value_mm * TICKS_PER_MM)


def millimetres(value: int) -> float:
    """Return ticks as a length."""
    return value / TICKS_PER_MM


def leaves(node: Node) -> Iterator[Leaf]:
    """Yield every leaf, in the order of the cuts."""
    waiting = [node]
    while waiting:
        part = waiting.pop()
        if isinstance(part, Leaf):
            yield part
        else:
            waiting.extend(reversed(part.children))


def transpose(node: Node) -> Node:
    """Return the tree with x and y changed over."""
    if isinstance(node, Leaf):
        return Leaf(node.box.transposed(), node.blank, node.turned)
    axis: Axis = "y" if node.axis == "x" else "x"
    return Split(node.box.transposed(), axis, tuple(transpose(child) for child in node.children))


def keep_blanks(node: Node, left: list[int]) -> Node:
    """Return the tree with only as many copies of every blank as are left; the others are waste.

    Args:
        node: The tree.
        left: Copies of every blank that are still to be placed; those in the tree are taken off.
    """
    if isinstance(node, Split):
        parts = tuple(keep_blanks(part, left) for part in node.children)
        if all(is_waste(part) for part in parts):
            return Leaf(node.box, None)
        return Split(node.box, node.axis, parts)
    if node.blank is None:
        return node
    if not left[node.blank]:
        return Leaf(node.box, None)
    left[node.blank] -= 1
    return node


def is_waste(node: Node) -> bool:
    """Whether nothing is made of a node."""
    return isinstance(node, Leaf) and node.blank is None
