"""What a router cuts around: the greatest outline of every part, seen on face A, and its room.

A part lies with face A up, as its own drawing shows it. Round it there must be the bit's whole
width to every other part, or more where more is asked for; so each outline is made larger by half
of that and may touch its neighbours.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from generator.cutting.blanks import may_turn
from generator.cutting.router_shapes import Shape, make_shape
from generator.geometry.outlines import Outline
from generator.geometry.tolerance import ROUTER_CHORD_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.cutting import RouterHole, RouterPlacement
from generator.model.parts import FACE_A, Part

MITRE_LIMIT = 5.0
"""A sharp corner, made larger, is cut off at five times the spacing; never nearer than it."""


@dataclass(frozen=True, slots=True)
class Routed:
    """A part for the router.

    Attributes:
        part: The part.
        outline: Its greatest outline, seen on face A, least x and y at 0.
        quarters: Quarter turns for every way it may lie.
        ways: Its spaced shape in each of them.
    """

    part: Part
    outline: Outline
    quarters: tuple[int, ...]
    ways: tuple[Shape, ...]


def make_routed(part: Part, apart_mm: float) -> Routed:
    """Return a part with all ways it may lie that differ, each with half the distance around it."""
    outline = _greatest_outline(part)
    chord = ROUTER_CHORD_MM if any(outline.bulges) else 0.0
    by = apart_mm / 2 + chord + SAME_POINT_MM / 2
    spaced = outline.polygon(ROUTER_CHORD_MM).buffer(
        by, join_style="mitre", mitre_limit=MITRE_LIMIT
    )
    quarters: list[int] = []
    ways: list[Shape] = []
    for turn in range(4) if may_turn(part) else (0, 2):
        shape = make_shape(Polygon(spaced.exterior), turn)
        if not any(_is_same(shape, other) for other in ways):
            quarters.append(turn)
            ways.append(shape)
    return Routed(part, outline, tuple(quarters), tuple(ways))


def needs_bevels(part: Part) -> bool:
    """Whether an edge leans, so that the router's square edge is sawn to its bevel afterwards."""
    return any(edge.tilt_deg > 0 for edge in part.edges)


def place_part(routed: Routed, copy: int, turn: int, corner: Vec2) -> RouterPlacement:
    """Return a copy of a part on a sheet, all its outlines in the sheet's place.

    Args:
        routed: The part.
        copy: Its number, from 1.
        turn: Place of its turn among the ways it may lie.
        corner: Where the least x and y of its spaced shape are.
    """
    part, shape, quarters = routed.part, routed.ways[turn], routed.quarters[turn]
    origin = (corner[0] + shape.shift[0], corner[1] + shape.shift[1])

    def laid(outline: Outline) -> Outline:
        points = tuple(_turned(point, quarters, origin) for point in outline.points)
        return Outline(points, outline.bulges)

    def spot(point: Vec2) -> Vec2:
        return _turned((point[0], part.width_mm - point[1]), quarters, origin)

    round_ones = [one for one in part.openings if one.name == "hole"]
    others = [one for one in part.openings if one.name != "hole"]
    piece = part.pieces[copy - 1]
    length = part.length_mm / 4
    middle = part.width_mm / 2
    return RouterPlacement(
        label=part.label,
        copy=copy,
        turn_deg=90.0 * quarters,
        outline=laid(routed.outline),
        openings=tuple(laid(_seen(one.outline, part.width_mm)) for one in others),
        holes=tuple(
            RouterHole(center=spot(one.center), diameter_mm=one.sizes_mm[0], depth_mm=None)
            for one in round_ones
        ),
        pin_holes=tuple(
            RouterHole(center=spot(pin.center), diameter_mm=pin.diameter_mm, depth_mm=pin.depth_mm)
            for pin in piece.pins
            if pin.side == FACE_A
        ),
        grain=(spot((length, middle)), spot((part.length_mm - length, middle))),
    )


def _greatest_outline(part: Part) -> Outline:
    """Return what covers both faces, seen on face A; arcs stay arcs where the faces are alike."""
    face_a, face_b = part.slab.face_a, part.slab.face_b
    pairs = zip(face_a.points, face_b.points, strict=True)
    if all(math.dist(one, other) <= SAME_POINT_MM for one, other in pairs):
        return _seen(face_a, part.width_mm)
    both = face_a.polygon().union(face_b.polygon())
    assert isinstance(both, Polygon), "the faces of a part lie over each other"
    both = orient(both)
    points: Sequence[Vec2] = [(x, y) for x, y in both.exterior.coords[:-1]]
    return _seen(Outline(tuple(points)), part.width_mm)


def _seen(outline: Outline, width_mm: float) -> Outline:
    """Return an outline as it is seen on face A, counter-clockwise."""
    points = tuple((x, width_mm - y) for x, y in reversed(outline.points))
    bulges = tuple(reversed(outline.bulges[:-1])) + outline.bulges[-1:]
    # Some readers work the ends of arcs out again, and an outline that begins or ends with one
    # does not close for them by the last bit: begin between two straight sides if there are any.
    count = range(len(points))
    first = next((i for i in count if not bulges[i - 1] and not bulges[i]), 0)
    return Outline(points[first:] + points[:first], bulges[first:] + bulges[:first])


def _turned(point: Vec2, quarters: int, origin: Vec2) -> Vec2:
    x, y = point
    for _ in range(quarters):
        x, y = -y, x
    return (x + origin[0], y + origin[1])


def _is_same(one: Shape, other: Shape) -> bool:
    if len(one.pieces) != len(other.pieces):
        return False
    sets = [
        sorted(tuple(sorted(map(tuple, piece.round(3).tolist()))) for piece in shape.pieces)
        for shape in (one, other)
    ]
    return sets[0] == sets[1]
