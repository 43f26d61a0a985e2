"""Holes and slots that go straight through a piece."""

import math

from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.frames import Plane
from generator.geometry.outlines import Outline, circle
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.edition import Direction, OpeningRule, PieceSpec
from generator.model.parts import Opening
from generator.parts.sides import Side, corner_at, outline_at
from generator.problems import ProblemLog
from generator.units import System, format_both


def cut_openings(
    spec: PieceSpec,
    sides: tuple[Side, ...],
    words: dict[str, Direction],
    thickness: float,
    system: System,
    log: ProblemLog,
) -> tuple[Opening, ...] | None:
    """Return the openings of a piece, or None where one runs out of the wood."""
    low, high = outline_at(sides, 0.0), outline_at(sides, thickness)
    assert low is not None
    assert high is not None
    wood = low.polygon().intersection(high.polygon())
    openings: list[Opening] = []
    for rule in spec.openings:
        opening = _opening(rule, sides, words, thickness)
        reach = _reach_outside(opening.outline.polygon(), wood)
        if reach > 0.0:
            by = format_both(reach, system)
            log.add("P104", rule.place, what=opening.name, piece=spec.name, by=by)
            return None
        if any(_is_touching(opening, other) for other in openings):
            log.add("P105", rule.place, what=opening.name, piece=spec.name)
            return None
        openings.append(opening)
    return tuple(openings)


def mirror_opening(opening: Opening) -> Opening:
    """Return the opening under x → -x."""
    return Opening(
        name=opening.name,
        center=(-opening.center[0], opening.center[1]),
        sizes_mm=opening.sizes_mm,
        along_x=opening.along_x,
        outline=opening.outline.mirrored_x(),
    )


def move_opening(opening: Opening, dx: float, dy: float) -> Opening:
    """Return the opening moved along the face."""
    return Opening(
        name=opening.name,
        center=(opening.center[0] + dx, opening.center[1] + dy),
        sizes_mm=opening.sizes_mm,
        along_x=opening.along_x,
        outline=opening.outline.moved(dx, dy),
    )


def _is_touching(first: Opening, second: Opening) -> bool:
    return first.outline.polygon().distance(second.outline.polygon()) < SAME_POINT_MM


def _reach_outside(shape: Polygon, wood: BaseGeometry) -> float:
    """Return how far a shape reaches out of the wood, in mm; 0 where wood is left all around."""
    if wood.contains(shape) and wood.boundary.distance(shape) >= SAME_POINT_MM:
        return 0.0
    corners = shape.exterior.coords
    return max(SAME_POINT_MM, *(wood.distance(Point(corner)) for corner in corners))


def _opening(
    rule: OpeningRule, sides: tuple[Side, ...], words: dict[str, Direction], thickness: float
) -> Opening:
    """Return an opening with its middle at the given distances from two edges (long points)."""
    by_name = {side.name: side for side in sides}
    first, second = (by_name[name] for name, _ in rule.distances)
    at = corner_at(
        _moved_in(first, rule.distances[0][1], thickness),
        _moved_in(second, rule.distances[1][1], thickness),
        0.0,
    )
    assert at is not None
    if len(rule.sizes_mm) == 1:
        return Opening(
            name="hole",
            center=at,
            sizes_mm=rule.sizes_mm,
            along_x=True,
            outline=circle(at, rule.sizes_mm[0]),
        )
    along_x = rule.along in {words["length+"], words["length-"]}
    return Opening(
        name="slot",
        center=at,
        sizes_mm=rule.sizes_mm,
        along_x=along_x,
        outline=_slot(at, rule.sizes_mm[0], rule.sizes_mm[1], along_x),
    )


def _moved_in(side: Side, distance_mm: float, thickness: float) -> Plane:
    """Return an upright plane the given distance inside the long point of a side."""
    normal = side.plane.normal
    level = math.hypot(normal[0], normal[1])
    flat = (normal[0] / level, normal[1] / level, 0.0)
    offsets = [(side.plane.offset - normal[2] * z) / level for z in (0.0, thickness)]
    return Plane(flat, max(offsets) - distance_mm)


def _slot(center: Vec2, length_mm: float, width_mm: float, along_x: bool) -> Outline:
    """Return a slot with round ends: length over all."""
    x, y = center
    half, radius = (length_mm - width_mm) / 2, width_mm / 2
    if along_x:
        points = ((x - half, y - radius), (x + half, y - radius), (x + half, y + radius),
                  (x - half, y + radius))  # fmt: skip
    else:
        points = ((x + radius, y - half), (x + radius, y + half), (x - radius, y + half),
                  (x - radius, y - half))  # fmt: skip
    return Outline(points, (0.0, 1.0, 0.0, 1.0))
