"""Filling sheets with outlines for a router: the largest first, each as far left as it goes.

An outline is tried at all crossings of the lines along which it would touch another one's bounds,
and of a few lines between them; then it slides left and down until it touches something.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from generator.cutting.router_shapes import Floats, Shape, Sums, find_sums
from generator.geometry.tolerance import PARALLEL_SINE, ROUNDING, SAME_POINT_MM

BETWEEN = 32
"""Lines tried in either direction beside those of the bounds."""

SLIDES = 4
"""How often an outline slides left and down before it stays; two are enough for most."""

Room = tuple[float, float]
"""How far a sheet offers places for what is spaced: along x and along y."""


@dataclass(frozen=True, slots=True)
class Lying:
    """An outline on a sheet: its kind, the number of the way it lies, and its corner."""

    kind: int
    turn: int
    x: float
    y: float


@dataclass(slots=True)
class Kinds:
    """What is to be laid: for every kind its ways to lie, and where two of them would overlap."""

    ways: Sequence[tuple[Shape, ...]]
    known: dict[tuple[int, int, int, int], Sums] = field(default_factory=dict)

    def shape(self, one: Lying) -> Shape:
        """Return the shape of what lies somewhere."""
        return self.ways[one.kind][one.turn]

    def sums(self, fixed: Lying, kind: int, turn: int) -> Sums:
        """Return where a kind, turned, overlaps what lies: its corner from the other's."""
        key = (fixed.kind, fixed.turn, kind, turn)
        if key not in self.known:
            self.known[key] = find_sums(self.shape(fixed), self.ways[kind][turn])
        return self.known[key]


def fill(
    kinds: Kinds, order: Sequence[int], rooms: Sequence[Room]
) -> tuple[list[list[Lying]], list[int]]:
    """Return what lies on every sheet, and the kinds for which there was no room.

    Args:
        kinds: What may be laid, and how.
        order: The kind of every outline, in the order they are laid.
        rooms: Of every sheet; an outline goes on the first one that holds it.
    """
    sheets: list[list[Lying]] = [[] for _ in rooms]
    left: list[int] = []
    full: set[tuple[int, int]] = set()
    for kind in order:
        for number, room in enumerate(rooms):
            place = (
                None if (number, kind) in full else find_place(kinds, sheets[number], kind, room)
            )
            if place is not None:
                sheets[number].append(place)
                break
            # A sheet only gets fuller: what found no place there will find none.
            full.add((number, kind))
        else:
            left.append(kind)
    return sheets, left


def find_place(kinds: Kinds, sheet: Sequence[Lying], kind: int, room: Room) -> Lying | None:
    """Return where an outline lies farthest left among others, None where there is no room."""
    found: list[tuple[float, float, Lying]] = []
    for turn, shape in enumerate(kinds.ways[kind]):
        spare = (room[0] - shape.along_x, room[1] - shape.along_y)
        if min(spare) < 0:
            continue
        place = _first_free(kinds, sheet, Lying(kind, turn, 0.0, 0.0), spare)
        if place is not None:
            placed = slide(kinds, sheet, place)
            found.append((round(placed.x + shape.along_x, 3), round(placed.y, 3), placed))
    return min(found, key=lambda each: each[:2])[2] if found else None


def slide(kinds: Kinds, others: Sequence[Lying], one: Lying) -> Lying:
    """Return an outline moved left and down, in turns, until others or the corner stop it."""
    around = [(other, kinds.sums(other, one.kind, one.turn)) for other in others]
    for _ in range(SLIDES):
        x = one.x - _way(around, one.x, one.y, 0)
        y = one.y - _way(around, x, one.y, 1)
        if one.x - x < SAME_POINT_MM and one.y - y < SAME_POINT_MM:
            return one
        one = Lying(one.kind, one.turn, x, y)
    return one


