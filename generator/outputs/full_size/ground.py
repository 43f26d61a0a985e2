"""The window of one sheet of a template: lines are cut off at it, words keep off lines."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np
from shapely import box, get_parts
from shapely.geometry import LineString, Polygon

from generator.geometry.vectors import Vec2
from generator.outputs.panels import (
    Box,
    Boxes,
    as_array,
    dots_along,
    outside_of,
    overlaps_mm2,
    words_box,
)
from generator.outputs.scene import Area, Item, Layer, Stroke, Tone, Words

STEP_MM: Final = 1.5
"""Boxes that stand for a line are that far apart: no text slips between two of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Where the part is drawn on a sheet.

    Attributes:
        corner: How far a point of the part is moved on paper.
        window: What is seen of the part, on paper.
        items: What is drawn; it grows.
        lines: What words must not cross.
        dots: Boxes along those lines.
        taken: Boxes of what else words must keep off; it grows with every word.
    """

    corner: Vec2
    window: Box
    items: list[Item] = field(default_factory=list)
    lines: list[LineString] = field(default_factory=list)
    dots: list[Boxes] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)

    def place(self, point: Vec2) -> Vec2:
        """Return where a point of the part is on paper."""
        return (point[0] + self.corner[0], point[1] + self.corner[1])

    def draw(self, points: Sequence[Vec2], layer: Layer) -> None:
        """Draw a line on paper as far as it is in the window."""
        seen = LineString(points).intersection(box(*self.window))
        for one in get_parts(seen).tolist():
            if isinstance(one, LineString) and one.length > 0.0:
                corners = tuple((x, y) for x, y in one.coords)
                self.items.append(Stroke(points=corners, layer=layer))

    def draw_ring(self, points: Sequence[Vec2], layer: Layer) -> None:
        """Draw a closed line on paper as far as it is in the window."""
        if box(*self.window).contains(Polygon(points)):
            self.items.append(Stroke(points=tuple(points), layer=layer, closed=True))
        else:
            self.draw([*points, points[0]], layer)

    def fill(self, shape: Polygon, tone: Tone) -> None:
        """Fill a shape on paper as far as it is in the window."""
        seen = shape.intersection(box(*self.window))
        for one in get_parts(seen).tolist():
            if isinstance(one, Polygon) and one.area > 0.0:
                rings = (one.exterior, *one.interiors)
                corners = tuple(tuple((x, y) for x, y in ring.coords[:-1]) for ring in rings)
                self.items.append(Area(rings=corners, tone=tone))

    def keep_off(self, points: Sequence[Vec2]) -> None:
        """Remember a line on paper that no word may cross."""
        self.lines.append(LineString(points))
        self.dots.append(dots_along([points], STEP_MM))

    def obstacles(self, more: Sequence[Box] = ()) -> Boxes:
        """Return everything that words must keep off, and more; what is outside belongs to it."""
        boxes = as_array([*self.taken, *more, *outside_of(self.window)])
        return np.vstack([boxes, *self.dots])

    def find_free(self, words: Sequence[Words], more: Sequence[Box] = ()) -> Words | None:
        """Return the first of some texts in the window that covers nothing, or None."""
        left, low, right, high = self.window
        boxes = [(one, words_box(one)) for one in words]
        inside = [
            (one, own)
            for one, own in boxes
            if left <= own[0] and low <= own[1] and own[2] <= right and own[3] <= high
        ]
        covered = overlaps_mm2(as_array(own for _, own in inside), self.obstacles(more))
        return next((one for (one, _), much in zip(inside, covered, strict=True) if not much), None)

    def write(self, word: Words) -> None:
        """Write a text in its place, which then is taken."""
        self.items.append(word)
        self.taken.append(words_box(word))


def cross_arms(at: Vec2, reach_mm: float) -> Iterator[tuple[Vec2, Vec2]]:
    """Yield four lines out of a point, along the axes of the paper."""
    for way in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)):
        yield at, ahead(at, way, reach_mm)


def dashed(start: Vec2, end: Vec2, dash_mm: float, gap_mm: float) -> Iterator[tuple[Vec2, Vec2]]:
    """Yield dashes along a line, the first one at its start."""
    length = math.dist(start, end)
    way = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    for index in range(math.ceil(length / (dash_mm + gap_mm))):
        begin = index * (dash_mm + gap_mm)
        yield ahead(start, way, begin), ahead(start, way, min(begin + dash_mm, length))


def ellipse(at: Vec2, halves: Vec2, way: Vec2) -> tuple[Vec2, ...]:
    """Return the points of an ellipse by half its length, along a way, and half its width."""
    return tuple(
        (
            at[0] + halves[0] * math.cos(turn) * way[0] - halves[1] * math.sin(turn) * way[1],
            at[1] + halves[0] * math.cos(turn) * way[1] + halves[1] * math.sin(turn) * way[0],
        )
        for turn in np.linspace(0.0, 2 * math.pi, 48, endpoint=False).tolist()
    )


def ahead(at: Vec2, way: Vec2, by_mm: float) -> Vec2:
    """Return a point some way from another."""
    return (at[0] + way[0] * by_mm, at[1] + way[1] * by_mm)


def box_around(points: Iterable[Vec2], by_mm: float) -> Box:
    """Return the box around points with a margin."""
    xs, ys = zip(*points, strict=True)
    return (min(xs) - by_mm, min(ys) - by_mm, max(xs) + by_mm, max(ys) + by_mm)
