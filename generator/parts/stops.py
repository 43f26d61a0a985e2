"""Stopped channels: the corner of the mate that is notched so that the channel can stop short.

   host's face                 The channel stops a distance from a named edge of the host. What
 ______________________        of the mate's housed edge lies beyond that is cut back to the
|  stop      |         |       face of the host: a notch in the mate's corner, as long as it
|     _______|  mate   |       stands out beyond the stop and as deep as the channel.
|____|_________________|
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from generator.geometry.frames import Plane, reflect_plane
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec3, dot, scale, subtract, unit
from generator.model.edition import Against, CornerRule, Direction, Housed, PieceSpec
from generator.parts.cut_piece import RULE_OF, CutPiece
from generator.parts.sides import Side, corner_at
from generator.problems import ProblemLog
from generator.units import System, format_both


def notch_stopped(
    piece: CutPiece, pieces: Mapping[str, CutPiece], system: System, log: ProblemLog
) -> PieceSpec:
    """Return what a piece is to be cut by, with a notch for every stop of its channels.

    P134 is reported for a stop that stops nothing or leaves nothing.
    """
    spec = piece.spec
    words = dict(spec.words)
    notches: list[CornerRule] = []
    for key, index in RULE_OF.items():
        rule = spec.rules[index]
        if not isinstance(rule, Against) or rule.housed is None:
            continue
        for way, distance in rule.housed.stops:
            stop = _stop_plane(pieces[rule.housed.named], rule.housed, way, distance)
            if spec.mirror_plane is not None:
                stop = reflect_plane(stop, spec.mirror_plane)
            notch = _find_notch(piece, words[key], rule.housed, piece.frame.plane_to_local(stop))
            if isinstance(notch, str):
                away = f"{format_both(distance, system)} from {way}"
                why = f"stopped {away}, {notch}"
                host = rule.housed.named
                log.add("P134", rule.place, mate=spec.name, host=host, why=why)
            else:
                notches.append(replace(notch, place=rule.place))
    return replace(spec, corners=(*spec.corners, *notches)) if notches else spec


def _stop_plane(host: CutPiece, housed: Housed, way: Direction, distance: float) -> Plane:
    """Return the upright plane the channel ends in, in the room, pointing to the edge."""
    side = next(s for s in host.sides if s.name == way and s.kind in {"end", "edge"})
    normal = side.plane.normal
    level = math.hypot(normal[0], normal[1])
    in_b = dot(host.frame.z, housed.face.normal) > 0
    z = host.slab.thickness_mm if in_b else 0.0
    flat = (normal[0] / level, normal[1] / level, 0.0)
    offset = (side.plane.offset - normal[2] * z) / level - distance
    return host.frame.plane_to_world(Plane(flat, offset))


@dataclass(frozen=True, slots=True)
class _Corner:
    """A corner at an end of the housed edge, and how much of the edge lies beyond the stop."""

    neighbour: Side
    at: Vec3
    beyond_mm: float


def _find_notch(piece: CutPiece, name: str, housed: Housed, stop: Plane) -> CornerRule | str:
    """Return the notch in the corner beyond a stop, or what forbids it."""
    side = next(s for s in piece.sides if s.name == name and s.kind in {"end", "edge"})
    others = {s.name: s for s in piece.sides if {s.kind, side.kind} == {"end", "edge"}}
    corners = [
        corner for s in others.values() if (corner := _corner(piece, side, s, stop)) is not None
    ]
    beyond = [corner for corner in corners if corner.beyond_mm > SAME_POINT_MM]
    if not beyond:
        return f"which `{piece.spec.name}` does not reach: leave the stop out"
    if len(beyond) > 1:
        return "it leaves nothing of the channel"
    (corner,) = beyond
    along = _away(side, corner.neighbour)
    leg = corner.beyond_mm / dot(stop.normal, scale(along, -1.0))
    room = dot(along, subtract(_other_end(corners, corner).at, corner.at))
    if leg > room - SAME_POINT_MM:
        return "it leaves nothing of the channel"
    inward = _away(corner.neighbour, side)
    into = abs(dot(piece.frame.local_direction(housed.face.normal), inward))
    edges = _find_word(piece, side), _find_word(piece, corner.neighbour)
    legs = (leg, housed.depth_mm / into)
    return CornerRule(
        edges=edges, clip_mm=legs, radius_mm=None, is_notch=True, place=piece.spec.place
    )


def _corner(piece: CutPiece, side: Side, other: Side, stop: Plane) -> _Corner | None:
    found = [
        (corner[0], corner[1], z)
        for z in (0.0, piece.slab.thickness_mm)
        if (corner := corner_at(side.plane, other.plane, z)) is not None
    ]
    if not found:
        return None
    furthest = max(found, key=stop.height)
    return _Corner(other, furthest, stop.height(furthest))


def _other_end(corners: list[_Corner], corner: _Corner) -> _Corner:
    return next((other for other in corners if other.neighbour is not corner.neighbour), corner)


def _away(side: Side, neighbour: Side) -> Vec3:
    """Return the level direction along a side, away from its neighbour."""
    x, y, _ = side.plane.normal
    along = unit((-y, x, 0.0))
    return scale(along, -1.0) if dot(along, neighbour.plane.normal) > 0 else along


def _find_word(piece: CutPiece, side: Side) -> Direction:
    return next(word for _, word in piece.spec.words if word == side.name)
