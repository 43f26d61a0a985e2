"""Which edges of solids are seen from one side, exactly, and which lie behind something.

Every edge is cut by every face that looks towards the eye:

             face                     The edge's line crosses the loops of the face an even
           ________                   number of times; between the 1st and 2nd crossing, the
     e    |        |                  3rd and 4th ... the face covers it. There the edge is
    ------+--------+------ edge       hidden where the face's plane is nearer than the edge.
          |________|                  Solids touch, but do not stand inside each other.

A corner that lies on the edge's line counts as on its left, always: the line is thought moved to
the right by less than anybody can see, so that edges behind edges are covered once, not by chance.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.lines import Segment, subtract_segments, unite_segments
from generator.geometry.projection import Floats, Ints, Mesh, Seen, Truths, View, look_at
from generator.geometry.tolerance import DEPTH_MM, SAME_PLANE_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec3

Interval = tuple[float, float]

HIDDEN: Final = ((0.0, math.inf),)
"""What covers a line all along."""


@dataclass(frozen=True, slots=True)
class Edges:
    """Edges on paper in mm; each line once, the solid named first keeps it.

    Attributes:
        visible: What the eye sees.
        hidden: What is behind something and under no visible line.
    """

    visible: tuple[Segment, ...]
    hidden: tuple[Segment, ...]


def find_edges(mesh: Mesh, view: View) -> Edges:
    """Return the creases and silhouettes of solids, visible and hidden."""
    shown, behind = _cut_edges(mesh, look_at(mesh, view), only_open=False)
    united = unite_segments(shown)
    return Edges(united, subtract_segments(unite_segments(behind), united))


def find_visible(mesh: Mesh, view: View) -> tuple[Segment, ...]:
    """Return the creases and silhouettes of solids that are seen, each line once."""
    shown, _ = _cut_edges(mesh, look_at(mesh, view), only_open=True)
    return unite_segments(shown)


def find_lines(mesh: Mesh, view: View, lines: Sequence[tuple[Vec3, Vec3]]) -> Edges:
    """Return what is seen of lines in the room among solids; the owner is the line's number."""
    seen = look_at(mesh, view)
    ends = np.array([[view.project(a), view.project(b)] for a, b in lines]).reshape(-1, 2, 3)
    long = np.hypot(*(ends[:, 1] - ends[:, 0])[:, :2].T) > SAME_PLANE_MM
    numbers, start, end = np.flatnonzero(long), ends[long, 0], ends[long, 1]
    covers = _find_covers(mesh, seen, start, end, np.full((len(start), 2), -1))
    visible, hidden = _split(start, end, covers, numbers)
    return Edges(tuple(visible), tuple(hidden))


def _cut_edges(mesh: Mesh, seen: Seen, *, only_open: bool) -> tuple[list[Segment], list[Segment]]:
    """Return the visible and the hidden pieces of all edges, or of those open to the eye."""
    drawn, open_to_eye = _choose_edges(mesh, seen)
    if only_open:
        drawn, open_to_eye = drawn[open_to_eye], open_to_eye[open_to_eye]
    rows = mesh.edges[drawn]
    start, end = seen.points[rows[:, 0]], seen.points[rows[:, 1]]
    open_rows = np.flatnonzero(open_to_eye)
    covers = _find_covers(mesh, seen, start[open_rows], end[open_rows], rows[open_rows, 2:])
    known: list[Sequence[Interval]] = [HIDDEN] * len(rows)
    for row, covered in zip(open_rows.tolist(), covers, strict=True):
        known[row] = covered
    return _split(start, end, known, mesh.owners[rows[:, 2]])


def _choose_edges(mesh: Mesh, seen: Seen) -> tuple[Ints, Truths]:
    """Return the edges to draw, and of each whether one of its faces looks towards the eye."""
    one = seen.front[mesh.edges[:, 2]]
    alone = mesh.edges[:, 3] < 0
    other = np.where(alone, False, seen.front[mesh.edges[:, 3]])
    across = seen.points[mesh.edges[:, 1], :2] - seen.points[mesh.edges[:, 0], :2]
    long = np.hypot(across[:, 0], across[:, 1]) > SAME_PLANE_MM
    drawn = np.flatnonzero(long & (~mesh.smooth | (one != other)))
    return drawn, (one | other)[drawn]


def _find_covers(
    mesh: Mesh, seen: Seen, start: Floats, end: Floats, own: Ints
) -> list[list[Interval]]:
    """Return for every line the stretches that something nearer covers, in order, in mm.

    Args:
        mesh: The solids.
        seen: The solids as seen.
        start: (n, 3) one end of every line, as seen.
        end: (n, 3) the other end.
        own: (n, 2) two faces that cannot cover the line, or -1.
    """
    covers: list[list[Interval]] = [[] for _ in start]
    which, faces = _find_pairs(seen, start, end, own)
    pair, t = _find_crossings(mesh, seen, which, faces, start, end)
    length = np.hypot(*(end - start)[:, :2].T)[which]
    first, last = pair[0::2], t[0::2]
    low, high = np.maximum(last, 0.0), np.minimum(t[1::2], length[first])
    keep = high - low > SAME_POINT_MM / 10
    first, low, high = first[keep], low[keep], high[keep]
    nearer_low = _nearness(seen, which, faces, start, end, first, low)
    nearer_high = _nearness(seen, which, faces, start, end, first, high)
    span, rise = high - low, nearer_high - nearer_low
    with np.errstate(divide="ignore", invalid="ignore"):
        zero = low - nearer_low * span / rise
    low, high = np.where(nearer_low < 0, zero, low), np.where(nearer_high < 0, zero, high)
    behind = np.maximum(nearer_low, nearer_high) > DEPTH_MM
    rows = np.lexsort((low[behind], which[first[behind]]))
    lines, lows, highs = (values[behind][rows].tolist() for values in (which[first], low, high))
    for line, a, b in zip(lines, lows, highs, strict=True):
        _add_interval(covers[line], a, b)
    return covers


