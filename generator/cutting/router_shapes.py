"""Outlines for a router in convex pieces, and how deep one reaches into another.

Two outlines overlap where a convex piece of one overlaps a convex piece of the other. The places
of one convex piece against another in which they overlap are the inside of a convex polygon, the
sum of one and the image of the other (H. Minkowski); its sides have the directions of their sides.
So nothing is ever joined into one polygon, and outlines that fit like a key in its lock still fit.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from generator.geometry.tolerance import SAME_ANGLE

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline as it lies, its least x and y at 0, in convex pieces.

    Attributes:
        pieces: Corners of every convex piece, counter-clockwise, one row each.
        along_x: Greatest x.
        along_y: Greatest y.
        shift: Where the origin of the outline lies, turned, seen from the least x and y.
    """

    pieces: tuple[Floats, ...]
    along_x: float
    along_y: float
    shift: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Sum:
    """Where a convex piece, moved, overlaps another: the inside of half planes.

    Attributes:
        normals: Outward unit directions, one row each.
        reaches: How far the polygon reaches in these directions.
        bounds: Least x, least y, greatest x, greatest y.
    """

    normals: Floats
    reaches: Floats
    bounds: tuple[float, float, float, float]

    def depths(self, xs: Floats, ys: Floats) -> Floats:
        """Return how far every (x, y) of a grid lies inside; negative outside."""
        rows = self.reaches[:, None] - self.normals[:, :1] * xs[None, :]
        columns = self.normals[:, 1:] * ys[None, :]
        deep: Floats = rows[0][:, None] - columns[0][None, :]
        for row, column in zip(rows[1:], columns[1:], strict=True):
            np.minimum(deep, row[:, None] - column[None, :], out=deep)
        return deep


Sums = tuple[Sum, ...]


def make_shape(polygon: Polygon, quarters: int) -> Shape:
    """Return a polygon, with what is open in it, turned left by quarter turns.

    Args:
        polygon: Valid, of one piece.
        quarters: 0 to 3.
    """
    low_x, low_y, high_x, high_y = _turned(np.array(polygon.exterior.coords), quarters)[1]
    low = np.array([low_x, low_y])
    pieces = tuple(_turned(piece, quarters)[0] - low for piece in _convex_pieces(polygon))
    return Shape(pieces, high_x - low_x, high_y - low_y, (-low_x, -low_y))


def find_sums(fixed: Shape, moved: Shape) -> Sums:
    """Return where the second shape overlaps the first: places of its corner from the first's."""
    return tuple(_sum(one, -other) for one in fixed.pieces for other in moved.pieces)


def find_bounds(sums: Sums) -> tuple[float, float, float, float]:
    """Return the bounds of all places in which two shapes overlap."""
    each = np.array([one.bounds for one in sums])
    low, high = each[:, :2].min(axis=0), each[:, 2:].max(axis=0)
    return (float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def _turned(points: Floats, quarters: int) -> tuple[Floats, tuple[float, float, float, float]]:
    turn = np.array([[0.0, 1.0], [-1.0, 0.0]])
    for _ in range(quarters):
        points = points @ turn
    low, high = points.min(axis=0), points.max(axis=0)
    return points, (float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def _convex_pieces(polygon: Polygon) -> list[Floats]:
    """Return triangles between the corners, joined while they stay convex, the largest first."""
    if not polygon.interiors and _is_convex(_corners(polygon)):
        return [_corners(polygon)]
    left = [
        _corners(triangle)
        for triangle in shapely.constrained_delaunay_triangles(polygon).geoms
        if isinstance(triangle, Polygon) and triangle.area > 0
    ]
    left.sort(key=lambda corners: (-Polygon(corners).area, corners.tolist()))
    pieces: list[Floats] = []
    while left:
        piece, left = _grown(left[0], left[1:])
        pieces.append(piece)
    return pieces


def _grown(piece: Floats, others: list[Floats]) -> tuple[Floats, list[Floats]]:
    """Return a convex piece with all neighbours that leave it convex, and those that do not."""
    grew = True
    while grew:
        grew = False
        for index, other in enumerate(others):
            joined = _joined(piece, other)
            if joined is not None:
                piece, others, grew = joined, others[:index] + others[index + 1 :], True
                break
    return piece, others


def _joined(one: Floats, other: Floats) -> Floats | None:
    """Return two pieces that share a side as one, if that is convex."""
    places = {tuple(point): index for index, point in enumerate(one.tolist())}
    shared = [places.get(tuple(point)) for point in other.tolist()]
    count, size = len(other), len(one)
    for index, place in enumerate(shared):
        after = shared[(index + 1) % count]
        if place is not None and after is not None and (after + 1) % size == place:
            rest = [other[(index + 2 + step) % count] for step in range(count - 2)]
            start = np.roll(one, -place, axis=0)
            joined = np.array([*start, *rest])
            return joined if _is_convex(joined) else None
    return None


def _corners(polygon: Polygon) -> Floats:
    return np.array(orient(polygon).exterior.coords[:-1])


def _is_convex(corners: Floats) -> bool:
    sides = np.roll(corners, -1, axis=0) - corners
    after = np.roll(sides, -1, axis=0)
    cross = sides[:, 0] * after[:, 1] - sides[:, 1] * after[:, 0]
    lengths = np.hypot(sides[:, 0], sides[:, 1]) * np.hypot(after[:, 0], after[:, 1])
    return bool(np.all(cross >= -SAME_ANGLE * lengths))


def _sum(fixed: Floats, moved: Floats) -> Sum:
    axes = np.array([[-1.0, 0.0], [0.0, -1.0], [1.0, 0.0], [0.0, 1.0]])
    normals = np.unique(
        np.round(np.concatenate([axes, _normals(fixed), _normals(moved)]), 12), axis=0
    )
    reaches = (fixed @ normals.T).max(axis=0) + (moved @ normals.T).max(axis=0)
    low, high = fixed.min(axis=0) + moved.min(axis=0), fixed.max(axis=0) + moved.max(axis=0)
    return Sum(normals, reaches, (float(low[0]), float(low[1]), float(high[0]), float(high[1])))


def _normals(corners: Floats) -> Floats:
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(sides[:, 0], sides[:, 1])
    kept = lengths > 0
    return np.stack([sides[kept, 1], -sides[kept, 0]], axis=1) / lengths[kept, None]
