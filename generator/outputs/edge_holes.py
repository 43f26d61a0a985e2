"""Where a hole in an edge is: how far from a face, and how far along an edge that slants."""

import math
from typing import Literal

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.model.joinery import BoredHole
from generator.model.parts import Part
from generator.model.work import Work
from generator.outputs.face_paper import FacePaper
from generator.outputs.part_view import face_word
from generator.units import System, format_length


def across_axis(part: Part, hole: BoredHole) -> Literal[0, 1]:
    """Return the axis along which a hole in an edge or end has no place of its own."""
    return 0 if part.edges[hole.side].kind == "end" else 1


def edge_height(paper: FacePaper, work: Work, hole: BoredHole, system: System) -> str:
    """Return where a hole in an edge is across it: ``middle of the thickness``, ``9 from the top``.

    On a bevel it is measured along the bevel, from the arris of the long point.
    """
    part, piece = paper.part, work.pieces[0]
    edge = part.edges[hole.side]
    from_a, from_b = hole.at[2], part.thickness_mm - hole.at[2]
    if edge.tilt_deg:
        square = from_a if edge.long_face == "A" else from_b
        size = square / math.cos(math.radians(edge.tilt_deg))
        return f"{format_length(size, system)} down the bevel from the long point"
    if abs(from_a - from_b) < SAME_PLANE_MM:
        return "middle of the thickness"
    near = face_word(part, piece, "A" if from_a < from_b else "B")
    return f"{format_length(min(from_a, from_b), system)} from the {near} face"


def from_long_point_mm(part: Part, hole: BoredHole) -> float:
    """Return how far along a slanting end or edge a hole is from the end of it that reaches out."""
    start, end, _ = part.slab.face_a.edges()[hole.side]
    normal = part.edges[hole.side].plane.normal
    axis = 0 if part.edges[hole.side].kind == "end" else 1
    outward = math.copysign(1.0, normal[axis])
    far = max((start, end), key=lambda point: point[axis] * outward)
    return math.dist(hole.at[:2], far)
