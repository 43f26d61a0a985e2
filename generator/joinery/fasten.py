"""One joint of the design: which contacts it means and which fasteners go where."""

import math

from generator.geometry.faces import is_wall
from generator.geometry.tolerance import PARALLEL_SINE, SAME_PLANE_MM
from generator.geometry.vectors import Vec3, dot, scale, subtract
from generator.joinery.bolts import place_bolts
from generator.joinery.choose import SCREW_KINDS, choose_screw, find_screws
from generator.joinery.contacts import PlacedPiece, PlaneSide
from generator.joinery.dowels import place_dowels
from generator.joinery.drive import (
    Axis,
    Drive,
    face_axis,
    face_named,
    mitre_edge_mm,
    pocket_axis,
    start_face,
)
from generator.joinery.rules import MITRE_EDGE_FACTOR, MITRE_WOOD_MM, UNSCREWED
from generator.joinery.sockets import find_loose_hint, pair_sockets
from generator.joinery.spots import (
    MiddleLine,
    find_edge_middle,
    find_long_middle,
    find_spots,
    point_at,
    report_too_short,
)
from generator.model.edition import Edition, JointSpec
from generator.model.fixings import Screw
from generator.model.joinery import Contact, Socket
from generator.problems import ProblemLog
from generator.units import System, format_both

ANY_SIDE = UNSCREWED | {"dowels"}
"""Ways to join that take whichever sides share most."""


def find_pairs(
    spec: JointSpec,
    contacts: tuple[Contact, ...],
    sockets: tuple[Socket, ...],
    system: System,
    log: ProblemLog,
) -> tuple[Contact, ...]:
    """Return the contacts a joint means, first piece first; J101 where pieces do not touch.

    Every first piece must touch at least one piece of each thing named after "to", or stand in a
    hole of it. What lies on pins touches nothing.
    """
    found = []
    in_holes = pair_sockets(spec, sockets)
    for first in spec.first if spec.with_ != "pins" else ():
        for others in spec.second:
            touching = [
                _turned(contact, first)
                for other in others
                if other != first
                for contact in _best_contacts(spec, contacts, first, other)
            ]
            if not touching and not any((first, other) in in_holes for other in others):
                hint = find_loose_hint(sockets, first, others, system)
                log.add("J101", spec.place, first=first, second=common_name(others), hint=hint)
            found += touching
    return tuple(found)


def common_name(names: tuple[str, ...]) -> str:
    """Return what several pieces are called together: ``side`` for ``side.left`` and the other."""
    if len(names) == 1:
        return names[0]
    return names[0].split("[")[0].split(".")[0] if names else "nothing"


def find_drives(
    spec: JointSpec,
    contact: Contact,
    placed: dict[str, PlacedPiece],
    edition: Edition,
    log: ProblemLog,
) -> tuple[Drive, ...]:
    """Return the fasteners of one contact of a joint; none where a problem was reported."""
    if spec.with_ == "dowels":
        return place_dowels(spec, contact, placed, edition, log)
    pieces = (placed[contact.first], placed[contact.second])
    pocket: PlaneSide | None = None
    if spec.with_ == "pocket screws":
        start = pocket = _pocket_start(spec, contact, pieces, log)
    else:
        start = _face_start(spec, contact, pieces, log)
    if start is None:
        return ()
    line = _fastener_line(contact, pieces, pocket)
    spots = find_spots(line, spec) if line is not None else ()
    if line is None or not spots:
        report_too_short(spec, line, edition.system, log)
        return ()
    if spec.with_ == "bolts":
        return place_bolts(spec, contact, pieces, start, line, spots, edition, log)
    axes = [_axis(pieces[0], contact, start, pocket, point_at(line, spot)) for spot in spots]
    screw = _screw_for(spec, edition, pieces, contact, axes[0], log)
    if screw is None:
        return ()
    return tuple(
        Drive(
            joint=spec,
            contact=contact,
            first=pieces[0],
            second=pieces[1],
            axis=axis,
            goods=screw,
            start=start,
            pocket=pocket,
            from_start_mm=spot,
            line_mm=line.length_mm,
        )
        for axis, spot in zip(axes, spots, strict=True)
    )


