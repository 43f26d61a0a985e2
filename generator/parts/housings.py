"""Housings: what pieces that stand in others take out of them.

     u                     In the frame of the host the mate's faces stand upright on the face.
 ---->---------            Its footprint is a rectangle along u, as wide as the mate is thick
|   mate       |           and as long as the mate is between the face and the floor. Where an
 --------------            end or a side lies at an edge of the host it runs out over it.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from shapely import union_all
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from generator.geometry.frames import Frame
from generator.geometry.outlines import Outline
from generator.geometry.slabs import Slab
from generator.geometry.tolerance import (
    CONTACT_AREA_MM2,
    PARALLEL_SINE,
    SAME_PLANE_MM,
    SAME_POINT_MM,
)
from generator.geometry.vectors import Vec2, dot, subtract
from generator.model.edition import Against, Housed
from generator.parts.cut_piece import RULE_OF, CutPiece
from generator.parts.tracks import Track, find_direction, unite_tracks
from generator.problems import Place, ProblemLog
from generator.units import System, format_angle, format_both

BEYOND_MM = 1.0
"""How far what runs out reaches past the wood."""

SLANT_REACH = 1.5
"""At a slant an end has wood beyond it for at most this many widths: up to 56 degrees."""


def house_pieces(pieces: Sequence[CutPiece], system: System, log: ProblemLog) -> list[CutPiece]:
    """Return the pieces with a channel for every edge that is housed in them.

    Reported are P131 (the mate never reaches the host), P132 (it leans), P133 (too deep) and P134
    (nothing is left of the face).
    """
    by_name = {piece.spec.name: piece for piece in pieces}
    found: dict[str, list[Track]] = {}
    for mate in pieces:
        words = dict(mate.spec.words)
        for key, index in RULE_OF.items():
            rule = mate.spec.rules[index]
            if isinstance(rule, Against) and rule.housed is not None:
                edge = words[key]
                for host, housing in _house(mate, edge, rule, rule.housed, by_name, system, log):
                    found.setdefault(host, []).append(housing)
    return [_cut_into(piece, found.get(piece.spec.name, [])) for piece in pieces]


def _cut_into(piece: CutPiece, tracks: list[Track]) -> CutPiece:
    if not isinstance(piece.slab, Slab):
        return piece
    united = unite_tracks(tracks)
    channels = tuple(track.channel for track in united)
    return replace(piece, slab=replace(piece.slab, channels=channels), tracks=united)


def _house(
    mate: CutPiece,
    edge: str,
    rule: Against,
    housed: Housed,
    pieces: Mapping[str, CutPiece],
    system: System,
    log: ProblemLog,
) -> list[tuple[str, Track]]:
    """Return the channels for one edge of a piece, each with the name of its host."""
    for name in housed.hosts:
        host = pieces[name]
        if host.spec.stock.is_round or mate.spec.stock.is_round:
            why = "a rod has no channel and stands in none; give the panel a `hole` it fits"
            log.add("P134", rule.place, mate=mate.spec.name, host=name, why=why)
            return []
        lean = dot(mate.frame.z, housed.face.normal)
        if abs(lean) > PARALLEL_SINE:
            _report_lean(mate, edge, name, rule.place, lean, log)
            return []
        in_b = dot(host.frame.z, housed.face.normal) > 0
        tracks = [
            track for track in _tracks(mate, host, housed, in_b, rule.place) if _meets(track, host)
        ]
        if not tracks:
            continue
        if 2 * housed.depth_mm > host.slab.thickness_mm + SAME_POINT_MM:
            _report_depth(mate, name, rule.place, housed, host, system, log)
            return []
        settled = [_run_out(track, host) for track in tracks]
        if any(track.opens[2] and track.opens[3] for track in settled):
            why = "it takes the whole width of the face away"
            log.add("P134", rule.place, mate=mate.spec.name, host=name, why=why)
            return []
        return [(name, track) for track in settled]
    log.add("P131", rule.place, edge=edge, piece=mate.spec.name, host=housed.named)
    return []


def _report_lean(
    mate: CutPiece, edge: str, host: str, place: Place, lean: float, log: ProblemLog
) -> None:
    angle = format_angle(abs(math.degrees(math.asin(max(-1.0, min(1.0, lean))))))
    log.add(
        "P132",
        place,
        edge=edge,
        piece=mate.spec.name,
        host=host,
        angle=angle,
        hint=f"cut this edge `against {host}`, or turn `{mate.spec.name}` until it stands square",
    )


def _report_depth(
    mate: CutPiece,
    name: str,
    place: Place,
    housed: Housed,
    host: CutPiece,
    system: System,
    log: ProblemLog,
) -> None:
    half = format_both(host.slab.thickness_mm / 2, system)
    log.add(
        "P133",
        place,
        mate=mate.spec.name,
        host=name,
        depth=format_both(housed.depth_mm, system),
        limit=half,
        hint=f"house it at most {half} deep; a third of the thickness is usual",
    )


def _tracks(
    mate: CutPiece, host: CutPiece, housed: Housed, in_b: bool, place: Place
) -> list[Track]:
    """Return the footprints of a mate on the face of its host, one for each part of its edge.

    How deep a point of the mate is in the host, and where it is along u, both follow from its
    place in the mate's face alone, because the mate stands upright.
    """
    x, y, _ = host.frame.local_direction(mate.frame.z)
    along = find_direction((x, y))
    across = host.frame.direction((-along[1], along[0], 0.0))
    frame = Frame(
        host.frame.to_world((0.0, 0.0, host.slab.thickness_mm if in_b else 0.0)),
        host.frame.direction((along[0], along[1], 0.0)),
        across,
        housed.face.normal,
    )
    v = dot(across, subtract(mate.frame.origin, frame.origin))
    far = v + mate.slab.thickness_mm * dot(across, mate.frame.z)
    outlines = (mate.slab.face_a, mate.slab.face_b)
    shape = union_all([_profile(mate.frame, outline, frame) for outline in outlines])
    inside = shape.intersection(_all_below(shape))
    spans = [part.bounds for part in getattr(inside, "geoms", [inside]) if not part.is_empty]
    return [
        Track(
            along=along,
            spans=((low, high), (min(v, far), max(v, far))),
            in_b=in_b,
            depth_mm=housed.depth_mm,
            mates=(mate.spec.name,),
            place=place,
        )
        for low, _, high, _ in sorted(spans)
        if high - low > SAME_POINT_MM
    ]


def _profile(mate: Frame, outline: Outline, frame: Frame) -> Polygon:
    """Return a face of the mate as seen along its thickness: u, and height over the host's face."""
    points = (frame.to_local(mate.to_world((x, y, 0.0))) for x, y in outline.flattened())
    return Polygon([(u, height) for u, _, height in points])


