"""From a placed piece to its solid: edge rules become planes, corners and openings are worked."""

import math
from dataclasses import dataclass

from generator.geometry.frames import Frame, Plane
from generator.geometry.rods import Body, Rod
from generator.geometry.slabs import Slab
from generator.geometry.tolerance import MEETS_SINE, SAME_POINT_MM
from generator.geometry.vectors import Vec2, Vec3, dot, scale
from generator.model.edition import Against, Bevel, CornerRule, Direction, EdgeRule, PieceSpec
from generator.model.parts import FACE_A, FACE_B, Opening, PinHole, Recess
from generator.parts.free_outlines import (
    bounding_sides,
    find_outsides,
    make_outline,
    name_sides,
    outline_sides,
)
from generator.parts.openings import cut_openings, mirror_opening, move_opening
from generator.parts.pins import mirror_pin, move_pin, place_pins
from generator.parts.recesses import cut_recesses, settle_recesses
from generator.parts.rods import cut_rod
from generator.parts.sides import (
    Side,
    corner_at,
    find_corner,
    mirror_sides,
    move_sides,
    outline_at,
)
from generator.parts.tracks import Track
from generator.problems import ProblemLog
from generator.units import System, format_both

OUTWARD: tuple[tuple[str, Vec3], ...] = (
    ("width-", (0.0, -1.0, 0.0)),
    ("length+", (1.0, 0.0, 0.0)),
    ("width+", (0.0, 1.0, 0.0)),
    ("length-", (-1.0, 0.0, 0.0)),
)
"""The four sides in the order they follow each other around the face."""

RULE_OF = {"length-": 0, "length+": 1, "width-": 2, "width+": 3}


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """A piece with its solid, in its own frame whose origin is at the least x and y.

    Attributes:
        tracks: Of the channels of the slab, in their order.
    """

    spec: PieceSpec
    frame: Frame
    slab: Body
    sides: tuple[Side, ...]
    openings: tuple[Opening, ...]
    recesses: tuple[Recess, ...]
    pins: tuple[PinHole, ...]
    face_words: tuple[str, str]
    show: tuple[int, ...]
    tracks: tuple[Track, ...] = ()


def cut_piece(spec: PieceSpec, system: System, log: ProblemLog) -> CutPiece | None:
    """Return the piece sawn to its edge rules, or None where problems were reported."""
    if spec.outline:
        return _cut_free(spec, system, log)
    thickness = spec.stock.thickness_mm
    words = dict(spec.words)
    four = [_cut_side(spec, words, key, outward, log) for key, outward in OUTWARD]
    sides = tuple(side for side in four if side is not None)
    if len(sides) < 4:
        return None
    if outline_at(sides, 0.0) is None or outline_at(sides, thickness) is None:
        log.add("P102", spec.place, piece=spec.name, hint=_no_wood_hint(spec, sides, system))
        return None
    if spec.stock.is_round:
        rod = cut_rod(spec, sides, system, log)
        return None if rod is None else _settle(spec, sides, rod)
    return _work_panel(spec, sides, system, log)


def _work_panel(
    spec: PieceSpec, sides: tuple[Side, ...], system: System, log: ProblemLog
) -> CutPiece | None:
    """Return the piece with its corners, cuts, openings and pin holes."""
    thickness, four = spec.stock.thickness_mm, sides
    for rule in (rule for rule in spec.corners if not rule.is_notch):
        worked = _work_corner(spec, sides, rule, thickness, system, log)
        if worked is None:
            return None
        sides = worked
    cut = cut_recesses(spec, sides, thickness, system, log)
    if cut is None:
        return None
    sides, recesses = cut
    return _bore(spec, (sides, four), recesses, system, log)


def _cut_free(spec: PieceSpec, system: System, log: ProblemLog) -> CutPiece | None:
    """Return a piece with a free outline, or None where problems were reported."""
    if spec.stock.is_round:
        why = "it is round and has no outline; give it a `length`"
        log.add("P112", spec.place, piece=spec.name, why=why)
        return None
    outline = make_outline(spec, system, log)
    sides = None if outline is None else outline_sides(spec, outline, log)
    if outline is None or sides is None:
        return None
    sides, outsides = find_outsides(outline, sides)
    return _bore(spec, (sides, bounding_sides(spec, outline)), outsides, system, log)


def _bore(
    spec: PieceSpec,
    sides: tuple[tuple[Side, ...], tuple[Side, ...]],
    recesses: tuple[Recess, ...],
    system: System,
    log: ProblemLog,
) -> CutPiece | None:
    """Return the piece with openings and pin holes, told from four sides of those it has."""
    thickness, (cut, four) = spec.stock.thickness_mm, sides
    openings = cut_openings(spec, cut, four, thickness, system, log)
    pins = place_pins(spec, four, thickness, system, log)
    if openings is None or pins is None:
        return None
    return _settle(spec, cut, None, recesses, openings, pins)


