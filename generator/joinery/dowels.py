"""Dowels of a joint: where they stand, which ones, and how deep the two holes are.

    first        A dowel stands square on the joint, half in either piece. Where one of them has
   ______        too little wood for half of it, as the face of a panel has, the hole there is as
  |  ||  |       deep as it may be and the other one takes the rest. Where two bevelled edges
 _|__||__|_      meet, the line of the dowels is moved from the middle of the edge to where the
|    ||    |     thickest and longest dowels have wood enough around them.
|__________|
   second
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.geometry.vectors import Vec3, scale
from generator.joinery.bites import Bite, dowel_bite
from generator.joinery.contacts import PlacedPiece
from generator.joinery.drive import Axis, Drive, measure_cover, side_of
from generator.joinery.rules import (
    COVER_MM,
    DOWEL_LENGTH_FACTOR,
    DOWEL_SHARE,
    DOWEL_SPACING_MM,
    DOWEL_SPARE_MM,
    least_end_mm,
)
from generator.joinery.spots import (
    MiddleLine,
    find_edge_middle,
    find_long_middle,
    find_spots,
    point_at,
    report_too_short,
)
from generator.model.edition import Edition, JointSpec
from generator.model.fixings import Dowel
from generator.model.joinery import Contact
from generator.problems import ProblemLog
from generator.units import TAPE_STEP_MM, System, format_both

SHIFTS = (0.0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3)
"""How far off the middle of a bevelled edge a line of dowels may lie, in thicknesses."""


@dataclass(frozen=True, slots=True)
class _Choice:
    """A line of dowels that could be: where, which, and how deep they stand in the first piece."""

    line: MiddleLine
    spots: tuple[float, ...]
    dowel: Dowel
    seat_mm: float
    fits: bool


def place_dowels(
    spec: JointSpec,
    contact: Contact,
    placed: dict[str, PlacedPiece],
    edition: Edition,
    log: ProblemLog,
) -> tuple[Drive, ...]:
    """Return the dowels of one contact of a joint; none where a problem was reported."""
    first, second = placed[contact.first], placed[contact.second]
    dowels = _candidates(spec, contact, first, second, edition)
    lines = [line for line in _lines(contact, first, second) if line is not None]
    spots = [find_spots(line, spec, DOWEL_SPACING_MM) for line in lines]
    if not any(spots):
        report_too_short(spec, lines[0] if lines else None, edition.system, log)
        return ()
    if not dowels:
        thickness = format_both(_thickness(contact, first, second), edition.system)
        log.add("J102", spec.place, kind="dowel", catalogue="dowels", thickness=thickness)
        return ()
    best = max(
        (
            _choose(line, at, dowels, contact, (first, second), edition.system)
            for line, at in zip(lines, spots, strict=True)
            if at
        ),
        key=lambda one: (one.fits, one.dowel.diameter_mm, one.dowel.length_mm),
    )
    return tuple(
        Drive(
            joint=spec,
            contact=contact,
            first=first,
            second=second,
            axis=Axis(point_at(best.line, spot), contact.normal, best.seat_mm),
            goods=best.dowel,
            start=side_of(first, contact.first_side),
            pocket=None,
            from_start_mm=spot,
            line_mm=best.line.length_mm,
        )
        for spot in best.spots
    )


def _candidates(
    spec: JointSpec, contact: Contact, first: PlacedPiece, second: PlacedPiece, edition: Edition
) -> tuple[Dowel, ...]:
    """Return the dowels to try in order: thick before thin, long before short."""
    if spec.fixing:
        return (edition.catalogue.dowels[spec.fixing],)
    most = _thickness(contact, first, second) * DOWEL_SHARE
    sold = [one for one in edition.catalogue.dowels.values() if one.system == edition.system]
    thin = [one for one in sold if one.diameter_mm <= most]
    usual = [one for one in thin if one.length_mm <= DOWEL_LENGTH_FACTOR * one.diameter_mm]
    return tuple(sorted(usual, key=lambda one: (-one.diameter_mm, -one.length_mm)))


def _thickness(contact: Contact, first: PlacedPiece, second: PlacedPiece) -> float:
    """Return the thickness of the thinner edge a dowel stands in; of two faces, of the thinner."""
    sides = ((first, contact.first_side), (second, contact.second_side))
    edges = [piece for piece, side in sides if side >= 0]
    return min(piece.part.thickness_mm for piece in edges or (first, second))


def _lines(
    contact: Contact, first: PlacedPiece, second: PlacedPiece
) -> Iterator[MiddleLine | None]:
    """Yield the lines dowels may stand on, the middle of the thinner edge before others."""
    sides = ((first, contact.first_side), (second, contact.second_side))
    edges = [(piece, side) for piece, side in sides if side >= 0]
    if not edges:
        yield find_long_middle(contact)
        return
    piece, side = min(edges, key=lambda one: one[0].part.thickness_mm)
    is_mitre = len(edges) == 2 and any(one.part.edges[at].tilt_deg > 0 for one, at in edges)
    for shift in SHIFTS if is_mitre else SHIFTS[:1]:
        yield find_edge_middle(contact, piece, side, shift * piece.part.thickness_mm)


def _choose(
    line: MiddleLine,
    spots: tuple[float, ...],
    dowels: Sequence[Dowel],
    contact: Contact,
    pieces: tuple[PlacedPiece, PlacedPiece],
    system: System,
) -> _Choice:
    """Return the first dowel that fits on a line; where none does, the last one tried."""
    points = [point_at(line, spot) for spot in spots]
    rooms = tuple(
        min(_room_mm(piece, side, point, way) for point in points)
        for piece, side, way in _ways(contact, pieces)
    )
    end = min(spots[0], line.length_mm - spots[-1])
    for dowel in dowels:
        seat = _seat_mm(dowel, rooms, (contact.first_side, contact.second_side), system)
        bites = (bite for point in points for bite in _bites(dowel, seat, point, contact, pieces))
        if end >= least_end_mm(dowel) and all(bite.holds() for bite in bites):
            return _Choice(line, spots, dowel, seat, fits=True)
    return _Choice(line, spots, dowels[-1], seat, fits=False)


def _ways(
    contact: Contact, pieces: tuple[PlacedPiece, PlacedPiece]
) -> tuple[tuple[PlacedPiece, int, Vec3], tuple[PlacedPiece, int, Vec3]]:
    """Return both pieces with the side a dowel enters by and the way into the wood."""
    first, second = pieces
    return (
        (first, contact.first_side, scale(contact.normal, -1.0)),
        (second, contact.second_side, contact.normal),
    )


def _bites(
    dowel: Dowel,
    seat_mm: float,
    point: Vec3,
    contact: Contact,
    pieces: tuple[PlacedPiece, PlacedPiece],
) -> Iterator[Bite]:
    holds = (seat_mm, dowel.length_mm - seat_mm)
    for (piece, side, way), hold in zip(_ways(contact, pieces), holds, strict=True):
        yield dowel_bite(piece, contact, side, Axis(point, way, 0.0), dowel, hold)


def _room_mm(piece: PlacedPiece, side: int, point: Vec3, way: Vec3) -> float:
    """Return how deep a hole may be that leaves enough wood before it."""
    cover = measure_cover(piece, side, Axis(point, way, 0.0), 0.0)
    return cover.ahead_mm - COVER_MM / cover.slant


def _seat_mm(
    dowel: Dowel, rooms: tuple[float, ...], sides: tuple[int, int], system: System
) -> float:
    """Return how deep a dowel stands in the first piece: half of it, or what the rooms leave.

    A hole in a face is as many whole steps deep as it may be: a stop on the bit is set by them.
    """
    spare = DOWEL_SPARE_MM[dowel.system]
    whole = dowel.length_mm + 2 * spare
    first, second = (
        room if side >= 0 else math.floor(room / TAPE_STEP_MM[system] + 1e-9) * TAPE_STEP_MM[system]
        for room, side in zip(rooms, sides, strict=True)
    )
    depth = whole / 2
    if first + second >= whole:
        depth = max(min(depth, first), whole - second)
    return depth - spare
