"""Contacts, joints, fasteners and holes of a plan."""

from dataclasses import replace

from shapely.geometry import Point, Polygon

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.geometry.vectors import Vec3, dot, subtract
from generator.joinery.contacts import PlacedPiece, find_contacts, place_pieces, plane_basis
from generator.joinery.drive import pocket_entry, side_of
from generator.joinery.fasten import Drive, find_drives, find_pairs
from generator.joinery.faults import check_crossing, check_drives, check_spacing
from generator.joinery.pins import check_pins_in_the_way, find_pin_holes, find_rests
from generator.joinery.rules import UNSCREWED
from generator.joinery.sockets import find_sockets, pair_sockets
from generator.model.edition import Edition, JointSpec
from generator.model.joinery import (
    BoredHole,
    Contact,
    Fastener,
    HoleKind,
    Joinery,
    Joint,
    Rest,
    Socket,
)
from generator.model.parts import FACE_A, FACE_B, Parts
from generator.problems import Problem, ProblemLog

LOOKS_DOWN = -0.7
"""A face whose normal points down more than this is not seen (45 degrees)."""


MOST_SCREWS = 2000
"""In one design: every two of them are looked at together."""


def make_joints(edition: Edition, parts: Parts) -> tuple[Joinery | None, tuple[Problem, ...]]:
    """Return the joinery of a plan, or None with the problems that forbid it."""
    log = ProblemLog()
    placed = place_pieces(parts)
    contacts, sockets = find_contacts(placed), find_sockets(placed)
    joints: list[Joint] = []
    drives: list[Drive] = []
    bores = find_pin_holes(parts)
    rests = find_rests(edition.joints, bores, placed, edition.system, log)
    for spec in edition.joints:
        pairs = find_pairs(spec, contacts, sockets, edition.system, log)
        made = [] if spec.with_ in UNSCREWED else _drives_of(spec, pairs, placed, edition, log)
        first = len(drives) + 1
        ids = tuple(f"S{first + i}" for i in range(len(made)))
        drives += made
        if len(drives) > MOST_SCREWS:
            if not log.has_errors:
                count = f"more than {MOST_SCREWS}"
                log.add("D116", spec.place, count=count, things="screws", limit=MOST_SCREWS)
            return None, tuple(log.problems)
        joints.append(_joint(spec, pairs, (rests, sockets), ids))
    at_fault = {problem.place for problem in log.problems}
    sound = [drive for drive in drives if drive.joint.place not in at_fault]
    check_crossing(sound, edition.system, log)
    if log.has_errors:
        return None, tuple(log.problems)
    fasteners = tuple(
        _fastener(f"S{number}", drive, contacts) for number, drive in enumerate(drives, 1)
    )
    holes = tuple(
        hole for number, drive in enumerate(drives, 1) for hole in _holes(f"S{number}", drive)
    )
    check_pins_in_the_way(fasteners, holes, bores, joints, placed, log)
    joinery = Joinery(
        contacts=contacts,
        joints=tuple(joints),
        fasteners=fasteners,
        holes=(*holes, *bores),
        rests=rests,
        sockets=sockets,
    )
    return None if log.has_errors else joinery, tuple(log.problems)


def _drives_of(
    spec: JointSpec,
    pairs: tuple[Contact, ...],
    placed: dict[str, PlacedPiece],
    edition: Edition,
    log: ProblemLog,
) -> list[Drive]:
    """Return the screws of a joint, each checked; numbers in problems count within the joint."""
    drives: list[Drive] = []
    known = len(log.problems)
    for contact in pairs:
        group = find_drives(spec, contact, placed, edition, log)
        check_spacing(group, len(drives) + 1, edition.system, log)
        drives += group
        if len(drives) > MOST_SCREWS:
            break
    if len(log.problems) == known:
        check_drives(drives, edition, log)
    return drives


def _joint(
    spec: JointSpec,
    pairs: tuple[Contact, ...],
    without: tuple[tuple[Rest, ...], tuple[Socket, ...]],
    ids: tuple[str, ...],
) -> Joint:
    rests, sockets = without
    touching = [(contact.first, contact.second) for contact in pairs]
    lying = [(r.piece, pin.piece) for r in rests if r.joint == spec.id for pin in r.pins]
    return Joint(
        id=spec.id,
        between=tuple(dict.fromkeys((*touching, *lying, *pair_sockets(spec, sockets)))),
        with_=spec.with_,
        glue=spec.glue or spec.with_ == "glue",
        fasteners=ids,
        place=spec.place,
    )


