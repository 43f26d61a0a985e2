"""Dimensions: extension lines, a line with two arrowheads, and a text that needs no turning.

        |<---- 34 1/2 ---->|           |   |
        |                  |        -->|   |<-- 3/4
    ____|__________________|____   ____|___|____

Source: ISO 129-1, as excerpted: the text stands above its line, read from the bottom of the sheet,
upright texts from the right; each size is given once. Gaps and lengths of the small lines are
common practice, no source.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final, Literal

from generator.geometry.vectors import Vec2
from generator.outputs.scene import SMALLEST_TEXT_MM, Anchor, Arrowhead, Item, Stroke, Words
from generator.outputs.text_width import text_width_mm

Side = Literal["above", "below", "left", "right"]
End = Literal["start", "end"]
Room = Literal["all", "text", "none"]

ARROW_MM: Final = 2.5
"""Room for one arrowhead along its line."""
GAP_MM: Final = 1.0
"""Free space between what is measured and its extension line."""
BEYOND_MM: Final = 1.6
"""How far an extension line runs past the dimension line."""
TEXT_GAP_MM: Final = 0.9
"""Free space between a line and the text above it."""
FIRST_MM: Final = 7.0
"""From the drawn part to the nearest dimension line."""
SHELF_MM: Final = 2.0
"""The level end of a leader, before its text."""
LANE_MM: Final = 6.4
"""From one dimension line to the next."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """What is measured, on paper in mm, and the text that says how long it really is.

    Attributes:
        beside: Past which end the text goes where there is no room for it between them.
    """

    start: Vec2
    end: Vec2
    text: str
    beside: End = "end"


@dataclass(frozen=True, slots=True)
class Stack:
    """Dimensions side by side, and how far from the part they reach (an x or a y)."""

    items: tuple[Item, ...]
    reach_mm: float


def draw_dimension(
    start: Vec2,
    end: Vec2,
    offset_mm: float,
    text: str,
    *,
    along: Vec2 | None = None,
    beside: End = "end",
    text_mm: float = SMALLEST_TEXT_MM,
    to_scale: bool = True,
) -> tuple[Item, ...]:
    """Return a linear dimension.

    Args:
        start: First point that is measured.
        end: Second point; it lies ahead of ``start`` along the dimension line.
        offset_mm: From ``start`` to the dimension line, to the left of its direction.
        text: The true size.
        along: Direction of the dimension line, length 1; from start to end where not given.
        beside: Past which end the text goes where there is no room for it between them.
        text_mm: Height of the type.
        to_scale: Whether what is measured is drawn to scale.
    """
    length = math.dist(start, end)
    way = along or ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    left = (-way[1], way[0])
    space = _dot(_minus(end, start), way)
    far = offset_mm - _dot(_minus(end, start), left)
    first, last = _plus(start, left, offset_mm), _plus(end, left, far)
    width = text_width_mm(text, text_mm)
    room = _room(space, width)
    extensions = [_extension(start, left, offset_mm), _extension(end, left, far)]
    lines = [line for line in extensions if line is not None]
    return (
        *lines,
        *_arrows(first, last, way, room, width if beside == "end" else -width),
        replace(
            _text(Dimension(first, last, text, beside), way, room, text_mm),
            span=(first, last) if to_scale else None,
        ),
    )


def stack_dimensions(
    dimensions: Iterable[Dimension],
    side: Side,
    clear_at_mm: float,
    *,
    first_mm: float = FIRST_MM,
    text_mm: float = SMALLEST_TEXT_MM,
) -> Stack:
    """Return dimensions on one side of a part, the shortest nearest to it, none on another.

    Those that leave each other free share a line, so that neighbours form a chain.

    Args:
        dimensions: Horizontal ones for above and below, upright ones for left and right.
        side: Where the lines go.
        clear_at_mm: The y (above, below) or x (left, right) that the part reaches to.
        first_mm: From there to the nearest line.
        text_mm: Height of the type.
    """
    axis: Literal[0, 1] = 0 if side in {"above", "below"} else 1
    outward = 1.0 if side in {"above", "right"} else -1.0
    placed = _lanes(_ahead(dimensions, axis), axis, text_mm)
    strokes: list[Item] = []
    words: list[Item] = []
    reach = clear_at_mm
    for dimension, lane in placed:
        line = clear_at_mm + outward * (first_mm + lane * LANE_MM)
        for item in _at(dimension, line, axis, text_mm):
            (words if isinstance(item, Words) else strokes).append(item)
        above = outward if axis == 0 else -outward
        beyond = BEYOND_MM if above < 0 else TEXT_GAP_MM + text_mm
        reach = outward * max(outward * reach, outward * line + beyond)
    return Stack((*strokes, *words), reach)


def draw_leader(
    at: Vec2, elbow: Vec2, text: str, *, text_mm: float = SMALLEST_TEXT_MM
) -> tuple[Item, ...]:
    """Return an arrow to ``at`` from a text that stands beside ``elbow``, away from ``at``."""
    shelf = (elbow[0] + (SHELF_MM if elbow[0] >= at[0] else -SHELF_MM), elbow[1])
    length = math.dist(at, elbow)
    toward = ((at[0] - elbow[0]) / length, (at[1] - elbow[1]) / length)
    return (
        Stroke(points=(at, elbow, shelf), layer="leader"),
        Arrowhead(at=at, direction=toward, layer="leader"),
        leader_words(at, elbow, text, text_mm=text_mm),
    )


def leader_words(at: Vec2, elbow: Vec2, text: str, *, text_mm: float = SMALLEST_TEXT_MM) -> Words:
    """Return the text at the end of a leader to ``at``, beside its ``elbow``."""
    rightward = elbow[0] >= at[0]
    away = SHELF_MM + 0.8 if rightward else -SHELF_MM - 0.8
    return Words(
        at=(elbow[0] + away, elbow[1] - text_mm * 0.36),
        text=text,
        size_mm=text_mm,
        anchor="start" if rightward else "end",
        halo=True,
    )


def draw_angle(center: Vec2, radius_mm: float, from_deg: float, to_deg: float) -> tuple[Item, ...]:
    """Return an arc with an arrowhead at each end, turning left from one direction to the other."""
    sweep = math.radians(to_deg - from_deg)
    start = _plus(center, _direction(from_deg), radius_mm)
    end = _plus(center, _direction(to_deg), radius_mm)
    arc = Stroke(points=(start, end), layer="dimension", bulges=(math.tan(sweep / 4), 0.0))
    if radius_mm * sweep < 2 * ARROW_MM:
        return (arc,)
    return (
        arc,
        Arrowhead(at=start, direction=_direction(from_deg - 90)),
        Arrowhead(at=end, direction=_direction(to_deg + 90)),
    )


def dimension_span(
    dimension: Dimension, axis: Literal[0, 1], text_mm: float = SMALLEST_TEXT_MM
) -> tuple[float, float]:
    """Return what a dimension takes up along its line, arrows and text included."""
    low, high = dimension.start[axis], dimension.end[axis]
    width = text_width_mm(dimension.text, text_mm)
    room = _room(high - low, width)
    if room == "all":
        return (low, high)
    arrow, words = 2 * ARROW_MM, ARROW_MM + 1.5 + width
    if room == "text":
        return (low - arrow, high + arrow)
    if dimension.beside == "end":
        return (low - arrow, high + words)
    return (low - words, high + arrow)


def _room(space_mm: float, width_mm: float) -> Room:
    """What fits between the extension lines: arrows and text, the text alone, or neither."""
    if space_mm >= width_mm + 2 * ARROW_MM:
        return "all"
    return "text" if space_mm >= width_mm + 1.5 else "none"


def _extension(point: Vec2, left: Vec2, offset_mm: float) -> Stroke | None:
    """Return an extension line from near a point past the dimension line; none if too near."""
    if abs(offset_mm) <= GAP_MM:
        return None
    sign = math.copysign(1.0, offset_mm)
    near, beyond = sign * GAP_MM, offset_mm + sign * BEYOND_MM
    points = (_plus(point, left, near), _plus(point, left, beyond))
    return Stroke(points=points, layer="dimension")


def _arrows(first: Vec2, last: Vec2, way: Vec2, room: Room, beside_mm: float) -> list[Item]:
    """Return line and arrowheads; ``beside_mm`` is the text's width, negative before the start."""
    back = (-way[0], -way[1])
    if room == "all":
        return [
            Stroke(points=(first, last), layer="dimension"),
            Arrowhead(at=first, direction=back),
            Arrowhead(at=last, direction=way),
        ]
    arrow, words = 2 * ARROW_MM, ARROW_MM + 1.5 + abs(beside_mm)
    before = words if room == "none" and beside_mm < 0 else arrow
    after = words if room == "none" and beside_mm > 0 else arrow
    return [
        Stroke(points=(_plus(first, back, before), _plus(last, way, after)), layer="dimension"),
        Arrowhead(at=first, direction=way),
        Arrowhead(at=last, direction=back),
    ]


