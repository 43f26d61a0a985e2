"""From which side a step is seen best: new pieces in full view, screws from where they go in."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.projection import Floats, Mesh, View, view_from
from generator.geometry.seen_points import find_seen
from generator.geometry.vectors import (
    BACK,
    DOWN,
    FRONT,
    LEFT,
    RIGHT,
    UP,
    Vec3,
    add,
    cross,
    dot,
    scale,
)
from generator.outputs.views import RAISE_DEG, TURN_DEG


@dataclass(frozen=True, slots=True)
class Viewpoint:
    """A view, where its eye stands in words, and how the piece lies on the bench.

    Attributes:
        is_usual: Whether the finished piece is shown from there.
        is_turned: Whether the piece does not stand as it will in the end.
        through: Names of pieces the eye goes through, because they hide where screws go in.
    """

    view: View
    words: str
    is_usual: bool
    is_turned: bool
    through: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Pose:
    """How a piece lies on the bench: what is up there, what looks to the reader, in words."""

    up: Vec3
    ahead: Vec3
    words: str


STANDING: Final = _Pose(UP, FRONT, "")
HEAD_DOWN: Final = _Pose(DOWN, FRONT, "upside down")
LYING: Final = (
    _Pose(BACK, UP, "lying on its front"),
    _Pose(FRONT, DOWN, "lying on its back"),
    _Pose(RIGHT, FRONT, "lying on its left side"),
    _Pose(LEFT, FRONT, "lying on its right side"),
)
TURNS: Final = (TURN_DEG, -TURN_DEG, 180 - TURN_DEG, TURN_DEG - 180)

SCREWS_COUNT: Final = 2.0
"""Seeing where every screw goes in counts twice as much as seeing the new pieces in full."""

HABIT: Final = (0.3, 0.22, 0.1, 0.1)
"""How much worse another view must be for an upright one to be left, in the order of `TURNS`."""

LIES_BETTER: Final = 0.8
"""How much it counts that a flat frame lies on the bench and all screws go down into it."""

FLAT: Final = 0.35
"""What is less high than this share of its length and width is turned on the bench at ease."""

DOWNWARD: Final = 0.7
"""Cosine: on the average screws lean no more from the plumb line where one says: downward."""

LEAST_SEEN: Final = 0.1
"""Where a smaller share of the screws can be seen, the eye goes through what hides them."""

HOLE_WALL: Final = -3
"""`Face.edge` of the wall of a hole: nobody turns a piece to see one."""

LIFT_MM: Final = 0.5
"""How far over a face a point is looked for, so that the face itself is not in the way."""


def choose_view(mesh: Mesh, new: Sequence[str], entries: Sequence[tuple[Vec3, Vec3]]) -> Viewpoint:
    """Return the best view: of the piece as it stands, upside down, or lying if it is flat.

    Args:
        mesh: Everything in the picture.
        new: Names of the pieces to be seen.
        entries: For every screw where it goes in, just over the wood, and its direction.
    """
    candidates = _candidates(mesh, entries)
    sample = _sample(mesh, new)
    solid = [_see(mesh, one[0], sample, entries, frozenset()) for one in candidates]
    best = _find_best(candidates, solid)
    through: tuple[str, ...] = ()
    if entries and solid[best][1] < LEAST_SEEN:
        hiding = [_find_hiding(mesh, one[0], new, entries) for one in candidates]
        seen = [
            _see(mesh, one[0], sample, entries, frozenset(names))
            for one, names in zip(candidates, hiding, strict=True)
        ]
        best = _find_best(candidates, seen)
        through = hiding[best]
    view, words, is_turned, _ = candidates[best]
    words += ", through what hides the screws" if through else ""
    return Viewpoint(view, words, best == 0 and not through, is_turned, through)


def _find_best(
    candidates: Sequence[tuple[View, str, bool, float]], seen: Sequence[tuple[float, float]]
) -> int:
    """Return the number of the best view, by area and share of screws in sight, and by habit."""
    most = max(area for area, _ in seen)
    scores = [
        (area / most if most else 0.0) + SCREWS_COUNT * share + habit
        for (area, share), (_, _, _, habit) in zip(seen, candidates, strict=True)
    ]
    return max(range(len(candidates)), key=lambda i: (round(scores[i], 3), -i))


def _see(
    mesh: Mesh,
    view: View,
    sample: tuple[Floats, Floats, Floats],
    entries: Sequence[tuple[Vec3, Vec3]],
    through: frozenset[str],
) -> tuple[float, float]:
    """Return how much of the new pieces is seen, and which share of the screws."""
    points, normals, weights = sample
    owners = [i for i, name in enumerate(mesh.names) if name not in through]
    facing = (normals @ np.array(view.eye)) * weights
    ahead = facing > 0
    lifted = _lifted(entries)
    looked_for = np.concatenate([lifted, points[ahead]])
    seen = find_seen(mesh, view, looked_for, owners if through else None)
    area = float(facing[ahead][seen[len(lifted) :]].sum())
    return area, _seen_entries(view, entries, seen[: len(lifted)].tolist())


def _find_hiding(
    mesh: Mesh, view: View, new: Sequence[str], entries: Sequence[tuple[Vec3, Vec3]]
) -> tuple[str, ...]:
    """Return the pieces that were there before and hide where screws go in."""
    lifted = _lifted(entries)
    return tuple(
        name
        for owner, name in enumerate(mesh.names)
        if name not in new and not find_seen(mesh, view, lifted, [owner]).all()
    )


def _candidates(
    mesh: Mesh, entries: Sequence[tuple[Vec3, Vec3]]
) -> list[tuple[View, str, bool, float]]:
    """Return views with their words, whether the piece is turned, and what speaks for them."""
    found: list[tuple[View, str, bool, float]] = []
    for turn, habit in zip(TURNS, HABIT, strict=True):
        found.append((*_view_of(STANDING, turn), False, habit))
    found += [(*_view_of(HEAD_DOWN, turn), True, 0.0) for turn in TURNS]
    for pose in LYING:
        if _lies_well(mesh, pose, entries):
            found += [(*_view_of(pose, turn), True, LIES_BETTER) for turn in TURNS]
    return found


def _view_of(pose: _Pose, turn_deg: float) -> tuple[View, str]:
    turn, rise = math.radians(turn_deg), math.radians(RAISE_DEG)
    beside = cross(pose.up, pose.ahead)
    eye = add(
        scale(pose.up, math.sin(rise)),
        add(
            scale(pose.ahead, math.cos(turn) * math.cos(rise)),
            scale(beside, math.sin(turn) * math.cos(rise)),
        ),
    )
    view = view_from(eye, pose.up)
    if pose.words in {"", "upside down"}:
        side = f"{'front' if eye[1] < 0 else 'back'} {'right' if eye[0] > 0 else 'left'}"
        if pose.words:
            return view, f"{pose.words}, seen from the {side}"
        return view, f"seen from the {side} and above"
    return view, pose.words


def _lies_well(mesh: Mesh, pose: _Pose, entries: Sequence[tuple[Vec3, Vec3]]) -> bool:
    """Whether what is in the picture is flat in a pose and its screws go down into it."""
    if not entries:
        return False
    down = sum(-dot(way, pose.up) for _, way in entries) / len(entries)
    sizes = mesh.points.max(axis=0) - mesh.points.min(axis=0)
    axis = max(range(3), key=lambda i: abs(pose.up[i]))
    others = [float(sizes[i]) for i in range(3) if i != axis]
    return down > DOWNWARD and float(sizes[axis]) < FLAT * min(others)


def _sample(mesh: Mesh, new: Sequence[str]) -> tuple[Floats, Floats, Floats]:
    """Return points over the faces of new pieces, normals, and the area each stands for."""
    wanted = np.array([name in new for name in mesh.names], dtype=np.bool_)
    corners, faces = mesh.outer_corners()
    chosen = wanted[mesh.owners[faces]] & (mesh.sides[faces] != HOLE_WALL)
    corners, faces = corners[chosen], faces[chosen]
    if not len(corners):
        return np.zeros((0, 3)), np.zeros((0, 3)), np.zeros(0)
    ring = mesh.points[corners]
    first = np.flatnonzero(np.diff(faces, prepend=-1))
    counts = np.diff(first, append=len(faces))
    middle = np.repeat(np.add.reduceat(ring, first) / counts[:, None], counts, axis=0)
    spokes = np.cross(ring - middle, mesh.points[mesh.follows[corners]] - middle)
    areas = np.linalg.norm(np.add.reduceat(spokes, first), axis=1) / 2
    normals = mesh.normals[faces]
    points = [middle + (ring - middle) * part + normals * LIFT_MM for part in (0.35, 0.8)]
    shares = np.repeat(areas / (2 * counts), counts)
    return np.concatenate(points), np.tile(normals, (2, 1)), np.tile(shares, 2)


def _seen_entries(view: View, entries: Sequence[tuple[Vec3, Vec3]], seen: Sequence[bool]) -> float:
    """Return the share of screws whose way in is in sight, those seen from the side by half."""
    if not entries:
        return 0.0
    facing = [min(1.0, max(0.0, -2 * dot(way, view.eye))) for _, way in entries]
    total = sum(0.5 + 0.5 * f for s, f in zip(seen, facing, strict=True) if s)
    return total / len(entries)


def _lifted(entries: Sequence[tuple[Vec3, Vec3]]) -> Floats:
    """Return where screws go in, just over the wood."""
    lifted = [add(at, scale(direction, -LIFT_MM)) for at, direction in entries]
    return np.array(lifted, dtype=np.float64).reshape(-1, 3)
