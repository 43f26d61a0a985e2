"""Rows of blind holes for shelf pins: where they are, and whether there is wood for them."""

import itertools
import math
from dataclasses import replace
from typing import Final

from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from generator.geometry.rods import Body
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.edition import OPPOSITE, Direction, PieceSpec, PinRule
from generator.model.parts import FACE_A, FACE_B, PinHole
from generator.parts.openings import from_edges
from generator.parts.sides import Side
from generator.problems import ProblemLog
from generator.units import System, format_both

LEFT_BEHIND_MM: Final = 3.0
"""Wood behind the bottom of a blind hole: the point of the bit goes deeper than the hole (1/8 in,
common practice, no source)."""

WAYS: Final = {
    "length+": (1.0, 0.0),
    "length-": (-1.0, 0.0),
    "width+": (0.0, 1.0),
    "width-": (0.0, -1.0),
}
MOST_PINS: Final = 200
"""In one row."""


def place_pins(
    spec: PieceSpec,
    sides: tuple[Side, ...],
    thickness: float,
    system: System,
    log: ProblemLog,
) -> tuple[PinHole, ...] | None:
    """Return the pin holes of a piece, measured from its four sides; None where P111 was said.

    Rows in the inside or the outside are put into face A until `settle_pins` knows better.
    """
    holes: list[PinHole] = []
    words = dict(spec.words)
    for number, rule in enumerate(spec.pins):
        start = from_edges(sides, rule.distances, thickness)
        way = next(WAYS[key] for key, name in words.items() if name == rule.along)
        count = rule.count
        if count is None:
            count = _count_that_fits(spec, sides, rule, (start, way), thickness, system, log)
        if count is None:
            return None
        side = FACE_B if rule.face == words["through+"] else FACE_A
        holes += [
            PinHole(
                row=number,
                center=(
                    start[0] + way[0] * rule.pitch_mm * i,
                    start[1] + way[1] * rule.pitch_mm * i,
                ),
                side=side,
                diameter_mm=rule.hole_mm,
                depth_mm=rule.deep_mm,
            )
            for i in range(count)
        ]
    return tuple(holes)


def settle_pins(
    pins: tuple[PinHole, ...], rules: tuple[PinRule, ...], outside: int
) -> tuple[PinHole, ...]:
    """Return the holes with those in the inside or the outside in the face that looks there."""
    inside = FACE_A if outside == FACE_B else FACE_B
    faces = {"outside": outside, "inside": inside}
    return tuple(replace(pin, side=faces.get(rules[pin.row].face, pin.side)) for pin in pins)


def mirror_pin(pin: PinHole) -> PinHole:
    """Return the hole under x → -x."""
    return replace(pin, center=(-pin.center[0], pin.center[1]))


def move_pin(pin: PinHole, dx: float, dy: float) -> PinHole:
    """Return the hole moved along the face."""
    return replace(pin, center=(pin.center[0] + dx, pin.center[1] + dy))


def check_pins(
    spec: PieceSpec, slab: Body, pins: tuple[PinHole, ...], system: System, log: ProblemLog
) -> None:
    """Report each row whose holes are too deep, too near an edge, or meet another hole (P111)."""
    for number, rule in enumerate(spec.pins):
        row = [pin for pin in pins if pin.row == number]
        why = _find_depth_fault(slab, rule, system) or _find_edge_fault(slab, row, system)
        why = why or _find_crowding(row, pins, slab.thickness_mm, system)
        if why is not None:
            log.add("P111", rule.place, piece=spec.name, why=why)


def _count_that_fits(
    spec: PieceSpec,
    sides: tuple[Side, ...],
    rule: PinRule,
    first: tuple[Vec2, Vec2],
    thickness: float,
    system: System,
    log: ProblemLog,
) -> int | None:
    """Return how many holes fit between the first one and the edge the row runs to."""
    before = dict(rule.distances).get(OPPOSITE[rule.along])
    if before is None:
        way = {"top": "up", "bottom": "down"}.get(rule.along, rule.along)
        why = f"it runs {way}, but its first hole is measured from the {rule.along} edge"
        hint = f"measure from the {OPPOSITE[rule.along]} edge, or give a `count`"
        log.add("P111", rule.place, piece=spec.name, why=why, hint=hint)
        return None
    room = _room_ahead(sides, rule.along, first, thickness)
    leave = before if rule.leave_mm is None else rule.leave_mm
    count = math.floor((room - leave) / rule.pitch_mm + SAME_POINT_MM) + 1
    if 1 <= count <= MOST_PINS:
        return count
    shown = format_both(room, system)
    why = f"no hole fits: there are {shown} from the first hole to the edge"
    if count > 1:
        why = f"{count} holes fit, and a row has at most {MOST_PINS}"
    log.add("P111", rule.place, piece=spec.name, why=why)
    return None


