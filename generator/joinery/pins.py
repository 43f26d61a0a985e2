"""Shelf pins: the holes they stand in, and what lies on them.

       shelf                     A shelf lies on a pin where its underside is no lower than the
-----------------+  gap | side   middle of the pin's hole and no higher than a pin is thick,
  underside      |      |        and its edge is near enough for the pin to reach under it.
--------------------o===|        Bare pins carry at their upper side, pins with a flat at its
                  pin   |        underside: both stand between these limits.
"""

import math
from collections.abc import Iterable

from shapely.geometry import MultiPoint, Point, Polygon

from generator.geometry.tolerance import PARALLEL_SINE, SAME_PLANE_MM
from generator.geometry.vectors import Vec3, add, dot, scale, subtract
from generator.joinery.contacts import PlacedPiece, PlaneSide, plane_basis
from generator.joinery.drive import gap_between, side_of
from generator.joinery.fasten import common_name
from generator.joinery.rules import PIN_REACH_MM
from generator.model.edition import JointSpec
from generator.model.joinery import BoredHole, Fastener, Joint, Rest
from generator.model.parts import FACE_A, FACE_B, Parts
from generator.problems import ProblemLog
from generator.units import System, format_both

DOWN: Vec3 = (0.0, 0.0, -1.0)

Way = tuple[Vec3, Vec3, float]
"""From where to where something goes in the room, and how wide it is in mm."""


def find_pin_holes(parts: Parts) -> tuple[BoredHole, ...]:
    """Return the holes of all shelf pins, piece by piece."""
    return tuple(
        BoredHole(
            piece=piece.name,
            fastener="",
            kind="pin",
            side=pin.side,
            at=(*pin.center, 0.0 if pin.side == FACE_A else part.thickness_mm),
            direction=(0.0, 0.0, 1.0 if pin.side == FACE_A else -1.0),
            diameter_mm=pin.diameter_mm,
            depth_mm=pin.depth_mm,
            countersink_mm=0.0,
        )
        for part in parts.parts
        for piece in part.pieces
        for pin in piece.pins
    )


def find_rests(
    joints: Iterable[JointSpec],
    holes: tuple[BoredHole, ...],
    placed: dict[str, PlacedPiece],
    system: System,
    log: ProblemLog,
) -> tuple[Rest, ...]:
    """Return what lies on which pins by joints ``with: pins``; J121 where it would not stay.

    A piece stays where its weight is between the pins under it.
    """
    rests: list[Rest] = []
    for spec, name in ((s, name) for s in joints if s.with_ == "pins" for name in s.first):
        shelf = placed[name]
        if shelf.part.stock.is_round:
            log.add("J121", spec.place, piece=name, why="it is a rod and would roll off")
            continue
        underside = _underside(shelf)
        near = [h for h in holes if h.piece != name and any(h.piece in g for g in spec.second)]
        pins = tuple(hole for hole in near if _carries(placed[hole.piece], hole, underside))
        lonely = next((g for g in spec.second if not any(pin.piece in g for pin in pins)), None)
        if lonely is not None:
            why = f"no pin of `{common_name(lonely)}` is under it"
            hint = _nearest_hint([h for h in near if h.piece in lonely], placed, underside, system)
            log.add("J121", spec.place, piece=name, why=why, hint=hint)
        elif not _is_between(shelf, pins, placed, underside):
            count = "1 pin" if len(pins) == 1 else f"{len(pins)} pins"
            why = f"it would tip: its weight is not between the {count} under it"
            log.add("J121", spec.place, piece=name, why=why, hint="give it pins near all corners")
        else:
            rests.append(Rest(joint=spec.id, piece=name, pins=pins))
    return tuple(rests)


