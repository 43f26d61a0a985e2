"""One joint of the design: which contacts it means and which screws go where."""

from dataclasses import dataclass

from generator.geometry.tolerance import PARALLEL_SINE, SAME_PLANE_MM
from generator.geometry.vectors import Vec3, cross, dot, norm, scale, subtract, unit
from generator.joinery.choose import SCREW_KINDS, choose_screw, find_screws
from generator.joinery.contacts import PlacedPiece, PlaneSide
from generator.joinery.drive import Axis, face_axis, face_named, pocket_axis, side_of
from generator.joinery.rules import LEAST_END_MM, UNSCREWED
from generator.joinery.sockets import find_loose_hint, pair_sockets
from generator.joinery.spots import (
    MiddleLine,
    find_long_middle,
    find_middle_line,
    find_spots,
    point_at,
)
from generator.model.catalogue import Screw
from generator.model.edition import Edition, JointSpec
from generator.model.joinery import Contact, Socket
from generator.problems import ProblemLog
from generator.units import System, format_both


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """A screw of a joint before it gets its number.

    Attributes:
        from_start_mm: Along the contact's middle line.
        line_mm: Length of that line.
    """

    joint: JointSpec
    contact: Contact
    first: PlacedPiece
    second: PlacedPiece
    axis: Axis
    screw: Screw
    pocket: PlaneSide | None
    from_start_mm: float
    line_mm: float


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


def find_drives(
    spec: JointSpec,
    contact: Contact,
    placed: dict[str, PlacedPiece],
    edition: Edition,
    log: ProblemLog,
) -> tuple[Drive, ...]:
    """Return the screws of one contact of a joint; none where a problem was reported."""
    first, second = placed[contact.first], placed[contact.second]
    if _is_mitre(contact, first, second):
        _report_mitre(spec, contact, log)
        return ()
    if not _starts_right(spec, contact, log):
        return ()
    pocket: PlaneSide | None = None
    if spec.with_ == "pocket screws":
        pocket = _pocket_side(spec, first, log)
        if pocket is None:
            return ()
    line = _screw_line(contact, first, second, pocket)
    spots = find_spots(line, spec) if line is not None else ()
    if line is None or not spots:
        _report_too_short(spec, line, edition, log)
        return ()
    axes = [_axis(first, contact, pocket, point_at(line, spot)) for spot in spots]
    screw = _screw_for(spec, edition, first, second, contact, axes[0], log)
    if screw is None:
        return ()
    return tuple(
        Drive(
            joint=spec,
            contact=contact,
            first=first,
            second=second,
            axis=axis,
            screw=screw,
            pocket=pocket,
            from_start_mm=spot,
            line_mm=line.length_mm,
        )
        for axis, spot in zip(axes, spots, strict=True)
    )


def common_name(names: tuple[str, ...]) -> str:
    """Return what several pieces are called together: ``side`` for ``side.left`` and the other."""
    if len(names) == 1:
        return names[0]
    return names[0].split("[")[0].split(".")[0] if names else "nothing"


def _is_mitre(contact: Contact, first: PlacedPiece, second: PlacedPiece) -> bool:
    """Whether two pieces touch edge to edge and one of these edges is bevelled."""
    sides = ((first, contact.first_side), (second, contact.second_side))
    if any(side < 0 for _, side in sides):
        return False
    return any(placed.part.edges[side].tilt_deg > 0 for placed, side in sides)


def _report_mitre(spec: JointSpec, contact: Contact, log: ProblemLog) -> None:
    log.add(
        "J109",
        spec.place,
        joint=spec.id,
        why=f"`{contact.first}` and `{contact.second}` meet edge to edge at a mitre, where "
        f"{spec.with_} have too little wood to hold in",
        hint="glue the mitre (`with: glue`) and screw both to a block or panel in the corner",
    )


def _starts_right(spec: JointSpec, contact: Contact, log: ProblemLog) -> bool:
    """Whether the screws can start in the first piece; J109 where it touches the wrong way."""
    by_edge = contact.first_side >= 0
    if by_edge == (spec.with_ == "pocket screws"):
        return True
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
    return False