def _find_pairs(seen: Seen, start: Floats, end: Floats, own: Ints) -> tuple[Ints, Ints]:
    """Return pairs of a line and a face that may cover some of it."""
    front = np.flatnonzero(seen.front)
    low, high = np.minimum(start, end), np.maximum(start, end)
    may = np.ones((len(start), len(front)), dtype=np.bool_)
    for axis in (0, 1):
        may &= low[:, None, axis] < seen.high[None, front, axis]
        may &= high[:, None, axis] > seen.low[None, front, axis]
    may &= low[:, None, 2] + DEPTH_MM < seen.high[None, front, 2]
    for column in (0, 1):
        may &= own[:, column, None] != front[None, :]
    rows, columns = np.nonzero(may)
    return rows, front[columns]


def _find_crossings(
    mesh: Mesh, seen: Seen, which: Ints, faces: Ints, start: Floats, end: Floats
) -> tuple[Ints, Floats]:
    """Return where the lines of edges cross the sides of faces: pair and mm from the start.

    Sorted by pair and place; every pair has an even number of crossings.
    """
    counts = mesh.counts[faces]
    pair = np.repeat(np.arange(len(faces)), counts)
    ahead = np.cumsum(counts) - counts
    corner = mesh.starts[faces][pair] + np.arange(len(pair)) - ahead[pair]
    edge = which[pair]
    origin = start[edge, :2]
    along = end[edge, :2] - origin
    along /= np.hypot(along[:, 0], along[:, 1])[:, None]
    a = seen.points[corner, :2] - origin
    b = seen.points[mesh.follows[corner], :2] - origin
    left_a = along[:, 0] * a[:, 1] - along[:, 1] * a[:, 0] + SAME_POINT_MM / 10
    left_b = along[:, 0] * b[:, 1] - along[:, 1] * b[:, 0] + SAME_POINT_MM / 10
    crossing = np.flatnonzero((left_a >= 0) != (left_b >= 0))
    far_a, far_b = np.sum(along * a, axis=1)[crossing], np.sum(along * b, axis=1)[crossing]
    part = left_a[crossing] / (left_a[crossing] - left_b[crossing])
    t = far_a + (far_b - far_a) * part
    order = np.lexsort((t, pair[crossing]))
    return pair[crossing][order], t[order]


def _nearness(
    seen: Seen, which: Ints, faces: Ints, start: Floats, end: Floats, pair: Ints, t: Floats
) -> Floats:
    """Return how much nearer than the edge the plane of the face is, ``t`` mm from the start."""
    edge = which[pair]
    step = end[edge] - start[edge]
    at = start[edge] + step * (t / np.hypot(step[:, 0], step[:, 1]))[:, None]
    slopes = seen.slopes[faces[pair]]
    return slopes[:, 0] * at[:, 0] + slopes[:, 1] * at[:, 1] + slopes[:, 2] - at[:, 2]


def _add_interval(covered: list[Interval], low: float, high: float) -> None:
    """Add a stretch that starts no earlier than the last one."""
    if covered and low <= covered[-1][1] + SAME_PLANE_MM:
        covered[-1] = (covered[-1][0], max(covered[-1][1], high))
    else:
        covered.append((low, high))


def _gaps(covered: Iterable[Interval], length: float) -> Iterator[Interval]:
    reached = 0.0
    for low, high in covered:
        yield (reached, low)
        reached = high
    yield (reached, length)


def _split(
    start: Floats, end: Floats, covers: Sequence[Sequence[Interval]], owners: Ints
) -> tuple[list[Segment], list[Segment]]:
    """Return the visible and the hidden pieces of lines, from the stretches that are covered."""
    shown: list[tuple[int, float, float]] = []
    behind: list[tuple[int, float, float]] = []
    lengths = np.hypot(*(end - start)[:, :2].T).tolist()
    for row, (covered, length) in enumerate(zip(covers, lengths, strict=True)):
        if covered:
            shown += [(row, a, b) for a, b in _gaps(covered, length) if b - a > SAME_PLANE_MM]
            cut = [(a, min(b, length)) for a, b in covered]
            behind += [(row, a, b) for a, b in cut if b - a > SAME_PLANE_MM]
        elif length > SAME_PLANE_MM:
            shown.append((row, 0.0, length))
    return _pieces(start, end, shown, owners), _pieces(start, end, behind, owners)


def _pieces(
    start: Floats, end: Floats, stretches: Sequence[tuple[int, float, float]], owners: Ints
) -> list[Segment]:
    """Return stretches of lines, given by row and mm from the start."""
    table = np.array(stretches, dtype=np.float64).reshape(-1, 3)
    rows = table[:, 0].astype(np.intp)
    origin = start[rows, :2]
    along = end[rows, :2] - origin
    parts = table[:, 1:] / np.hypot(along[:, 0], along[:, 1])[:, None]
    first, last = (origin + along * parts[:, i, None] for i in (0, 1))
    return [
        Segment((x0, y0), (x1, y1), owner)
        for (x0, y0), (x1, y1), owner in zip(
            first.tolist(), last.tolist(), owners[rows].tolist(), strict=True
        )
    ]