def settle(kinds: Kinds, lying: Sequence[Lying]) -> list[Lying]:
    """Return outlines slid left and down, one after another from the left, as far as they go."""
    waiting = sorted(lying, key=lambda one: (one.x, one.y, one.kind))
    settled: list[Lying] = []
    for index, one in enumerate(waiting):
        settled.append(slide(kinds, [*settled, *waiting[index + 1 :]], one))
    return settled


def _way(around: Sequence[tuple[Lying, Sums]], x: float, y: float, axis: int) -> float:
    """Return how far a corner can go left (0) or down (1) before what it belongs to overlaps."""
    way = (x, y)[axis]
    for other, sums in around:
        at = np.array([x - other.x, y - other.y])
        for one in sums:
            low, high = one.bounds[axis], one.bounds[2 + axis]
            across = (one.bounds[1 - axis], one.bounds[3 - axis])
            if not (across[0] < at[1 - axis] < across[1] and at[axis] > low):
                continue
            if at[axis] - way >= high:
                continue
            way = min(way, _until(one.normals, one.reaches, at, axis))
    return max(way, 0.0)


def _until(normals: Floats, reaches: Floats, at: Floats, axis: int) -> float:
    """Return how far a point goes left or down until it is inside half planes; far if never."""
    spare = reaches - normals @ at
    slope = -normals[:, axis]
    # Inside while slope * way < spare, for every side.
    level = np.abs(slope) < PARALLEL_SINE
    if np.any(spare[level] <= ROUNDING):
        return float("inf")
    enters = max(spare[slope < -PARALLEL_SINE] / slope[slope < -PARALLEL_SINE], default=0.0)
    leaves = min(spare[slope > PARALLEL_SINE] / slope[slope > PARALLEL_SINE], default=float("inf"))
    if leaves <= enters + ROUNDING or leaves <= ROUNDING:
        return float("inf")
    return max(0.0, float(enters))


def _first_free(kinds: Kinds, sheet: Sequence[Lying], one: Lying, spare: Room) -> Lying | None:
    """Return the outline at the free place with the least x, then the least y."""
    around = [(other, kinds.sums(other, one.kind, one.turn)) for other in sheet]
    xs = _lines(around, spare[0], 0)
    ys = _lines(around, spare[1], 1)
    taken = np.zeros((len(xs), len(ys)), dtype=bool)
    for other, sums in around:
        for each in sums:
            low_x, low_y, high_x, high_y = each.bounds
            x0 = np.searchsorted(xs, other.x + low_x + ROUNDING)
            x1 = np.searchsorted(xs, other.x + high_x - ROUNDING)
            y0 = np.searchsorted(ys, other.y + low_y + ROUNDING)
            y1 = np.searchsorted(ys, other.y + high_y - ROUNDING)
            if x0 >= x1 or y0 >= y1:
                continue
            if len(each.normals) == 4:
                taken[x0:x1, y0:y1] = True
            else:
                deep = each.depths(xs[x0:x1] - other.x, ys[y0:y1] - other.y)
                taken[x0:x1, y0:y1] |= deep > ROUNDING
    free = np.flatnonzero(~taken.ravel())
    if not len(free):
        return None
    x, y = divmod(int(free[0]), len(ys))
    return Lying(one.kind, one.turn, float(xs[x]), float(ys[y]))


def _lines(around: Sequence[tuple[Lying, Sums]], spare: float, axis: int) -> Floats:
    """Return where to try along x (0) or y (1): at bounds of what lies there, and between."""
    found = [0.0, spare, *np.linspace(0.0, spare, BETWEEN).tolist()]
    for other, sums in around:
        start = (other.x, other.y)[axis]
        for one in sums:
            found += [start + one.bounds[axis], start + one.bounds[2 + axis]]
    lines: Floats = np.unique(np.round(found, 6))
    within = lines[(lines >= 0.0) & (lines <= spare + ROUNDING)]
    return np.minimum(within, spare)
