"""A part of a picture enlarged in a circle, where something would be too small on paper."""

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import LineString, Point, Polygon

from generator.geometry.projection import Floats
from generator.geometry.vectors import Vec2
from generator.outputs.bodies import Box, rings_of
from generator.outputs.scene import Area, Disc, Item, Stroke

Shapes = npt.NDArray[np.object_]

RADIUS_MM: Final = 16.0
"""Of the circle on paper."""
ROOM_MM: Final = 1.5
"""Between the circle and whatever else is there."""
STEP_MM: Final = 2.0
"""How far apart places for the circle are tried."""


def find_place(away_from_taken: Callable[[Floats], Floats], within: Box, near: Vec2) -> Vec2 | None:
    """Return the free middle for a circle that is nearest to a point; None where there is none.

    Args:
        away_from_taken: Tells how far points are from what is taken.
        within: All of the circle must lie there.
        near: The point.
    """
    reach = RADIUS_MM + ROOM_MM
    xs = _steps(within.left + reach, within.right - reach)
    ys = _steps(within.low + reach, within.high - reach)
    columns, rows = np.meshgrid(xs, ys, indexing="ij")
    x, y = columns.ravel(), rows.ravel()
    order = np.lexsort((y, x, np.hypot(x - near[0], y - near[1]).round(2)))
    x, y = x[order], y[order]
    while len(x):
        middle = (float(x[0]), float(y[0]))
        free = float(away_from_taken(np.array([middle]))[0])
        if free >= reach:
            return middle
        # What is so near to a place has no more room than that place and the way to it.
        across, up = x - middle[0], y - middle[1]
        left = across * across + up * up >= max(reach - free, STEP_MM / 2) ** 2
        x, y = x[left], y[left]
    return None


def has_place(away_from_taken: Callable[[Floats], Floats], middle: Vec2) -> bool:
    """Return whether the circle around a middle is free."""
    return float(away_from_taken(np.array([middle]))[0]) >= RADIUS_MM + ROOM_MM


def draw_enlarged(
    items: Iterable[Item], focus: Vec2, times: float, middle: Vec2, extra: Sequence[Item]
) -> list[Item]:
    """Return a circle with what lies around a point, enlarged, and what it shows in the picture.

    Args:
        items: Of the picture: areas and straight strokes are shown, the rest is not.
        focus: The point that comes into the middle.
        times: How often larger.
        middle: Of the circle.
        extra: More items, already in their place in the circle; cut off at its border.
    """
    small = RADIUS_MM / times
    near = [
        item
        for item in items
        if isinstance(item, Area | Stroke) and _comes_near(item, focus, small)
    ]
    shown = _clipped([*(_enlarged(item, focus, times, middle) for item in near), *extra], middle)
    return [
        *_link(focus, small, middle),
        Disc(center=focus, radius_mm=small, layer="leader"),
        Disc(center=middle, radius_mm=RADIUS_MM, tone="bubble"),
        *shown,
        Disc(center=middle, radius_mm=RADIUS_MM, layer="leader"),
    ]


def _comes_near(item: Area | Stroke, focus: Vec2, reach: float) -> bool:
    """Whether a box around an item comes as near to a point as that."""
    xs, ys = zip(*(item.rings[0] if isinstance(item, Area) else item.points), strict=True)
    x, y = focus
    return bool(
        min(xs) <= x + reach
        and max(xs) >= x - reach
        and min(ys) <= y + reach
        and max(ys) >= y - reach
    )


def _steps(low: float, high: float) -> list[float]:
    count = int((high - low) / STEP_MM) + 1 if high >= low else 0
    return [low + i * STEP_MM for i in range(count)]


def _link(focus: Vec2, small: float, middle: Vec2) -> list[Item]:
    """Return the line between the small circle and the large one."""
    away = math.dist(focus, middle)
    if away <= small + RADIUS_MM:
        return []
    way = ((middle[0] - focus[0]) / away, (middle[1] - focus[1]) / away)
    start = (focus[0] + way[0] * small, focus[1] + way[1] * small)
    end = (middle[0] - way[0] * RADIUS_MM, middle[1] - way[1] * RADIUS_MM)
    return [Stroke(points=(start, end), layer="leader")]


def _enlarged(item: Area | Stroke, focus: Vec2, times: float, middle: Vec2) -> Item:
    def moved(point: Vec2) -> Vec2:
        return (
            middle[0] + (point[0] - focus[0]) * times,
            middle[1] + (point[1] - focus[1]) * times,
        )

    match item:
        case Area():
            rings = tuple(tuple(moved(point) for point in ring) for ring in item.rings)
            return Area(rings=rings, tone=item.tone)
        case Stroke():
            points = tuple(moved(point) for point in item.points)
            return Stroke(points=points, layer=item.layer, closed=item.closed)


def _clipped(items: Sequence[Item], middle: Vec2) -> list[Item]:
    """Return what of some items lies in the circle, all cut off at once."""
    disc = Point(middle).buffer(RADIUS_MM, quad_segs=16)
    shapes = shapely.intersection(_shapes(items), disc)
    parts, rows = shapely.get_parts(shapes, return_index=True)
    found: list[Item] = []
    for part, row in zip(parts.tolist(), rows.tolist(), strict=True):
        match items[row]:
            case Area() as area if isinstance(part, Polygon) and part.area > 0.01:
                found += [Area(rings=rings, tone=area.tone) for rings in rings_of([part])]
            case Stroke() as stroke if isinstance(part, LineString) and part.length > 0.05:
                found.append(Stroke(points=_points(part), layer=stroke.layer))
            case Disc() as dot if not part.is_empty:
                found.append(dot)
    return found


def _shapes(items: Sequence[Item]) -> Shapes:
    """Return every item as a shape on paper; what is not shown enlarged as none."""
    shapes: Shapes = np.full(len(items), None, dtype=np.object_)
    strokes = [(row, item) for row, item in enumerate(items) if isinstance(item, Stroke)]
    lines = [item.points + (item.points[:1] if item.closed else ()) for _, item in strokes]
    points = np.array([point for line in lines for point in line]).reshape(-1, 2)
    numbers = np.repeat(np.arange(len(lines)), [len(line) for line in lines])
    shapes[[row for row, _ in strokes]] = shapely.linestrings(points, indices=numbers)
    for row, item in enumerate(items):
        match item:
            case Area():
                shapes[row] = Polygon(item.rings[0], item.rings[1:])
            case Disc():
                shapes[row] = Point(item.center)
    return shapes


def _points(line: LineString) -> tuple[Vec2, ...]:
    return tuple((float(x), float(y)) for x, y in line.coords)
