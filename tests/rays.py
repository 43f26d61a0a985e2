"""Looks at solids with rays, one point at a time or many: independent of hidden lines."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from generator.geometry.frames import Frame
from generator.geometry.projection import Floats, Ints, Solid, View, place_solid
from generator.geometry.rods import Body, Rod
from generator.geometry.slabs import Slab
from generator.geometry.tolerance import DEPTH_MM
from generator.geometry.vectors import Vec3

Board = tuple[str, Slab, Frame]


def solids_of(boards: Sequence[Board]) -> list[Solid]:
    """Return boards as solids in the room."""
    return [place_solid(name, slab.faces(), frame) for name, slab, frame in boards]


def triangles_of(boards: Sequence[Board]) -> Floats:
    """Return the skins of boards in the room, (n, 3, 3)."""
    return np.array(
        [
            [frame.to_world(corner) for corner in triangle]
            for _, slab, frame in boards
            for triangle in slab.triangles()
        ]
    )


def nearest(triangles: Floats, point: Floats, view: View) -> float:
    """Return how far towards the eye the line through a point last leaves a solid, in mm.

    Möller and Trumbore, Fast, Minimum Storage Ray/Triangle Intersection, 1997. Minus infinity
    where the line meets nothing.
    """
    eye = np.array(view.eye)
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    p = np.cross(eye, c - a)
    determinant = np.sum((b - a) * p, axis=1)
    flat = np.abs(determinant) < 1e-9
    inverse = 1 / np.where(flat, 1.0, determinant)
    t = point - a
    u = np.sum(t * p, axis=1) * inverse
    q = np.cross(t, b - a)
    v = (q @ eye) * inverse
    far = np.sum((c - a) * q, axis=1) * inverse
    hit = ~flat & (u >= 0) & (v >= 0) & (u + v <= 1)
    return float(far[hit].max(initial=-np.inf))


def is_seen(triangles: Floats, point: Floats, view: View) -> bool | None:
    """Return whether nothing stands in front of a point; None where a hair decides."""
    right, up = np.array(view.right), np.array(view.up)
    around = ((0.0, 0.0), (0.05, 0.02), (-0.02, 0.05), (-0.05, -0.02), (0.02, -0.05))
    steps = [nearest(triangles, point + x * right + y * up, view) for x, y in around]
    if steps[0] < DEPTH_MM and max(steps) < 0.25:
        return True
    return False if min(steps) > 0.25 else None


@dataclass(frozen=True, slots=True)
class Skin:
    """The skins of pieces in the room: triangles (n, 3, 3), and whose they are (n,)."""

    corners: Floats
    owners: Ints

    def normals(self) -> Floats:
        """Return the outward normal of every triangle, length 1."""
        a, b, c = self.corners[:, 0], self.corners[:, 1], self.corners[:, 2]
        normals: Floats = np.cross(b - a, c - a)
        normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-12)[:, None]
        return normals


def make_skin(bodies: Sequence[tuple[Body, Frame, Vec3]], chord_mm: float) -> Skin:
    """Return the skins of bodies, each in a frame and moved."""
    corners: list[Floats] = []
    owners: list[int] = []
    for number, (body, frame, moved) in enumerate(bodies):
        rows = np.array(_thin(body, chord_mm).triangles(chord_mm)).reshape(-1, 3)
        rows = rows + (np.array([0.0, chord_mm, chord_mm]) if isinstance(body, Rod) else 0.0)
        axes = np.array([frame.x, frame.y, frame.z])
        placed = (rows @ axes + np.array(frame.origin) + np.array(moved)).reshape(-1, 3, 3)
        corners.append(placed)
        owners += [number] * len(placed)
    return Skin(np.concatenate(corners), np.array(owners, dtype=np.intp))


def _thin(body: Body, chord_mm: float) -> Body:
    """Return a rod a chord thinner, as pictures show it."""
    return Rod(body.length_mm, body.diameter_mm - 2 * chord_mm) if isinstance(body, Rod) else body


def project(points: Floats, view: View) -> Floats:
    """Return points as across, up and nearness; any shape that ends in 3."""
    seen: Floats = points @ np.array([view.right, view.up, view.eye]).T
    return seen


def cast(skin: Skin, view: View, points: Floats) -> tuple[Floats, Ints]:
    """Return for every (m, 2) point of the paper the nearness of what a ray meets first, and it.

    Minus infinity and -1 where it meets nothing. The ray runs along the line of sight, so it meets
    a triangle where the point lies in its shadow: all three areas have one sign.
    """
    flat = project(skin.corners, view)
    low, high = flat[:, :, :2].min(axis=1), flat[:, :, :2].max(axis=1)
    rays: list[Ints] = []
    hits: list[Ints] = []
    for first in range(0, len(points), 1000):
        block = points[first : first + 1000]
        may = np.ones((len(block), len(flat)), dtype=np.bool_)
        for axis in (0, 1):
            may &= block[:, axis, None] >= low[None, :, axis]
            may &= block[:, axis, None] <= high[None, :, axis]
        ray, triangle = np.nonzero(may)
        rays.append(ray + first)
        hits.append(triangle)
    none = [np.zeros(0, dtype=np.intp)]
    ray, triangle = np.concatenate(rays + none), np.concatenate(hits + none)
    a, b, c = (flat[triangle, i] for i in range(3))
    p = points[ray]
    areas = np.stack([_area(p, b, c), _area(p, c, a), _area(p, a, b)], axis=1)
    whole = areas.sum(axis=1)
    inside = (np.abs(whole) > 1e-7) & ((areas * np.sign(whole)[:, None]) >= 0).all(axis=1)
    ray, triangle, weights = ray[inside], triangle[inside], areas[inside] / whole[inside, None]
    near = np.sum(weights * flat[triangle, :, 2], axis=1)
    order = np.lexsort((near, ray))
    depth, met = np.full(len(points), -np.inf), np.full(len(points), -1, dtype=np.intp)
    depth[ray[order]] = near[order]
    met[ray[order]] = triangle[order]
    return depth, met


def is_clear(skin: Skin, view: View, points: Floats) -> Ints:
    """Return 1 for points that nothing stands in front of, -1 for others, 0 where a hair decides.

    Args:
        skin: What may stand in the way.
        view: The rays run towards its eye.
        points: (m, 3) in the room.
    """
    flat = project(points, view)
    around = ((0.0, 0.0), (0.05, 0.02), (-0.02, 0.05), (-0.05, -0.02), (0.02, -0.05))
    steps = np.stack(
        [cast(skin, view, flat[:, :2] + np.array(step))[0] - flat[:, 2] for step in around]
    )
    clear: Ints = np.where(
        (steps[0] < DEPTH_MM) & (steps.max(axis=0) < 0.25),
        1,
        np.where(steps.min(axis=0) > 0.25, -1, 0),
    ).astype(np.intp)
    return clear


def find_creases(skin: Skin, least_deg: float) -> tuple[Floats, Floats]:
    """Return edges between triangles that turn by an angle: ends (k, 2, 3), both normals."""
    normals = skin.normals()
    keys = np.round(skin.corners, 2)
    found: dict[tuple[object, ...], tuple[int, int]] = {}
    ends: list[Floats] = []
    sides: list[Floats] = []
    for row, (owner, corners) in enumerate(zip(skin.owners.tolist(), keys.tolist(), strict=True)):
        for i in range(3):
            start, end = tuple(corners[i]), tuple(corners[(i + 1) % 3])
            other = found.pop((owner, end, start), None)
            if other is None:
                found[owner, start, end] = (row, i)
            elif normals[row] @ normals[other[0]] < math.cos(math.radians(least_deg)):
                ends.append(skin.corners[row][[i, (i + 1) % 3]])
                sides.append(normals[[row, other[0]]])
    return np.array(ends).reshape(-1, 2, 3), np.array(sides).reshape(-1, 2, 3)


def _area(p: Floats, a: Floats, b: Floats) -> Floats:
    """Return twice the area of triangles on paper, more than 0 where they turn left."""
    area: Floats = (a[:, 0] - p[:, 0]) * (b[:, 1] - p[:, 1])
    return area - (a[:, 1] - p[:, 1]) * (b[:, 0] - p[:, 0])
