"""From which side a step is seen best: new pieces in full view, screws from where they go in."""

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.projection import Floats, Ints, Mesh, View, view_from
from generator.geometry.seen_points import find_hidden
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
    looks = _look_around(mesh, new, entries, [one[0] for one in candidates])
    solid = [look.judge(frozenset()) for look in looks]
    best = _find_best(candidates, solid)
    through: tuple[str, ...] = ()
    if entries and solid[best][1] < LEAST_SEEN:
        kept = frozenset(row for row, name in enumerate(mesh.names) if name in new)
        hiding = [look.find_hiding() - kept for look in looks]
        seen = [look.judge(names) for look, names in zip(looks, hiding, strict=True)]
        best = _find_best(candidates, seen)
        through = tuple(mesh.names[row] for row in sorted(hiding[best]))
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


@dataclass(frozen=True, slots=True)
class _Glance:
    """What is looked for from one side: where screws go in, then points over the new faces.

    Attributes:
        shares: (n,) of the screws what each counts for, seen straight on or from the side.
        areas: (m,) what each point over a face stands for, as seen from there.
        hidden: Which of all of these are hidden.
        by: The solid that hides each.
    """

    shares: Floats
    areas: Floats
    hidden: Ints
    by: Ints

    def judge(self, through: Collection[int]) -> tuple[float, float]:
        """Return how much of the new pieces is seen, and which share of the screws.

        Args:
            through: Numbers of the solids the eye goes through.
        """
        seen = np.ones(len(self.shares) + len(self.areas), dtype=np.bool_)
        hidden = self.hidden[~np.isin(self.by, [*through])] if through else self.hidden
        seen[hidden] = False
        screws, faces = np.split(seen, [len(self.shares)])
        return float(self.areas[faces].sum()), float(self.shares[screws].sum())

    def find_hiding(self) -> frozenset[int]:
        """Return the solids that hide where screws go in."""
        return frozenset(self.by[self.hidden < len(self.shares)].tolist())


def _look_around(
    mesh: Mesh, new: Sequence[str], entries: Sequence[tuple[Vec3, Vec3]], views: Sequence[View]
) -> list[_Glance]:
    """Return what is seen of new pieces and screws from each of some sides."""
    points, normals, weights = _sample(mesh, new)
    lifted = _lifted(entries)
    eyes = np.array([view.eye for view in views]).T
    facing = (normals @ eyes) * weights[:, None]
    ways = np.array([way for _, way in entries]).reshape(-1, 3)
    # A screw seen from the side counts by half.
    straight = 0.5 + 0.5 * np.clip(-2 * (ways @ eyes), 0.0, 1.0)
    shares = straight / max(len(entries), 1)
    ahead = facing > 0
    looked_for = [np.concatenate([lifted, points[one]]) for one in ahead.T]
    return [
        _Glance(shares[:, i], facing[ahead[:, i], i], hidden, by)
        for i, (hidden, by) in enumerate(find_hidden(mesh, views, looked_for))
    ]


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


def _lifted(entries: Sequence[tuple[Vec3, Vec3]]) -> Floats:
    """Return where screws go in, just over the wood."""
    lifted = [add(at, scale(direction, -LIFT_MM)) for at, direction in entries]
    return np.array(lifted, dtype=np.float64).reshape(-1, 3)