def _all_below(shape: BaseGeometry) -> Polygon:
    """Return all that lies below the face of the host."""
    left, low, right, _ = shape.bounds
    return box(left - BEYOND_MM, min(low, 0.0) - BEYOND_MM, right + BEYOND_MM, -SAME_POINT_MM)


def _face(host: CutPiece, in_b: bool) -> Polygon:
    return (host.slab.face_b if in_b else host.slab.face_a).polygon()


def _meets(track: Track, host: CutPiece) -> bool:
    shared = _face(host, track.in_b).intersection(track.outline.polygon())
    return bool(shared.area > CONTACT_AREA_MM2)


def _run_out(track: Track, host: CutPiece) -> Track:
    """Return a footprint that reaches past the wood wherever it lies at an edge of the host."""
    wood = _face(host, track.in_b)
    ahead = SLANT_REACH * track.width_mm
    opens = (
        _is_open(track, 0, wood, ahead),
        _is_open(track, 1, wood, ahead),
        _is_open(track, 2, wood, 0.0),
        _is_open(track, 3, wood, 0.0),
    )
    pushed = _pushed(track, opens, _lean_mm(host) + BEYOND_MM + ahead)
    both = wood.union(_face(host, not track.in_b))
    inside = both.intersection(pushed.outline.polygon())
    measured = [track.measured(corner) for corner in _corners_of(inside)]
    us, vs = [u for u, _ in measured], [v for _, v in measured]
    (low, high), (near, far) = track.spans
    spans = (
        (min(us) - BEYOND_MM if opens[0] else low, max(us) + BEYOND_MM if opens[1] else high),
        (min(vs) - BEYOND_MM if opens[2] else near, max(vs) + BEYOND_MM if opens[3] else far),
    )
    return replace(track, spans=spans, opens=opens)


def _lean_mm(host: CutPiece) -> float:
    """Return how far the faces of a piece are shifted against each other at most."""
    points = zip(host.slab.face_a.points, host.slab.face_b.points, strict=True)
    return max(math.dist(a, b) for a, b in points)


def _is_open(track: Track, side: int, wood: BaseGeometry, ahead_mm: float) -> bool:
    """Whether a footprint runs out at a side: no wood lies right beyond it.

    An end that meets an edge of the host at a slant has wood beyond one of its corners only; it
    runs out where a little further no wood is left.
    """
    left, whole = _wood_beyond(track, side, wood, 2 * SAME_PLANE_MM)
    if left < SAME_POINT_MM:
        return True
    if left > whole - SAME_PLANE_MM or not ahead_mm:
        return False
    return _wood_beyond(track, side, wood, ahead_mm)[0] < SAME_POINT_MM


def _wood_beyond(
    track: Track, side: int, wood: BaseGeometry, beyond_mm: float
) -> tuple[float, float]:
    """Return how much of a line beyond a side lies in wood, and how long the line is."""
    (low, high), (near, far) = track.spans
    inset = min(SAME_PLANE_MM, track.width_mm / 4)
    ends = (
        ((low - beyond_mm, near + inset), (low - beyond_mm, far - inset)),
        ((high + beyond_mm, near + inset), (high + beyond_mm, far - inset)),
        ((low + inset, near - beyond_mm), (high - inset, near - beyond_mm)),
        ((low + inset, far + beyond_mm), (high - inset, far + beyond_mm)),
    )[side]
    line = LineString([track.point(u, v) for u, v in ends])
    return float(line.intersection(wood).length), float(line.length)


def _pushed(track: Track, opens: Sequence[bool], by_mm: float) -> Track:
    (low, high), (near, far) = track.spans
    push = [by_mm if is_open else 0.0 for is_open in opens]
    return replace(track, spans=((low - push[0], high + push[1]), (near - push[2], far + push[3])))


def _corners_of(shape: BaseGeometry) -> list[Vec2]:
    return [
        (float(x), float(y))
        for part in getattr(shape, "geoms", [shape])
        if isinstance(part, Polygon)
        for x, y in part.exterior.coords
    ]
