"""Where the things of a drawing are: bounds, moving, and finding a free spot for a label."""

import itertools
import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from generator.geometry.outlines import arc_points
from generator.geometry.vectors import Vec2
from generator.outputs.scene import Anchor, Area, Arrowhead, Disc, Item, Stroke, Words
from generator.outputs.text_width import ASCENT_EM, DESCENT_EM, text_width_mm

Boxes = NDArray[np.float64]
"""(n, 4) float: a box in each row."""

NO_BOXES: Boxes = np.empty((0, 4))

DOT_MM = 0.4
"""Half the width of the boxes that stand for a line."""

MANY = 4000
"""Of more pairs of boxes those are measured only that meet."""

AT_ONCE = 16
"""So many boxes are compared first, then ever more: a free one is mostly among the first."""

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


def bounds_of(items: Iterable[Item]) -> Box:
    """Return the box around all items; a point at 0 where there are none."""
    boxes = [box_of(item) for item in items]
    return around_all(boxes) if boxes else (0.0, 0.0, 0.0, 0.0)


def around_all(boxes: Sequence[Box]) -> Box:
    """Return the box around one or more boxes."""
    lefts, lows, rights, highs = zip(*boxes, strict=True)
    return (min(lefts), min(lows), max(rights), max(highs))


def around_points(points: Sequence[Vec2]) -> Box:
    """Return the box around one or more points; most lines have two, and those are quick."""
    if len(points) == 2:
        (x0, y0), (x1, y1) = points
        left, right = (x0, x1) if x0 < x1 else (x1, x0)
        return (left, y0, right, y1) if y0 < y1 else (left, y1, right, y0)
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def is_inside(inner: Box, outer: Box) -> bool:
    """Return whether a box lies in another one; both may share sides."""
    return (
        outer[0] <= inner[0]
        and outer[1] <= inner[1]
        and inner[2] <= outer[2]
        and inner[3] <= outer[3]
    )


def box_of(item: Item) -> Box:
    """Return the box around an item; only the point of an arrowhead counts."""
    match item:
        case Stroke():
            return around_points(_stroke_points(item) if item.bulges else item.points)
        case Words():
            return words_box(item)
        case Arrowhead():
            return (*item.at, *item.at)
        case Disc():
            x, y = item.center
            return grown((x, y, x, y), item.radius_mm)
        case Area():
            return around_points([point for ring in item.rings for point in ring])


def words_box(words: Words) -> Box:
    """Return the box around a line of text."""
    width = text_width_mm(words.text, words.size_mm, words.bold)
    if not words.angle_deg:
        return level_box(words.at, width, words.size_mm, words.anchor)
    left, low, right, high = level_box((0.0, 0.0), width, words.size_mm, words.anchor)
    turn = math.radians(words.angle_deg)
    cosine, sine = math.cos(turn), math.sin(turn)
    return around_points(
        [
            (words.at[0] + x * cosine - y * sine, words.at[1] + x * sine + y * cosine)
            for x in (left, right)
            for y in (low, high)
        ]
    )


def level_box(at: Vec2, width_mm: float, size_mm: float, anchor: Anchor) -> Box:
    """Return the box around a level line of text that is so wide."""
    x, y = at
    low, high = y - DESCENT_EM * size_mm, y + ASCENT_EM * size_mm
    if anchor == "start":
        return (x, low, x + width_mm, high)
    start = -width_mm if anchor == "end" else -width_mm / 2
    return (x + start, low, x + (start + width_mm), high)


def moved_items(items: Iterable[Item], dx: float, dy: float) -> tuple[Item, ...]:
    """Return the items moved."""
    if not dx and not dy:
        return tuple(items)
    return tuple([_moved(item, dx, dy) for item in items])


def find_freest(boxes: Boxes, taken: Boxes) -> tuple[int, float]:
    """Return the number of the first box that overlaps the others least, and how much in mm²."""
    if not len(boxes):
        raise ValueError("no box to choose from")
    losses: list[float] = []
    while len(losses) < len(boxes) and 0.0 not in losses:
        some = boxes[len(losses) : 2 * len(losses) + AT_ONCE]
        losses += overlaps_mm2(some, taken).tolist()
    least = min(losses)
    return losses.index(least), least


def as_array(boxes: Iterable[Box]) -> Boxes:
    """Return boxes as rows, for many questions about the same ones."""
    return np.fromiter(itertools.chain.from_iterable(boxes), np.float64).reshape(-1, 4)


def overlaps_mm2(boxes: Boxes, taken: Boxes) -> Boxes:
    """Return how much of each box others cover, each of these counted by itself."""
    if not len(boxes):
        return np.zeros(0)
    if len(boxes) * len(taken) > MANY:
        return _overlaps_of_many(boxes, _near(boxes, taken))
    x0, y0, x1, y1 = taken.T
    across = np.minimum(x1, boxes[:, 2:3]) - np.maximum(x0, boxes[:, :1])
    up = np.minimum(y1, boxes[:, 3:]) - np.maximum(y0, boxes[:, 1:2])
    common = np.maximum(across, 0.0) * np.maximum(up, 0.0)
    covered: Boxes = np.rint(common * 1000.0).sum(axis=1) / 1000.0
    return covered