def _cut_side(
    spec: PieceSpec, words: dict[str, Direction], key: str, outward: Vec3, log: ProblemLog
) -> Side | None:
    rule = spec.rules[RULE_OF[key]]
    name = words[key]
    span = spec.spans[0 if key.startswith("length") else 1][1 if key.endswith("+") else 0]
    plane = _rule_plane(spec, rule, outward, span)
    sine = dot(plane.normal, outward)
    level = math.hypot(plane.normal[0], plane.normal[1])
    if level < MEETS_SINE or abs(sine) < MEETS_SINE * level:
        meets = rule.meets if isinstance(rule, Against) else "the face"
        place = spec.place if not isinstance(rule, (Against, Bevel)) else rule.place
        log.add(
            "P101",
            place,
            edge=name,
            piece=spec.name,
            target=f"`{meets}`",
            hint="it runs along that face; name another edge or another face",
        )
        return None
    if sine < 0:
        plane = plane.flipped()
    return Side(
        name=name,
        kind="end" if key.startswith("length") else "edge",
        plane=plane,
        meets=rule.meets if isinstance(rule, Against) else "",
    )


def _rule_plane(spec: PieceSpec, rule: EdgeRule, outward: Vec3, span: float | None) -> Plane:
    """Return the plane of an edge in the piece's frame.

    A bevel of angle w with its long point on face A leans back by t tan w at face B, so its
    normal leans towards +z by w; with the long point on face B it leans towards -z.
    """
    if isinstance(rule, Against):
        return spec.frame.plane_to_local(rule.plane)
    assert span is not None
    at = span * (outward[0] + outward[1])
    if not isinstance(rule, Bevel):
        return Plane(outward, at)
    thickness = spec.stock.thickness_mm
    long_on_b = spec.frame.local_direction(rule.long_outward)[2] > 0
    sine, cosine = math.sin(math.radians(rule.angle_deg)), math.cos(math.radians(rule.angle_deg))
    normal = (outward[0] * cosine, outward[1] * cosine, -sine if long_on_b else sine)
    offset = at * cosine + (normal[2] * thickness if long_on_b else 0.0)
    return Plane(normal, offset)


def _no_wood_hint(spec: PieceSpec, sides: tuple[Side, ...], system: System) -> str | None:
    """Return by how much opposite sides have passed each other, in words."""
    for first, second, axis in ((sides[3], sides[1], "length"), (sides[0], sides[2], "width")):
        room = _room_between(first.plane, second.plane, spec.stock.thickness_mm)
        if room < SAME_POINT_MM:
            short = format_both(-room, system)
            return f"its {first.name} and {second.name} edges pass each other by {short} ({axis})"
    return None


def _room_between(low: Plane, high: Plane, thickness: float) -> float:
    """Return the least distance between two opposite sides along the middle of the piece."""
    spread = []
    for z in (0.0, thickness):
        axis = 0 if abs(low.normal[0]) > abs(low.normal[1]) else 1
        ends = [(p.offset - p.normal[2] * z) / p.normal[axis] for p in (low, high)]
        spread.append(ends[1] - ends[0])
    return min(spread)


def _work_corner(
    spec: PieceSpec,
    sides: tuple[Side, ...],
    rule: CornerRule,
    thickness: float,
    system: System,
    log: ProblemLog,
) -> tuple[Side, ...] | None:
    """Return the sides with one corner worked, or None where it cannot be; then P103 was said."""
    names = [side.name for side in sides]
    index = find_corner(sides, rule.edges)
    if index is None:
        edges = f"its edges are {', '.join(name for name in names if ' ' not in name)}"
        _report_corner(spec, rule, log, "these two edges do not meet in a corner", edges)
        return None
    before, after = sides[index - 1], sides[index]
    legs = rule.clip_mm if rule.clip_mm is not None else _round_legs(rule, before, after)
    if rule.radius_mm is not None and not (before.is_square and after.is_square):
        _report_corner(spec, rule, log, "only a corner between two square edges can be rounded")
        return None
    if before.name != rule.edges[0]:
        legs = (legs[1], legs[0])
    name = " ".join(rule.edges)
    middle = _corner_side(before, after, legs, thickness, name, rule.radius_mm)
    worked = (*sides[:index], middle, *sides[index:]) if index else (*sides, middle)
    if outline_at(worked, 0.0) is None or outline_at(worked, thickness) is None:
        longest = format_both(max(legs), system)
        why = "what is cut off reaches past the end of an edge"
        _report_corner(spec, rule, log, f"{why} ({longest} is more than there is)")
        return None
    return worked