def _fastener(name: str, drive: Drive, contacts: tuple[Contact, ...]) -> Fastener:
    return Fastener(
        id=name,
        joint=drive.joint.id,
        screw=drive.screw,
        head=drive.axis.head,
        tip=drive.axis.tip(drive.screw.length_mm),
        direction=drive.axis.direction,
        through=(drive.contact.first, drive.contact.second),
        hidden=_is_hidden(drive, contacts),
    )


def _is_hidden(drive: Drive, contacts: tuple[Contact, ...]) -> bool:
    """Whether the head is on a face nobody looks at, faces down, or is covered by another piece."""
    side = _head_side(drive)
    piece = drive.first.piece
    if piece.show and side not in piece.show:
        return True
    plane = side_of(drive.first, side)
    if plane.normal[2] < LOOKS_DOWN:
        return True
    spot = drive.axis.head if drive.pocket is None else pocket_entry(drive.axis, drive.pocket)
    return any(
        _covers(contact, piece.name, side, spot)
        for contact in contacts
        if piece.name in {contact.first, contact.second}
    )


def _head_side(drive: Drive) -> int:
    if drive.pocket is not None:
        return drive.pocket.side
    return FACE_B if drive.contact.first_side == FACE_A else FACE_A


def _covers(contact: Contact, piece: str, side: int, spot: Vec3) -> bool:
    own = contact.first_side if contact.first == piece else contact.second_side
    if own != side:
        return False
    if abs(dot(contact.normal, spot) - dot(contact.normal, contact.outline[0])) > SAME_PLANE_MM:
        return False
    u, v = plane_basis(contact.normal)
    patch = Polygon([(dot(p, u), dot(p, v)) for p in contact.outline])
    return bool(patch.contains(Point(dot(spot, u), dot(spot, v))))


def _holes(name: str, drive: Drive) -> tuple[BoredHole, ...]:
    if drive.pocket is not None:
        return (_pocket_hole(name, drive),)
    first = _nail_hole if drive.screw.kind == "nail" else _clearance_hole
    return (first(name, drive), _pilot_hole(name, drive))


def _pocket_hole(name: str, drive: Drive) -> BoredHole:
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
        diameter_mm=drive.screw.clearance_mm,
        depth_mm=depth,
    )


def _clearance_hole(name: str, drive: Drive) -> BoredHole:
    hole = _hole(
        name,
        drive.first,
        kind="clearance",
        side=_head_side(drive),
        at=drive.axis.head,
        direction=drive.axis.direction,
        diameter_mm=drive.screw.clearance_mm,
        depth_mm=None,
    )
    return replace(hole, countersink_mm=drive.screw.head_mm)


def _nail_hole(name: str, drive: Drive) -> BoredHole:
    """Return the hole a nail needs in the first piece lest it split: as wide as in the second."""
    hole = _clearance_hole(name, drive)
    bit_mm = _pilot_hole(name, drive).diameter_mm
    return replace(hole, kind="nail", diameter_mm=bit_mm, countersink_mm=0.0)


def _pilot_hole(name: str, drive: Drive) -> BoredHole:
    hard = drive.second.part.stock.material.hard
    return _hole(
        name,
        drive.second,
        kind="pilot",
        side=drive.contact.second_side,
        at=drive.axis.joint,
        direction=drive.axis.direction,
        diameter_mm=drive.screw.pilot_hard_mm if hard else drive.screw.pilot_soft_mm,
        depth_mm=drive.screw.length_mm - drive.axis.seat_mm,
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
) -> BoredHole:
    """Return a hole given in the room in the frame of the part."""
    return BoredHole(
        piece=placed.piece.name,
        fastener=name,
        kind=kind,
        side=side,
        at=placed.piece.frame.to_local(at),
        direction=placed.piece.frame.local_direction(direction),
        diameter_mm=diameter_mm,
        depth_mm=depth_mm,
        countersink_mm=0.0,
    )
