"""Sockets: rods that stand in round holes of other pieces, found from where both are."""

import math
from itertools import product

from generator.geometry.tolerance import CLOSES_MM, CONTACT_AREA_MM2, PARALLEL_SINE, SAME_PLANE_MM
from generator.geometry.vectors import Vec3, add, cross, dot, norm, scale, subtract
from generator.joinery.contacts import PlacedPiece
from generator.joinery.rules import UNSCREWED
from generator.model.edition import JointSpec
from generator.model.joinery import Socket
from generator.model.parts import Opening
from generator.units import System, format_both


def find_sockets(placed: dict[str, PlacedPiece]) -> tuple[Socket, ...]:
    """Return every rod in a hole on the same axis that is not narrower than the rod."""
    rods = [one for one in placed.values() if one.part.stock.is_round]
    bored = [
        (one, opening)
        for one in placed.values()
        for opening in one.part.openings
        if opening.name == "hole"
    ]
    found = (_socket(rod, *hole) for rod, hole in product(rods, bored))
    return tuple(socket for socket in found if socket is not None)


def pair_sockets(spec: JointSpec, sockets: tuple[Socket, ...]) -> tuple[tuple[str, str], ...]:
    """Return the pairs of a joint of which one is a rod that fits tightly in a hole of the other.

    No screw is driven there: a joint that needs one has no such pairs.
    """
    tight = [{one.first, one.second} for one in sockets if one.loose_mm <= CLOSES_MM]
    return tuple(
        (first, other)
        for first in spec.first
        for others in spec.second
        for other in others
        if spec.with_ in UNSCREWED and {first, other} in tight
    )


def find_loose_hint(
    sockets: tuple[Socket, ...], one: str, others: tuple[str, ...], system: System
) -> str | None:
    """Return what to do about a rod that stands in too wide a hole, None where there is none."""
    for socket in sockets:
        pair = {socket.first, socket.second}
        if one in pair and pair & set(others) and socket.loose_mm > CLOSES_MM:
            loose, most = format_both(socket.loose_mm, system), format_both(CLOSES_MM, system)
            return f"the hole is {loose} wider than the rod; glue fills no more than {most}"
    return None


def _socket(rod: PlacedPiece, other: PlacedPiece, opening: Opening) -> Socket | None:
    """Return how a rod stands in a hole: on one line with it, and at least partly in the wood."""
    frame, radius = rod.piece.frame, rod.part.thickness_mm / 2
    start = frame.to_world((0.0, radius, radius))
    axis = frame.x
    hole = other.piece.frame
    if norm(cross(axis, hole.z)) > PARALLEL_SINE:
        return None
    near = hole.to_world((*opening.center, 0.0))
    if norm(cross(subtract(near, start), axis)) > SAME_PLANE_MM:
        return None
    at = dot(subtract(near, start), axis)
    far = at + dot(hole.z, axis) * other.part.thickness_mm
    low, high = max(min(at, far), 0.0), min(max(at, far), rod.part.length_mm)
    area = math.pi * 2 * radius * (high - low)
    loose = opening.sizes_mm[0] - 2 * radius
    if area < CONTACT_AREA_MM2 or loose < -SAME_PLANE_MM:
        return None
    middle = (low + high) / 2
    towards: Vec3 = axis if middle >= rod.part.length_mm / 2 else scale(axis, -1.0)
    return Socket(
        first=rod.piece.name,
        second=other.piece.name,
        center=add(start, scale(axis, middle)),
        normal=towards,
        loose_mm=max(loose, 0.0),
        area_mm2=area,
    )
