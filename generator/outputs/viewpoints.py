"""From which side a step is seen best: new pieces in full view, screws from where they go in."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.projection import Floats, Mesh, View
from generator.geometry.seen_points import find_seen
from generator.geometry.vectors import Vec3, add, dot, scale
from generator.outputs.views import RAISE_DEG, TURN_DEG, axonometric


@dataclass(frozen=True, slots=True)
class Viewpoint:
    """A view, where its eye stands in words, and whether the whole piece is shown from there."""

    view: View
    words: str
    is_usual: bool


CANDIDATES: Final = tuple(
    (turn, up, f"from the {side} and {height}")
    for up, height in ((RAISE_DEG, "above"), (-RAISE_DEG, "below"))
    for turn, side in (
        (TURN_DEG, "front right"),
        (-TURN_DEG, "front left"),
        (180 - TURN_DEG, "back right"),
        (TURN_DEG - 180, "back left"),
    )
)
"""Turn and rise in degrees, and the same in words."""

SCREWS_COUNT: Final = 2.0
"""Seeing where every screw goes in counts twice as much as seeing the new pieces in full."""

HABIT: Final = (0.3, 0.22, 0.1, 0.1, 0.0, 0.0, 0.0, 0.0)
"""How much worse another view must be for the usual one to be left, in the order above."""

HOLE_WALL: Final = -3
"""`Face.edge` of the wall of a hole: nobody turns a piece to see one."""

LIFT_MM: Final = 0.5
"""How far over a face a point is looked for, so that the face itself is not in the way."""


def choose_view(mesh: Mesh, new: Sequence[str], entries: Sequence[tuple[Vec3, Vec3]]) -> Viewpoint:
    """Return the best of eight views.

    Args:
        mesh: Everything in the picture.
        new: Names of the pieces to be seen.
        entries: For every screw where it goes in, just over the wood, and its direction.
    """
    views = [axonometric(turn, up) for turn, up, _ in CANDIDATES]
    points, normals, weights = _sample(mesh, new)
    areas = []
    screws = []
    for view in views:
        facing = (normals @ np.array(view.eye)) * weights
        ahead = facing > 0
        seen = find_seen(mesh, view, points[ahead])
        areas.append(float(facing[ahead][seen].sum()))
        screws.append(_seen_entries(mesh, view, entries))
    most = max(areas)
    scores = [
        (area / most if most else 0.0) + SCREWS_COUNT * screw + habit
        for area, screw, habit in zip(areas, screws, HABIT, strict=True)
    ]
    best = max(range(len(views)), key=lambda i: (round(scores[i], 3), -i))
    return Viewpoint(views[best], CANDIDATES[best][2], is_usual=best == 0)


def _sample(mesh: Mesh, new: Sequence[str]) -> tuple[Floats, Floats, Floats]:
    """Return points over the faces of new pieces, normals, and the area each stands for."""
    points: list[Floats] = []
    normals: list[Floats] = []
    weights: list[float] = []
    for face, owner in enumerate(mesh.owners.tolist()):
        if mesh.names[owner] not in new or mesh.sides[face] == HOLE_WALL:
            continue
        first, count = mesh.loops[face][0]
        ring = mesh.points[first : first + count]
        middle = ring.mean(axis=0)
        spokes = np.cross(ring - middle, np.roll(ring, -1, axis=0) - middle)
        share = float(np.linalg.norm(spokes.sum(axis=0)) / 2) / (2 * count)
        normal = mesh.normals[face]
        for corner in ring:
            for part in (0.35, 0.8):
                points.append(middle + (corner - middle) * part + normal * LIFT_MM)
                normals.append(normal)
                weights.append(share)
    return np.array(points).reshape(-1, 3), np.array(normals).reshape(-1, 3), np.array(weights)


def _seen_entries(mesh: Mesh, view: View, entries: Sequence[tuple[Vec3, Vec3]]) -> float:
    """Return the share of screws whose way in is in sight, those seen from the side by half."""
    if not entries:
        return 0.0
    lifted = np.array([add(at, scale(direction, -LIFT_MM)) for at, direction in entries])
    seen = find_seen(mesh, view, lifted)
    facing = [min(1.0, max(0.0, -2 * dot(way, view.eye))) for _, way in entries]
    total = sum(0.5 + 0.5 * f for s, f in zip(seen.tolist(), facing, strict=True) if s)
    return total / len(entries)
