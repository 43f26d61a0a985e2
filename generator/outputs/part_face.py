"""One face of a part, drawn square on: wood, bevels, openings, layout lines, holes, sizes.

Everything is in mm on paper with the lower left of the part at 0; the sheet moves it into place.
"""

import math

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_PLANE_MM, SAME_POINT_MM
from generator.model.work import Work
from generator.outputs.face_paper import FacePaper
from generator.outputs.part_view import face_number
from generator.outputs.scene import (
    Area,
    Item,
    Layer,
    Stroke,
)


def draw_wood(paper: FacePaper) -> tuple[Item, ...]:
    """Return the two outlines: of the face looked at wide, of the other hidden where it is less."""
    near, far = paper.shape, paper.outline(paper.far)
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