def _text(line: Dimension, way: Vec2, room: Room, text_mm: float) -> Words:
    """Return the text above its line, turned so that it reads from the bottom or the right."""
    angle = math.degrees(math.atan2(way[1], way[0]))
    is_turned = angle > 90.01 or angle <= -89.99
    if is_turned:
        angle += 180 if angle <= 0 else -180
    anchor: Anchor = "middle"
    base = ((line.start[0] + line.end[0]) / 2, (line.start[1] + line.end[1]) / 2)
    if room == "none":
        at_end = line.beside == "end"
        anchor = "start" if at_end != is_turned else "end"
        base = (
            _plus(line.end, way, ARROW_MM + 1) if at_end else _plus(line.start, way, -ARROW_MM - 1)
        )
    return Words(
        at=_plus(base, _direction(angle + 90), TEXT_GAP_MM),
        text=line.text,
        size_mm=text_mm,
        anchor=anchor,
        angle_deg=round(angle, 3),
        halo=True,
    )


def _ahead(dimensions: Iterable[Dimension], axis: Literal[0, 1]) -> list[Dimension]:
    """Return them with start before end, texts beside where the fewest other lines pass."""
    ordered = [
        one if one.start[axis] <= one.end[axis] else Dimension(one.end, one.start, one.text)
        for one in dimensions
    ]
    ends = sorted({point[axis] for one in ordered for point in (one.start, one.end)})
    return [_freer(one, ends, axis) for one in ordered]