def _overlaps_of_many(boxes: Boxes, taken: Boxes) -> Boxes:
    """Return the same, measuring only pairs that meet; they are added in whole thousandths."""
    x0, y0, x1, y1 = np.ascontiguousarray(taken.T)
    met = (x0 < boxes[:, 2:3]) & (x1 > boxes[:, :1])
    met &= (y0 < boxes[:, 3:]) & (y1 > boxes[:, 1:2])
    owners, others = met.nonzero()
    own, other = boxes[owners], taken[others]
    low, high = np.maximum(own[:, :2], other[:, :2]), np.minimum(own[:, 2:], other[:, 2:])
    common = (high[:, 0] - low[:, 0]) * (high[:, 1] - low[:, 1])
    covered: Boxes = np.bincount(owners, np.rint(common * 1000.0), len(boxes)) / 1000.0
    return covered


def _near(boxes: Boxes, taken: Boxes) -> Boxes:
    """Return what reaches into the box around all boxes."""
    left, low = boxes[:, :2].min(axis=0)
    right, high = boxes[:, 2:].max(axis=0)
    x0, y0, x1, y1 = taken.T
    near: Boxes = taken[(x0 < right) & (x1 > left) & (y0 < high) & (y1 > low)]
    return near


def gaps_mm(boxes: Boxes, others: Boxes) -> Boxes:
    """Return the distances between boxes, as arrays of them pair up; 0 where two meet."""
    across = np.maximum(boxes[..., 0] - others[..., 2], others[..., 0] - boxes[..., 2])
    up = np.maximum(boxes[..., 1] - others[..., 3], others[..., 1] - boxes[..., 3])
    return np.hypot(np.maximum(across, 0.0), np.maximum(up, 0.0))


def meets(boxes: Boxes, others: Boxes) -> NDArray[np.bool_]:
    """Return which boxes meet, as arrays of them pair up; those that touch do."""
    across = (boxes[..., 0] <= others[..., 2]) & (others[..., 0] <= boxes[..., 2])
    up = (boxes[..., 1] <= others[..., 3]) & (others[..., 1] <= boxes[..., 3])
    met: NDArray[np.bool_] = across & up
    return met


def outside_of(box: Box, far_mm: float = 200.0) -> tuple[Box, ...]:
    """Return four boxes around a box, for what must stay inside it."""
    left, low, right, high = box
    return (
        (left - far_mm, low - far_mm, left, high + far_mm),
        (right, low - far_mm, right + far_mm, high + far_mm),
        (left, low - far_mm, right, low),
        (left, high, right, high + far_mm),
    )


def dots_along(lines: Iterable[Sequence[Vec2]], step_mm: float = 2.0) -> Boxes:
    """Return small boxes along lines on paper, for labels to keep off."""
    paths = [*lines]
    flat = itertools.chain.from_iterable(itertools.chain.from_iterable(paths))
    points = np.fromiter(flat, np.float64).reshape(-1, 2)
    is_start = np.ones(len(points), dtype=np.bool_)
    is_start[np.cumsum([len(path) for path in paths], dtype=np.int64) - 1] = False
    starts = is_start.nonzero()[0]
    ways = points[starts + 1] - points[starts]
    counts = np.maximum(np.hypot(ways[:, 0], ways[:, 1]) / step_mm, 1.0).round().astype(np.int64)
    owners = np.repeat(np.arange(len(starts)), counts + 1)
    firsts = np.cumsum(counts + 1) - (counts + 1)
    numbers = np.arange(len(owners)) - firsts[owners]
    steps = ways[owners] * numbers[:, np.newaxis] / counts[owners, np.newaxis]
    dots = points[starts[owners]] + steps
    return np.concatenate((dots - DOT_MM, dots + DOT_MM), axis=1)


def grown(box: Box, by_mm: float) -> Box:
    """Return the box with a margin."""
    return (box[0] - by_mm, box[1] - by_mm, box[2] + by_mm, box[3] + by_mm)


def _stroke_points(stroke: Stroke) -> list[Vec2]:
    points = list(stroke.points)
    ends = points[1:] + (points[:1] if stroke.closed else [])
    for start, end, bulge in zip(points[: len(ends)], ends, stroke.bulges, strict=False):
        points += arc_points(start, end, bulge)
    return points


def _moved(item: Item, dx: float, dy: float) -> Item:
    """Return an item moved; built anew field by field, which is far faster than a changed copy."""
    match item:
        case Stroke():
            return Stroke(
                points=_plus_all(item.points, dx, dy),
                layer=item.layer,
                closed=item.closed,
                bulges=item.bulges,
            )
        case Words():
            return Words(
                at=_plus(item.at, dx, dy),
                text=item.text,
                size_mm=item.size_mm,
                anchor=item.anchor,
                angle_deg=item.angle_deg,
                bold=item.bold,
                halo=item.halo,
                span=_moved_span(item.span, dx, dy),
            )
        case Arrowhead():
            at = _plus(item.at, dx, dy)
            return Arrowhead(at=at, direction=item.direction, layer=item.layer)
        case Disc():
            return Disc(
                center=_plus(item.center, dx, dy),
                radius_mm=item.radius_mm,
                tone=item.tone,
                layer=item.layer,
            )
        case Area():
            rings = tuple([_plus_all(ring, dx, dy) for ring in item.rings])
            return Area(rings=rings, tone=item.tone)


def _moved_span(span: tuple[Vec2, Vec2] | None, dx: float, dy: float) -> tuple[Vec2, Vec2] | None:
    return None if span is None else (_plus(span[0], dx, dy), _plus(span[1], dx, dy))


def _plus_all(points: Sequence[Vec2], dx: float, dy: float) -> tuple[Vec2, ...]:
    return tuple([(x + dx, y + dy) for x, y in points])


def _plus(point: Vec2, dx: float, dy: float) -> Vec2:
    return (point[0] + dx, point[1] + dy)