def _report_too_short(
    spec: JointSpec, line: MiddleLine | None, edition: Edition, log: ProblemLog
) -> None:
    ends = LEAST_END_MM if spec.ends_mm is None else spec.ends_mm
    log.add(
        "J106",
        spec.place,
        joint=spec.id,
        length=format_both(0.0 if line is None else line.length_mm, edition.system),
        needed=f"more than {format_both(2 * ends, edition.system)}",
        hint=None if spec.ends_mm is None else "set smaller `ends`",
    )


def _best_contacts(
    spec: JointSpec, contacts: tuple[Contact, ...], first: str, other: str
) -> list[Contact]:
    """Return the patches of the two sides that share most, of the kind the joint needs if any.

    An edge that a notch divides lies on the other piece with the sides before and behind it.
    """
    pairs = ((first, other), (other, first))
    both = [contact for contact in contacts if (contact.first, contact.second) in pairs]

    def rank(contact: Contact) -> tuple[bool, float]:
        side = contact.first_side if contact.first == first else contact.second_side
        suits = spec.with_ in UNSCREWED or (side >= 0) == (spec.with_ == "pocket screws")
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
            hint=f"its faces are {' and '.join(sorted(faces))}",
        )
    return side


def _screw_line(
    contact: Contact, first: PlacedPiece, second: PlacedPiece, pocket: PlaneSide | None
) -> MiddleLine | None:
    """Return the line the screws cross the contact on.

    Pocket screws leave the first board at the middle of its thickness; face screws meet the
    middle of the second board's edge; two faces lying flat are screwed along their middle.
    """
    if pocket is not None:
        return _edge_middle(contact, first, contact.first_side)
    if contact.second_side >= 0:
        return _edge_middle(contact, second, contact.second_side)
    return find_long_middle(contact)


def _edge_middle(contact: Contact, placed: PlacedPiece, number: int) -> MiddleLine | None:
    side = side_of(placed, number)
    face = placed.piece.frame.z
    direction = unit(cross(side.normal, face))
    if min(direction) < -max(direction):
        direction = scale(direction, -1.0)
    count = len(side.outer)
    middle = scale(_sum_of(side.outer), 1.0 / count)
    return find_middle_line(contact, _on_half(placed, side, middle), direction)


def _sum_of(points: tuple[Vec3, ...]) -> Vec3:
    return (sum(p[0] for p in points), sum(p[1] for p in points), sum(p[2] for p in points))


def _on_half(placed: PlacedPiece, side: PlaneSide, point: Vec3) -> Vec3:
    """Return the point of an edge's plane nearest to a point that lies at half the thickness."""
    frame = placed.piece.frame
    lift = placed.part.thickness_mm / 2 - frame.to_local(point)[2]
    up = subtract(frame.z, scale(side.normal, dot(frame.z, side.normal)))
    rise = norm(up)
    return subtract(point, scale(up, -lift / (rise * rise)))


def _axis(first: PlacedPiece, contact: Contact, pocket: PlaneSide | None, at: Vec3) -> Axis:
    if pocket is None:
        return face_axis(first, contact, at)
    return pocket_axis(first, contact, pocket, at)


def _screw_for(
    spec: JointSpec,
    edition: Edition,
    first: PlacedPiece,
    second: PlacedPiece,
    contact: Contact,
    axis: Axis,
    log: ProblemLog,
) -> Screw | None:
    if spec.screw:
        return edition.catalogue.screws[spec.screw]
    kind = SCREW_KINDS[spec.with_]
    screws = find_screws(edition, kind, first.part.thickness_mm)
    if not screws:
        thickness = format_both(first.part.thickness_mm, edition.system)
        log.add("J102", spec.place, kind=kind, thickness=thickness)
        return None
    return choose_screw(screws, first.part.thickness_mm, second, contact.second_side, axis)
