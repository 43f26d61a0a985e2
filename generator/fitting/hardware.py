"""Hardware in its place on the pieces, measured on the face it sits on."""

from shapely.geometry import Point, Polygon

from generator.geometry.tolerance import PARALLEL_SINE
from generator.geometry.vectors import Vec2
from generator.model.hardware import HardwareSpec, Mounted, Spot
from generator.model.parts import FACE_A, FACE_B, Part, Parts, Piece
from generator.problems import ProblemLog
from generator.units import System, format_both


def mount_hardware(
    specs: tuple[HardwareSpec, ...], parts: Parts, system: System, log: ProblemLog
) -> tuple[Mounted, ...]:
    """Return every piece of hardware whose place is told; P121 where that is not on the wood."""
    owners = {piece.name: (part, piece) for part in parts.parts for piece in part.pieces}
    found = [
        _mount(spec, spot, *owners[spot.piece], system, log)
        for spec in specs
        for spot in spec.spots
    ]
    return tuple(one for one in found if one is not None)


def _mount(
    spec: HardwareSpec, spot: Spot, part: Part, piece: Piece, system: System, log: ProblemLog
) -> Mounted | None:
    words = {word: side for side, word in piece.words if side < 0 or part.edges[side].is_plain}
    side = words[spot.face]
    known = [(words[edge], distance) for edge, distance in spot.distances if edge in words]
    at = None if len(known) < 2 else _point(part, side, known[0], known[1])
    away = None if at is None else _away(part, side, at)
    if at is None or away is None or away > 0.0:
        by = "far" if away is None else format_both(away, system)
        log.add(
            "P121",
            spot.place,
            name=spec.name,
            face=spot.face,
            piece=spot.piece,
            by=by,
            hint="measure its middle from the edges of that face",
        )
        return None
    return Mounted(
        name=spec.name,
        item=spec.item,
        piece=spot.piece,
        side=side,
        at=at,
        distances=(known[0], known[1]),
    )


def _point(
    part: Part, side: int, first: tuple[int, float], second: tuple[int, float]
) -> Vec2 | None:
    """Return the point of a face that lies so far from the lines of two edges; None for none."""
    z = 0.0 if side == FACE_A else part.thickness_mm
    rows = []
    for index, distance in (first, second):
        plane = part.edges[index].plane
        a, b, c = plane.normal
        level = (a * a + b * b) ** 0.5
        rows.append((a, b, plane.offset - c * z - distance * level))
    (a, b, c), (d, e, f) = rows
    turn = a * e - b * d
    if abs(turn) < PARALLEL_SINE:
        return None
    return ((c * e - b * f) / turn, (a * f - c * d) / turn)


def _away(part: Part, side: int, at: Vec2) -> float:
    """Return how far a point is from the wood of a face, 0 for on it."""
    face = part.slab.face_b if side == FACE_B else part.slab.face_a
    holes = [opening.outline.flattened() for opening in part.openings]
    return float(Polygon(face.flattened(), holes).distance(Point(at)))
