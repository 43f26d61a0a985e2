"""Layout lines: where the edge of a mate lands on the face of a part."""

import math
from dataclasses import dataclass, replace

from shapely import get_coordinates
from shapely.geometry import MultiPoint

from generator.geometry.faces import channel_of
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.assembly import Mark
from generator.model.joinery import Joinery
from generator.model.parts import Edge, Part, Parts, Piece

NO_SLOPE_DEG = 0.01
"""Over a 2 m line this is a third of a millimetre: nobody marks it as a slope."""


@dataclass(frozen=True, slots=True)
class Landing:
    """A patch on the face of a piece, in the part's frame."""

    part: Part
    piece: Piece
    side: int
    mate: str
    outline: tuple[Vec2, ...]


def find_landings(parts: Parts, joinery: Joinery) -> tuple[Landing, ...]:
    """Return every patch where a mate's edge, or a smaller mate's face, lies on a face.

    What only hangs or lies there is left out: it has no place of its own to mark. So is what stands
    in a channel: the channel shows where it lands.
    """
    hung = _find_hung(joinery)
    housed = _find_housed(joinery)
    owners = {piece.name: (part, piece) for part in parts.parts for piece in part.pieces}
    landings = []
    for contact in joinery.contacts:
        first, second = contact.first, contact.second
        if hung.get(first) != hung.get(second) or frozenset((first, second)) in housed:
            continue
        for host, side, mate, mate_side in (
            (first, contact.first_side, second, contact.second_side),
            (second, contact.second_side, first, contact.first_side),
        ):
            if side >= 0:
                continue
            part, piece = owners[host]
            if mate_side < 0 and not _is_smaller(owners[mate][0], part):
                continue
            flat = tuple(piece.frame.to_local(point)[:2] for point in contact.outline)
            outline = flat if mate_side < 0 else _without_notches(flat)
            landings.append(Landing(part, piece, side, mate, outline))
    return tuple(landings)


def make_marks(landings: tuple[Landing, ...], labels: dict[str, str]) -> tuple[Mark, ...]:
    """Return the layout lines of landings; equal ones on several copies become one."""
    marks: list[Mark] = []
    for landing in landings:
        mark = _mark(landing, labels[landing.mate])
        for i, other in enumerate(marks):
            if _same_mark(mark, other):
                marks[i] = replace(other, copies=(*other.copies, *mark.copies))
                break
        else:
            marks.append(mark)
    return tuple(marks)


def _find_hung(joinery: Joinery) -> dict[str, int]:
    """Return the number of a group for every piece: those of a group are held to each other.

    Groups part only where joints with nothing join them.
    """
    loose = [joint for joint in joinery.joints if joint.with_ == "nothing"]
    if not loose:
        return {}
    names = [name for joint in joinery.joints for pair in joint.between for name in pair]
    group = {name: number for number, name in enumerate(dict.fromkeys(names))}
    for joint in joinery.joints:
        for first, second in joint.between if joint not in loose else ():
            kept, lost = group[first], group[second]
            group = {name: kept if number == lost else number for name, number in group.items()}
    return group


def _find_housed(joinery: Joinery) -> set[frozenset[str]]:
    """Return the pairs of pieces of which one stands in a channel of the other."""
    return {
        frozenset((contact.first, contact.second))
        for contact in joinery.contacts
        if {channel_of(contact.first_side), channel_of(contact.second_side)} != {None}
    }


def _without_notches(outline: tuple[Vec2, ...]) -> tuple[Vec2, ...]:
    """Return where an edge lands, as if no channel ran out at it: a line is drawn past them."""
    corners = get_coordinates(MultiPoint(outline).convex_hull).tolist()
    return tuple(p for p in outline if any(math.dist(p, c) < SAME_POINT_MM for c in corners))


def _is_smaller(mate: Part, host: Part) -> bool:
    return mate.length_mm * mate.width_mm < host.length_mm * host.width_mm


def _mark(landing: Landing, mate: str) -> Mark:
    """Return a mark measured from the edge of the part that its long sides run along."""
    part, side, outline = landing.part, landing.side, landing.outline
    long = _long_direction(outline)
    axis = 1 if abs(long[0]) >= abs(long[1]) else 0
    edge = _edge_beside(part, side, outline, axis, long)
    cross = _nearer_edge(part, side, outline, 1 - axis)
    away = [part.inset_mm(edge, side, point) for point in outline]
    across = [part.inset_mm(cross, side, point) for point in outline]
    slope = _slope_deg(edge, long)
    return Mark(
        label=part.label,
        copies=(landing.piece.name,),
        side=side,
        mate=mate,
        outline=outline,
        edge=edge.name,
        from_mm=min(away),
        to_mm=max(away),
        slope_deg=0.0 if slope < NO_SLOPE_DEG else slope,
        cross_edge=cross.name,
        corners_mm=tuple(zip(away, across, strict=True)),
    )


def _long_direction(outline: tuple[Vec2, ...]) -> Vec2:
    ends = outline[1:] + outline[:1]
    sides = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(outline, ends, strict=True)]
    length = max(math.hypot(*side) for side in sides)
    return next(s for s in sides if math.hypot(*s) > length - SAME_POINT_MM)


def _edge_beside(part: Part, side: int, outline: tuple[Vec2, ...], axis: int, long: Vec2) -> Edge:
    """Return the edge a patch is measured from: the one its long sides run along, if only one."""
    ends = (_edge_towards(part, axis, sign) for sign in (-1.0, 1.0))
    beside = [edge for edge in ends if _slope_deg(edge, long) < NO_SLOPE_DEG]
    return beside[0] if len(beside) == 1 else _nearer_edge(part, side, outline, axis)


def _nearer_edge(part: Part, side: int, outline: tuple[Vec2, ...], axis: int) -> Edge:
    """Return the one of two opposite edges that a builder measures from: a straight, near one."""
    low, high = (_edge_towards(part, axis, sign) for sign in (-1.0, 1.0))
    if bool(low.mitre_deg) != bool(high.mitre_deg):
        return high if low.mitre_deg else low
    from_low, from_high = (
        min(part.inset_mm(edge, side, point) for point in outline) for edge in (low, high)
    )
    return high if from_high < from_low - SAME_POINT_MM else low


def _edge_towards(part: Part, axis: int, sign: float) -> Edge:
    """Return the edge whose plane looks most along an axis; of a free outline the one there is."""
    kind = "end" if axis == 0 else "edge"
    plain = [edge for edge in part.edges if edge.kind == kind]
    return max(plain, key=lambda edge: edge.plane.normal[axis] * sign)


def _slope_deg(edge: Edge, direction: Vec2) -> float:
    """Return the angle of a direction in the face against the line of an edge, 0 to 90."""
    across, along = edge.plane.normal[:2]
    out = abs(direction[0] * across + direction[1] * along)
    on = abs(direction[1] * across - direction[0] * along)
    return math.degrees(math.atan2(out, on))


def _same_mark(first: Mark, second: Mark) -> bool:
    if (first.label, first.side, first.mate) != (second.label, second.side, second.mate):
        return False
    if len(first.outline) != len(second.outline):
        return False
    return all(any(math.dist(a, b) < SAME_POINT_MM for b in second.outline) for a in first.outline)
