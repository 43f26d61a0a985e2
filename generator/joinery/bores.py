"""The holes of a fastener, piece by piece; and the straight ways it takes through the wood."""

import math
from dataclasses import dataclass

from generator.geometry.vectors import Vec3, add, dot, scale, subtract
from generator.joinery.bites import find_bites
from generator.joinery.contacts import PlacedPiece
from generator.joinery.drive import Drive, pocket_entry
from generator.joinery.rules import POCKET_ANGLE_DEG
from generator.model.fixings import Bolt, Dowel, Screw
from generator.model.joinery import BoredHole, HoleKind


@dataclass(frozen=True, slots=True)
class Way:
    """A straight bore in one piece, in the room; the side of the contact belongs to that piece."""

    placed: PlacedPiece
    side: int
    start: Vec3
    end: Vec3
    radius_mm: float


def find_ways(drive: Drive) -> tuple[Way, ...]:
    """Return the ways of a fastener: in the first piece, in the second, and its pocket.

    A bore that slants out of a face opens it beyond where its middle line comes out.
    """
    axis, goods = drive.axis, drive.goods
    first, second = drive.contact.first_side, drive.contact.second_side
    near, far = goods.diameter_mm / 2, goods.diameter_mm / 2
    start, end = axis.head, axis.tip(goods.length_mm)
    if not isinstance(goods, Screw):
        bites = find_bites(drive)
        end = add(axis.joint, scale(axis.direction, bites[-1].depth_mm))
        far = bites[-1].radius_mm
        if isinstance(goods, Dowel):
            start = add(axis.joint, scale(axis.direction, -bites[0].depth_mm))
    ways = (
        Way(drive.first, first, start, axis.joint, near),
        Way(drive.second, second, axis.joint, end, far),
    )
    if drive.pocket is None or not isinstance(goods, Screw):
        return ways
    radius = goods.clearance_mm / 2
    beyond = radius / math.tan(math.radians(POCKET_ANGLE_DEG))
    mouth = subtract(pocket_entry(axis, drive.pocket), scale(axis.direction, beyond))
    return (*ways, Way(drive.first, first, mouth, axis.head, radius))


def make_holes(name: str, drive: Drive) -> tuple[BoredHole, ...]:
    """Return the holes to bore for a fastener, in the frames of the parts."""
    goods = drive.goods
    if isinstance(goods, Dowel):
        return _dowel_holes(name, drive)
    if isinstance(goods, Bolt):
        return _bolt_holes(name, drive, goods)
    if drive.pocket is not None:
        return (_pocket_hole(name, drive, goods),)
    pilot = _pilot_hole(name, drive, goods)
    if goods.kind != "nail":
        return (_first_hole(name, drive, goods.clearance_mm, goods.head_mm), pilot)
    return (_first_hole(name, drive, pilot.diameter_mm, 0.0, "nail"), pilot)


def _dowel_holes(name: str, drive: Drive) -> tuple[BoredHole, ...]:
    return tuple(
        _hole(
            name,
            bite.placed,
            kind="dowel",
            side=bite.side,
            at=bite.axis.joint,
            direction=bite.axis.direction,
            diameter_mm=drive.goods.diameter_mm,
            depth_mm=bite.depth_mm,
        )
        for bite in find_bites(drive)
    )


def _bolt_holes(name: str, drive: Drive, bolt: Bolt) -> tuple[BoredHole, ...]:
    bite = find_bites(drive)[0]
    second = _hole(
        name,
        drive.second,
        kind="bolt" if drive.joint.nuts else "insert",
        side=bite.side,
        at=drive.axis.joint,
        direction=drive.axis.direction,
        diameter_mm=2 * bite.radius_mm,
        depth_mm=None if drive.joint.nuts else bite.depth_mm,
    )
    return (_first_hole(name, drive, bolt.clearance_mm, 0.0), second)


def _pocket_hole(name: str, drive: Drive, screw: Screw) -> BoredHole:
    assert drive.pocket is not None
    entry = pocket_entry(drive.axis, drive.pocket)
    depth = dot(drive.axis.direction, subtract(drive.axis.head, entry))
    return _hole(
        name,
        drive.first,
        kind="pocket",
        side=drive.pocket.side,
        at=entry,
        direction=drive.axis.direction,
        diameter_mm=screw.clearance_mm,
        depth_mm=depth,
    )


def _first_hole(
    name: str, drive: Drive, bit_mm: float, sink_mm: float, kind: HoleKind = "clearance"
) -> BoredHole:
    """Return the hole through the first piece; that of a nail is as wide as the one behind it."""
    start, axis = drive.start, drive.axis
    above = start.offset - dot(start.normal, axis.head)
    return _hole(
        name,
        drive.first,
        kind=kind,
        side=start.side,
        at=add(axis.head, scale(start.normal, above)),
        direction=axis.direction,
        diameter_mm=bit_mm,
        depth_mm=None,
        sink_mm=sink_mm,
    )


def _pilot_hole(name: str, drive: Drive, screw: Screw) -> BoredHole:
    hard = drive.second.part.stock.material.hard
    return _hole(
        name,
        drive.second,
        kind="pilot",
        side=drive.contact.second_side,
        at=drive.axis.joint,
        direction=drive.axis.direction,
        diameter_mm=screw.pilot_hard_mm if hard else screw.pilot_soft_mm,
        depth_mm=screw.length_mm - drive.axis.seat_mm,
    )


def _hole(
    name: str,
    placed: PlacedPiece,
    *,
    kind: HoleKind,
    side: int,
    at: Vec3,
    direction: Vec3,
    diameter_mm: float,
    depth_mm: float | None,
    sink_mm: float = 0.0,
) -> BoredHole:
    """Return a hole given in the room in the frame of the part."""
    return BoredHole(
        piece=placed.piece.name,
        fastener=name,
        kind=kind,
        side=placed.part.face_of(side),
        at=placed.piece.frame.to_local(at),
        direction=placed.piece.frame.local_direction(direction),
        diameter_mm=diameter_mm,
        depth_mm=depth_mm,
        countersink_mm=sink_mm,
    )