def _report_corner(
    spec: PieceSpec, rule: CornerRule, log: ProblemLog, why: str, hint: str | None = None
) -> None:
    corner = " ".join(rule.edges)
    log.add("P103", rule.place, corner=corner, piece=spec.name, why=why, hint=hint)


def _round_legs(rule: CornerRule, before: Side, after: Side) -> tuple[float, float]:
    """Return how far from the corner a round touches its two edges: r / tan(half the angle)."""
    assert rule.radius_mm is not None
    cosine = -dot(before.plane.normal, after.plane.normal)
    half = math.acos(max(-1.0, min(1.0, cosine))) / 2
    leg = rule.radius_mm / math.tan(half)
    return (leg, leg)


def _corner_side(
    before: Side,
    after: Side,
    legs: tuple[float, float],
    thickness: float,
    name: str,
    radius_mm: float | None,
) -> Side:
    """Return the side that cuts the corner off, measured from the corner that reaches furthest."""
    corner = _outer_corner(before, after, thickness)
    a, b = before.plane.normal, after.plane.normal
    back = _level((a[1], -a[0]))
    forward = _level((-b[1], b[0]))
    start = (corner[0] + back[0] * legs[0], corner[1] + back[1] * legs[0])
    end = (corner[0] + forward[0] * legs[1], corner[1] + forward[1] * legs[1])
    along = _level((end[0] - start[0], end[1] - start[1]))
    normal = (along[1], -along[0], 0.0)
    plane = Plane(normal, normal[0] * start[0] + normal[1] * start[1])
    if radius_mm is None:
        return Side(name=name, kind="corner", plane=plane)
    turn = math.acos(max(-1.0, min(1.0, dot(a, b))))
    return Side(
        name=name, kind="corner", plane=plane, radius_mm=radius_mm, bulge=math.tan(turn / 4)
    )


def _outer_corner(before: Side, after: Side, thickness: float) -> Vec2:
    outward = (
        before.plane.normal[0] + after.plane.normal[0],
        before.plane.normal[1] + after.plane.normal[1],
    )
    corners = [corner_at(before.plane, after.plane, z) for z in (0.0, thickness)]
    found = [corner for corner in corners if corner is not None]
    return max(found, key=lambda p: p[0] * outward[0] + p[1] * outward[1])


def _level(vector: Vec2) -> Vec2:
    length = math.hypot(*vector)
    return (vector[0] / length, vector[1] / length)


def _settle(
    spec: PieceSpec,
    sides: tuple[Side, ...],
    rod: Rod | None,
    recesses: tuple[Recess, ...] = (),
    openings: tuple[Opening, ...] = (),
    pins: tuple[PinHole, ...] = (),
) -> CutPiece:
    """Mirror the piece where asked, and move its origin to the least x and y of both faces."""
    thickness = spec.stock.thickness_mm
    frame, words = spec.frame, dict(spec.words)
    if spec.mirror_plane is not None:
        mirrored = frame.mirrored(spec.mirror_plane)
        frame = Frame(mirrored.origin, scale(mirrored.x, -1.0), mirrored.y, mirrored.z)
        sides = mirror_sides(sides)
        openings = tuple(mirror_opening(opening) for opening in openings)
        pins = tuple(mirror_pin(pin) for pin in pins)
    sides = name_sides(sides)
    low, high = outline_at(sides, 0.0), outline_at(sides, thickness)
    assert low is not None
    assert high is not None
    bounds = Slab(low, high, thickness).bounds
    dx, dy = -bounds[0], -bounds[1]
    moved = tuple(move_opening(opening, dx, dy) for opening in openings)
    slab = Slab(low.moved(dx, dy), high.moved(dx, dy), thickness, tuple(o.outline for o in moved))
    is_mirrored = spec.mirror_plane is not None
    return CutPiece(
        spec=spec,
        frame=frame.moved((-dx, -dy, 0.0)),
        slab=slab if rod is None else rod,
        sides=move_sides(sides, dx, dy),
        openings=moved,
        recesses=settle_recesses(recesses, sides, dx, dy, mirrored=is_mirrored),
        pins=tuple(move_pin(pin, dx, dy) for pin in pins),
        face_words=(words["through-"], words["through+"]),
        show=_show_sides(spec, words),
    )


def _show_sides(spec: PieceSpec, words: dict[str, Direction]) -> tuple[int, ...]:
    if spec.show == "both":
        return (FACE_A, FACE_B)
    if spec.show == words["through-"]:
        return (FACE_A,)
    if spec.show == words["through+"]:
        return (FACE_B,)
    return ()
