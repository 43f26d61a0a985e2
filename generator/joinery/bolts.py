"""Bolts of a joint: through the face of the first piece into threaded inserts in the second.

The head and its washer stand on the face of the first piece. The insert sits flush in the second,
in a blind hole as deep as insert and bolt reach. Where the maker asks for nuts, the bolt goes
through both pieces, and a washer and a nut stand on the far face. Nothing is glued: such a joint
comes apart.
"""

from collections.abc import Sequence

from generator.geometry.vectors import Vec3
from generator.joinery.bites import bolt_bite, nut_bite
from generator.joinery.contacts import PlacedPiece, PlaneSide
from generator.joinery.drive import Axis, Drive, face_axis
from generator.joinery.rules import BOLT_GAUGE_SHARE
from generator.joinery.spots import MiddleLine, point_at
from generator.model.edition import Edition, JointSpec
from generator.model.fixings import Bolt
from generator.model.joinery import Contact
from generator.problems import ProblemLog
from generator.units import format_both


def place_bolts(
    spec: JointSpec,
    contact: Contact,
    pieces: tuple[PlacedPiece, PlacedPiece],
    start: PlaneSide,
    line: MiddleLine,
    spots: Sequence[float],
    edition: Edition,
    log: ProblemLog,
) -> tuple[Drive, ...]:
    """Return the bolts of one contact of a joint; none where a problem was reported.

    Args:
        spec: The joint.
        contact: The first piece touches it with a face.
        pieces: First and second.
        start: The face of the first piece the heads stand on.
        line: Where they cross the contact.
        spots: Distances along that line.
        edition: Has the catalogue.
        log: Takes the problems.
    """
    first, second = pieces
    bolts = _candidates(spec, contact, pieces, edition, log)
    if not bolts:
        return ()
    points = [point_at(line, spot) for spot in spots]
    fitting = (one for one in bolts if _fits(one, spec, contact, second, start, points))
    bolt = next(fitting, bolts[-1])
    return tuple(
        Drive(
            joint=spec,
            contact=contact,
            first=first,
            second=second,
            axis=_bolt_axis(bolt, start, point),
            goods=bolt,
            start=start,
            pocket=None,
            from_start_mm=spot,
            line_mm=line.length_mm,
        )
        for point, spot in zip(points, spots, strict=True)
    )


def _candidates(
    spec: JointSpec,
    contact: Contact,
    pieces: tuple[PlacedPiece, PlacedPiece],
    edition: Edition,
    log: ProblemLog,
) -> tuple[Bolt, ...]:
    """Return the bolts to try in order: thick before thin, short before long.

    None where no bolt suits (J102), or a nut would have no face to stand on (J109).
    """
    if spec.nuts and contact.second_side >= 0:
        _report_no_face(spec, contact, log)
        return ()
    if spec.fixing:
        return (edition.catalogue.bolts[spec.fixing],)
    most = min(piece.part.thickness_mm for piece in pieces) * BOLT_GAUGE_SHARE
    sold = [one for one in edition.catalogue.bolts.values() if one.system == edition.system]
    thin = [one for one in sold if one.diameter_mm <= most]
    if not thin:
        thickness = format_both(most / BOLT_GAUGE_SHARE, edition.system)
        log.add("J102", spec.place, kind="bolt", catalogue="bolts", thickness=thickness)
    return tuple(sorted(thin, key=lambda one: (-one.diameter_mm, one.length_mm)))


def _report_no_face(spec: JointSpec, contact: Contact, log: ProblemLog) -> None:
    log.add(
        "J109",
        spec.place,
        joint=spec.id,
        why=f"bolts with nuts come out of a face, but `{contact.second}` touches "
        f"`{contact.first}` with an edge",
        hint="leave `nuts` out: the bolts then go into threaded inserts",
    )


def _fits(
    bolt: Bolt,
    spec: JointSpec,
    contact: Contact,
    second: PlacedPiece,
    start: PlaneSide,
    points: Sequence[Vec3],
) -> bool:
    bite = nut_bite if spec.nuts else bolt_bite
    return all(
        bite(second, contact.second_side, _bolt_axis(bolt, start, point), bolt).holds()
        for point in points
    )


def _bolt_axis(bolt: Bolt, start: PlaneSide, point: Vec3) -> Axis:
    """Return the axis of a bolt, whose head stands a washer's thickness above the face."""
    axis = face_axis(start, point)
    return Axis(axis.joint, axis.direction, axis.seat_mm + bolt.washer_thick_mm)
