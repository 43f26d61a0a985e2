"""Straight segments in a plane: united where they lie on one line, cut, and chained."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from generator.geometry.tolerance import SAME_ANGLE, SAME_PLANE_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec2

Floats = npt.NDArray[np.float64]
Interval = tuple[float, float]


class Segment(NamedTuple):
    """A straight segment and the number of what it belongs to."""

    start: Vec2
    end: Vec2
    owner: int


@dataclass(frozen=True, slots=True)
class _Lines:
    """Segments as stretches of lines, line after line.

    Attributes:
        angle: (n,) of the line, from 0 to pi.
        offset: (n,) of the line to its left.
        low: Where on the line each starts.
        high: Where it ends.
        owner: Whose it is.
        starts: The first segment of every line, and the number of all.
    """

    angle: Floats
    offset: Floats
    low: list[float]
    high: list[float]
    owner: list[int]
    starts: list[int]


Stretch = tuple[int, float, float, int]
"""A segment of the line, where the stretch starts and ends, and whose it is."""


def unite_segments(segments: Iterable[Segment]) -> tuple[Segment, ...]:
    """Return the same lines with no stretch twice; where two owners share one, the lower keeps it.

    Stretches of one owner that meet on a line become one segment.
    """
    lines = _sort_into_lines([*segments])
    united: list[Stretch] = []
    for first, last in pairwise(lines.starts):
        if last == first + 1:
            if lines.high[first] - lines.low[first] > SAME_PLANE_MM:
                united.append((first, lines.low[first], lines.high[first], lines.owner[first]))
            continue
        taken: list[Interval] = []
        for owner in sorted(set(lines.owner[first:last])):
            rows = [i for i in range(first, last) if lines.owner[i] == owner]
            own = _merge([(lines.low[i], lines.high[i]) for i in rows])
            for low, high in own:
                united += [(first, a, b, owner) for a, b in _cut(low, high, taken)]
            taken = _merge(taken + own)
    return _segments_along(lines, united)


def subtract_segments(
    segments: Iterable[Segment], others: Iterable[Segment]
) -> tuple[Segment, ...]:
    """Return what of the first segments lies on none of the others."""
    firsts = [*segments]
    mark = 1 + max((s.owner for s in firsts), default=0)
    lines = _sort_into_lines([*firsts, *(Segment(s.start, s.end, mark) for s in others)])
    left: list[Stretch] = []
    for first, last in pairwise(lines.starts):
        rows = range(first, last)
        taken = _merge([(lines.low[i], lines.high[i]) for i in rows if lines.owner[i] == mark])
        for i in rows:
            if lines.owner[i] != mark:
                stretches = _cut(lines.low[i], lines.high[i], taken)
                left += [(first, a, b, lines.owner[i]) for a, b in stretches]
    return _segments_along(lines, left)


def chain_segments(segments: Iterable[Segment]) -> tuple[tuple[Vec2, ...], ...]:
    """Return polylines through all segments, so that a pen is lifted seldom; owners aside.

    A closed chain ends with the point it starts with.
    """
    rest = [*segments]
    points = [point for segment in rest for point in (segment.start, segment.end)]
    cells = np.rint(np.array(points).reshape(-1, 2) / SAME_PLANE_MM)
    keys = [(x, y) for x, y in cells.tolist()]
    ends: dict[Vec2, list[int]] = {}
    for number, key in enumerate(keys):
        ends.setdefault(key, []).append(number // 2)
    odd = [len(ends[key]) % 2 == 1 for key in keys]
    used = [False] * len(rest)
    chains: list[tuple[Vec2, ...]] = []
    for first in (
        *(i for i in range(len(rest)) if odd[2 * i] or odd[2 * i + 1]),
        *range(len(rest)),
    ):
        if used[first]:
            continue
        at = 2 * first + (0 if odd[2 * first + 1] and not odd[2 * first] else 1)
        chain = [points[at ^ 1], points[at]]
        used[first] = True
        while (after := _next(ends[keys[at]], used)) is not None:
            used[after] = True
            at = 2 * after + (1 if keys[2 * after] == keys[at] else 0)
            chain.append(points[at])
        chains.append(tuple(chain))
    return tuple(chains)


def gap_to_segment(point: Vec2, start: Vec2, end: Vec2) -> float:
    """Return the distance of a point from the nearest point of a segment."""
    along = (end[0] - start[0], end[1] - start[1])
    away = (point[0] - start[0], point[1] - start[1])
    square = along[0] * along[0] + along[1] * along[1]
    part = (away[0] * along[0] + away[1] * along[1]) / square if square else 0.0
    part = min(max(part, 0.0), 1.0)
    return math.hypot(away[0] - part * along[0], away[1] - part * along[1])


def segments_cross(start: Vec2, end: Vec2, other_start: Vec2, other_end: Vec2) -> bool:
    """Whether two segments cross at a point that is an end of neither."""
    return (
        _turn(start, end, other_start) * _turn(start, end, other_end) < 0
        and _turn(other_start, other_end, start) * _turn(other_start, other_end, end) < 0
    )


def _turn(start: Vec2, end: Vec2, point: Vec2) -> float:
    """Return more than 0 for a point to the left of a line, less for one to its right."""
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _next(numbers: Sequence[int], used: Sequence[bool]) -> int | None:
    return next((i for i in numbers if not used[i]), None)


def _sort_into_lines(segments: Sequence[Segment]) -> _Lines:
    """Return segments sorted by the lines they lie on."""
    ends = np.array([(*s.start, *s.end) for s in segments], dtype=np.float64).reshape(-1, 4)
    owner = np.array([s.owner for s in segments], dtype=np.intp)
    x0, y0, x1, y1 = ends.T
    angle = np.arctan2(y1 - y0, x1 - x0) % math.pi
    angle = np.where(angle > math.pi - SAME_ANGLE, angle - math.pi, angle)
    cosine, sine = np.cos(angle), np.sin(angle)
    near, far = x0 * cosine + y0 * sine, x1 * cosine + y1 * sine
    offset = (y0 * cosine - x0 * sine + y1 * cosine - x1 * sine) / 2
    low, high = np.minimum(near, far), np.maximum(near, far)
    order = np.lexsort((low, offset, angle))
    parallel = np.cumsum(np.diff(angle[order], prepend=-math.inf) > SAME_ANGLE)
    order = order[np.lexsort((owner[order], low[order], offset[order], parallel))]
    jumps = np.diff(offset[order], prepend=-math.inf) > SAME_POINT_MM
    jumps |= np.diff(parallel, prepend=0) > 0
    return _Lines(
        angle[order],
        offset[order],
        low[order].tolist(),
        high[order].tolist(),
        owner[order].tolist(),
        [*np.flatnonzero(jumps).tolist(), len(segments)],
    )


def _segments_along(lines: _Lines, stretches: Sequence[Stretch]) -> tuple[Segment, ...]:
    """Return stretches of lines as segments."""
    rows = np.array([row for row, _, _, _ in stretches], dtype=np.intp)
    cosine, sine = np.cos(lines.angle[rows]), np.sin(lines.angle[rows])
    x, y = -sine * lines.offset[rows], cosine * lines.offset[rows]
    low = np.array([low for _, low, _, _ in stretches])
    high = np.array([high for _, _, high, _ in stretches])
    starts = zip((x + cosine * low).tolist(), (y + sine * low).tolist(), strict=True)
    ends = zip((x + cosine * high).tolist(), (y + sine * high).tolist(), strict=True)
    owners = [owner for _, _, _, owner in stretches]
    return tuple(map(Segment, starts, ends, owners))


def _merge(intervals: list[Interval]) -> list[Interval]:
    merged: list[Interval] = []
    for low, high in sorted(intervals):
        if merged and low <= merged[-1][1] + SAME_PLANE_MM:
            merged[-1] = (merged[-1][0], max(merged[-1][1], high))
        else:
            merged.append((low, high))
    return merged


def _cut(low: float, high: float, taken: list[Interval]) -> Iterator[Interval]:
    """Return what of a stretch is left outside others, which are in order."""
    reached = low
    for start, end in taken:
        if end <= reached or start >= high:
            continue
        if start - reached > SAME_PLANE_MM:
            yield (reached, start)
        reached = max(reached, end)
    if high - reached > SAME_PLANE_MM:
        yield (reached, high)
