"""Holes, slots and cut-outs that go straight through a piece."""

import math
from dataclasses import replace

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
    measured: tuple[Side, ...],
    thickness: float,
    system: System,
    log: ProblemLog,
) -> tuple[Opening, ...] | None:
    """Return the openings of a piece, or None where one runs out of the wood.

    Args:
        spec: What was asked for.
        sides: As cut so far.
        measured: The four sides distances are told from.
        thickness: In mm.
        system: Of lengths in messages.
        log: Takes the problems.
    """
    words = dict(spec.words)
    low, high = outline_at(sides, 0.0), outline_at(sides, thickness)
    assert low is not None
    assert high is not None
    wood = low.polygon().intersection(high.polygon())
    openings: list[Opening] = []
    for rule in spec.openings:
        opening = _opening(rule, measured, words, thickness)
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


def from_edges(
    sides: tuple[Side, ...],
    distances: tuple[tuple[Direction, float], tuple[Direction, float]],
    thickness: float,
) -> Vec2:
    """Return the point at the given distances from two edges that meet (long points)."""
    by_name = {side.name: side for side in sides if side.kind in {"end", "edge"}}
    first, second = (_moved_in(by_name[name], away, thickness) for name, away in distances)
    at = corner_at(first, second, 0.0)
    assert at is not None
    return at


def mirror_opening(opening: Opening) -> Opening:
    """Return the opening under x → -x."""
    x, y = opening.center
    return replace(opening, center=(-x, y), outline=opening.outline.mirrored_x())


def move_opening(opening: Opening, dx: float, dy: float) -> Opening:
    """Return the opening moved along the face."""
    x, y = opening.center
    return replace(opening, center=(x + dx, y + dy), outline=opening.outline.moved(dx, dy))


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
    at = from_edges(sides, rule.distances, thickness)
    along_x = rule.kind == "hole" or rule.along in {words["length+"], words["length-"]}
    return Opening(
        name=rule.kind,
        center=at,
        sizes_mm=rule.sizes_mm,
        radius_mm=rule.radius_mm,
        along_x=along_x,
        outline=_outline(rule, at, along_x),
    )


def _outline(rule: OpeningRule, at: Vec2, along_x: bool) -> Outline:
    if rule.kind == "hole":
        return circle(at, rule.sizes_mm[0])
    if rule.kind == "slot":
        return _slot(at, rule.sizes_mm[0], rule.sizes_mm[1], along_x)
    length, width = rule.sizes_mm if along_x else (rule.sizes_mm[1], rule.sizes_mm[0])
    return _rectangle(at, length, width, rule.radius_mm)


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


def _rectangle(center: Vec2, along_x_mm: float, along_y_mm: float, radius_mm: float) -> Outline:
    """Return a rectangle, its corners rounded where the radius is not 0."""
    (x, y), dx, dy = center, along_x_mm / 2, along_y_mm / 2
    if not radius_mm:
        return Outline(((x - dx, y - dy), (x + dx, y - dy), (x + dx, y + dy), (x - dx, y + dy)))
    r = radius_mm
    points = ((x - dx + r, y - dy), (x + dx - r, y - dy), (x + dx, y - dy + r),
              (x + dx, y + dy - r), (x + dx - r, y + dy), (x - dx + r, y + dy),
              (x - dx, y + dy - r), (x - dx, y - dy + r))  # fmt: skip
    quarter = math.tan(math.pi / 8)
    return Outline(points, (0.0, quarter) * 4)
