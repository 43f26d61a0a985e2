"""One face of a part, drawn square on: wood, bevels, openings, layout lines, holes, sizes.

Everything is in mm on paper with the lower left of the part at 0; the sheet moves it into place.
"""

import itertools
import math
from typing import Literal

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_AIM, SAME_PLANE_MM, SAME_POINT_MM
from generator.model.parts import Edge
from generator.model.work import Work
from generator.outputs.face_paper import FacePaper
from generator.outputs.panels import Box, bounds_of
from generator.outputs.part_view import edge_word, face_number
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    Area,
    Item,
    Layer,
    Stroke,
    Words,
)
from generator.units import format_angle


def draw_wood(paper: FacePaper) -> tuple[Item, ...]:
    """Return the two outlines: of the face looked at wide, of the other hidden where it is less."""
    near, far = paper.outline(paper.near), paper.outline(paper.far)
    holes = tuple(paper.outline(o.outline).flattened() for o in paper.part.openings)
    items: list[Item] = []
    if _differ(paper.near, paper.far):
        items.append(Area(rings=(far.flattened(), *holes), tone="side"))
    items.append(Area(rings=(near.flattened(), *holes), tone="wood"))
    items += _bevel_lines(paper)
    items.append(_closed(near, "outline"))
    items += [_closed(paper.outline(o.outline), "outline") for o in paper.part.openings]
    return tuple(items)


def draw_openings(paper: FacePaper) -> tuple[Item, ...]:
    """Return the centre lines of holes and slots."""
    items: list[Item] = []
    for opening in paper.part.openings:
        x, y = paper.point(opening.center)
        box = paper.outline(opening.outline).bounds
        items += [
            Stroke(points=((box[0] - 2, y), (box[2] + 2, y)), layer="center"),
            Stroke(points=((x, box[1] - 2), (x, box[3] + 2)), layer="center"),
        ]
    return tuple(items)


def draw_marks(paper: FacePaper, work: Work) -> tuple[Item, ...]:
    """Return the layout lines on the face looked at; what lands there is named in a disc."""
    number = face_number(paper.view.face)
    items: list[Item] = []
    for mark in work.marks:
        if mark.side == number:
            points = tuple(paper.point(point) for point in mark.outline)
            items.append(Stroke(points=points, layer="mark", closed=True))
    return tuple(items)


def draw_edging(paper: FacePaper) -> tuple[Item, ...]:
    """Return a very wide line along every edge that is covered."""
    sign = -1.0 if paper.view.face == "A" else 1.0
    items: list[Item] = []
    for edge, (start, end, bulge) in zip(paper.part.edges, paper.near.edges(), strict=True):
        if edge.edging is not None:
            points = (paper.point(start), paper.point(end))
            bulges = (sign * bulge, 0.0) if bulge else ()
            items.append(Stroke(points=points, layer="edging", bulges=bulges))
    return tuple(items)


def draw_edge_names(
    paper: FacePaper, work: Work, crossings: dict[str, list[float]]
) -> tuple[Item, ...]:
    """Return the name of each edge and end beside it, where no extension line passes.

    Args:
        paper: The view.
        work: Its first piece says what the edges are called.
        crossings: For above, below, left and right: places along the side that are taken.
    """
    items = []
    for index, edge in enumerate(paper.part.edges):
        stretches = _stretches(paper, edge)
        is_side_of_rod = paper.part.stock.is_round and edge.kind == "edge"
        if not edge.is_plain or index != stretches[0] or is_side_of_rod:
            continue
        x, y = paper.view.direction((edge.plane.normal[0], edge.plane.normal[1]))
        axis: Literal[0, 1] = 0 if abs(y) - abs(x) > SAME_AIM else 1
        side = ("above" if y > 0 else "below") if axis == 0 else ("right" if x > 0 else "left")
        text = f"{edge_word(paper.part, work.pieces[0], index)} {edge.kind}"
        text += f", {format_angle(edge.mitre_deg)}" if edge.mitre_deg else ""
        outline = paper.near.edges()
        ends = sorted(paper.point(p)[axis] for i in stretches for p in outline[i][:2])
        place = _widest_gap(ends[0], ends[-1], crossings.get(side, []))
        items.append(_edge_name(bounds_of(draw_wood(paper)), side, place, text))
    return tuple(items)


def _stretches(paper: FacePaper, edge: Edge) -> list[int]:
    """Return the parts of an edge that notches and arches have left."""
    edges = enumerate(paper.part.edges)
    return [i for i, one in edges if (one.name, one.kind) == (edge.name, edge.kind)]


def _edge_name(box: Box, side: str, place: float, text: str) -> Words:
    ascent, gap = 0.76 * SMALLEST_TEXT_MM, 1.3
    at, angle = {
        "above": ((place, box[3] + gap), 0.0),
        "below": ((place, box[1] - gap - ascent), 0.0),
        "left": ((box[0] - gap - 0.24 * SMALLEST_TEXT_MM, place), 90.0),
        "right": ((box[2] + gap + ascent, place), 90.0),
    }[side]
    return Words(
        at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor="middle", angle_deg=angle, halo=True
    )


def _widest_gap(low: float, high: float, crossings: list[float]) -> float:
    stops = [low, *sorted(place for place in crossings if low < place < high), high]
    gaps = [(round(b - a, 3), -i) for i, (a, b) in enumerate(itertools.pairwise(stops))]
    best = -max(gaps)[1]
    return (stops[best] + stops[best + 1]) / 2


def _bevel_lines(paper: FacePaper) -> list[Item]:
    """Return the other face's outline where it differs, and the short lines that join corners."""
    near, far = paper.near.edges(), paper.far.edges()
    edges = paper.part.edges
    sign = -1.0 if paper.view.face == "A" else 1.0
    items: list[Item] = []
    for i, edge in enumerate(edges):
        before = edges[i - 1]
        if edge.tilt_deg:
            start, end, bulge = far[i]
            points = (paper.point(start), paper.point(end))
            bulges = (sign * bulge, 0.0) if bulge else ()
            layer: Layer = "hidden" if edge.long_face == paper.view.face else "outline"
            items.append(Stroke(points=points, layer=layer, bulges=bulges))
        if math.dist(near[i][0], far[i][0]) > SAME_POINT_MM:
            longer = {e.long_face for e in (edge, before) if e.tilt_deg}
            layer = "outline" if longer - {paper.view.face} else "hidden"
            joint = (paper.point(near[i][0]), paper.point(far[i][0]))
            items.append(Stroke(points=joint, layer=layer))
    return items


def _closed(outline: Outline, layer: Layer) -> Stroke:
    bulges = outline.bulges if any(outline.bulges) else ()
    return Stroke(points=outline.points, layer=layer, closed=True, bulges=bulges)


def _differ(one: Outline, other: Outline) -> bool:
    pairs = zip(one.points, other.points, strict=True)
    return any(math.dist(a, b) > SAME_PLANE_MM for a, b in pairs)
