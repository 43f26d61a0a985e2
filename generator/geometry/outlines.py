"""Closed plane outlines of straight lines and arcs."""

import math
from dataclasses import dataclass

from shapely.geometry import Polygon

from generator.geometry.tolerance import CHORD_MM
from generator.geometry.vectors import Vec2


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline, counter-clockwise, first point not repeated, in mm.

    Edge i runs from ``points[i]`` to the next point. ``bulges[i]`` is tan(angle / 4) of its arc,
    0 for a straight line, positive where the arc turns left (the outline swells outward).
    """

    points: tuple[Vec2, ...]
    bulges: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if not self.bulges:
            object.__setattr__(self, "bulges", (0.0,) * len(self.points))

    @property
    def area_mm2(self) -> float:
        """Exact area, arcs included."""
        return self.moments()[0]

    @property
    def centroid(self) -> Vec2:
        """Exact centre of the area, arcs included."""
        area, moment_x, moment_y = self.moments()
        return (moment_x / area, moment_y / area)

    def moments(self) -> tuple[float, float, float]:
        """Return area, and the integrals of x and of y over the area, arcs included."""
        area = moment_x = moment_y = 0.0
        for (x0, y0), (x1, y1), bulge in self.edges():
            doubled = x0 * y1 - x1 * y0
            area += doubled / 2
            moment_x += (x0 + x1) * doubled / 6
            moment_y += (y0 + y1) * doubled / 6
            if bulge:
                extra, at_x, at_y = _segment((x0, y0), (x1, y1), bulge)
                area += extra
                moment_x += extra * at_x
                moment_y += extra * at_y
        return area, moment_x, moment_y

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y, arcs included exactly."""
        points = [*self.points]
        for start, end, bulge in self.edges():
            points += _reach(start, end, bulge)
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        return (min(xs), min(ys), max(xs), max(ys))

    def edges(self) -> list[tuple[Vec2, Vec2, float]]:
        """Return start, end and bulge of every edge, in order."""
        ends = self.points[1:] + self.points[:1]
        return list(zip(self.points, ends, self.bulges, strict=True))

    def flattened(self, chord_mm: float = CHORD_MM) -> tuple[Vec2, ...]:
        """Return the outline as points, arcs replaced by chords that leave them by ``chord_mm``."""
        points: list[Vec2] = []
        for start, end, bulge in self.edges():
            points.append(start)
            points += arc_points(start, end, bulge, chord_mm)
        return tuple(points)

    def polygon(self, chord_mm: float = CHORD_MM) -> Polygon:
        """Return the flattened outline as a shapely polygon."""
        return Polygon(self.flattened(chord_mm))

    def moved(self, dx: float, dy: float) -> "Outline":
        """Return the outline moved."""
        return Outline(tuple((x + dx, y + dy) for x, y in self.points), self.bulges)

    def mirrored_x(self) -> "Outline":
        """Return the image under x → -x, still counter-clockwise, starting at the old last point.

        Edge i of the result is edge ``n - 2 - i`` of the original (cyclic).
        """
        points = tuple((-x, y) for x, y in reversed(self.points))
        bulges = tuple(reversed(self.bulges[:-1])) + self.bulges[-1:]
        return Outline(points, bulges)


def circle(center: Vec2, diameter_mm: float) -> Outline:
    """Return a circle as two half-circle arcs."""
    radius = diameter_mm / 2
    x, y = center
    return Outline(((x + radius, y), (x - radius, y)), (1.0, 1.0))


def edge_length(start: Vec2, end: Vec2, bulge: float) -> float:
    """Return the length of an edge in mm, along its arc where it has one."""
    if not bulge:
        return math.dist(start, end)
    _, radius, sweep = arc_of(start, end, bulge)
    return radius * abs(sweep)


def arc_points(start: Vec2, end: Vec2, bulge: float, chord_mm: float = CHORD_MM) -> list[Vec2]:
    """Return points strictly between the ends of an arc; none for a straight line."""
    if not bulge:
        return []
    center, radius, sweep = arc_of(start, end, bulge)
    step = 2 * math.acos(max(-1.0, 1 - min(chord_mm / radius, 1.0)))
    count = max(2, math.ceil(abs(sweep) / step))
    first = math.atan2(start[1] - center[1], start[0] - center[0])
    angles = [first + sweep * i / count for i in range(1, count)]
    return [(center[0] + radius * math.cos(a), center[1] + radius * math.sin(a)) for a in angles]


def arc_of(start: Vec2, end: Vec2, bulge: float) -> tuple[Vec2, float, float]:
    """Return centre, radius (mm) and sweep (radians, left turn positive) of an arc."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    shift = (1 - bulge * bulge) / (4 * bulge)
    center = ((start[0] + end[0]) / 2 - dy * shift, (start[1] + end[1]) / 2 + dx * shift)
    radius = math.hypot(dx, dy) * (1 + bulge * bulge) / (4 * abs(bulge))
    return center, radius, 4 * math.atan(bulge)


def _reach(start: Vec2, end: Vec2, bulge: float) -> list[Vec2]:
    """Return the points of an arc that reach farthest along an axis of those of its circle."""
    if not bulge:
        return []
    (x, y), radius, sweep = arc_of(start, end, bulge)
    first = math.atan2(start[1] - y, start[0] - x)
    ways = ((1, 0), (0, 1), (-1, 0), (0, -1))
    turned = [(dx, dy, math.atan2(dy, dx) - first) for dx, dy in ways]
    return [
        (x + dx * radius, y + dy * radius)
        for dx, dy, turn in turned
        if math.copysign(1.0, sweep) * turn % math.tau < abs(sweep)
    ]


def _segment(start: Vec2, end: Vec2, bulge: float) -> tuple[float, float, float]:
    """Return signed area and centre of the piece between an arc and its chord."""
    center, radius, sweep = arc_of(start, end, bulge)
    angle = abs(sweep)
    area = radius * radius * (angle - math.sin(angle)) / 2
    middle_x = (start[0] + end[0]) / 2 - center[0]
    middle_y = (start[1] + end[1]) / 2 - center[1]
    away = 4 * radius * math.sin(angle / 2) ** 3 / (3 * (angle - math.sin(angle)))
    length = math.hypot(middle_x, middle_y)
    if length > 1e-12 * radius:
        sign = 1.0 if angle <= math.pi else -1.0
        direction = (sign * middle_x / length, sign * middle_y / length)
    else:
        side = 1.0 if bulge > 0 else -1.0
        chord = math.hypot(end[0] - start[0], end[1] - start[1])
        direction = (side * (end[1] - start[1]) / chord, side * (start[0] - end[0]) / chord)
    signed = area if bulge > 0 else -area
    return signed, center[0] + direction[0] * away, center[1] + direction[1] * away
