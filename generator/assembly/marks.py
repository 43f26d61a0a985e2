"""Layout lines: where the edge of a mate lands on the face of a part."""

import math
from dataclasses import dataclass, replace

from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.assembly import Mark
from generator.model.joinery import Contact
from generator.model.parts import Part, Parts, Piece


@dataclass(frozen=True, slots=True)
class Landing:
    """A patch on the face of a piece, in the part's frame."""

    part: Part
    piece: Piece
    side: int
    mate: str
    outline: tuple[Vec2, ...]


def find_landings(parts: Parts, contacts: tuple[Contact, ...]) -> tuple[Landing, ...]:
    """Return every patch where a mate's edge, or a smaller mate's face, lies on a face."""
    owners = {piece.name: (part, piece) for part in parts.parts for piece in part.pieces}
    landings = []
    for contact in contacts:
        first, second = contact.first, contact.second
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
            landings.append(Landing(part, piece, side, mate, flat))
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


def _is_smaller(mate: Part, host: Part) -> bool:
    return mate.length_mm * mate.width_mm < host.length_mm * host.width_mm


def _mark(landing: Landing, mate: str) -> Mark:
    """Return a mark measured from the edge of the part that its long sides run along."""
    long = _long_direction(landing.outline)
    along_x = abs(long[0]) >= abs(long[1])
    edge, low, high = _measured(landing.part, landing.outline, along_x)
    run, rise = sorted((abs(long[0]), abs(long[1])), reverse=True)
    slope = math.degrees(math.atan2(rise, run))
    cross, _, _ = _measured(landing.part, landing.outline, not along_x)
    return Mark(
        label=landing.part.label,
        copies=(landing.piece.name,),
        side=landing.side,
        mate=mate,
        outline=landing.outline,
        edge=edge,
        from_mm=low,
        to_mm=high,
        slope_deg=0.0 if slope < 0.01 else slope,
        cross_edge=cross,
        corners_mm=_corners(landing.part, landing.outline, edge, cross),
    )


def _long_direction(outline: tuple[Vec2, ...]) -> Vec2:
    ends = outline[1:] + outline[:1]
    sides = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(outline, ends, strict=True)]
    length = max(math.hypot(*side) for side in sides)
    return next(s for s in sides if math.hypot(*s) > length - SAME_POINT_MM)


def _measured(part: Part, outline: tuple[Vec2, ...], along_x: bool) -> tuple[str, float, float]:
    """Return the nearer of the two edges a builder measures from, and both distances."""
    axis = 1 if along_x else 0
    values = [point[axis] for point in outline]
    size = part.width_mm if along_x else part.length_mm
    low, high = min(values), max(values)
    near = _edge_name(part, axis, -1.0)
    far = _edge_name(part, axis, 1.0)
    if size - high < low - SAME_POINT_MM:
        return far, size - high, size - low
    return near, low, high


def _edge_name(part: Part, axis: int, sign: float) -> str:
    """Return the name of the edge whose plane looks most along an axis."""
    plain = [edge for edge in part.edges if edge.kind != "corner"]
    return max(plain, key=lambda edge: edge.plane.normal[axis] * sign).name


def _corners(
    part: Part, outline: tuple[Vec2, ...], edge: str, cross: str
) -> tuple[tuple[float, float], ...]:
    """Return for each corner of the patch its distances from the two named edges."""
    corners = []
    for point in outline:
        distances = []
        for name in (edge, cross):
            axis = 0 if name in {_edge_name(part, 0, -1.0), _edge_name(part, 0, 1.0)} else 1
            size = part.length_mm if axis == 0 else part.width_mm
            backwards = name == _edge_name(part, axis, 1.0)
            distances.append(size - point[axis] if backwards else point[axis])
        corners.append((distances[0], distances[1]))
    return tuple(corners)


def _same_mark(first: Mark, second: Mark) -> bool:
    if (first.label, first.side, first.mate) != (second.label, second.side, second.mate):
        return False
    if len(first.outline) != len(second.outline):
        return False
    return all(any(math.dist(a, b) < SAME_POINT_MM for b in second.outline) for a in first.outline)
