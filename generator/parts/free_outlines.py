"""Free outlines: points and arcs become sides, and what lies beside them is no wood.

+--------- bounds ---------+      A straight side on the bounds keeps the name of an end or an
|  outside    ____         |      edge, so that everything is measured from there. Any other
|        _.-''    ''-._    |      side is called by the numbers of its points. What the outline
|______.'              '.  |      leaves of its bounds counts as cut out, like a notch.
|        wood            |_|
"""

import math
from dataclasses import replace
from typing import Final

from shapely.geometry import LineString, Point, Polygon, box

from generator.geometry.frames import Plane
from generator.geometry.outlines import Outline, arc_of, arc_points
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.edition import Direction, PieceSpec
from generator.model.outline_points import OutlinePoint
from generator.model.parts import Recess
from generator.parts.sides import Side
from generator.problems import Place, ProblemLog
from generator.units import System, format_both

BEYOND_MM: Final = 100.0
"""Beside a bound with no straight side, so much outside it is known to be no wood either."""

BOUNDS: Final[tuple[tuple[str, int, int], ...]] = (
    ("width-", 1, -1),
    ("length+", 0, 1),
    ("width+", 1, 1),
    ("length-", 0, -1),
)
"""Each side of the bounds: its key, the axis it is square to, and the way it looks."""


def make_outline(spec: PieceSpec, system: System, log: ProblemLog) -> Outline | None:
    """Return the outline of a piece, counter-clockwise, or None where P113 was said."""
    points = tuple(point.at for point in spec.outline)
    bulges = _bulges(spec, system, log)
    if bulges is None:
        return None
    if len(points) < 3 and not (len(points) == 2 and any(bulges)):
        _report(spec, spec.place, "it needs three points, or two and an arc", log)
        return None
    for index, point in enumerate(spec.outline):
        if math.dist(point.at, points[index - 1]) < SAME_POINT_MM:
            why = f"point {index + 1} is at the place of the one before"
            _report(spec, point.place, why, log)
            return None
    outline = Outline(points, bulges)
    if not outline.polygon().is_valid:
        _report(spec, spec.place, "it crosses or touches itself", log)
        return None
    if outline.area_mm2 < 0:
        turned = points[::-1]
        outline = Outline(turned, tuple(-b for b in (*bulges[-2::-1], bulges[-1])))
    return outline


def outline_sides(spec: PieceSpec, outline: Outline, log: ProblemLog) -> tuple[Side, ...] | None:
    """Return the sides of an outline in order, or None where nothing can be measured (P113)."""
    words = dict(spec.words)
    sides = tuple(_side(outline, index, words) for index in range(len(outline.points)))
    if not {"end", "edge"} <= {side.kind for side in sides}:
        why = "it has no two straight sides along its length and its width to measure from"
        _report(spec, spec.place, why, log)
        return None
    return sides


def bounding_sides(spec: PieceSpec, outline: Outline) -> tuple[Side, ...]:
    """Return the four sides of the rectangle around an outline: openings are measured from them."""
    low_x, low_y, high_x, high_y = outline.bounds
    words = dict(spec.words)
    return tuple(
        Side(
            name=words[key],
            kind="end" if axis == 0 else "edge",
            plane=_bound_plane(axis, sign, ((low_x, high_x), (low_y, high_y))[axis]),
        )
        for key, axis, sign in BOUNDS
    )


def name_sides(sides: tuple[Side, ...]) -> tuple[Side, ...]:
    """Return sides with the free lines and arcs among them told by their points."""
    count = len(sides)
    return tuple(
        replace(side, name=f"point {i + 1} to {(i + 1) % count + 1}")
        if side.kind in {"line", "arc"}
        else side
        for i, side in enumerate(sides)
    )


def find_outsides(
    outline: Outline, sides: tuple[Side, ...]
) -> tuple[tuple[Side, ...], tuple[Recess, ...]]:
    """Return the sides with the number of what lies beside them, and what the bounds leave over.

    Where no straight side lies on a bound, what is beyond that bound is outside as well.
    """
    reach = [BEYOND_MM if _is_bare(outline, axis, sign) else 0.0 for _, axis, sign in BOUNDS]
    low_x, low_y, high_x, high_y = outline.bounds
    around = box(low_x - reach[3], low_y - reach[0], high_x + reach[1], high_y + reach[2])
    left = around.difference(outline.polygon()).normalize()
    rests = [
        piece
        for piece in getattr(left, "geoms", [left])
        if isinstance(piece, Polygon) and piece.area > SAME_POINT_MM
    ]
    numbered = tuple(
        side if side.kind in {"end", "edge"} else replace(side, recess=_beside(outline, i, rests))
        for i, side in enumerate(sides)
    )
    return numbered, tuple(
        Recess(
            kind="outline",
            name="free",
            sizes_mm=(rest.bounds[2] - rest.bounds[0], rest.bounds[3] - rest.bounds[1]),
            edges=(),
            outline=_ring(rest),
        )
        for rest in rests
    )


