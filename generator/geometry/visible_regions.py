"""Which parts of the faces of solids are seen from one side, exactly.

A face is seen but for the shadows that nearer faces throw on it along the line of sight. Face G can
hide some of face P only if G has points in front of the plane of P and P has points behind the
plane of G; if the same cannot be said the other way round, all of G counts, else the half of it in
which its plane is the nearer one.
"""

import math
from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely import GeometryType
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.projection import Floats, Ints, Mesh, Seen, Truths, View, look_at
from generator.geometry.tolerance import DEPTH_MM, SAME_POINT_MM
from generator.geometry.vectors import Vec3

Shapes = npt.NDArray[np.object_]

SMALLEST_MM2 = 1.0
"""A visible scrap smaller than 1 by 1 mm on the piece itself shows on no drawing."""


@dataclass(frozen=True, slots=True)
class Region:
    """A part of a face that is seen, in one piece.

    Attributes:
        owner: Number of the solid.
        side: `Face.edge` of the face.
        normal: Of the face, in the room.
        shape: On paper, in mm.
    """

    owner: int
    side: int
    normal: Vec3
    shape: Polygon

    @property
    def area_mm2(self) -> float:
        """On paper."""
        return float(self.shape.area)


@dataclass(frozen=True, slots=True)
class _Pairs:
    """What may hide some of a face; faces are given by their rows.

    Attributes:
        far: (n,) a face.
        near: (n,) a face that hides some of it.
        mixed: (n,) whether that can be said the other way round as well.
        far_of_solids: (k,) a face.
        solids: (k,) number of a solid that is wholly before its plane.
    """

    far: Ints
    near: Ints
    mixed: Truths
    far_of_solids: Ints
    solids: Ints


def find_regions(mesh: Mesh, view: View) -> tuple[Region, ...]:
    """Return the visible parts of all faces, in order of the mesh."""
    regions, _ = find_regions_among(mesh, view, range(len(mesh.names)))
    return regions


def find_regions_among(
    mesh: Mesh, view: View, owners: Collection[int]
) -> tuple[tuple[Region, ...], BaseGeometry]:
    """Return the visible parts of the faces of some solids, and what all others cover.

    Args:
        mesh: All solids.
        view: Which way the eye is.
        owners: Numbers of the solids whose faces are wanted.

    Returns:
        Regions in order of the mesh, and one shape on paper in mm, seen or not.
    """
    seen = look_at(mesh, view)
    faces = np.flatnonzero(seen.front)
    projected = _project_faces(mesh, seen, faces)
    solid = shapely.area(projected) > SMALLEST_MM2
    front, shapes = faces[solid], projected[solid]
    wanted = np.isin(mesh.owners[front], [*owners])
    pairs = _find_covering(mesh, seen, front, wanted)
    others = np.setdiff1d(np.arange(len(mesh.names)), [*owners])
    shadows = _find_shadows(mesh, seen, faces, projected, np.union1d(pairs.solids, others))
    left = _uncover(seen, front, shapes, pairs, shadows)
    covered = shapely.disjoint_subset_union_all(shadows[others])
    return _regions_of(mesh, front[wanted], left[wanted]), covered


def _uncover(seen: Seen, front: Ints, shapes: Shapes, pairs: _Pairs, shadows: Shapes) -> Shapes:
    """Return what is left of faces where all that is nearer is taken away."""
    covers = shapes[pairs.near]
    for row in np.flatnonzero(pairs.mixed):
        one, other = front[pairs.far[row]], front[pairs.near[row]]
        covers[row] = _nearer_half(seen, one, other, covers[row])
    far = np.concatenate([pairs.far_of_solids, pairs.far])
    covers = np.concatenate([shadows[pairs.solids], covers])
    order = np.argsort(far, kind="stable")
    return _subtract(shapes, covers[order], far[order])


def _regions_of(mesh: Mesh, faces: Ints, left: Shapes) -> tuple[Region, ...]:
    """Return what is left of faces, each part by itself, without scraps."""
    visible = shapely.simplify(left, SAME_POINT_MM)
    parts, rows = shapely.get_parts(visible, return_index=True)
    whole = (shapely.get_type_id(parts) == GeometryType.POLYGON) & (
        shapely.area(parts) > SMALLEST_MM2
    )
    faces = faces[rows[whole]]
    return tuple(
        Region(owner, side, (x, y, z), shape)
        for owner, side, (x, y, z), shape in zip(
            mesh.owners[faces].tolist(),
            mesh.sides[faces].tolist(),
            mesh.normals[faces].tolist(),
            parts[whole],
            strict=True,
        )
    )


def _project_faces(mesh: Mesh, seen: Seen, faces: Ints) -> Shapes:
    flat = np.round(seen.points[:, :2], 4)
    rows = np.full(len(mesh.starts), -1)
    rows[faces] = np.arange(len(faces))
    rings = mesh.rings[rows[mesh.rings[:, 0]] >= 0]
    # A ring of n corners has n + 1 points: the last is the first again.
    counts = rings[:, 2] + 1
    which = np.repeat(np.arange(len(rings)), counts)
    place = np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)
    corners = rings[which, 1] + place % rings[which, 2]
    loops = np.asarray(shapely.linearrings(flat[corners], indices=which))
    shapes: Shapes = np.asarray(shapely.polygons(loops, indices=rows[rings[:, 0]]))
    invalid = ~shapely.is_valid(shapes)
    shapes[invalid] = shapely.buffer(shapes[invalid], 0.0)
    return shapes


