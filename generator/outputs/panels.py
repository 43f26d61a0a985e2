"""Where the things of a drawing are: bounds, moving, and finding a free spot for a label."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from generator.geometry.outlines import arc_points
from generator.geometry.vectors import Vec2
from generator.outputs.scene import Area, Arrowhead, Disc, Item, Stroke, Words
from generator.outputs.text_width import ASCENT_EM, DESCENT_EM, text_width_mm

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


def bounds_of(items: Iterable[Item]) -> Box:
    """Return the box around all items; a point at 0 where there are none."""
    boxes = [_bounds(item) for item in items]
    if not boxes:
        return (0.0, 0.0, 0.0, 0.0)
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def words_box(words: Words) -> Box:
    """Return the box around a line of text."""
    width = text_width_mm(words.text, words.size_mm, words.bold)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[words.anchor]
    low, high = -DESCENT_EM * words.size_mm, ASCENT_EM * words.size_mm
    turn = math.radians(words.angle_deg)
    cosine, sine = math.cos(turn), math.sin(turn)
    corners = [
        (words.at[0] + x * cosine - y * sine, words.at[1] + x * sine + y * cosine)
        for x in (start, start + width)
        for y in (low, high)
    ]
    return _around(corners)


def moved_items(items: Iterable[Item], dx: float, dy: float) -> tuple[Item, ...]:
    """Return the items moved."""
    return tuple(_moved(item, dx, dy) for item in items)


def find_freest(boxes: Sequence[Box], taken: Iterable[Box]) -> int:
    """Return the number of the first box that overlaps the others least."""
    obstacles = list(taken)
    best, least = 0, math.inf
    for i, box in enumerate(boxes):
        loss = 0.0
        for other in obstacles:
            loss += _common_mm2(box, other)
            if loss >= least:
                break
        if loss < least:
            best, least = i, loss
        if least == 0.0:
            break
    return best


def overlap_mm2(box: Box, taken: Iterable[Box]) -> float:
    """Return how much of a box others cover, each counted by itself."""
    return sum(_common_mm2(box, other) for other in taken)


def outside_of(box: Box, far_mm: float = 200.0) -> tuple[Box, ...]:
    """Return four boxes around a box, for what must stay inside it."""
    left, low, right, high = box
    return (
        (left - far_mm, low - far_mm, left, high + far_mm),
        (right, low - far_mm, right + far_mm, high + far_mm),
        (left, low - far_mm, right, low),
        (left, high, right, high + far_mm),
    )


def grown(box: Box, by_mm: float) -> Box:
    """Return the box with a margin."""
    return (box[0] - by_mm, box[1] - by_mm, box[2] + by_mm, box[3] + by_mm)


def _common_mm2(one: Box, other: Box) -> float:
    if one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]:
        return 0.0
    width = min(one[2], other[2]) - max(one[0], other[0])
    height = min(one[3], other[3]) - max(one[1], other[1])
    return round(width * height, 3)


def _bounds(item: Item) -> Box:
    match item:
        case Words():
            return words_box(item)
        case Disc():
            x, y = item.center
            return grown((x, y, x, y), item.radius_mm)
        case Area():
            return _around([point for ring in item.rings for point in ring])
        case Arrowhead():
            return _around([item.at])
        case Stroke():
            return _around(_stroke_points(item))


def _stroke_points(stroke: Stroke) -> list[Vec2]:
    points = list(stroke.points)
    ends = points[1:] + (points[:1] if stroke.closed else [])
    for start, end, bulge in zip(points[: len(ends)], ends, stroke.bulges, strict=False):
        points += arc_points(start, end, bulge)
    return points


def _moved(item: Item, dx: float, dy: float) -> Item:
    match item:
        case Words():
            return replace(item, at=(item.at[0] + dx, item.at[1] + dy))
        case Disc():
            return replace(item, center=(item.center[0] + dx, item.center[1] + dy))
        case Area():
            rings = tuple(tuple((x + dx, y + dy) for x, y in ring) for ring in item.rings)
            return replace(item, rings=rings)
        case Arrowhead():
            return replace(item, at=(item.at[0] + dx, item.at[1] + dy))
        case Stroke():
            return replace(item, points=tuple((x + dx, y + dy) for x, y in item.points))


def _around(points: Sequence[Vec2]) -> Box:
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return (min(xs), min(ys), max(xs), max(ys))
