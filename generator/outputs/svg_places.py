"""Where the items of a drawing are: corners in whole hundredths of a mm, and the paper they darken.

All of a drawing are rounded at once, which is many times faster than number after number.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain, pairwise

import numpy as np

from generator.geometry.vectors import Vec2
from generator.outputs.panels import Box, box_of, grown, words_box
from generator.outputs.scene import Area, Arrowhead, Disc, Item, Stroke, Words
from generator.outputs.svg_path import Point
from generator.outputs.svg_style import HEAD_HALF_MM, HEAD_MM, WIDE_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """The items of a drawing and where they are, by their number.

    Attributes:
        corners: What is drawn through, y down; of an area all its rings one after the other, of a
            disc its middle, of words where they would stand if they were not turned.
        boxes: What they may darken, with the width of their line, in mm.
        height_mm: Of the paper.
    """

    items: Sequence[Item]
    corners: Sequence[list[Point]]
    boxes: Sequence[Box]
    height_mm: float


def place_items(items: Sequence[Item], height_mm: float) -> Placed:
    """Return items with their corners and boxes."""
    if not items:
        return Placed(items=(), corners=(), boxes=(), height_mm=height_mm)
    lines, own_boxes = zip(*map(_corners, items), strict=True)
    ends = np.cumsum([0, *map(len, lines)])
    flat = np.fromiter(chain.from_iterable(chain.from_iterable(lines)), np.float64, 2 * ends[-1])
    x, y = flat.reshape(-1, 2).T
    right, down = np.rint(x * 100), np.rint((height_mm - y) * 100)
    places = [*zip(right.astype(np.int64).tolist(), down.astype(np.int64).tolist(), strict=True)]
    starts = ends[:-1]
    boxes = zip(
        (np.minimum.reduceat(x, starts) - WIDE_MM).tolist(),
        (np.minimum.reduceat(y, starts) - WIDE_MM).tolist(),
        (np.maximum.reduceat(x, starts) + WIDE_MM).tolist(),
        (np.maximum.reduceat(y, starts) + WIDE_MM).tolist(),
        strict=True,
    )
    return Placed(
        items=items,
        corners=[places[start:end] for start, end in pairwise(ends.tolist())],
        boxes=[own or box for own, box in zip(own_boxes, boxes, strict=True)],
        height_mm=height_mm,
    )


def _corners(item: Item) -> tuple[Sequence[Vec2], Box | None]:
    """Return the corners of an item, and its box where that is not around them and their line."""
    match item:
        case Stroke(bulges=bulges):
            return item.points, grown(box_of(item), WIDE_MM) if bulges else None
        case Words():
            return (item.at,), grown(words_box(item), WIDE_MM)
        case Disc():
            x, y = item.center
            return (item.center,), grown((x, y, x, y), item.radius_mm + WIDE_MM)
        case Arrowhead():
            x, y = item.at
            return _arrow(item), grown((x, y, x, y), HEAD_MM + WIDE_MM)
        case Area():
            return [*chain.from_iterable(item.rings)], None


def _arrow(head: Arrowhead) -> tuple[Vec2, Vec2, Vec2]:
    length = math.hypot(*head.direction)
    dx, dy = head.direction[0] / length, head.direction[1] / length
    x, y = head.at[0] - dx * HEAD_MM, head.at[1] - dy * HEAD_MM
    side_x, side_y = -dy * HEAD_HALF_MM, dx * HEAD_HALF_MM
    return (head.at, (x + side_x, y + side_y), (x - side_x, y - side_y))
