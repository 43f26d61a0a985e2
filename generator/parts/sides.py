"""The sides of one piece, in order around its face, and the outlines they make.

A piece starts as four sides in the order y-, x+, y+, x-, so that walking along them turns left:

            y+                 side i is cut by a plane whose normal points outward; at height z
         <-------              the plane leaves a line in the face. Neighbouring lines meet in the
      |          ^             corners of the outline at that height. A clipped corner is a fifth
   x- |          | x+          plane between two sides; a rounded one is an arc between two square
      v          |             sides.
         ------->
            y-
"""

from dataclasses import dataclass, replace

from generator.geometry.frames import Plane
from generator.geometry.outlines import Outline
from generator.geometry.tolerance import PARALLEL_SINE, SAME_POINT_MM
from generator.geometry.vectors import Vec2, Vec3
from generator.model.edition import Direction
from generator.model.parts import EdgeKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side on the way around a piece.

    Attributes:
        name: Word for it: ``left``, or ``top front`` for a corner.
        kind: End, edge or corner.
        plane: In the piece's frame, outward. For a rounded corner: the chord's plane.
        meets: What it is cut against.
        radius_mm: Of a rounded corner, else 0.
        bulge: Of a rounded corner, else 0; below 0 of an arch.
        start: Where the side begins on both faces, where the planes do not say it: at a recess.
        recess: Number of the recess it is a wall of, -1 for none.
    """

    name: str
    kind: EdgeKind
    plane: Plane
    meets: str = ""
    radius_mm: float = 0.0
    bulge: float = 0.0
    start: Vec2 | None = None
    recess: int = -1

    @property
    def is_square(self) -> bool:
        """Whether the plane stands square on the face."""
        return abs(self.plane.normal[2]) < PARALLEL_SINE


def outline_at(sides: tuple[Side, ...], z_mm: float) -> Outline | None:
    """Return the outline the sides leave at a height, or None where they leave no wood.

    Point i is where side i begins, so that edge i of the outline is side i.
    """
    count = len(sides)
    points = []
    for i in range(count):
        point = sides[i].start or corner_at(sides[i - 1].plane, sides[i].plane, z_mm)
        if point is None:
            return None
        points.append(point)
    for i in range(count):
        start, end = points[i], points[(i + 1) % count]
        normal = sides[i].plane.normal
        forward = (end[0] - start[0]) * -normal[1] + (end[1] - start[1]) * normal[0]
        if forward < SAME_POINT_MM:
            return None
    return Outline(tuple(points), tuple(side.bulge for side in sides))


def find_corner(sides: tuple[Side, ...], edges: tuple[Direction, Direction]) -> int | None:
    """Return i where side i - 1 and side i are two edges, in either order."""
    for i, side in enumerate(sides):
        pair = {sides[i - 1].name, side.name}
        if pair == set(edges) and {sides[i - 1].kind, side.kind} == {"end", "edge"}:
            return i
    return None


def corner_at(first: Plane, second: Plane, z_mm: float) -> Vec2 | None:
    """Return where two planes cut the face at a height, or None where they are parallel there."""
    a, b = first.normal, second.normal
    turn = a[0] * b[1] - a[1] * b[0]
    if abs(turn) < PARALLEL_SINE:
        return None
    c, d = first.offset - a[2] * z_mm, second.offset - b[2] * z_mm
    return ((c * b[1] - d * a[1]) / turn, (a[0] * d - b[0] * c) / turn)


def mirror_sides(sides: tuple[Side, ...]) -> tuple[Side, ...]:
    """Return the sides of the piece mirrored under x → -x, again turning left."""
    ends = (*sides[1:], sides[0])
    return tuple(
        replace(
            side,
            plane=_mirror_plane(side.plane),
            start=None if end.start is None else (-end.start[0], end.start[1]),
        )
        for side, end in zip(reversed(sides), reversed(ends), strict=True)
    )


def move_sides(sides: tuple[Side, ...], dx: float, dy: float) -> tuple[Side, ...]:
    """Return the sides moved along the face."""
    return tuple(
        replace(
            side,
            plane=Plane(
                side.plane.normal,
                side.plane.offset + side.plane.normal[0] * dx + side.plane.normal[1] * dy,
            ),
            start=None if side.start is None else (side.start[0] + dx, side.start[1] + dy),
        )
        for side in sides
    )


def _mirror_plane(plane: Plane) -> Plane:
    normal: Vec3 = (-plane.normal[0], plane.normal[1], plane.normal[2])
    return Plane(normal, plane.offset)
