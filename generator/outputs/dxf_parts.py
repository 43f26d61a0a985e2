"""A part in DXF: outlines, bevels, channels, holes, pockets, layout lines, grain, layer by layer.

Copies that are bored or marked differently are drawn side by side in one file, each with its
names above it, so that nobody bores a left side like a right one.
"""

import itertools
import math
from typing import Final

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.assembly import Mark
from generator.model.hardware import Mounted
from generator.model.housing_words import (
    housing_ends,
    housing_face,
    housing_name,
    housing_place,
    housing_size,
)
from generator.model.joinery import BoredHole
from generator.model.parts import FACE_A, FACE_B, Housing, Part
from generator.model.plan import Plan
from generator.model.words import bit_words, piece_side_word, plain_words
from generator.model.work import Work, find_work
from generator.outputs.dxf_pen import Pen
from generator.outputs.part_view import View, face_word, find_view, has_grain
from generator.units import System, format_length, format_size, inches

OUTLINE_A: Final = "face A outline"
OUTLINE_B: Final = "face B outline"
BEVELS: Final = "bevel lines"
HOLES: Final = "holes"
BLIND: Final = ("blind holes face A", "blind holes face B")
EDGE_BORES: Final = "holes in edges"
SINKS: Final = ("countersinks face A", "countersinks face B")
POCKETS: Final = ("pockets face A", "pockets face B")
MARKS: Final = ("layout lines face A", "layout lines face B")
HARDWARE: Final = ("hardware face A", "hardware face B")
GRAIN: Final = "grain"
NOTES: Final = "notes"
PART_LAYERS: Final = (
    OUTLINE_A,
    OUTLINE_B,
    BEVELS,
    HOLES,
    *BLIND,
    EDGE_BORES,
    *SINKS,
    *POCKETS,
    *MARKS,
    *HARDWARE,
    GRAIN,
    NOTES,
)

TEXT_MM: Final = 12.0
"""Height of type on the real part."""
CROSS_MM: Final = 5.0
"""Half the length of the cross where hardware goes."""
APART_MM: Final = 100.0
"""Between copies that are worked differently, room for their notes."""


def part_layers(part: Part, system: System) -> tuple[str, ...]:
    """Return the layers of the drawing of a part: the usual ones, and one for every channel depth.

    Channels of one depth in one face share a layer, so that a router gets one depth for each.
    """
    found = dict.fromkeys(_channel_layer(one, system) for one in part.housings)
    return (*PART_LAYERS, *sorted(found))


def draw_part_entities(pen: Pen, plan: Plan, part: Part) -> None:
    """Draw a part as seen on face A, full size, its least x and y at 0, grain to the right."""
    view = find_view(part, "A")
    for number, work in enumerate(find_work(plan, part)):
        at_y = number * (part.width_mm + APART_MM)
        _draw_wood(pen, part, view, at_y)
        for housing in part.housings:
            outline = _moved(view.outline(housing.outline), at_y)
            pen.outline(outline, _channel_layer(housing, plan.edition.system))
        for hole in work.holes:
            _draw_hole(pen, hole, view, at_y)
        for mark in work.marks:
            _draw_mark(pen, mark, view, at_y)
        for one in work.hardware:
            _draw_hardware(pen, one, view, at_y)
        notes = (
            _first_note(plan, part, work),
            _second_note(part, work),
            *_depth_notes(plan, part, work),
            *_channel_notes(plan, part, work),
        )
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
        _draw_edge_bore(pen, hole, view, at_y)
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
    pen.circle((x, y + at_y), hole.diameter_mm, HOLES if hole.depth_mm is None else BLIND[row])
    if hole.countersink_mm:
        pen.circle((x, y + at_y), hole.countersink_mm, SINKS[row])


def _draw_edge_bore(pen: Pen, hole: BoredHole, view: View, at_y: float) -> None:
    """Draw a hole in an edge as it lies in the wood, seen square on the face."""
    (x, y), (way_x, way_y) = hole.at[:2], hole.direction[:2]
    half = hole.diameter_mm / 2 / math.hypot(way_x, way_y)
    deep = 0.0 if hole.depth_mm is None else hole.depth_mm
    side = (-way_y * half, way_x * half)
    end = (x + way_x * deep, y + way_y * deep)
    corners = (
        (x + side[0], y + side[1]),
        (end[0] + side[0], end[1] + side[1]),
        (end[0] - side[0], end[1] - side[1]),
        (x - side[0], y - side[1]),
    )
    for start, stop in itertools.pairwise(corners):
        pen.line(_lifted(view, start, at_y), _lifted(view, stop, at_y), EDGE_BORES)


def _draw_mark(pen: Pen, mark: Mark, view: View, at_y: float) -> None:
    outline = Outline(tuple((x, y) for x, y in mark.outline))
    if outline.area_mm2 < 0:
        outline = Outline(tuple(reversed(outline.points)))
    layer = MARKS[0 if mark.side == FACE_A else 1]
    pen.outline(_moved(view.outline(outline), at_y), layer)


def _draw_hardware(pen: Pen, mounted: Mounted, view: View, at_y: float) -> None:
    x, y = _lifted(view, mounted.at, at_y)
    layer = HARDWARE[0 if mounted.side == FACE_A else 1]
    pen.line((x - CROSS_MM, y), (x + CROSS_MM, y), layer)
    pen.line((x, y - CROSS_MM), (x, y + CROSS_MM), layer)
    pen.text((x + CROSS_MM, y + CROSS_MM), plain_words(mounted.name), TEXT_MM, layer)


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


def _depth_notes(plan: Plan, part: Part, work: Work) -> tuple[str, ...]:
    """Return how wide and deep the blind holes are, side by side."""
    system, piece = plan.edition.system, work.pieces[0]
    blind = [hole for hole in work.holes if hole.depth_mm is not None and hole.kind != "pocket"]
    found = {
        (piece_side_word(piece, part, h.side), bit_words(h.diameter_mm, system), h.depth_mm or 0.0)
        for h in blind
    }
    return tuple(
        f"Blind holes, {side}: {bit} bit, {format_length(deep, system)} deep."
        for side, bit, deep in sorted(found)
    )


def _channel_layer(housing: Housing, system: System) -> str:
    """Return the layer of a channel: its face and its depth as a number; names take no fraction."""
    face = "A" if housing.side == FACE_A else "B"
    depth = housing.depth_mm if system == "metric" else inches(housing.depth_mm)
    unit = "mm" if system == "metric" else "in"
    return f"channels face {face} {depth:.4f}".rstrip("0").rstrip(".") + f" {unit} deep"


def _channel_notes(plan: Plan, part: Part, work: Work) -> tuple[str, ...]:
    """Return what the channels are, how deep and how wide."""
    system, piece = plan.edition.system, work.pieces[0]
    return tuple(
        f"{housing_name(one).capitalize()} {housing_size(one, system)}, in the "
        f"{housing_face(part, one, piece)} face: {housing_place(part, one, system, piece)}, "
        f"{housing_ends(part, one, system, piece)}."
        for one in part.housings
    )


def _differ(one: Outline, other: Outline) -> bool:
    pairs = zip(one.points, other.points, strict=True)
    return any(math.dist(a, b) > SAME_POINT_MM for a, b in pairs)


def _moved(outline: Outline, at_y: float) -> Outline:
    return outline.moved(0.0, at_y)


def _lifted(view: View, point: Vec2, at_y: float) -> Vec2:
    x, y = view.point(point)
    return (x, y + at_y)
