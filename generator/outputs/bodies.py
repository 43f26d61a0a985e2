"""Pieces as solids, how they fit on paper, and their faces and edges drawn in tones."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.hidden_line import find_visible
from generator.geometry.lines import Segment, chain_segments
from generator.geometry.projection import (
    Mesh,
    Solid,
    View,
    build_mesh,
    join_meshes,
    look_at,
    move_mesh,
    place_mesh,
)
from generator.geometry.rods import Body, Rod
from generator.geometry.tolerance import SAME_PLANE_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec2, Vec3, subtract
from generator.geometry.visible_regions import Region, find_regions, find_regions_among
from generator.model.plan import Plan
from generator.outputs.scene import Area, Item, Layer, Stroke, Tone

Rings = tuple[tuple[Vec2, ...], ...]

CHORD_PART: Final = 1 / 3500
"""How far chords may leave arcs, as a part of the whole piece: about 0.04 mm on paper."""

BODIES_KEPT: Final = 64
"""How many bodies are kept as meshes: those of one plan."""

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
        visible: Edges that are seen.
        regions: Parts of faces that are seen: of all pieces, or of the new ones.
        tones: The same by the tone they are drawn in, what touches made one.
        new: Names of the new pieces; None where none is told from the others.
        quiet: What is seen of all others, in one shape; nothing where ``new`` is None.
    """

    names: tuple[str, ...]
    mesh: Mesh
    view: View
    visible: tuple[Segment, ...]
    regions: tuple[Region, ...]
    tones: Mapping[Tone, BaseGeometry]
    new: frozenset[str] | None
    quiet: BaseGeometry


@dataclass(frozen=True, slots=True)
class Solids:
    """All pieces of a plan as solids: made once, and put together for every picture.

    Attributes:
        meshes: Of every piece in the room, by name.
    """

    meshes: Mapping[str, Mesh]

    def mesh(self, names: Iterable[str], moves: Mapping[str, Vec3] | None = None) -> Mesh:
        """Return pieces in the order of their names, some of them moved."""
        chosen = [(name, self.meshes[name]) for name in names]
        if moves is None:
            return join_meshes([mesh for _, mesh in chosen])
        return join_meshes([move_mesh(mesh, moves[name]) for name, mesh in chosen])

    def whole(self) -> Mesh:
        """Return all pieces as they stand in the end."""
        return self.mesh(self.meshes)


def solids_of(plan: Plan) -> Solids:
    """Return the pieces of a plan as solids, in their order."""
    chord_mm = CHORD_PART * max(subtract(plan.parts.high, plan.parts.low))
    meshes = {
        piece.name: place_mesh(body, piece.name, piece.frame)
        for part in plan.parts.parts
        for body in (mesh_of(part.slab, chord_mm),)
        for piece in part.pieces
    }
    return Solids({piece.name: meshes[piece.name] for piece in plan.parts.pieces()})


@lru_cache(maxsize=BODIES_KEPT)
def mesh_of(body: Body, chord_mm: float) -> Mesh:
    """Return a body in its own frame; a rod is a chord thinner, to lie inside its hole's chords.

    Else its corners would stick out of them, and the line around it would be there by chance.
    Whatever looks at a plan asks for the same bodies again, and channels are cut into them once.
    """
    if not isinstance(body, Rod):
        return build_mesh([Solid("", body.faces(chord_mm))])
    thin = Rod(body.length_mm, body.diameter_mm - 2 * chord_mm)
    return move_mesh(build_mesh([Solid("", thin.faces(chord_mm))]), (0.0, chord_mm, chord_mm))


def look(mesh: Mesh, view: View) -> Look:
    """Return pieces as seen from one side, edges and faces; the first keep shared lines."""
    visible, regions = find_visible(mesh, view), find_regions(mesh, view)
    tones = _put_on_grid(_unite_tones(regions, is_new=False))
    return Look(mesh.names, mesh, view, visible, regions, tones, None, Polygon())


def look_at_new(mesh: Mesh, view: View, new: Collection[str]) -> Look:
    """Return pieces as seen from one side, only the new ones face by face."""
    numbers = [number for number, name in enumerate(mesh.names) if name in new]
    visible = find_visible(mesh, view)
    regions, covered = find_regions_among(mesh, view, numbers)
    united = _unite_tones(regions, is_new=True)
    fresh = shapely.disjoint_subset_union_all([*united.values()])
    quiet = shapely.difference(covered, fresh, grid_size=SAME_POINT_MM)
    tones = _put_on_grid(united)
    return Look(mesh.names, mesh, view, visible, regions, tones, frozenset(new), quiet)


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


