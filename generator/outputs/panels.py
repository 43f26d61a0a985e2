"""Where the things of a drawing are: bounds, moving, and finding a free spot for a label."""

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from generator.geometry.outlines import arc_points
from generator.geometry.vectors import Vec2
from generator.outputs.scene import Area, Arrowhead, Disc, Item, Stroke, Words
from generator.outputs.text_width import ASCENT_EM, DESCENT_EM, text_width_mm

Boxes = NDArray[np.float64]
"""(n, 4) float: a box in each row."""

DOT_MM = 0.4
"""Half the width of the boxes that stand for a line."""

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
    if not boxes:
        raise ValueError("no box to choose from")
    obstacles = as_array(taken)
    losses: list[float] = []
    for box in boxes:
        losses.append(overlap_mm2(box, obstacles))
        if not losses[-1]:
            break
    return losses.index(min(losses))


def as_array(boxes: Iterable[Box]) -> Boxes:
    """Return boxes as rows, for many questions about the same ones."""
    return np.array([*boxes], dtype=np.float64).reshape(-1, 4)


def overlap_mm2(box: Box, taken: Boxes) -> float:
    """Return how much of a box others cover, each counted by itself."""
    across = np.minimum(taken[:, 2], box[2]) - np.maximum(taken[:, 0], box[0])
    up = np.minimum(taken[:, 3], box[3]) - np.maximum(taken[:, 1], box[1])
    common = np.maximum(across, 0.0) * np.maximum(up, 0.0)
    return round(float(common.round(3).sum()), 3)


def gap_mm(box: Box, other: Box) -> float:
    """Return the distance between two boxes; 0 where they touch or overlap."""
    across = max(box[0] - other[2], other[0] - box[2], 0.0)
    up = max(box[1] - other[3], other[1] - box[3], 0.0)
    return math.hypot(across, up)


def outside_of(box: Box, far_mm: float = 200.0) -> tuple[Box, ...]:
    """Return four boxes around a box, for what must stay inside it."""
    left, low, right, high = box
    return (
        (left - far_mm, low - far_mm, left, high + far_mm),
        (right, low - far_mm, right + far_mm, high + far_mm),
        (left, low - far_mm, right, low),
        (left, high, right, high + far_mm),
    )


def dots_along(points: Sequence[Vec2], step_mm: float = 2.0) -> list[Box]:
    """Return small boxes along a line on paper, for labels to keep off it."""
    boxes: list[Box] = []
    for start, end in itertools.pairwise(points):
        count = max(1, round(math.dist(start, end) / step_mm))
        for i in range(count + 1):
            x = start[0] + (end[0] - start[0]) * i / count
            y = start[1] + (end[1] - start[1]) * i / count
            boxes.append((x - DOT_MM, y - DOT_MM, x + DOT_MM, y + DOT_MM))
    return boxes


def grown(box: Box, by_mm: float) -> Box:
    """Return the box with a margin."""
    return (box[0] - by_mm, box[1] - by_mm, box[2] + by_mm, box[3] + by_mm)


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
            return replace(item, at=_plus(item.at, dx, dy), span=_moved_span(item.span, dx, dy))
        case Disc():
            return replace(item, center=(item.center[0] + dx, item.center[1] + dy))
        case Area():
            rings = tuple(tuple((x + dx, y + dy) for x, y in ring) for ring in item.rings)
            return replace(item, rings=rings)
        case Arrowhead():
            return replace(item, at=(item.at[0] + dx, item.at[1] + dy))
        case Stroke():
            return replace(item, points=tuple((x + dx, y + dy) for x, y in item.points))


def _moved_span(span: tuple[Vec2, Vec2] | None, dx: float, dy: float) -> tuple[Vec2, Vec2] | None:
    return None if span is None else (_plus(span[0], dx, dy), _plus(span[1], dx, dy))


def _plus(point: Vec2, dx: float, dy: float) -> Vec2:
    return (point[0] + dx, point[1] + dy)


def _around(points: Sequence[Vec2]) -> Box:
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return (min(xs), min(ys), max(xs), max(ys))
