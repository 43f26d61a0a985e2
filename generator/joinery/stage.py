"""Contacts, joints, fasteners and holes of a plan."""

from shapely.geometry import Point, Polygon

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.geometry.vectors import Vec3, dot
from generator.joinery.bores import make_holes
from generator.joinery.contacts import PlacedPiece, find_contacts, place_pieces, plane_basis
from generator.joinery.drive import Drive, pocket_entry
from generator.joinery.fasten import find_drives, find_pairs
from generator.joinery.faults import check_crossing, check_drives, check_spacing
from generator.joinery.pins import check_pins_in_the_way, find_pin_holes, find_rests
from generator.joinery.rules import UNSCREWED
from generator.joinery.sockets import find_sockets, pair_sockets
from generator.joinery.withdrawal import find_pull_n
from generator.model.edition import Edition, JointSpec
from generator.model.fixings import Dowel
from generator.model.joinery import Contact, Fastener, Joinery, Joint, Rest, Socket
from generator.model.parts import Parts
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
        hole for number, drive in enumerate(drives, 1) for hole in make_holes(f"S{number}", drive)
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
        glue=spec.glue or spec.with_ in {"glue", "dowels"},
        fasteners=ids,
        place=spec.place,
    )


def _fastener(name: str, drive: Drive, contacts: tuple[Contact, ...]) -> Fastener:
    return Fastener(
        id=name,
        joint=drive.joint.id,
        goods=drive.goods,
        head=drive.axis.head,
        tip=drive.axis.tip(drive.goods.length_mm),
        direction=drive.axis.direction,
        through=(drive.contact.first, drive.contact.second),
        hidden=_is_hidden(drive, contacts),
        has_nut=drive.joint.nuts,
        pull_n=find_pull_n(drive),
    )


def _is_hidden(drive: Drive, contacts: tuple[Contact, ...]) -> bool:
    """Whether the head is on a face nobody looks at, faces down, or is covered by another piece.

    A dowel is inside the wood.
    """
    if isinstance(drive.goods, Dowel):
        return True
    piece, side = drive.first.piece, drive.start.side
    if piece.show and side not in piece.show:
        return True
    if drive.start.normal[2] < LOOKS_DOWN:
        return True
    spot = drive.axis.head if drive.pocket is None else pocket_entry(drive.axis, drive.pocket)
    return any(
        _covers(contact, piece.name, side, spot)
        for contact in contacts
        if piece.name in {contact.first, contact.second}
    )


def _covers(contact: Contact, piece: str, side: int, spot: Vec3) -> bool:
    own = contact.first_side if contact.first == piece else contact.second_side
    if own != side:
        return False
    if abs(dot(contact.normal, spot) - dot(contact.normal, contact.outline[0])) > SAME_PLANE_MM:
        return False
    u, v = plane_basis(contact.normal)
    patch = Polygon([(dot(p, u), dot(p, v)) for p in contact.outline])
    return bool(patch.contains(Point(dot(spot, u), dot(spot, v))))
