"""The sizes around one face of a part: finished size, corners, and everything from two edges."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final, Literal

from generator.geometry.tolerance import SAME_PLANE_MM
from generator.geometry.vectors import Vec2
from generator.model.joinery import BoredHole
from generator.model.parts import Part
from generator.model.work import Work
from generator.outputs.dimensions import FIRST_MM, Dimension, Side, stack_dimensions
from generator.outputs.face_paper import FacePaper
from generator.outputs.panels import Box
from generator.outputs.part_labels import find_small_notches
from generator.outputs.part_view import edge_direction, face_number
from generator.outputs.running_dimensions import Reading, draw_running_dimensions
from generator.outputs.scene import Item, Words
from generator.units import System, format_length, format_size

Axis = Literal[0, 1]
SIDES: Final[tuple[tuple[Axis, Side, Side], ...]] = ((0, "below", "above"), (1, "left", "right"))
"""For an axis the side at its low and at its high end of the other one."""

NAME_MM: Final = 4.5
"""Room for the name of an edge above the span of its arch, which stands in the middle like it."""

MOST_READINGS: Final = 12
"""More sizes than this along one side are read from the table of holes instead."""


@dataclass(frozen=True, slots=True)
class Datum:
    """What running sizes along an axis start from.

    Attributes:
        axis: 0 along the length of the paper, 1 along its height.
        edge: Index of the edge.
        seen_mm: Its place in the view, in mm of the part.
        place_mm: Its place on paper.
    """

    axis: Axis
    edge: int
    seen_mm: float
    place_mm: float


@dataclass(frozen=True, slots=True)
class Spot:
    """A point on a face and the axes along which a builder needs its distance."""

    at: Vec2
    axes: tuple[Axis, ...]
    is_hole: bool


@dataclass(frozen=True, slots=True)
class Sizes:
    """What was drawn, and where each side is crossed by extension lines."""

    items: tuple[Item, ...]
    crossings: dict[str, list[float]]


def find_datum(paper: FacePaper, work: Work, axis: Axis) -> Datum:
    """Return the edge that distances along an axis are measured from.

    The edge a layout line or a channel names, else the one at the left or below as seen on face A,
    square ones first; the same edge whichever face is drawn.
    """
    named = {mark.edge for mark in work.marks} | {one.edge for one in paper.part.housings}
    kind = "end" if axis == 0 else "edge"
    on_a = replace(paper.view, face="A")
    ranks = []
    for index, edge in enumerate(paper.part.edges):
        if edge.kind == kind:
            is_ahead = on_a.direction(edge_direction(edge))[axis] > 0
            ranks.append((edge.name not in named, edge.mitre_deg > 0, is_ahead, index))
    seen = paper.seen_box
    box = paper.box
    if not ranks:
        return Datum(axis, 0, seen[axis], box[axis])
    index = min(ranks)[3]
    is_ahead = paper.view.direction(edge_direction(paper.part.edges[index]))[axis] > 0
    corner = axis + 2 if is_ahead else axis
    return Datum(axis, index, seen[corner], box[corner])


def distance_mm(paper: FacePaper, datum: Datum, at: Vec2) -> float:
    """Return how far a point of the part is from the edge measured from."""
    return abs(paper.view.point(at)[datum.axis] - datum.seen_mm)


def draw_sizes(paper: FacePaper, work: Work, system: System, *, is_first: bool) -> Sizes:
    """Return all sizes around a face; finished size and corners only on the first one drawn."""
    spots = _spots(paper, work, is_first=is_first)
    items: list[Item] = []
    crossings: dict[str, list[float]] = {}
    for axis, low_side, high_side in SIDES:
        datum = find_datum(paper, work, axis)
        rows = _readings(paper, datum, spots, system)
        for side, row in ((low_side, rows[0]), (high_side, rows[1])):
            stacked = _stacked(paper, axis, side, system) if is_first else []
            drawn, crossings[side] = _draw_side(paper, datum, side, row, stacked)
            items += drawn
    # Texts last: what a line of another stack would cross stands on its own paper.
    return Sizes(tuple(sorted(items, key=lambda item: isinstance(item, Words))), crossings)


def bounds_of_part(paper: FacePaper) -> Box:
    """Return the box around both faces on paper."""
    return (0.0, 0.0, *paper.size)


def _draw_side(
    paper: FacePaper, datum: Datum, side: Side, row: list[Reading], stacked: list[Dimension]
) -> tuple[list[Item], list[float]]:
    """Draw the sizes of one side, running ones nearest to the part; and where lines cross it."""
    axis = datum.axis
    whole = bounds_of_part(paper)
    edge_at = whole[3] if side == "above" else whole[2] if side == "right" else 0.0
    lines = [end[axis] for one in stacked for end in (one.start, one.end)]
    items: list[Item] = []
    clear = edge_at
    if row:
        line = edge_at + (FIRST_MM if side in {"above", "right"} else -FIRST_MM)
        zero = datum.place_mm
        start = (zero, edge_at) if axis == 0 else (edge_at, zero)
        run = draw_running_dimensions(row, start, side, line, blocked=lines)
        items += run.items
        clear = run.reach_mm
        lines += [zero, *(reading.at[axis] for reading in row)]
    after_row = 3.0 if side in {"above", "left"} else 6.0
    arched = any(where == side for where, _ in _spans(paper, "metric"))
    first = after_row if row else FIRST_MM + NAME_MM if arched and stacked else FIRST_MM
    items += stack_dimensions(stacked, side, clear, first_mm=first).items
    return items, lines


def _stacked(paper: FacePaper, axis: Axis, side: Side, system: System) -> list[Dimension]:
    """Return finished size and corner sizes that belong on a side."""
    low_x, low_y, high_x, high_y = bounds_of_part(paper)
    sizes = (*_corner_sizes(paper, system), *_spans(paper, system))
    stacked = [one for where, one in sizes if where == side]
    if side == "above":
        text = format_length(paper.part.length_mm, system)
        stacked.append(Dimension((low_x, high_y), (high_x, high_y), text))
    if side == "left":
        sign = "Ø " if paper.part.stock.is_round else ""
        text = sign + format_length(paper.part.width_mm, system)
        stacked.append(Dimension((low_x, low_y), (low_x, high_y), text))
    return [one for one in stacked if abs(one.end[axis] - one.start[axis]) > SAME_PLANE_MM]


def _corner_sizes(paper: FacePaper, system: System) -> Iterable[tuple[Side, Dimension]]:
    """Return how far each corner of the face is from its outermost edges, where it is off them."""
    edges = paper.part.edges
    seen = paper.seen_box
    box = paper.box
    done: set[tuple[Side, float]] = set()
    told = {index for recess in find_small_notches(paper) for index in recess.edges}
    for i, point in enumerate(paper.near.points):
        meeting = (edges[i], edges[i - 1])
        if any(edge.is_free or (edge.kind == "corner" and edge.radius_mm) for edge in meeting):
            continue
        if told & {i, (i - 1) % len(edges)}:
            continue
        real, at = paper.view.point(point), paper.point(point)
        for axis, low_side, high_side in SIDES:
            is_low = real[axis] - seen[axis] < seen[axis + 2] - real[axis]
            corner = axis if is_low else axis + 2
            across = 1 - axis
            is_below = real[across] - seen[across] < seen[across + 2] - real[across]
            side = low_side if is_below else high_side
            size = abs(real[axis] - seen[corner])
            if size > SAME_PLANE_MM and (side, round(at[axis], 2)) not in done:
                done.add((side, round(at[axis], 2)))
                end = (box[corner], at[1]) if axis == 0 else (at[0], box[corner])
                yield side, Dimension(at, end, format_size(size, system))


def _spans(paper: FacePaper, system: System) -> Iterable[tuple[Side, Dimension]]:
    """Return the span of each arch in an edge that lies along a side of the sheet."""
    box = paper.box
    for edge, (start, end, _) in zip(paper.part.edges, paper.near.edges(), strict=True):
        if edge.kind == "arch":
            a, b = paper.point(start), paper.point(end)
            text = format_size(math.dist(start, end), system)
            for axis, low_side, high_side in SIDES:
                at = a[1 - axis]
                if abs(at - b[1 - axis]) < SAME_PLANE_MM:
                    is_low = at - box[1 - axis] < box[3 - axis] - at
                    yield low_side if is_low else high_side, Dimension(a, b, text)


def _spots(paper: FacePaper, work: Work, *, is_first: bool) -> list[Spot]:
    number = face_number(paper.view.face)
    spots = [
        Spot(point, (0, 1), False)
        for mark in work.marks
        if mark.side == number
        for point in mark.outline
    ]
    spots += [
        Spot(point, (0, 1), False)
        for housing in paper.part.housings
        if housing.side == number
        for point in housing.corners
    ]
    if is_first:
        spots += [Spot(opening.center, (0, 1), False) for opening in paper.part.openings]
        spots += [_edge_spot(paper.part, hole) for hole in work.holes if hole.side >= 0]
    spots += [_hole_spot(hole) for hole in work.holes if hole.side == number]
    return spots


def _hole_spot(hole: BoredHole) -> Spot:
    """A pocket's distance from the edge it aims at is set by its jig, not marked."""
    at = (hole.at[0], hole.at[1])
    if hole.kind != "pocket":
        return Spot(at, (0, 1), True)
    aims_along = abs(hole.direction[0]) > abs(hole.direction[1])
    return Spot(at, (1,) if aims_along else (0,), True)


