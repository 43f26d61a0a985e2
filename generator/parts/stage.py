"""All pieces of an edition as parts with labels."""

import math
from dataclasses import dataclass, replace
from typing import Literal

from generator.geometry.frames import Frame
from generator.geometry.rods import Body, place_corners
from generator.geometry.tolerance import PARALLEL_SINE
from generator.geometry.vectors import Vec3, add, scale
from generator.model.catalogue import Edging
from generator.model.edition import Edition
from generator.model.parts import FACE_A, FACE_B, Edge, FaceName, Part, Parts, Piece
from generator.parts.cut_piece import CutPiece, cut_piece
from generator.parts.describe_housings import describe_housing
from generator.parts.edging import edging_of
from generator.parts.grouping import Fit, Spread, find_fit, may_be_alike, pins_on_model, spread_of
from generator.parts.housings import house_pieces
from generator.parts.pins import check_pins, settle_pins
from generator.parts.sides import Side
from generator.parts.stops import notch_stopped
from generator.problems import Problem, ProblemLog
from generator.units import System


@dataclass(frozen=True, slots=True)
class _Member:
    piece: CutPiece
    fit: Fit


def make_parts(edition: Edition) -> tuple[Parts | None, tuple[Problem, ...]]:
    """Return the parts of an edition, or None with the problems that forbid them."""
    log = ProblemLog()
    cut = [cut_piece(spec, edition.system, log) for spec in edition.pieces]
    pieces = [piece for piece in cut if piece is not None]
    if len(pieces) < len(cut):
        return None, tuple(log.problems)
    pieces = _house(pieces, edition.system, log)
    if log.has_errors:
        return None, tuple(log.problems)
    pieces = _settle_outside(pieces)
    for piece in pieces:
        check_pins(piece.spec, piece.slab, piece.pins, edition.system, log)
    if log.has_errors:
        return None, tuple(log.problems)
    groups = _group(pieces)
    parts = tuple(_make_part(label_of(i), members) for i, members in enumerate(groups))
    return _whole(parts), tuple(log.problems)


def label_of(index: int) -> str:
    """Return the label of the part with an index: A … Z, then AA, AB … (I and O stay in)."""
    first, second = divmod(index, 26)
    return (chr(ord("A") + first - 1) if first else "") + chr(ord("A") + second)


def _house(pieces: list[CutPiece], system: System, log: ProblemLog) -> list[CutPiece]:
    """Return the pieces with their channels; mates of stopped ones are cut again, notched."""
    by_name = {piece.spec.name: piece for piece in pieces}
    specs = [notch_stopped(piece, by_name, system, log) for piece in pieces]
    if log.has_errors:
        return pieces
    cut = [
        piece if spec is piece.spec else cut_piece(spec, system, log)
        for piece, spec in zip(pieces, specs, strict=True)
    ]
    return house_pieces([piece for piece in cut if piece is not None], system, log)


def _settle_outside(pieces: list[CutPiece]) -> list[CutPiece]:
    """Resolve faces told as outside or inside: away from the middle of all pieces."""
    low, high = _bounds([(piece.frame, piece.slab) for piece in pieces])
    middle = scale(add(low, high), 0.5)
    settled = []
    for piece in pieces:
        above = piece.frame.to_local(middle)[2] > piece.slab.thickness_mm / 2
        outside, inside = (FACE_A, FACE_B) if above else (FACE_B, FACE_A)
        shows = {"outside": (outside,), "inside": (inside,)}
        settled.append(
            replace(
                piece,
                show=shows.get(piece.spec.show, piece.show),
                pins=settle_pins(piece.pins, piece.spec.pins, outside),
            )
        )
    return settled


def _group(pieces: list[CutPiece]) -> list[list[_Member]]:
    groups: list[tuple[Spread, list[_Member]]] = []
    for piece in pieces:
        spread = spread_of(piece)
        for other, members in groups:
            if not may_be_alike(other, spread):
                continue
            fit = find_fit(members[0].piece, piece)
            if fit is not None:
                members.append(_Member(piece, fit))
                break
        else:
            itself = find_fit(piece, piece)
            assert itself is not None
            groups.append((spread, [_Member(piece, itself)]))
    return [members for _, members in groups]