def _find_covering(mesh: Mesh, seen: Seen, front: Ints, wanted: Truths) -> _Pairs:
    """Return what may hide some of which face; faces are given by their row in ``front``."""
    low, high = _heights(mesh, seen, front)
    first = np.searchsorted(mesh.owners, np.arange(len(mesh.names)))
    is_over = np.minimum.reduceat(low, first, axis=1) > -DEPTH_MM
    is_over &= np.maximum.reduceat(high, first, axis=1) > DEPTH_MM
    bounds = [np.minimum.reduceat(seen.low, first), np.maximum.reduceat(seen.high, first)]
    is_over &= wanted[:, None] & _meet(seen.low[front], seen.high[front], *bounds)
    low, high = low[:, front], high[:, front]
    covering = (high > DEPTH_MM) & (low < -DEPTH_MM).T
    meets = _meet(seen.low[front], seen.high[front], seen.low[front], seen.high[front])
    meets &= wanted[:, None] & ~is_over[:, mesh.owners[front]]
    far, near = np.nonzero(covering & meets)
    return _Pairs(far, near, covering.T[far, near], *np.nonzero(is_over))


def _meet(low: Floats, high: Floats, other_low: Floats, other_high: Floats) -> Truths:
    """Return whether boxes on paper share room: each of the first with each of the others."""
    meets: Truths = np.ones((len(low), len(other_low)), dtype=np.bool_)
    for axis in (0, 1):
        meets &= low[:, None, axis] < other_high[None, :, axis]
        meets &= high[:, None, axis] > other_low[None, :, axis]
    return meets


def _find_shadows(mesh: Mesh, seen: Seen, front: Ints, shapes: Shapes, solids: Ints) -> Shapes:
    """Return what each of some solids covers on paper: one shape in the row of each."""
    shadows: Shapes = np.full(len(mesh.names), None, dtype=np.object_)
    flat = np.round(seen.points[:, :2], 4)
    ends = np.append(mesh.starts, len(flat))[
        np.searchsorted(mesh.owners, np.arange(len(mesh.names) + 1))
    ].tolist()
    owners = mesh.owners[front]
    for number in solids.tolist():
        if mesh.convex[number]:
            corners = flat[ends[number] : ends[number + 1]]
            shadows[number] = shapely.convex_hull(shapely.multipoints(corners))
        else:
            shadows[number] = shapely.union_all(shapes[owners == number])
    return shadows


def _heights(mesh: Mesh, seen: Seen, front: Ints) -> tuple[Floats, Floats]:
    """Return least and greatest height of the corners of face j over the plane of face i.

    Face i is given by its row in ``front``, face j is any.
    """
    normals = np.stack(
        [-seen.slopes[front, 0], -seen.slopes[front, 1], np.ones(len(front))], axis=1
    )
    length = np.linalg.norm(normals, axis=1)[:, None]
    heights = (normals @ seen.points.T - seen.slopes[front, 2][:, None]) / length
    low = np.minimum.reduceat(heights, mesh.starts, axis=1)
    high = np.maximum.reduceat(heights, mesh.starts, axis=1)
    return low, high


def _nearer_half(seen: Seen, far: int, near: int, shape: BaseGeometry) -> BaseGeometry:
    """Return the part of a projected face in which its plane is nearer than another plane."""
    a, b, c = (float(x) for x in seen.slopes[near] - seen.slopes[far])
    steep = math.hypot(a, b)
    if not steep:
        return shape
    low_x, low_y, high_x, high_y = shape.bounds
    reach = math.hypot(high_x - low_x, high_y - low_y) + 1.0
    a, b = a / steep, b / steep
    over = (a * low_x + b * low_y) + c / steep
    x, y = low_x - a * over, low_y - b * over
    along_x, along_y, into_x, into_y = -b * reach, a * reach, a * reach, b * reach
    half = Polygon(
        (
            (x - along_x, y - along_y),
            (x + along_x, y + along_y),
            (x + along_x + 2 * into_x, y + along_y + 2 * into_y),
            (x - along_x + 2 * into_x, y - along_y + 2 * into_y),
        )
    )
    return shape.intersection(half)


def _subtract(shapes: Shapes, covers: Shapes, far: Ints) -> Shapes:
    """Take the covers off every shape: the first off all shapes at once, then the second ..."""
    touching = shapely.intersects(shapes[far], covers)
    far, covers = far[touching], covers[touching]
    starts = np.searchsorted(far, np.arange(len(shapes) + 1))
    counts = np.diff(starts)
    left = shapes.copy()
    for number in range(counts.max(initial=0)):
        rows = np.flatnonzero(counts > number)
        left[rows] = shapely.difference(left[rows], covers[starts[rows] + number])
    return left
