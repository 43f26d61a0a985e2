"""The saw cuts on the drawing of a sheet, each with its number in a bubble at its end."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from generator.geometry.vectors import Vec2
from generator.model.cutting import Cut, Layout
from generator.outputs.dimensions import Side
from generator.outputs.panels import Box, as_array, find_freest, overlaps_mm2
from generator.outputs.scene import SMALLEST_TEXT_MM, Disc, Item, Stroke, Words
from generator.outputs.spread import spread_places

RADIUS_MM: Final = 2.5
"""Of a bubble; three figures of the smallest type fit."""
OUTSIDE_MM: Final = 7.0
"""From the sheet to the middle of the bubbles beside it."""
PITCH_MM: Final = 2 * RADIUS_MM + 0.6
ROUNDS: Final = 2
REACH_MM: Final = 25.0
"""A cut that ends this near to the border of the sheet (trim and kerf) ends at the border."""


@dataclass(frozen=True, slots=True)
class SheetPaper:
    """A sheet or board at a scale: from mm of it to mm on paper.

    Attributes:
        scale: Along it, and across it too unless that has a scale of its own.
        across: The scale across it; None for the same.
    """

    layout: Layout
    scale: float
    across: float | None = None

    def point(self, point: Vec2) -> Vec2:
        """Return a point of the sheet on paper."""
        across = self.scale if self.across is None else self.across
        return (point[0] * self.scale, point[1] * across)

    def box(self, box: Box) -> Box:
        """Return a box of the sheet on paper."""
        return (*self.point((box[0], box[1])), *self.point((box[2], box[3])))

    def rectangle(self, box: Box) -> tuple[Vec2, ...]:
        """Return the corners of a box of the sheet on paper."""
        x0, y0, x1, y1 = self.box(box)
        return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def draw_cuts(paper: SheetPaper, taken: Sequence[Box]) -> tuple[Item, ...]:
    """Return the lines of all cuts, then their bubbles, which keep off what is taken."""
    cuts = paper.layout.cuts
    items: list[Item] = [
        Stroke(points=(paper.point(cut.start), paper.point(cut.end)), layer="cut") for cut in cuts
    ]
    sides: dict[Side, list[Cut]] = {"right": [], "left": [], "below": [], "above": []}
    inner: list[Cut] = []
    for cut in cuts:
        side = _side(paper, cut)
        (inner if side is None else sides[side]).append(cut)
    for side, some in sides.items():
        items += _bubbles_beside(paper, side, some)
    for cut, place in zip(inner, _places_inside(paper, inner, taken), strict=True):
        items += _bubble(place, cut.order)
    return tuple(items)


def _side(paper: SheetPaper, cut: Cut) -> Side | None:
    """Return the border of the sheet the cut ends at; none where it ends inside."""
    size = paper.layout.size
    if abs(cut.start[1] - cut.end[1]) < abs(cut.start[0] - cut.end[0]):
        if max(cut.start[0], cut.end[0]) > size.length_mm - REACH_MM:
            return "right"
        return "left" if min(cut.start[0], cut.end[0]) < REACH_MM else None
    if min(cut.start[1], cut.end[1]) < REACH_MM:
        return "below"
    return "above" if max(cut.start[1], cut.end[1]) > size.width_mm - REACH_MM else None


def _bubbles_beside(paper: SheetPaper, side: Side, cuts: Sequence[Cut]) -> list[Item]:
    """Return bubbles in a row outside the sheet, with a line to the end of each cut."""
    axis = 0 if side in {"below", "above"} else 1
    size = paper.layout.size
    width, height = paper.point((size.length_mm, size.width_mm))
    line = {
        "right": width + OUTSIDE_MM,
        "left": -OUTSIDE_MM,
        "below": -OUTSIDE_MM,
        "above": height + OUTSIDE_MM,
    }[side]
    is_far = side in {"right", "above"}
    ends = [_end(paper, cut, 1 - axis, is_far=is_far) for cut in cuts]
    places = spread_places([(end[axis], 1.0) for end in ends], PITCH_MM)
    items: list[Item] = []
    for cut, end, place in zip(cuts, ends, places, strict=True):
        at = (place, line) if axis == 0 else (line, place)
        items.append(Stroke(points=(end, at), layer="leader"))
        items += _bubble(at, cut.order)
    return items


def _end(paper: SheetPaper, cut: Cut, axis: int, *, is_far: bool) -> Vec2:
    """Return the end of a cut with the greatest or least x or y, on paper."""
    first, last = sorted((cut.start, cut.end), key=lambda point: point[axis])
    return paper.point(last if is_far else first)


def _places_inside(paper: SheetPaper, cuts: Sequence[Cut], taken: Sequence[Box]) -> list[Vec2]:
    """Return a place for each bubble; a later round moves the early ones out of the others' way.

    An overlap of bubbles weighs more than one with a text: they count three times.
    """
    places: list[Vec2] = []
    for cut in cuts:
        others = [_box(place) for place in places]
        places.append(_place_inside(paper, cut, [*taken, *others * 3]))
    for _ in range(ROUNDS):
        for i, cut in enumerate(cuts):
            others = [_box(place) for j, place in enumerate(places) if j != i]
            if overlaps_mm2(as_array([_box(places[i])]), as_array(others))[0] > 0:
                places[i] = _place_inside(paper, cut, [*taken, *others * 3])
    return places


def _place_inside(paper: SheetPaper, cut: Cut, taken: Sequence[Box]) -> Vec2:
    """Return a place for a bubble on the cut, near its end, where nothing else stands."""
    start, end = paper.point(cut.start), paper.point(cut.end)
    places = [
        (end[0] + (start[0] - end[0]) * part, end[1] + (start[1] - end[1]) * part)
        for part in (0.15, 0.5, 0.85, 0.3, 0.7, 0.05, 0.95)
    ]
    is_level = abs(start[1] - end[1]) < abs(start[0] - end[0])
    beside = RADIUS_MM + 0.4
    length = math.dist(start, end)
    if length:
        part = beside / length
        places += [
            (a[0] + (a[0] - b[0]) * part, a[1] + (a[1] - b[1]) * part)
            for a, b in ((end, start), (start, end))
        ]
    places += [
        (x, y + side * beside) if is_level else (x + side * beside, y)
        for side in (-1, 1)
        for x, y in places[:3]
    ]
    return places[find_freest(as_array(map(_box, places)), as_array(taken))[0]]


def _box(center: Vec2) -> Box:
    x, y = center
    return (x - RADIUS_MM, y - RADIUS_MM, x + RADIUS_MM, y + RADIUS_MM)


def _bubble(center: Vec2, order: int) -> list[Item]:
    at = (center[0], center[1] - 0.36 * SMALLEST_TEXT_MM)
    return [
        Disc(center=center, radius_mm=RADIUS_MM, tone="bubble", layer="leader"),
        Words(at=at, text=str(order), size_mm=SMALLEST_TEXT_MM, anchor="middle"),
    ]