def _report(spec: PieceSpec, place: Place, why: str, log: ProblemLog) -> None:
    log.add("P113", place, piece=spec.name, why=why)


def _bulges(spec: PieceSpec, system: System, log: ProblemLog) -> tuple[float, ...] | None:
    """Return the bulge of the side that starts at each point, positive where it swells out."""
    points = spec.outline
    turn = 1.0 if _turns_left(tuple(point.at for point in points)) else -1.0
    bulges = []
    for index, start in enumerate(points):
        end = points[(index + 1) % len(points)]
        chord = math.dist(start.at, end.at)
        if end.radius_mm is not None and abs(end.radius_mm) < chord / 2 - SAME_POINT_MM:
            radius, half = (format_both(mm, system) for mm in (abs(end.radius_mm), chord / 2))
            why = f"an arc of radius {radius} is too small to reach its end; {half} is the least"
            _report(spec, end.place, why, log)
            return None
        bulges.append(_bulge(start.at, end, chord, turn))
    return tuple(bulges)


def _turns_left(points: tuple[Vec2, ...]) -> bool:
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) >= 0


def _bulge(start: Vec2, end: OutlinePoint, chord: float, turn: float) -> float:
    """Return tan(angle / 4) of the arc to a point: rise over half the chord."""
    if chord < SAME_POINT_MM:
        return 0.0
    if end.rise_mm is not None:
        return turn * 2 * end.rise_mm / chord
    if end.radius_mm is not None:
        radius = max(abs(end.radius_mm), chord / 2)
        rise = radius - math.sqrt(max(radius * radius - chord * chord / 4, 0.0))
        return turn * math.copysign(2 * rise / chord, end.radius_mm)
    if end.through is None:
        return 0.0
    return _bulge_through(start, end.through, end.at)


def _bulge_through(start: Vec2, middle: Vec2, end: Vec2) -> float:
    """Return tan(angle / 4) of the arc through three points; 0 where they are in line.

    The angle at the middle point stands over half of what the arc leaves of its circle.
    """
    a, b = (start[0] - middle[0], start[1] - middle[1]), (end[0] - middle[0], end[1] - middle[1])
    cross, dot = a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]
    if abs(cross) < SAME_POINT_MM * SAME_POINT_MM:
        return 0.0
    inscribed = math.atan2(abs(cross), dot)
    return math.copysign(math.tan((math.pi - inscribed) / 2), -cross)


def _side(outline: Outline, index: int, words: dict[str, Direction]) -> Side:
    start, end, bulge = outline.edges()[index]
    length = math.dist(start, end)
    normal = ((end[1] - start[1]) / length, (start[0] - end[0]) / length, 0.0)
    plane = Plane(normal, normal[0] * start[0] + normal[1] * start[1])
    if bulge:
        _, radius, _ = arc_of(start, end, bulge)
        return Side(name="", kind="arc", plane=plane, radius_mm=radius, bulge=bulge, start=start)
    for key, axis, sign in BOUNDS:
        bound = outline.bounds[axis if sign < 0 else axis + 2]
        if max(abs(start[axis] - bound), abs(end[axis] - bound)) < SAME_POINT_MM:
            kind, square = ("end", "edge")[axis], _bound_plane(axis, sign, (bound, bound))
            return Side(
                name=words[key],
                kind="end" if kind == "end" else "edge",
                plane=square,
                start=start,
            )
    return Side(name="", kind="line", plane=plane, start=start)


def _bound_plane(axis: int, sign: int, span: tuple[float, float]) -> Plane:
    normal = (float(sign), 0.0, 0.0) if axis == 0 else (0.0, float(sign), 0.0)
    return Plane(normal, sign * span[0 if sign < 0 else 1])


def _is_bare(outline: Outline, axis: int, sign: int) -> bool:
    """Whether no straight side lies on a bound."""
    bound = outline.bounds[axis if sign < 0 else axis + 2]
    return not any(
        not bulge and max(abs(a[axis] - bound), abs(b[axis] - bound)) < SAME_POINT_MM
        for a, b, bulge in outline.edges()
    )


def _beside(outline: Outline, index: int, rests: list[Polygon]) -> int:
    """Return which of the rests a side runs along: the one nearest to its middle."""
    start, end, bulge = outline.edges()[index]
    line = LineString([start, *arc_points(start, end, bulge), end])
    middle: Point = line.interpolate(0.5, normalized=True)
    return min(range(len(rests)), key=lambda i: (rests[i].distance(middle), i), default=-1)


def _ring(rest: Polygon) -> Outline:
    points = [(float(x), float(y)) for x, y in rest.exterior.coords[:-1]]
    outline = Outline(tuple(points))
    return outline if outline.area_mm2 > 0 else Outline(tuple(points[::-1]))
