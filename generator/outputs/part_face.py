"""One face of a part, drawn square on: wood, bevels, openings, layout lines, holes, sizes.

Everything is in mm on paper with the lower left of the part at 0; the sheet moves it into place.
"""

import itertools
import math
from dataclasses import dataclass
from typing import Final, Literal

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_PLANE_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.joinery import BoredHole
from generator.model.parts import Part
from generator.outputs.panels import Box, bounds_of, find_freest, grown, outside_of, words_box
from generator.outputs.part_view import View, edge_word, face_number, has_grain
from generator.outputs.part_work import Work
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
    Anchor,
    Area,
    Arrowhead,
    Disc,
    Item,
    Layer,
    Stroke,
    Words,
)

LEAST_RADIUS_MM: Final = 0.7
"""A hole drawn smaller than this could not be seen."""


@dataclass(frozen=True, slots=True)
class FacePaper:
    """A view of one face at a scale: from mm of the part to mm on paper."""

    part: Part
    view: View
    scale: float

    def point(self, point: Vec2) -> Vec2:
        """Return where a point of the part is on paper."""
        x, y = self.view.point(point)
        return (x * self.scale, y * self.scale)

    def outline(self, outline: Outline) -> Outline:
        """Return an outline of the part on paper."""
        seen = self.view.outline(outline)
        points = tuple((x * self.scale, y * self.scale) for x, y in seen.points)
        return Outline(points, seen.bulges)

    @property
    def near(self) -> Outline:
        """The outline of the face looked at, in the part's frame."""
        return self.part.slab.face_a if self.view.face == "A" else self.part.slab.face_b

    @property
    def far(self) -> Outline:
        """The outline of the other face, in the part's frame."""
        return self.part.slab.face_b if self.view.face == "A" else self.part.slab.face_a


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


def draw_holes(paper: FacePaper, work: Work) -> tuple[Item, ...]:
    """Return the holes bored from the face looked at, and those that come out on it, pale."""
    items: list[Item] = []
    for hole in work.holes:
        if hole.side == face_number(paper.view.face):
            items += _draw_hole(paper, hole)
        elif hole.side < 0 and hole.depth_mm is None:
            radius = max(hole.diameter_mm / 2 * paper.scale, LEAST_RADIUS_MM)
            x, y = hole.at[0], hole.at[1]
            items.append(_ring(paper.point((x, y)), radius, "quiet"))
    return tuple(items)


def draw_labels(
    paper: FacePaper, work: Work, tags: tuple[tuple[BoredHole, str], ...]
) -> list[Item]:
    """Return what stands on the wood: mates, tags of holes, sizes of openings, grain."""
    number = face_number(paper.view.face)
    taken = [_hole_box(paper, hole) for hole in work.holes if hole.side < 0]
    taken += [paper.outline(o.outline).bounds for o in paper.part.openings]
    items: list[Item] = []
    for mark in work.marks:
        if mark.side == number:
            disc = _mate_label(paper, mark.outline, mark.mate, taken)
            taken.append(bounds_of(disc))
            items += disc
    for hole, tag in tags:
        if hole.side == number:
            word = _beside(_hole_box(paper, hole), tag, taken, bounds_of(draw_wood(paper)))
            taken.append(words_box(word))
            items.append(word)
    if has_grain(paper.part):
        taken += _thin_boxes(paper, work)
        items += _grain(paper, taken)
    return items


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
        if edge.kind == "corner":
            continue
        x, y = paper.view.direction((edge.plane.normal[0], edge.plane.normal[1]))
        axis: Literal[0, 1] = 0 if abs(y) > abs(x) else 1
        side = ("above" if y > 0 else "below") if axis == 0 else ("right" if x > 0 else "left")
        text = f"{edge_word(paper.part, work.pieces[0], index)} {edge.kind}"
        start, end, _ = paper.near.edges()[index]
        ends = sorted((paper.point(start)[axis], paper.point(end)[axis]))
        place = _widest_gap(ends[0], ends[1], crossings.get(side, []))
        items.append(_edge_name(bounds_of(draw_wood(paper)), side, place, text))
    return tuple(items)


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


def _draw_hole(paper: FacePaper, hole: BoredHole) -> list[Item]:
    center = paper.point((hole.at[0], hole.at[1]))
    radius = max(hole.diameter_mm / 2 * paper.scale, LEAST_RADIUS_MM)
    if hole.kind == "pocket":
        return _pocket(paper, hole, center, radius)
    items: list[Item] = [_ring(center, radius, "screw")]
    sink = hole.countersink_mm / 2 * paper.scale
    if sink > radius + 0.4:
        items.append(_ring(center, sink, "screw"))
    reach = max(radius, sink) + 1.2
    x, y = center
    items += [
        Stroke(points=((x - reach, y), (x + reach, y)), layer="dimension"),
        Stroke(points=((x, y - reach), (x, y + reach)), layer="dimension"),
    ]
    return items


