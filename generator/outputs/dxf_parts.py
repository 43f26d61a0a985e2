"""A part in DXF: both outlines, bevels, holes, pockets, layout lines and grain, layer by layer.

Copies that are bored or marked differently are drawn side by side in one file, each with its
names above it, so that nobody bores a left side like a right one.
"""

import math
from typing import Final

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.assembly import Mark
from generator.model.joinery import BoredHole
from generator.model.parts import FACE_A, FACE_B, Part
from generator.model.plan import Plan
from generator.model.work import Work, find_work
from generator.outputs.dxf_pen import Pen
from generator.outputs.part_view import View, face_word, find_view, has_grain
from generator.units import format_length, format_size

OUTLINE_A: Final = "face A outline"
OUTLINE_B: Final = "face B outline"
BEVELS: Final = "bevel lines"
HOLES: Final = "holes"
SINKS: Final = ("countersinks face A", "countersinks face B")
POCKETS: Final = ("pockets face A", "pockets face B")
MARKS: Final = ("layout lines face A", "layout lines face B")
GRAIN: Final = "grain"
NOTES: Final = "notes"
PART_LAYERS: Final = (
    OUTLINE_A,
    OUTLINE_B,
    BEVELS,
    HOLES,
    *SINKS,
    *POCKETS,
    *MARKS,
    GRAIN,
    NOTES,
)

TEXT_MM: Final = 12.0
"""Height of type on the real part."""
APART_MM: Final = 100.0
"""Between copies that are worked differently, room for their notes."""


def draw_part_entities(pen: Pen, plan: Plan, part: Part) -> None:
    """Draw a part as seen on face A, full size, its least x and y at 0, grain to the right."""
    view = find_view(part, "A")
    for number, work in enumerate(find_work(plan, part)):
        at_y = number * (part.width_mm + APART_MM)
        _draw_wood(pen, part, view, at_y)
        for hole in work.holes:
            _draw_hole(pen, hole, view, at_y)
        for mark in work.marks:
            _draw_mark(pen, mark, view, at_y)
        notes = (_first_note(plan, part, work), _second_note(part, work))
        for row, note in enumerate(reversed(notes)):
            pen.text((0, at_y + part.width_mm + TEXT_MM * (1 + 1.8 * row)), note, TEXT_MM, NOTES)


def _draw_wood(pen: Pen, part: Part, view: View, at_y: float) -> None:
    face_a, face_b = part.slab.face_a, part.slab.face_b
    pen.outline(_moved(view.outline(face_a), at_y), OUTLINE_A)
    if _differ(face_a, face_b):
        pen.outline(_moved(view.outline(face_b), at_y), OUTLINE_B)
    for opening in part.openings:
        outline = opening.outline
        if opening.name == "hole":
            x, y = view.point(opening.center)
            pen.circle((x, y + at_y), opening.sizes_mm[0], HOLES)
        else:
            pen.outline(_moved(view.outline(outline), at_y), HOLES)
    for i, edge in enumerate(part.edges):
        if edge.tilt_deg:
            short = face_a if edge.long_face == "B" else face_b
            start, end, _ = short.edges()[i]
            pen.line(_lifted(view, start, at_y), _lifted(view, end, at_y), BEVELS)
    _draw_grain(pen, part, at_y)


def _draw_grain(pen: Pen, part: Part, at_y: float) -> None:
    if not has_grain(part):
        return
    middle, half = part.width_mm / 2 + at_y, part.length_mm / 8
    left, right = part.length_mm / 2 - half, part.length_mm / 2 + half
    barb = min(half / 3, part.width_mm / 12)
    pen.line((left, middle), (right, middle), GRAIN)
    for tip, way in ((left, 1), (right, -1)):
        for side in (1, -1):
            pen.line((tip, middle), (tip + way * barb, middle + side * barb / 2), GRAIN)


def _draw_hole(pen: Pen, hole: BoredHole, view: View, at_y: float) -> None:
    if hole.side not in {FACE_A, FACE_B}:
        return
    row = 0 if hole.side == FACE_A else 1
    x, y = view.point((hole.at[0], hole.at[1]))
    slope = abs(hole.direction[2])
    if hole.kind == "pocket" and slope < 1:
        way = view.direction((hole.direction[0], hole.direction[1]))
        size, half = math.hypot(*way), hole.diameter_mm / 2 / slope
        long_axis = (way[0] / size * half, way[1] / size * half)
        pen.ellipse((x, y + at_y), long_axis, slope, POCKETS[row])
        return
    pen.circle((x, y + at_y), hole.diameter_mm, HOLES)
    if hole.countersink_mm:
        pen.circle((x, y + at_y), hole.countersink_mm, SINKS[row])


def _draw_mark(pen: Pen, mark: Mark, view: View, at_y: float) -> None:
    outline = Outline(tuple((x, y) for x, y in mark.outline))
    if outline.area_mm2 < 0:
        outline = Outline(tuple(reversed(outline.points)))
    layer = MARKS[0 if mark.side == FACE_A else 1]
    pen.outline(_moved(view.outline(outline), at_y), layer)


def _first_note(plan: Plan, part: Part, work: Work) -> str:
    system = plan.edition.system
    size = f"{format_size(part.length_mm, system)} x {format_length(part.width_mm, system)}"
    thick = format_length(part.thickness_mm, system)
    return (
        f"{part.label} {part.title}, {size}, {thick} thick, make {len(work.pieces)}: {work.names}"
    )


def _second_note(part: Part, work: Work) -> str:
    piece = work.pieces[0]
    face_a, face_b = face_word(part, piece, "A"), face_word(part, piece, "B")
    grain = " Grain runs left to right." if has_grain(part) else ""
    return f"Seen on face A ({face_a}); face B is the {face_b}.{grain}"


def _differ(one: Outline, other: Outline) -> bool:
    pairs = zip(one.points, other.points, strict=True)
    return any(math.dist(a, b) > SAME_POINT_MM for a, b in pairs)


def _moved(outline: Outline, at_y: float) -> Outline:
    return outline.moved(0.0, at_y)


def _lifted(view: View, point: Vec2, at_y: float) -> Vec2:
    x, y = view.point(point)
    return (x, y + at_y)