def _pocket_start(
    spec: JointSpec, contact: Contact, pieces: tuple[PlacedPiece, PlacedPiece], log: ProblemLog
) -> PlaneSide | None:
    """Return the face pockets are bored in; J109 where pocket screws cannot make the joint."""
    if contact.first_side < 0:
        _report_wrong_start(spec, contact, log)
        return None
    if _is_mitre(contact, *pieces):
        log.add(
            "J109",
            spec.place,
            joint=spec.id,
            why=f"`{contact.first}` and `{contact.second}` meet edge to edge at a mitre, where "
            "pocket screws have too little wood to hold in",
            hint="glue the mitre (`with: glue`), or nail it across or dowel it: "
            "`with: nails`, `with: dowels`",
        )
        return None
    return _pocket_side(spec, pieces[0], log)


def _face_start(
    spec: JointSpec, contact: Contact, pieces: tuple[PlacedPiece, PlacedPiece], log: ProblemLog
) -> PlaneSide | None:
    """Return the face screws, nails or bolts start in; J109 where none lets them through."""
    if contact.first_side >= 0 and (spec.with_ == "bolts" or not _is_mitre(contact, *pieces)):
        _report_wrong_start(spec, contact, log)
        return None
    start = start_face(pieces[0], contact)
    if start is None:
        log.add(
            "J109",
            spec.place,
            joint=spec.id,
            why=f"the bevel between `{contact.first}` and `{contact.second}` is too steep for "
            f"{spec.with_} square to a face to cross it",
            hint="name the two the other way round, or join them `with: dowels`",
        )
    return start


def _is_mitre(contact: Contact, first: PlacedPiece, second: PlacedPiece) -> bool:
    """Whether two pieces touch edge to edge and one of these edges is bevelled."""
    sides = ((first, contact.first_side), (second, contact.second_side))
    if any(side < 0 for _, side in sides):
        return False
    return any(placed.part.edges[side].tilt_deg > 0 for placed, side in sides)


def _report_wrong_start(spec: JointSpec, contact: Contact, log: ProblemLog) -> None:
    by_edge = contact.first_side >= 0
    start, touch = ("a face", "an edge") if by_edge else ("an edge", "a face")
    others = "pocket screws" if by_edge else "face screws"
    log.add(
        "J109",
        spec.place,
        joint=spec.id,
        why=f"{spec.with_} start in {start}, but `{contact.first}` touches `{contact.second}` "
        f"with {touch}",
        hint=f"name the two the other way round, or use {others}",
    )


def _best_contacts(
    spec: JointSpec, contacts: tuple[Contact, ...], first: str, other: str
) -> list[Contact]:
    """Return the patches of the two sides that share most, of the kind the joint needs if any.

    An edge that a notch divides lies on the other piece with the sides before and behind it. The
    walls of a channel take glue, but nothing that is driven or set.
    """
    pairs = ((first, other), (other, first))
    both = [
        contact
        for contact in contacts
        if (contact.first, contact.second) in pairs
        and (
            spec.with_ in UNSCREWED
            or not (is_wall(contact.first_side) or is_wall(contact.second_side))
        )
    ]

    def rank(contact: Contact) -> tuple[bool, float]:
        side = contact.first_side if contact.first == first else contact.second_side
        suits = spec.with_ in ANY_SIDE or (side >= 0) == (spec.with_ == "pocket screws")
        return (suits, contact.area_mm2)

    best = max(both, key=rank, default=None)
    if best is None:
        return []
    return [contact for contact in both if _is_in_one_plane(contact, best)]


def _is_in_one_plane(contact: Contact, other: Contact) -> bool:
    if (contact.first_side, contact.second_side) == (other.first_side, other.second_side):
        return True
    away = dot(other.normal, subtract(contact.outline[0], other.outline[0]))
    return abs(away) < SAME_PLANE_MM and dot(contact.normal, other.normal) > 1 - PARALLEL_SINE