def _make_part(label: str, members: list[_Member]) -> Part:
    model = members[0].piece
    spec, slab = model.spec, model.slab
    bounds, volume_mm3 = slab.bounds, slab.volume_mm3
    edges = tuple(_edge(side, edging_of(spec, side)) for side in model.sides)
    housings = tuple(
        describe_housing(model, number, _mates_in(members, number))
        for number in range(len(model.tracks))
    )
    return Part(
        label=label,
        name=spec.part,
        title=_title(members),
        stock=spec.stock,
        grain=spec.grain,
        length_mm=bounds[2],
        width_mm=bounds[3],
        thickness_mm=slab.thickness_mm,
        slab=slab,
        edges=edges,
        openings=model.openings,
        recesses=model.recesses,
        housings=housings,
        face_words=model.face_words,
        section="round" if spec.stock.is_round else _section(model.sides),
        pieces=tuple(_piece(label, copy, member) for copy, member in enumerate(members, 1)),
        volume_mm3=volume_mm3,
        mass_kg=volume_mm3 * 1e-9 * spec.stock.material.density_kg_m3,
        place=spec.place,
    )


def _mates_in(members: list[_Member], channel: int) -> tuple[str, ...]:
    """Return the pieces that stand in a channel of any copy."""
    return tuple(
        mate
        for member in members
        for mate in member.piece.tracks[member.fit.channels[channel]].mates
    )


def _title(members: list[_Member]) -> str:
    """Return what the maker calls the pieces: ``Lip, top rail`` where they have two names."""
    titles = list(dict.fromkeys(member.piece.spec.title for member in members))
    return ", ".join([titles[0], *(title[:1].lower() + title[1:] for title in titles[1:])])


def _piece(label: str, copy: int, member: _Member) -> Piece:
    piece, fit = member.piece, member.fit
    own = dict(enumerate(side.name for side in piece.sides))
    own[FACE_A], own[FACE_B] = piece.face_words
    words = tuple((side, own[fit.sides[side]]) for side in sorted(fit.sides))
    show = tuple(side for side in (FACE_A, FACE_B) if fit.sides[side] in piece.show)
    return Piece(
        name=piece.spec.name,
        label=label,
        copy=copy,
        frame=fit.pose.inside(piece.frame),
        words=words,
        show=show,
        pins=pins_on_model(piece, fit),
        place=piece.spec.place,
    )


def _edge(side: Side, edging: Edging | None) -> Edge:
    normal = side.plane.normal
    tilt = math.degrees(math.asin(max(-1.0, min(1.0, abs(normal[2])))))
    long_face: FaceName | Literal[""] = ""
    if not side.is_square:
        long_face = "A" if normal[2] > 0 else "B"
    across, along = (normal[0], normal[1]) if side.kind != "edge" else (normal[1], normal[0])
    mitre = abs(math.degrees(math.atan2(along, abs(across))))
    is_recess = side.kind in {"notch", "arch", "arc"}
    return Edge(
        name=side.name,
        kind=side.kind,
        tilt_deg=0.0 if side.is_square else tilt,
        mitre_deg=0.0 if is_recess or mitre < math.degrees(PARALLEL_SINE) else mitre,
        long_face=long_face,
        meets=side.meets,
        plane=side.plane,
        radius_mm=side.radius_mm,
        edging=edging,
    )


def _section(sides: tuple[Side, ...]) -> str:
    """Return what a cut across shows: two opposite sides are parallel, leaning or square."""
    plain = [side for side in sides if side.kind in {"end", "edge"}]
    found = []
    for first in plain:
        for second in plain[plain.index(first) + 1 :]:
            if first.kind == second.kind and not (first.is_square and second.is_square):
                total = add(first.plane.normal, second.plane.normal)
                parallel = max(abs(value) for value in total) < PARALLEL_SINE
                found.append("parallelogram" if parallel else "trapezium")
    return " and ".join(dict.fromkeys(found)) if found else "rectangle"


def _whole(parts: tuple[Part, ...]) -> Parts:
    solids = [(piece.frame, part.slab) for part in parts for piece in part.pieces]
    low, high = _bounds(solids)
    mass = sum(part.mass_kg * part.count for part in parts)
    center: Vec3 = (0.0, 0.0, 0.0)
    for part in parts:
        for piece in part.pieces:
            share = part.mass_kg / mass
            center = add(center, scale(piece.frame.to_world(part.slab.center), share))
    return Parts(parts=parts, low=low, high=high, mass_kg=mass, center=center)


def _bounds(solids: list[tuple[Frame, Body]]) -> tuple[Vec3, Vec3]:
    corners = [point for frame, slab in solids for point in place_corners(slab, frame)]
    low = (min(c[0] for c in corners), min(c[1] for c in corners), min(c[2] for c in corners))
    high = (max(c[0] for c in corners), max(c[1] for c in corners), max(c[2] for c in corners))
    return low, high
