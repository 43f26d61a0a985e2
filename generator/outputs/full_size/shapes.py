"""What of a part is shaped: its corners, notches, arches, free lines and slots, region by region.

Everything is in millimetres of the part as it is seen: x to the right along its length, y up.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from shapely import box, unary_union
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.outlines import Outline, arc_points
from generator.geometry.vectors import Vec2
from generator.model.parts import FaceName, Part, Piece
from generator.outputs.part_view import View, edge_direction, edge_word, find_view

Box = tuple[float, float, float, float]
Side = Literal["left", "right", "bottom", "top"]

SHAPED_EDGES: Final = {"corner", "notch", "arch", "line", "arc"}
SHAPED_OPENINGS: Final = {"slot", "cutout"}
BESIDE_MM: Final = 18.0
"""How much is drawn beside what is shaped, so that straight edges can be laid on the part's own."""
NEAR_MM: Final = 60.0
"""What lies no farther apart is one region."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A part as it is drawn at full size.

    Attributes:
        part: The part.
        piece: The copy whose words are used.
        view: On one of its faces.
        outline: Of that face.
        other: Of the other face where it differs, else None.
        openings: In the order of the part.
        lines: Every shaped edge and opening, as lines.
        sides: Names of the straight edges that look left, right, down and up.
        named_edges: Straight edges with their names and ends, counter-clockwise.
        spots: Boxes around crosses that must be whole on one sheet.
    """

    part: Part
    piece: Piece
    view: View
    outline: Outline
    other: Outline | None
    openings: tuple[Outline, ...]
    lines: tuple[BaseGeometry, ...]
    sides: tuple[tuple[Side, str], ...]
    named_edges: tuple[tuple[str, Vec2, Vec2], ...]
    spots: tuple[Box, ...] = ()

    @property
    def shown(self) -> tuple[BaseGeometry, ...]:
        """Everything that must be on a sheet."""
        return (*self.lines, *(box(*spot) for spot in self.spots))

    @property
    def wood(self) -> Polygon:
        """The face without its openings."""
        holes = [one.flattened() for one in self.openings]
        return Polygon(self.outline.flattened(), holes)


def find_shape(part: Part, face: FaceName = "A", piece: Piece | None = None) -> Shape | None:
    """Return a part that needs a template, or None where straight cuts and a drill make it.

    Args:
        part: Any part.
        face: The face it is seen on.
        piece: The copy whose words are used; the first one if None.
    """
    if part.stock.is_round:
        return None
    view = find_view(part, face)
    copy = piece or part.pieces[0]
    lines = tuple(_shaped_lines(part, view))
    if not lines:
        return None
    near, far = view.outline(part.slab.face_a), view.outline(part.slab.face_b)
    if face == "B":
        near, far = far, near
    differs = not near.polygon().equals_exact(far.polygon(), 0.01)
    return Shape(
        part=part,
        piece=copy,
        view=view,
        outline=near,
        other=far if differs else None,
        openings=tuple(view.outline(one.outline) for one in part.openings),
        lines=lines,
        sides=tuple(_sides(part, copy, view)),
        named_edges=tuple(_named_edges(part, copy, view)),
    )


def find_regions(shape: Shape) -> tuple[Box, ...]:
    """Return the boxes that hold everything to show, near things together, from the left."""
    near = unary_union([box(*_grown(one.bounds, NEAR_MM / 2)) for one in shape.shown])
    clusters = list(getattr(near, "geoms", [near]))
    boxes = []
    for cluster in clusters:
        held = unary_union([one for one in shape.shown if one.intersects(cluster)])
        boxes.append(_grown(held.bounds, BESIDE_MM))
    return tuple(sorted(boxes))


def _shaped_lines(part: Part, view: View) -> Iterator[BaseGeometry]:
    for face in (part.slab.face_a, part.slab.face_b):
        for edge, (start, end, bulge) in zip(part.edges, face.edges(), strict=True):
            if edge.kind in SHAPED_EDGES:
                points = [start, *arc_points(start, end, bulge), end]
                yield LineString([view.point(point) for point in points])
    for opening in part.openings:
        if opening.name in SHAPED_OPENINGS:
            yield LineString(_ring(view.outline(opening.outline)))


def _ring(outline: Outline) -> list[Vec2]:
    points = list(outline.flattened())
    return [*points, points[0]]


def _named_edges(part: Part, piece: Piece, view: View) -> Iterator[tuple[str, Vec2, Vec2]]:
    """Yield straight edges as they are seen, the wood to their left."""
    face = part.slab.face_a if view.face == "A" else part.slab.face_b
    for index, (edge, (start, end, _)) in enumerate(zip(part.edges, face.edges(), strict=True)):
        if edge.is_plain:
            ends = (view.point(start), view.point(end))
            first, last = ends if view.face == "B" else ends[::-1]
            yield f"{edge_word(part, piece, index)} {edge.kind}", first, last


def _sides(part: Part, piece: Piece, view: View) -> Iterator[tuple[Side, str]]:
    """Yield the straight edges on the bounds of a part, by the way they look."""
    found: set[Side] = set()
    for index, edge in enumerate(part.edges):
        x, y = view.direction(edge_direction(edge))
        side: Side = (
            ("right" if x > 0 else "left") if abs(x) > abs(y) else ("top" if y > 0 else "bottom")
        )
        if edge.is_plain and side not in found:
            found.add(side)
            yield side, f"{edge_word(part, piece, index)} {edge.kind}"


def _grown(bounds: Box, by_mm: float) -> Box:
    left, bottom, right, top = bounds
    return (left - by_mm, bottom - by_mm, right + by_mm, top + by_mm)
