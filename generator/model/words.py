"""How the trade says what a plan holds: the same words on drawings, in tables and on pages."""

from fractions import Fraction
from typing import Final

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.geometry.vectors import Vec2
from generator.model.assembly import Mark
from generator.model.parts import FACE_A, FACE_B, Edge, Part, Piece
from generator.units import (
    MM_PER_INCH,
    System,
    format_angle,
    format_fraction,
    format_length,
    inches,
)

BIT_STEP: Final = 64
"""Inch drill bits are sold in 64ths: common practice, no source."""

BIT_MM: Final = 0.12
"""A bit bores at least this much wider or narrower than its name."""


def side_word(part: Part, side: int) -> str:
    """Return what a side of a part is called on its first piece: ``top``, ``left edge``."""
    if side == FACE_A:
        return f"{part.face_words[0]} face"
    if side == FACE_B:
        return f"{part.face_words[1]} face"
    return edge_word(part.edges[side])


def piece_side_word(piece: Piece, part: Part, side: int) -> str:
    """Return what a side is called on one piece, which may lie flipped in the whole."""
    for number, word in piece.words:
        if number == side:
            return f"{word} face" if side in {FACE_A, FACE_B} else f"{word} {part.edges[side].kind}"
    return side_word(part, side)


def edge_word(edge: Edge) -> str:
    """Return the name of an edge with what it is: ``front edge``, ``left end``."""
    return f"{edge.name} {edge.kind}"


def long_face_word(part: Part, edge: Edge) -> str:
    """Return the name of the face a bevel's long point is on; empty for a square edge."""
    if not edge.long_face:
        return ""
    return part.face_words[0] if edge.long_face == "A" else part.face_words[1]


def edge_work(part: Part, edge: Edge, system: System) -> str:
    """Return what is done at an edge beyond a square cut, or nothing.

    Such as ``front edge: blade tilted 12°, long point on the top face``.
    """
    work = []
    if edge.radius_mm > 0:
        work.append(f"rounded {format_length(edge.radius_mm, system)}")
    elif edge.kind == "corner":
        work.append(f"clipped, {format_angle(edge.mitre_deg)} off square")
    elif edge.mitre_deg > 0:
        base = "square" if edge.kind == "end" else "parallel"
        work.append(f"{format_angle(edge.mitre_deg)} off {base}")
    if edge.tilt_deg > 0:
        face = long_face_word(part, edge)
        work.append(f"blade tilted {format_angle(edge.tilt_deg)}, long point on the {face} face")
    return f"{edge_word(edge)}: {', '.join(work)}" if work else ""


def bit_words(diameter_mm: float, system: System) -> str:
    """Return a drill bit as sold: ``11/64 in`` or ``4.5 mm``; in mm where no inch bit is near."""
    metric = f"{diameter_mm:.1f}".removesuffix(".0") + " mm"
    if system == "metric":
        return metric
    nearest = Fraction(round(inches(diameter_mm) * BIT_STEP), BIT_STEP)
    near = abs(float(nearest * MM_PER_INCH) - diameter_mm) <= BIT_MM
    return f"{format_fraction(nearest)} in" if near else metric


def part_work(part: Part, system: System) -> tuple[str, ...]:
    """Return everything done to the rectangle of a part but its bored holes, edge by edge."""
    edges = [edge_work(part, edge, system) for edge in part.edges]
    openings = []
    for opening in part.openings:
        sizes = " × ".join(format_length(size, system) for size in opening.sizes_mm)
        openings.append(f"{opening.name} {sizes}")
    return tuple(text for text in (*edges, *openings) if text)


def mark_sentence(mark: Mark, part: Part, system: System) -> str:
    """Return how to draw a layout line: measured from which edge, on which face of which part.

    A patch that stands square to the edge is two lines at distances from it; a slanted one is
    given by its corners.
    """
    face = mark_face_word(mark, part)
    if _stands_square(mark):
        near, far = format_length(mark.from_mm, system), format_length(mark.to_mm, system)
        edge = next((edge for edge in part.edges if edge.name == mark.edge), None)
        start = edge_word(edge) if edge is not None else f"{mark.edge} edge"
        return (
            f"On the {face} draw lines {near} and {far} from the {start}; {mark.mate} goes between."
        )
    corners = "; ".join(_corner_words(point, part, system) for point in mark.outline)
    return f"On the {face} mark these points and join them: {corners}. {mark.mate} goes inside."


def mark_face_word(mark: Mark, part: Part) -> str:
    """Return what the marked side is called on the piece it is drawn on."""
    for piece in part.pieces:
        if piece.name in mark.copies:
            return piece_side_word(piece, part, mark.side)
    return side_word(part, mark.side)


def _stands_square(mark: Mark) -> bool:
    """Whether two parallel lines at the distances of the mark bound the patch."""
    return not mark.outline or any(
        _bands([point[axis] for point in mark.outline]) for axis in (0, 1)
    )


def _bands(values: list[float]) -> bool:
    low, high = min(values), max(values)
    return all(min(value - low, high - value) < SAME_PLANE_MM for value in values)


def _corner_words(point: Vec2, part: Part, system: System) -> str:
    end, edge = _origin_edges(part)
    along, across = format_length(point[0], system), format_length(point[1], system)
    return f"{along} from the {end} and {across} from the {edge}"


def _origin_edges(part: Part) -> tuple[str, str]:
    """Return the words for the end at x = 0 and the edge at y = 0."""
    left = min(part.edges, key=lambda edge: edge.plane.normal[0])
    near = min(part.edges, key=lambda edge: edge.plane.normal[1])
    return edge_word(left), edge_word(near)