def check_pins_in_the_way(
    fasteners: tuple[Fastener, ...],
    holes: tuple[BoredHole, ...],
    bores: tuple[BoredHole, ...],
    joints: Iterable[Joint],
    placed: dict[str, PlacedPiece],
    log: ProblemLog,
) -> None:
    """Report each joint of which a fastener or its hole runs into the hole of a shelf pin (J122).

    Args:
        fasteners: All of them.
        holes: Bored for them.
        bores: The holes of pins.
        joints: Say where each is written.
        placed: All pieces by name.
        log: Takes the problems.
    """
    places = {joint.id: joint.place for joint in joints}
    told: set[str] = set()
    pins = [(pin, _way_of(pin, placed)) for pin in bores]
    bored: dict[str, list[BoredHole]] = {}
    for hole in holes if pins else ():
        bored.setdefault(hole.fastener, []).append(hole)
    for one in fasteners if pins else ():
        ways = [(one.head, one.tip, one.goods.diameter_mm)]
        ways += [_way_of(hole, placed) for hole in bored.get(one.id, [])]
        near = [(pin, way) for pin, way in pins if pin.piece in one.through]
        met = next((pin for pin, way in near if any(_meet(w, way) for w in ways)), None)
        if met is not None and one.joint not in told:
            told.add(one.joint)
            hint = "move the row of pins, or set other `ends` or `spacing`"
            log.add("J122", places[one.joint], joint=one.joint, piece=met.piece, hint=hint)


def _underside(shelf: PlacedPiece) -> PlaneSide:
    return max(
        (side_of(shelf, face) for face in (FACE_A, FACE_B)), key=lambda s: dot(s.normal, DOWN)
    )


def _mouth(placed: PlacedPiece, hole: BoredHole) -> Vec3:
    return placed.piece.frame.to_world(hole.at)


def _carries(placed: PlacedPiece, hole: BoredHole, underside: PlaneSide) -> bool:
    """Whether the pin in a hole is level with an underside, square to it, and reaches below it."""
    way = placed.piece.frame.direction(hole.direction)
    if abs(dot(way, underside.normal)) > SAME_PLANE_MM:
        return False
    mouth = _mouth(placed, hole)
    if not -SAME_PLANE_MM <= _below_mm(mouth, underside) <= hole.diameter_mm + SAME_PLANE_MM:
        return False
    u, v = plane_basis(underside.normal)
    tip = subtract(mouth, scale(way, PIN_REACH_MM))
    face = Polygon([(dot(p, u), dot(p, v)) for p in underside.outer])
    return bool(face.contains(Point(dot(tip, u), dot(tip, v))))


def _below_mm(point: Vec3, underside: PlaneSide) -> float:
    """Return how far a point lies outside an underside, towards the floor."""
    return dot(underside.normal, point) - underside.offset


def _is_between(
    shelf: PlacedPiece,
    pins: tuple[BoredHole, ...],
    placed: dict[str, PlacedPiece],
    underside: PlaneSide,
) -> bool:
    u, v = plane_basis(underside.normal)
    mouths = [_mouth(placed[pin.piece], pin) for pin in pins]
    stood_on = MultiPoint([(dot(p, u), dot(p, v)) for p in mouths]).convex_hull
    center = shelf.piece.frame.to_world(shelf.part.slab.center)
    return bool(stood_on.contains(Point(dot(center, u), dot(center, v))))


def _nearest_hint(
    holes: list[BoredHole],
    placed: dict[str, PlacedPiece],
    underside: PlaneSide,
    system: System,
) -> str | None:
    """Return how far the nearest holes are too high or too low."""
    if not holes:
        return "bore a row of `pins` in it"
    offsets = [_below_mm(_mouth(placed[h.piece], h), underside) for h in holes]
    below = min(offsets, key=abs)
    thick = holes[0].diameter_mm
    if 0.0 <= below <= thick:
        return "a pin there does not reach under it; move the row, or make the piece longer"
    shown, way = format_both(abs(below), system), "below" if below > 0 else "above"
    half = format_both(thick / 2, system)
    return (
        f"the middles of the nearest holes are {shown} {way} its underside; it lies on bare pins "
        f"when they are half a pin, {half}, below"
    )


def _way_of(hole: BoredHole, placed: dict[str, PlacedPiece]) -> Way:
    """Return from where to where a hole is bored; one that goes through ends at the far face."""
    one = placed[hole.piece]
    depth = hole.depth_mm
    if depth is None:
        depth = one.part.thickness_mm / max(abs(hole.direction[2]), PARALLEL_SINE)
    end = add(hole.at, scale(hole.direction, depth))
    frame = one.piece.frame
    return (frame.to_world(hole.at), frame.to_world(end), hole.diameter_mm)


def _meet(one: Way, other: Way) -> bool:
    """Whether two bores touch; most begin too far apart for that, which is quickly seen."""
    reach = (one[2] + other[2]) / 2
    if math.dist(one[0], other[0]) > reach + math.dist(*one[:2]) + math.dist(*other[:2]):
        return False
    return gap_between(one[:2], other[:2]) < reach
