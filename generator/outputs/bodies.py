"""Pieces as solids, how they fit on paper, and their faces and edges drawn in tones."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import shapely
from shapely.geometry import Polygon

from generator.geometry.faces import Face
from generator.geometry.hidden_line import Edges, find_edges
from generator.geometry.lines import Segment, chain_segments
from generator.geometry.projection import (
    Mesh,
    Solid,
    View,
    build_mesh,
    look_at,
    move_solid,
    place_solid,
)
from generator.geometry.rods import Body, Rod
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2, Vec3, subtract
from generator.geometry.visible_regions import Region, find_regions
from generator.model.plan import Plan
from generator.outputs.scene import Area, Item, Layer, Stroke, Tone

Rings = tuple[tuple[Vec2, ...], ...]

CHORD_PART: Final = 1 / 3500
"""How far chords may leave arcs, as a part of the whole piece: about 0.04 mm on paper."""

BODIES_KEPT: Final = 64
"""How many bodies are kept with their faces: those of one plan."""

SCRAP_MM2: Final = 0.05
"""A patch of tone smaller than this on paper is under its own edges."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """Where and how large a view comes on paper.

    Attributes:
        scale: mm on paper for a mm of the room.
        at: Where the view's zero comes on paper.
    """

    scale: float
    at: Vec2

    def place(self, point: Sequence[float]) -> Vec2:
        """Return a point of the view on paper."""
        return (self.at[0] + point[0] * self.scale, self.at[1] + point[1] * self.scale)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: least x and y, greatest x and y."""

    left: float
    low: float
    right: float
    high: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From low to high."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class Look:
    """Pieces seen from one side.

    Attributes:
        names: Of the pieces, as numbered by the owners of edges and regions.
    """

    names: tuple[str, ...]
    mesh: Mesh
    view: View
    edges: Edges
    regions: tuple[Region, ...]


def solids_of(
    plan: Plan, names: Iterable[str], moved: Mapping[str, Vec3] | None = None
) -> list[Solid]:
    """Return pieces as solids, in the order of their names, some of them moved."""
    chord_mm = CHORD_PART * max(subtract(plan.parts.high, plan.parts.low))
    owners = {piece.name: (part, piece) for part in plan.parts.parts for piece in part.pieces}
    chosen = []
    for name in names:
        part, piece = owners[name]
        chosen.append(place_solid(name, faces_of(part.slab, chord_mm), piece.frame))
    if moved is None:
        return chosen
    return [move_solid(solid, moved[solid.name]) for solid in chosen]


@lru_cache(maxsize=BODIES_KEPT)
def faces_of(body: Body, chord_mm: float) -> tuple[Face, ...]:
    """Return the faces of a body; a rod is a chord thinner, to lie inside the chords of its hole.

    Else its corners would stick out of them, and the line around it would be there by chance.
    Every picture of a plan asks for the same bodies again, and channels are cut into them once.
    """
    if not isinstance(body, Rod):
        return body.faces(chord_mm)
    thin = Rod(body.length_mm, body.diameter_mm - 2 * chord_mm)
    return move_solid(Solid("", thin.faces(chord_mm)), (0.0, chord_mm, chord_mm)).faces


def look(solids: Sequence[Solid], view: View) -> Look:
    """Return pieces as seen from one side, edges and faces; the first keep shared lines."""
    return look_at_mesh(build_mesh(solids), view)


def look_at_mesh(mesh: Mesh, view: View) -> Look:
    """Return prepared pieces as seen from one side."""
    return Look(mesh.names, mesh, view, find_edges(mesh, view), find_regions(mesh, view))


def bounds_of(mesh: Mesh, view: View) -> Box:
    """Return the extent of solids in a view, in mm of the room."""
    points = look_at(mesh, view).points
    low, high = points.min(axis=0), points.max(axis=0)
    return Box(float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def fit_sheet(bounds: Box, inside: Box) -> Sheet:
    """Return the largest scale at which a view fits into a rectangle, and put it in the middle."""
    scale = min(inside.width / bounds.width, inside.height / bounds.height)
    x = inside.left + (inside.width - bounds.width * scale) / 2 - bounds.left * scale
    y = inside.low + (inside.height - bounds.height * scale) / 2 - bounds.low * scale
    return Sheet(scale, (x, y))


def draw_faces(looked: Look, sheet: Sheet, new: Collection[str] | None = None) -> list[Item]:
    """Return the visible faces; where ``new`` is given, other pieces are quiet."""
    by_tone: dict[Tone, list[Polygon]] = {}
    for region in looked.regions:
        is_new = new is not None and looked.names[region.owner] in new
        tone = "quiet" if new is not None and not is_new else _tone(region.normal, is_new)
        by_tone.setdefault(tone, []).append(Polygon(region.rings[0], region.rings[1:]))
    return [
        Area(rings=_paper_rings(_rings_of(polygon), sheet), tone=tone)
        for tone in sorted(by_tone)
        for polygon in _unite(by_tone[tone], SCRAP_MM2 / sheet.scale**2)
    ]


def draw_edges(segments: Iterable[Segment], sheet: Sheet, layer: Layer) -> list[Item]:
    """Return segments of a view as strokes of one layer, in chains."""
    return [
        Stroke(points=tuple(sheet.place(point) for point in chain), layer=layer)
        for chain in chain_segments(segments)
    ]


def regions_on_paper(looked: Look, sheet: Sheet) -> dict[str, list[Polygon]]:
    """Return the visible faces of every piece that shows any, on paper."""
    found: dict[str, list[Polygon]] = {}
    for region in looked.regions:
        outer, *holes = _paper_rings(region.rings, sheet)
        found.setdefault(looked.names[region.owner], []).append(Polygon(outer, holes))
    return found


def shadows_on_paper(
    looked: Look, sheet: Sheet, names: Collection[str]
) -> dict[str, list[Polygon]]:
    """Return the faces of pieces that look to the eye on paper, whatever stands before them."""
    seen = look_at(looked.mesh, looked.view)
    found: dict[str, list[Polygon]] = {}
    for face in seen.front.nonzero()[0].tolist():
        name = looked.names[looked.mesh.owners[face]]
        if name in names:
            first, count = looked.mesh.loops[face][0]
            ring = seen.points[first : first + count].tolist()
            found.setdefault(name, []).append(Polygon([sheet.place(point) for point in ring]))
    return found


def _unite(polygons: Sequence[Polygon], least_mm2: float) -> list[Polygon]:
    """Return polygons with what touches made one, without scraps: fewer points on paper."""
    united = shapely.union_all(polygons, grid_size=SAME_POINT_MM)
    parts = shapely.get_parts(shapely.normalize(united))
    return [p for p in parts if isinstance(p, Polygon) and p.area > least_mm2]


def _rings_of(polygon: Polygon) -> Rings:
    return tuple(
        tuple((float(x), float(y)) for x, y in ring.coords[:-1])
        for ring in (polygon.exterior, *polygon.interiors)
    )


def _paper_rings(rings: Rings, sheet: Sheet) -> Rings:
    return tuple(tuple(sheet.place(point) for point in ring) for ring in rings)


def _tone(normal: Vec3, is_new: bool) -> Tone:
    """Return the tone of a face by the way it looks: up or down, to front or back, or aside."""
    x, y, z = (abs(value) for value in normal)
    if z >= max(x, y):
        return "new_top" if is_new else "top"
    if y >= x:
        return "new_front" if is_new else "front"
    return "new_side" if is_new else "side"