def _edge_spot(part: Part, hole: BoredHole) -> Spot:
    """A hole in an edge needs its distance along it; along a slanting one the table says it."""
    edge = part.edges[hole.side]
    normal = edge.plane.normal
    along: Axis = 1 if abs(normal[0]) > abs(normal[1]) else 0
    return Spot((hole.at[0], hole.at[1]), () if edge.mitre_deg else (along,), True)


def _readings(
    paper: FacePaper, datum: Datum, spots: list[Spot], system: System
) -> tuple[list[Reading], list[Reading]]:
    """Return the running sizes on the low and on the high side, each distance once."""
    wanted = [spot for spot in spots if datum.axis in spot.axes]
    for keep_holes in (True, False):
        chosen = [spot for spot in wanted if keep_holes or not spot.is_hole]
        low, high = _split(paper, datum, chosen)
        if max(len(low), len(high)) <= MOST_READINGS:
            break
    return (
        [Reading(at, format_size(size, system)) for size, at in low],
        [Reading(at, format_size(size, system)) for size, at in high],
    )


def _split(
    paper: FacePaper, datum: Datum, spots: list[Spot]
) -> tuple[list[tuple[float, Vec2]], list[tuple[float, Vec2]]]:
    """Return distances and places for the low and the high side, leaving out what edges show."""
    axis, box = datum.axis, paper.box
    middle = (box[1 - axis] + box[3 - axis]) / 2
    low: list[tuple[float, Vec2]] = []
    high: list[tuple[float, Vec2]] = []
    for spot in spots:
        at = paper.point(spot.at)
        tight = SAME_PLANE_MM * paper.scale
        if min(abs(at[axis] - box[axis]), abs(at[axis] - box[axis + 2])) < tight:
            continue
        row = low if at[1 - axis] < middle else high
        _add(row, distance_mm(paper, datum, spot.at), at, nearest_low=row is low, axis=axis)
    main, other = (low, high) if axis == 0 else (high, low)
    kept = [one for one in other if not any(abs(one[0] - size) < 0.1 for size, _ in main)]
    return (main, kept) if axis == 0 else (kept, main)


def _add(
    row: list[tuple[float, Vec2]], size: float, at: Vec2, *, nearest_low: bool, axis: Axis
) -> None:
    """Add a distance once, with the place that is nearest to the side it is read on."""
    for i, (other, place) in enumerate(row):
        if abs(other - size) < 0.1:
            is_nearer = (at[1 - axis] < place[1 - axis]) == nearest_low
            row[i] = (other, at if is_nearer else place)
            return
    row.append((size, at))