def _turned(contact: Contact, first: str) -> Contact:
    """Return the contact with the given piece as its first."""
    if contact.first == first:
        return contact
    return Contact(
        first=contact.second,
        second=contact.first,
        first_side=contact.second_side,
        second_side=contact.first_side,
        outline=tuple(reversed(contact.outline)),
        normal=scale(contact.normal, -1.0),
        area_mm2=contact.area_mm2,
    )


def _pocket_side(spec: JointSpec, first: PlacedPiece, log: ProblemLog) -> PlaneSide | None:
    side = face_named(first, spec.pockets)
    if side is None:
        faces = [word for number, word in first.piece.words if number < 0]
        log.add(
            "J109",
            spec.place,
            joint=spec.id,
            why=f"`{first.piece.name}` has no face `{spec.pockets}` to bore pockets in",
            hint="it is round: screw through the other piece into its end"
            if first.part.stock.is_round
            else f"its faces are {' and '.join(sorted(faces))}",
        )
    return side


def _fastener_line(
    contact: Contact, pieces: tuple[PlacedPiece, PlacedPiece], pocket: PlaneSide | None
) -> MiddleLine | None:
    """Return the line the fasteners cross the contact on.

    Pocket screws leave the first board at the middle of its thickness; face screws meet the
    middle of the second board's edge; two faces lying flat are screwed along their middle.
    """
    if pocket is not None:
        return find_edge_middle(contact, pieces[0], contact.first_side)
    if contact.second_side >= 0:
        return find_edge_middle(contact, pieces[1], contact.second_side)
    return find_long_middle(contact)


def _axis(
    first: PlacedPiece, contact: Contact, start: PlaneSide, pocket: PlaneSide | None, at: Vec3
) -> Axis:
    if pocket is None:
        return face_axis(start, at)
    return pocket_axis(first, contact, pocket, at)


def _screw_for(
    spec: JointSpec,
    edition: Edition,
    pieces: tuple[PlacedPiece, PlacedPiece],
    contact: Contact,
    axis: Axis,
    log: ProblemLog,
) -> Screw | None:
    """Return the screw or nail a joint gets, or None where none suits and that was reported."""
    first, second = pieces
    crosses = contact.first_side >= 0 and spec.with_ != "pocket screws"
    edge_mm = mitre_edge_mm(contact, axis) if crosses else math.inf
    sunk_mm = first.part.sunk_mm(contact.first_side)
    first_mm = axis.seat_mm if crosses else first.part.thickness_mm - sunk_mm
    if spec.fixing:
        screw = edition.catalogue.screws[spec.fixing]
    else:
        kind = SCREW_KINDS[spec.with_]
        screws = find_screws(edition, kind, first_mm, second.part)
        if not screws:
            thickness = format_both(first_mm, edition.system)
            log.add("J102", spec.place, kind=kind, catalogue="screws", thickness=thickness)
            return None
        most = edge_mm / MITRE_EDGE_FACTOR
        screw = choose_screw(screws, first_mm, second, contact.second_side, axis, most)
    if crosses and not _has_mitre_wood(spec, screw, contact, axis, edge_mm, edition.system, log):
        return None
    return screw


def _has_mitre_wood(
    spec: JointSpec,
    screw: Screw,
    contact: Contact,
    axis: Axis,
    edge_mm: float,
    system: System,
    log: ProblemLog,
) -> bool:
    """Whether the first piece has wood enough where a mitre is crossed; J109 where it has not."""
    sunk = (screw.head_mm - screw.diameter_mm) / 2 if screw.kind == "face screw" else 0.0
    under, needed = axis.seat_mm - sunk, screw.diameter_mm * MITRE_EDGE_FACTOR
    if under >= MITRE_WOOD_MM and edge_mm >= needed:
        return True
    log.add(
        "J109",
        spec.place,
        joint=spec.id,
        why=f"where a {screw.word} crosses the mitre, `{contact.first}` has "
        f"{format_both(max(under, 0.0), system)} of wood under its head and "
        f"{format_both(edge_mm, system)} beside it; {format_both(MITRE_WOOD_MM, system)} and "
        f"{format_both(needed, system)} are needed",
        hint="glue the mitre (`with: glue`) and screw both to a block in the corner, or use nails",
    )
    return False