def _pocket(paper: FacePaper, hole: BoredHole, center: Vec2, radius: float) -> list[Item]:
    """Return a pocket: a slot where the bit enters, an arrow the way the screw goes."""
    way = paper.view.direction((hole.direction[0], hole.direction[1]))
    size = math.hypot(*way)
    ux, uy = way[0] / size, way[1] / size
    half = max(hole.diameter_mm / 2 / abs(hole.direction[2]) * paper.scale, 2 * radius) - radius
    back, front = (
        (center[0] - ux * half, center[1] - uy * half),
        (
            center[0] + ux * half,
            center[1] + uy * half,
        ),
    )
    nx, ny = -uy * radius, ux * radius
    slot = (
        (back[0] - nx, back[1] - ny),
        (front[0] - nx, front[1] - ny),
        (front[0] + nx, front[1] + ny),
        (back[0] + nx, back[1] + ny),
    )
    reach = 3.0
    tip = (front[0] + ux * (radius + reach), front[1] + uy * (radius + reach))
    return [
        Stroke(points=slot, layer="screw", closed=True, bulges=(0.0, 1.0, 0.0, 1.0)),
        Stroke(points=(center, tip), layer="center"),
        Arrowhead(at=tip, direction=(ux, uy)),
    ]


def _hole_box(paper: FacePaper, hole: BoredHole) -> Box:
    return grown(bounds_of(_draw_hole(paper, hole)), 0.3)


def _mate_label(
    paper: FacePaper, outline: tuple[Vec2, ...], mate: str, taken: list[Box]
) -> list[Item]:
    """Return the mate's label in a disc in the middle of its patch, or near it."""
    points = [paper.point(point) for point in outline]
    x = sum(point[0] for point in points) / len(points)
    y = sum(point[1] for point in points) / len(points)
    ends = [(points[i], points[i - len(points) // 2]) for i in range(len(points) // 2)]
    ways = [(x + (b[0] - a[0]) * k, y + (b[1] - a[1]) * k) for a, b in ends for k in (0.2, -0.2)]
    places = [(x, y), *ways]
    boxes = [(px - 2.6, py - 2.6, px + 2.6, py + 2.6) for px, py in places]
    place = places[find_freest(boxes, taken)]
    return [
        Disc(center=place, radius_mm=2.6, tone="bubble", layer="leader"),
        Words(at=(place[0], place[1] - 0.36 * TEXT_MM), text=mate, anchor="middle", bold=True),
    ]


def _beside(box: Box, text: str, taken: list[Box], inside: Box) -> Words:
    """Return a short text beside a box, away from what is there and inside the wood."""
    low, high = -0.24 * SMALLEST_TEXT_MM, 0.76 * SMALLEST_TEXT_MM
    middle_x, middle_y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    spots: tuple[tuple[Vec2, Anchor], ...] = (
        ((box[2] + 0.8, middle_y - 0.36 * SMALLEST_TEXT_MM), "start"),
        ((box[0] - 0.8, middle_y - 0.36 * SMALLEST_TEXT_MM), "end"),
        ((middle_x, box[3] + 0.6 - low), "middle"),
        ((middle_x, box[1] - 0.6 - high), "middle"),
    )
    words = [
        Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor=anchor, halo=True)
        for at, anchor in spots
    ]
    boxes = [words_box(word) for word in words]
    return words[find_freest(boxes, [*taken, *outside_of(inside)])]


def _thin_boxes(paper: FacePaper, work: Work) -> list[Box]:
    """Return boxes around layout lines, for the grain arrow to keep off."""
    boxes = []
    for mark in work.marks:
        if mark.side == face_number(paper.view.face):
            points = [paper.point(point) for point in mark.outline]
            xs, ys = [p[0] for p in points], [p[1] for p in points]
            boxes.append((min(xs) - 1, min(ys) - 1, max(xs) + 1, max(ys) + 1))
    return boxes


def _grain(paper: FacePaper, taken: list[Box]) -> list[Item]:
    left, low, right, high = paper.outline(paper.near).bounds
    half = min(12.0, (right - left) / 4)
    height = high - low
    places = [
        (left + (right - left) * i / 12, low + height * j / 10)
        for j in (5, 4, 6, 3, 7, 2, 8, 9, 1)
        for i in (6, 5, 7, 4, 8, 3, 9, 10, 2)
    ]
    boxes = [(x - half, y - 1.2, x + half, y + 4.4) for x, y in places]
    inside = grown((left, low, right, high), -0.5)
    x, y = places[find_freest(boxes, [*taken, *outside_of(inside)])]
    items: list[Item] = [
        Stroke(points=((x - half, y), (x + half, y)), layer="grain"),
        Arrowhead(at=(x - half, y), direction=(-1.0, 0.0), layer="grain"),
        Arrowhead(at=(x + half, y), direction=(1.0, 0.0), layer="grain"),
    ]
    if height > 7:
        text = Words(at=(x, y + 1.0), text="grain", size_mm=SMALLEST_TEXT_MM, anchor="middle")
        items.append(text)
    return items


def _ring(center: Vec2, radius: float, layer: Layer) -> Disc:
    return Disc(center=center, radius_mm=radius, layer=layer)


def _closed(outline: Outline, layer: Layer) -> Stroke:
    bulges = outline.bulges if any(outline.bulges) else ()
    return Stroke(points=outline.points, layer=layer, closed=True, bulges=bulges)


def _differ(one: Outline, other: Outline) -> bool:
    pairs = zip(one.points, other.points, strict=True)
    return any(math.dist(a, b) > SAME_PLANE_MM for a, b in pairs)
