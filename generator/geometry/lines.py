"""Straight segments in a plane: united where they lie on one line, cut, and chained."""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from generator.geometry.tolerance import SAME_ANGLE, SAME_PLANE_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec2

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight segment and the number of what it belongs to."""

    start: Vec2
    end: Vec2
    owner: int


@dataclass(frozen=True, slots=True)
class _OnLine:
    """A segment as a stretch of its line: angle from 0 to pi, offset of the line to its left."""

    angle: float
    offset: float
    low: float
    high: float
    owner: int


def unite_segments(segments: Iterable[Segment]) -> tuple[Segment, ...]:
    """Return the same lines with no stretch twice; where two owners share one, the lower keeps it.

    Stretches of one owner that meet on a line become one segment.
    """
    united: list[Segment] = []
    for line in _group_lines(segments):
        taken: list[Interval] = []
        for owner in sorted({s.owner for s in line}):
            own = _merge([(s.low, s.high) for s in line if s.owner == owner])
            for low, high in own:
                united += _along(line[0], _cut(low, high, taken), owner)
            taken = _merge(taken + own)
    return tuple(united)


def subtract_segments(
    segments: Iterable[Segment], others: Iterable[Segment]
) -> tuple[Segment, ...]:
    """Return what of the first segments lies on none of the others."""
    firsts = tuple(segments)
    mark = 1 + max((s.owner for s in firsts), default=0)
    marked = [Segment(s.start, s.end, mark) for s in others]
    left: list[Segment] = []
    for line in _group_lines((*firsts, *marked)):
        taken = _merge([(s.low, s.high) for s in line if s.owner == mark])
        for s in line:
            if s.owner != mark:
                left += _along(line[0], _cut(s.low, s.high, taken), s.owner)
    return tuple(left)


def chain_segments(segments: Iterable[Segment]) -> tuple[tuple[Vec2, ...], ...]:
    """Return polylines through all segments, so that a pen is lifted seldom; owners aside.

    A closed chain ends with the point it starts with.
    """
    ends: dict[tuple[int, int], list[int]] = {}
    rest = list(segments)
    for index, segment in enumerate(rest):
        for point in (segment.start, segment.end):
            ends.setdefault(_key(point), []).append(index)
    used = [False] * len(rest)
    odd = [i for i, s in enumerate(rest) if _is_odd(ends, s.start) or _is_odd(ends, s.end)]
    chains: list[tuple[Vec2, ...]] = []
    for first in (*odd, *range(len(rest))):
        if used[first]:
            continue
        segment = rest[first]
        turned = _is_odd(ends, segment.end) and not _is_odd(ends, segment.start)
        points = [segment.end, segment.start] if turned else [segment.start, segment.end]
        used[first] = True
        while (after := _next(ends, used, points[-1])) is not None:
            used[after] = True
            is_start = _key(rest[after].start) == _key(points[-1])
            points.append(rest[after].end if is_start else rest[after].start)
        chains.append(tuple(points))
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


def _next(ends: dict[tuple[int, int], list[int]], used: list[bool], at: Vec2) -> int | None:
    return next((i for i in ends.get(_key(at), ()) if not used[i]), None)


def _is_odd(ends: dict[tuple[int, int], list[int]], point: Vec2) -> bool:
    return len(ends[_key(point)]) % 2 == 1


def _key(point: Vec2) -> tuple[int, int]:
    return (round(point[0] / SAME_PLANE_MM), round(point[1] / SAME_PLANE_MM))


def _group_lines(segments: Iterable[Segment]) -> Iterator[list[_OnLine]]:
    """Group segments that lie on one line."""
    by_angle = sorted((_on_line(s) for s in segments), key=lambda s: (s.angle, s.offset, s.low))
    for parallel in _runs(by_angle, lambda s: s.angle, SAME_ANGLE):
        ordered = sorted(parallel, key=lambda s: (s.offset, s.low, s.owner))
        yield from _runs(ordered, lambda s: s.offset, SAME_POINT_MM)


def _on_line(segment: Segment) -> _OnLine:
    (x0, y0), (x1, y1) = segment.start, segment.end
    angle = math.atan2(y1 - y0, x1 - x0) % math.pi
    if angle > math.pi - SAME_ANGLE:
        angle -= math.pi
    cosine, sine = math.cos(angle), math.sin(angle)
    near, far = x0 * cosine + y0 * sine, x1 * cosine + y1 * sine
    offset = (y0 * cosine - x0 * sine + y1 * cosine - x1 * sine) / 2
    return _OnLine(angle, offset, min(near, far), max(near, far), segment.owner)


def _runs(
    items: list[_OnLine], value: Callable[[_OnLine], float], step: float
) -> Iterator[list[_OnLine]]:
    """Split sorted items where the value jumps by more than a step."""
    run: list[_OnLine] = []
    for item in items:
        if run and value(item) - value(run[-1]) > step:
            yield run
            run = []
        run.append(item)
    if run:
        yield run


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


def _along(line: _OnLine, stretches: Iterable[Interval], owner: int) -> Iterator[Segment]:
    cosine, sine = math.cos(line.angle), math.sin(line.angle)
    x, y = -sine * line.offset, cosine * line.offset
    for low, high in stretches:
        yield Segment(
            (x + cosine * low, y + sine * low), (x + cosine * high, y + sine * high), owner
        )
