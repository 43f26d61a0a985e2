"""The holes bored in a part as one face of it shows them; those in its edges are dashed."""

import math
from typing import Final

from generator.geometry.vectors import Vec2
from generator.model.joinery import BoredHole
from generator.model.work import Work
from generator.outputs.face_paper import FacePaper
from generator.outputs.panels import Box, bounds_of, grown
from generator.outputs.part_view import face_number
from generator.outputs.scene import Arrowhead, Disc, Item, Layer, Stroke

LEAST_RADIUS_MM: Final = 0.7
"""A hole drawn smaller than this could not be seen."""


def draw_holes(paper: FacePaper, work: Work) -> tuple[Item, ...]:
    """Return the holes bored from the face looked at, and those that come out on it, pale."""
    items: list[Item] = []
    for hole in work.holes:
        if _is_drawn(paper, hole):
            items += _draw_hole(paper, hole)
        elif hole.side < 0 and hole.depth_mm is None:
            radius = max(hole.diameter_mm / 2 * paper.scale, LEAST_RADIUS_MM)
            x, y = hole.at[0], hole.at[1]
            items.append(_ring(paper.point((x, y)), radius, "quiet"))
    # Rings on top of all crosses: in a close row no cross runs through its neighbour's hole.
    return tuple(sorted(items, key=lambda item: isinstance(item, Disc)))


def find_drawn(paper: FacePaper, work: Work) -> tuple[BoredHole, ...]:
    """Return the holes a view shows: those of its face, and on face A those in the edges too."""
    return tuple(hole for hole in work.holes if _is_drawn(paper, hole))


def hole_box(paper: FacePaper, hole: BoredHole) -> Box:
    """Return the box around a hole as drawn."""
    if hole.side >= 0 or hole.kind == "pocket":
        return grown(bounds_of(_draw_hole(paper, hole)), 0.3)
    x, y = paper.point((hole.at[0], hole.at[1]))
    reach = _cross_mm(*_radii(paper, hole))
    return grown((x - reach, y - reach, x + reach, y + reach), 0.3)


def _is_drawn(paper: FacePaper, hole: BoredHole) -> bool:
    if hole.side >= 0:
        return paper.view.face == "A"
    return hole.side == face_number(paper.view.face)


def _draw_hole(paper: FacePaper, hole: BoredHole) -> list[Item]:
    if hole.side >= 0:
        return _edge_bore(paper, hole)
    center = paper.point((hole.at[0], hole.at[1]))
    radius, sink = _radii(paper, hole)
    if hole.kind == "pocket":
        return _pocket(paper, hole, center, radius)
    items: list[Item] = [_ring(center, radius, "screw")]
    if sink > radius + 0.4:
        items.append(_ring(center, sink, "screw"))
    reach = _cross_mm(radius, sink)
    x, y = center
    items += [
        Stroke(points=((x - reach, y), (x + reach, y)), layer="dimension"),
        Stroke(points=((x, y - reach), (x, y + reach)), layer="dimension"),
    ]
    return items


def _radii(paper: FacePaper, hole: BoredHole) -> tuple[float, float]:
    """Return how large a hole and its countersink are drawn."""
    radius = max(hole.diameter_mm / 2 * paper.scale, LEAST_RADIUS_MM)
    return (radius, hole.countersink_mm / 2 * paper.scale)


def _cross_mm(radius: float, sink: float) -> float:
    """Return how far the cross of a hole reaches from its middle."""
    return max(radius, sink) + 1.2


def _edge_bore(paper: FacePaper, hole: BoredHole) -> list[Item]:
    """Return a bore in an edge as it lies in the wood: its walls, its bottom, its middle line."""
    x, y, _ = hole.at
    way_x, way_y, _ = hole.direction
    deep = 0.0 if hole.depth_mm is None else hole.depth_mm
    level = math.hypot(way_x, way_y)
    half = hole.diameter_mm / 2 / level
    side = (-way_y * half, way_x * half)
    end = (x + way_x * deep, y + way_y * deep)
    corners = (
        (x + side[0], y + side[1]),
        (end[0] + side[0], end[1] + side[1]),
        (end[0] - side[0], end[1] - side[1]),
        (x - side[0], y - side[1]),
    )
    beyond = hole.diameter_mm / 2
    tips = (
        (x - way_x * beyond, y - way_y * beyond),
        (end[0] + way_x * beyond, end[1] + way_y * beyond),
    )
    return [
        Stroke(points=tuple(paper.point(corner) for corner in corners), layer="hidden"),
        Stroke(points=tuple(paper.point(tip) for tip in tips), layer="center"),
    ]


def _pocket(paper: FacePaper, hole: BoredHole, center: Vec2, radius: float) -> list[Item]:
    """Return a pocket: a slot where the bit enters, an arrow the way the screw goes."""
    way = paper.view.direction((hole.direction[0], hole.direction[1]))
    size = math.hypot(*way)
    ux, uy = way[0] / size, way[1] / size
    half = max(hole.diameter_mm / 2 / abs(hole.direction[2]) * paper.scale, 2 * radius) - radius
    back, front = (
        (center[0] - ux * half, center[1] - uy * half),
        (
            center[0] + ux * half,
            center[1] + uy * half,
        ),
    )
    nx, ny = -uy * radius, ux * radius
    slot = (
        (back[0] - nx, back[1] - ny),
        (front[0] - nx, front[1] - ny),
        (front[0] + nx, front[1] + ny),
        (back[0] + nx, back[1] + ny),
    )
    reach = 3.0
    tip = (front[0] + ux * (radius + reach), front[1] + uy * (radius + reach))
    return [
        Stroke(points=slot, layer="screw", closed=True, bulges=(0.0, 1.0, 0.0, 1.0)),
        Stroke(points=(center, tip), layer="center"),
        Arrowhead(at=tip, direction=(ux, uy)),
    ]


def _ring(center: Vec2, radius: float, layer: Layer) -> Disc:
    return Disc(center=center, radius_mm=radius, layer=layer)