def _freer(dimension: Dimension, ends: list[float], axis: Literal[0, 1]) -> Dimension:
    """Return the dimension with its text beside the end that has more room, outside if it can."""
    before = Dimension(dimension.start, dimension.end, dimension.text, "start")
    crossed = []
    for one in (dimension, before):
        low, high = dimension_span(one, axis)
        crossed.append(sum(1 for end in ends if low - 1 < end < high + 1))
    is_first = ends[0] == dimension.start[axis] and dimension.end[axis] < ends[-1]
    return before if crossed[1] < crossed[0] + is_first else dimension


def _lanes(
    dimensions: list[Dimension], axis: Literal[0, 1], text_mm: float
) -> list[tuple[Dimension, int]]:
    """Return each dimension with the number of its line, 0 nearest to the part."""

    def rank(one: Dimension) -> tuple[float, float]:
        return (round(one.end[axis] - one.start[axis], 3), one.start[axis])

    placed: list[tuple[Dimension, int]] = []
    for dimension in sorted(dimensions, key=rank):
        span = dimension_span(dimension, axis, text_mm)
        taken = [
            lane for other, lane in placed if _overlap(span, dimension_span(other, axis, text_mm))
        ]
        placed.append((dimension, max(taken) + 1 if taken else 0))
    return placed


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[1] - 0.01 and other[0] < one[1] - 0.01


def _at(dimension: Dimension, line_mm: float, axis: int, text_mm: float) -> tuple[Item, ...]:
    """Return a dimension whose line is at a y (axis 0) or an x (axis 1)."""
    start, end = dimension.start, dimension.end
    offset = line_mm - start[1] if axis == 0 else start[0] - line_mm
    along = (1.0, 0.0) if axis == 0 else (0.0, 1.0)
    return draw_dimension(
        start,
        end,
        offset,
        dimension.text,
        along=along,
        beside=dimension.beside,
        text_mm=text_mm,
    )


def _direction(angle_deg: float) -> Vec2:
    angle = math.radians(angle_deg)
    return (math.cos(angle), math.sin(angle))


def _plus(point: Vec2, way: Vec2, distance: float) -> Vec2:
    return (point[0] + way[0] * distance, point[1] + way[1] * distance)


def _minus(a: Vec2, b: Vec2) -> Vec2:
    return (a[0] - b[0], a[1] - b[1])


def _dot(a: Vec2, b: Vec2) -> float:
    return a[0] * b[0] + a[1] * b[1]
