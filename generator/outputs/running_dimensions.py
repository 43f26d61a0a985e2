"""Running dimensions: every size from the same edge, as a builder marks them along one tape.

     0   63      255 273
     |   |        | |
     o-->|------->|>|

Source: ISO 129-1 (superimposed running dimensioning), from memory.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from generator.geometry.vectors import Vec2
from generator.outputs.dimensions import BEYOND_MM, GAP_MM, Side, Stack
from generator.outputs.scene import SMALLEST_TEXT_MM, Arrowhead, Disc, Item, Stroke, Words
from generator.outputs.spread import spread_between
from generator.outputs.text_width import text_width_mm

PITCH_MM: Final = 3.8
"""Between the middles of neighbouring texts."""
BEND_MM: Final = 2.4
"""Height of the bend that leads to a text that had to move aside."""
ORIGIN_MM: Final = 0.8
"""Radius of the circle the sizes start from."""
BESIDE_MM: Final = 0.5
"""A line that passes nearer to a place than this stands where its text would."""
CLEAR_MM: Final = 2.0
"""From the middle of a text to a line beside it."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A point on paper and how far its true counterpart is from the edge measured from."""

    at: Vec2
    text: str


def draw_running_dimensions(
    readings: Sequence[Reading],
    origin: Vec2,
    side: Side,
    line_mm: float,
    *,
    blocked: Sequence[float] = (),
    text_mm: float = SMALLEST_TEXT_MM,
) -> Stack:
    """Return a row of running dimensions.

    Args:
        readings: Along the row in any order; each place once.
        origin: A point of the edge that is measured from.
        side: Of the part the row is on.
        line_mm: The y (above, below) or x (left, right) of the row's line.
        blocked: Places along the row where other lines pass and no text can stand.
        text_mm: Height of the type.
    """
    axis: Literal[0, 1] = 0 if side in {"above", "below"} else 1
    outward = 1.0 if side in {"above", "right"} else -1.0
    zero = Reading(origin, "0")
    ordered = sorted([zero, *readings], key=lambda mark: mark.at[axis])
    texts = _spread_texts([mark.at[axis] for mark in ordered], blocked)
    items = _row(ordered, origin, axis, line_mm)
    words: list[Item] = []
    for mark, place in zip(ordered, texts, strict=True):
        is_moved = abs(place - mark.at[axis]) > 0.3
        start = line_mm + outward * (ORIGIN_MM + 0.4 if mark is zero else BEYOND_MM)
        if is_moved:
            bend = start + outward * BEND_MM
            items.append(_line(axis, [(mark.at[axis], line_mm), (mark.at[axis], start)]))
            items.append(_line(axis, [(mark.at[axis], start), (place, bend)]))
            start = bend
        text = _text(mark.text, axis, place, start + outward * 0.6, outward, text_mm)
        span = (_to(axis, origin[axis], line_mm), _to(axis, mark.at[axis], line_mm))
        words.append(text if mark is zero else replace(text, span=span))
    longest = max(text_width_mm(mark.text, text_mm) for mark in ordered)
    reach = line_mm + outward * (BEYOND_MM + BEND_MM + 0.6 + longest)
    return Stack((*items, *words), reach)


def _spread_texts(places: list[float], blocked: Sequence[float]) -> list[float]:
    """Return where the texts of ordered places stand: apart, and beside every line that passes.

    Where a line passes exactly at a place its text goes to the side of it that is nearer an end.
    """
    middle = (places[0] + places[-1]) / 2
    wanted: list[float] = []
    for place in places:
        is_passed = any(abs(place - line) < BESIDE_MM for line in blocked)
        wanted.append(place + (math.copysign(BESIDE_MM, place - middle) if is_passed else 0.0))
    return spread_between(wanted, blocked, PITCH_MM, CLEAR_MM)


def _row(ordered: list[Reading], origin: Vec2, axis: Literal[0, 1], line_mm: float) -> list[Item]:
    zero = origin[axis]
    low, high = ordered[0].at[axis], ordered[-1].at[axis]
    items: list[Item] = [_line(axis, [(low, line_mm), (high, line_mm)])]
    items.append(Disc(center=_to(axis, zero, line_mm), radius_mm=ORIGIN_MM, layer="dimension"))
    for mark in ordered:
        place, start = mark.at[axis], mark.at[1 - axis]
        sign = 1.0 if line_mm > start else -1.0
        items.append(
            _line(axis, [(place, start + sign * GAP_MM), (place, line_mm + sign * BEYOND_MM)])
        )
        if place != zero:
            away = 1.0 if place > zero else -1.0
            items.append(Arrowhead(at=_to(axis, place, line_mm), direction=_to(axis, away, 0.0)))
    return items


def _text(
    text: str, axis: Literal[0, 1], place: float, start: float, outward: float, text_mm: float
) -> Words:
    middle = 0.36 * text_mm
    return Words(
        at=(place + middle, start) if axis == 0 else (start, place - middle),
        text=text,
        size_mm=text_mm,
        anchor="start" if outward > 0 else "end",
        angle_deg=90.0 if axis == 0 else 0.0,
        halo=True,
    )


def _line(axis: Literal[0, 1], points: list[Vec2]) -> Stroke:
    return Stroke(points=tuple(_to(axis, *point) for point in points), layer="dimension")


def _to(axis: Literal[0, 1], along: float, across: float) -> Vec2:
    return (along, across) if axis == 0 else (across, along)