def _room_ahead(
    sides: tuple[Side, ...], along: Direction, first: tuple[Vec2, Vec2], thickness: float
) -> float:
    """Return how far it is from the first hole to the edge ahead, on the face with less wood."""
    (x, y), (dx, dy) = first
    plane = next(s.plane for s in sides if s.name == along and s.kind in {"end", "edge"})
    nx, ny, nz = plane.normal
    return min(
        (plane.offset - nz * z - nx * x - ny * y) / (nx * dx + ny * dy) for z in (0.0, thickness)
    )


def _find_depth_fault(slab: Body, rule: PinRule, system: System) -> str | None:
    left = slab.thickness_mm - rule.deep_mm
    if left >= LEFT_BEHIND_MM - SAME_POINT_MM:
        return None
    deep, thick = format_both(rule.deep_mm, system), format_both(slab.thickness_mm, system)
    least = format_both(LEFT_BEHIND_MM, system)
    return f"its holes are {deep} deep in {thick} of wood; {least} must be left behind them"


def _find_edge_fault(slab: Body, row: list[PinHole], system: System) -> str | None:
    """Return which hole has less wood beside it than it is wide, towards an edge or an opening."""
    wood = _wood_around(slab, row[0])
    for number, pin in enumerate(row, 1):
        center = Point(pin.center)
        away = wood.boundary.distance(center) - pin.diameter_mm / 2
        needed = format_both(pin.diameter_mm, system)
        if not wood.contains(center):
            return f"hole {number} of {len(row)} is not in the wood"
        if away < pin.diameter_mm - SAME_POINT_MM:
            if away < SAME_POINT_MM:
                return f"hole {number} of {len(row)} runs out of the wood"
            near = f"hole {number} of {len(row)} comes within {format_both(away, system)}"
            near += " of an edge, an opening or a channel"
            return f"{near}; {needed} is needed, as much as it is wide"
    return None


def _wood_around(slab: Body, pin: PinHole) -> BaseGeometry:
    """Return where there is wood all the way from the face to behind the bottom of a hole."""
    surface = 0.0 if pin.side == FACE_A else slab.thickness_mm
    bottom = pin.depth_mm if pin.side == FACE_A else slab.thickness_mm - pin.depth_mm
    wood: BaseGeometry = (
        slab.section(surface).polygon().intersection(slab.section(bottom).polygon())
    )
    for hole in slab.holes:
        wood = wood.difference(hole.polygon())
    low, high = min(surface, bottom) - LEFT_BEHIND_MM, max(surface, bottom) + LEFT_BEHIND_MM
    for channel in slab.channels:
        least, most = channel.levels(slab.thickness_mm)
        if least < high - SAME_POINT_MM and most > low + SAME_POINT_MM:
            wood = wood.difference(channel.outline.polygon())
    return wood


def _find_crowding(
    row: list[PinHole], pins: tuple[PinHole, ...], thickness: float, system: System
) -> str | None:
    """Return which holes stand too close, or meet inside the wood from both faces."""
    pairs = itertools.chain(
        itertools.combinations(row, 2),
        itertools.product(row, (pin for pin in pins if pin.row < row[0].row)),
    )
    for pin, other in pairs:
        reach = (pin.diameter_mm + other.diameter_mm) / 2
        between = math.dist(pin.center, other.center) - reach
        if pin.side == other.side and between < pin.diameter_mm - SAME_POINT_MM:
            left = format_both(max(between, 0.0), system)
            needed = format_both(pin.diameter_mm, system)
            return f"two of its holes, or one and another row's, leave {left} between them; " + (
                f"{needed} is needed, as much as they are wide"
            )
        depth = pin.depth_mm + other.depth_mm
        if pin.side != other.side and between < 0 and depth > thickness - SAME_POINT_MM:
            both, thick = format_both(depth, system), format_both(thickness, system)
            return f"its holes meet those from the other face: {both} deep together in {thick}"
    return None
