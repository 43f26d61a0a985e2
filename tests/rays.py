"""Looks at solids with rays, one point at a time: slow, simple and independent of hidden lines."""

from collections.abc import Sequence

import numpy as np

from generator.geometry.frames import Frame
from generator.geometry.projection import Floats, Solid, View, place_solid
from generator.geometry.slabs import Slab
from generator.geometry.tolerance import DEPTH_MM

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