def draw_faces(looked: Look, sheet: Sheet) -> list[Item]:
    """Return the visible faces, each in its tone; those that are not new in one quiet shape."""
    least = SCRAP_MM2 / sheet.scale**2
    shapes = {tone: _large_parts(shape, least) for tone, shape in looked.tones.items()}
    shapes["quiet"] = _wide_parts(looked.quiet, least)
    return [
        Area(rings=rings, tone=tone)
        for tone, polygons in shapes.items()
        for rings in rings_of(_on_paper(polygons, sheet))
    ]


def draw_edges(segments: Iterable[Segment], sheet: Sheet, layer: Layer) -> list[Item]:
    """Return segments of a view as strokes of one layer, in chains."""
    return [
        Stroke(points=tuple(sheet.place(point) for point in chain), layer=layer)
        for chain in chain_segments(segments)
    ]


def regions_on_paper(looked: Look, sheet: Sheet) -> dict[str, list[Polygon]]:
    """Return the visible faces of every piece that shows any, or of new ones, on paper."""
    found: dict[str, list[Polygon]] = {}
    shapes = _on_paper([one.shape for one in looked.regions], sheet)
    for one, shape in zip(looked.regions, shapes, strict=True):
        found.setdefault(looked.names[one.owner], []).append(shape)
    return found


def quiet_on_paper(looked: Look, sheet: Sheet) -> list[Polygon]:
    """Return what is seen of pieces that are not new, on paper."""
    return _on_paper(_wide_parts(looked.quiet, 0.0), sheet)


def shadows_on_paper(
    looked: Look, sheet: Sheet, names: Collection[str]
) -> dict[str, list[Polygon]]:
    """Return the faces of pieces that look to the eye on paper, whatever stands before them."""
    seen = look_at(looked.mesh, looked.view)
    found: dict[str, list[Polygon]] = {}
    corners, faces = looked.mesh.outer_corners()
    for face in seen.front.nonzero()[0].tolist():
        name = looked.names[looked.mesh.owners[face]]
        if name in names:
            ring = seen.points[corners[faces == face]].tolist()
            found.setdefault(name, []).append(Polygon([sheet.place(point) for point in ring]))
    return found


def rings_of(polygons: Iterable[Polygon]) -> list[Rings]:
    """Return outer ring and holes of each polygon, first points not repeated."""
    rings, owners = shapely.get_rings(list(polygons), return_index=True)
    points, rows = shapely.get_coordinates(rings, return_index=True)
    ends = np.searchsorted(rows, np.arange(len(rings) + 1)).tolist()
    corners = [(x, y) for x, y in points.tolist()]
    found: dict[int, list[tuple[Vec2, ...]]] = {}
    for owner, (start, end) in zip(owners.tolist(), pairwise(ends), strict=True):
        found.setdefault(owner, []).append(tuple(corners[start : end - 1]))
    return [tuple(one) for one in found.values()]


def _on_paper(shapes: Sequence[Polygon], sheet: Sheet) -> list[Polygon]:
    placed = shapely.transform(
        np.array(shapes, dtype=np.object_), lambda points: sheet.at + points * sheet.scale
    )
    return list(placed)


def _unite_tones(regions: Iterable[Region], *, is_new: bool) -> dict[Tone, BaseGeometry]:
    """Return faces by tone with what touches made one: fewer points on paper."""
    by_tone: dict[Tone, list[Polygon]] = {}
    for region in regions:
        by_tone.setdefault(_tone(region.normal, is_new), []).append(region.shape)
    return {tone: shapely.disjoint_subset_union_all(by_tone[tone]) for tone in sorted(by_tone)}


def _put_on_grid(shapes: Mapping[Tone, BaseGeometry]) -> dict[Tone, BaseGeometry]:
    """Return shapes in which what is nearer to each other than a point is wide is one.

    A union on the grid would do the same, but puts every face there, not just the outlines.
    """
    return {tone: shapely.set_precision(one, SAME_POINT_MM) for tone, one in shapes.items()}


def _large_parts(shape: BaseGeometry, least_mm2: float) -> list[Polygon]:
    """Return the polygons of a shape without scraps."""
    parts = shapely.get_parts(shapely.normalize(shape))
    return [part for part in parts if isinstance(part, Polygon) and part.area > least_mm2]


def _wide_parts(shape: BaseGeometry, least_mm2: float) -> list[Polygon]:
    """Return the polygons of a shape, without scraps and what is thinner than paper."""
    parts = shapely.get_parts(shapely.normalize(shape))
    areas = shapely.area(parts)
    wide = (areas > least_mm2) & (2 * areas > SAME_PLANE_MM * shapely.length(parts))
    return [part for part in parts[wide] if isinstance(part, Polygon)]


def _tone(normal: Vec3, is_new: bool) -> Tone:
    """Return the tone of a face by the way it looks: up or down, to front or back, or aside."""
    x, y, z = (abs(value) for value in normal)
    if z >= max(x, y):
        return "new_top" if is_new else "top"
    if y >= x:
        return "new_front" if is_new else "front"
    return "new_side" if is_new else "side"
