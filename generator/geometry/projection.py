"""Views along parallel lines of sight, and solids prepared to be looked at.

A view has three directions of length 1 in the room: right and up on the paper, and towards the
eye. A projected point is (across, up, nearness): the greater the third number, the nearer it is.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

import numpy as np
import numpy.typing as npt

from generator.geometry.faces import Face
from generator.geometry.frames import Frame
from generator.geometry.tolerance import PARALLEL_SINE, SAME_POINT_MM
from generator.geometry.vectors import UP, Vec3, cross, dot, subtract, unit

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]
Truths = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class View:
    """Directions in the room: right and up on the paper, and towards the eye."""

    right: Vec3
    up: Vec3
    eye: Vec3

    def project(self, point: Vec3) -> Vec3:
        """Return a point as (across, up, nearness)."""
        return (dot(self.right, point), dot(self.up, point), dot(self.eye, point))

    def project_all(self, points: "Floats") -> "Floats":
        """Return (n, 3) points of the room as seen: across, up, nearness."""
        seen: Floats = points @ np.array([self.right, self.up, self.eye], dtype=np.float64).T
        return seen


@dataclass(frozen=True, slots=True)
class Solid:
    """A closed solid in the room, known by its name."""

    name: str
    faces: tuple[Face, ...]


@dataclass(frozen=True, slots=True)
class Mesh:
    """Many solids as arrays: the corners of all loops, face after face.

    Attributes:
        names: Of the solids.
        points: (n, 3) corners in the room.
        follows: (n,) index of the next corner of the same loop.
        starts: (m,) index of the first corner of every face.
        counts: (m,) number of corners of every face.
        normals: (m, 3) outward.
        owners: (m,) index of the solid.
        sides: (m,) `Face.edge`.
        rings: (r, 3) a face, first corner and number of corners of every loop; face after face, the
            outer loop of a face first.
        edges: (k, 4) start and end corner, one face, other face or -1; every edge once.
        smooth: (k,) whether the edge is only a chord line of an arc.
        convex: (s,) whether a solid has no dents, holes or channels.
    """

    names: tuple[str, ...]
    points: Floats
    follows: Ints
    starts: Ints
    counts: Ints
    normals: Floats
    owners: Ints
    sides: Ints
    rings: Ints
    edges: Ints
    smooth: Truths
    convex: Truths

    def outer_corners(self) -> tuple[Ints, Ints]:
        """Return the corners of all outer loops, face after face, and the face of each."""
        outer = self.rings[np.isin(self.rings[:, 1], self.starts)]
        faces = np.repeat(outer[:, 0], outer[:, 2])
        ahead = np.cumsum(outer[:, 2]) - outer[:, 2]
        return np.arange(len(faces)) + np.repeat(outer[:, 1] - ahead, outer[:, 2]), faces


@dataclass(frozen=True, slots=True)
class Seen:
    """A mesh looked at from one side.

    Attributes:
        points: (n, 3) across, up, nearness of every corner.
        front: (m,) whether a face looks towards the eye.
        slopes: (m, 3) nearness of a face's plane is ``slopes . (across, up, 1)``; only of use for
            faces that look towards the eye.
        low: (m, 3) least across, up, nearness of every face.
        high: (m, 3) greatest.
    """

    points: Floats
    front: Truths
    slopes: Floats
    low: Floats
    high: Floats


def view_from(eye: Vec3, up: Vec3 = UP) -> View:
    """Return the view from a direction; ``up`` is what should rise on the paper.

    Directions are rounded far below a tolerance, so that a view along a face is exactly that.
    """
    towards = unit(eye)
    right = unit(cross(up, towards))
    return View(_rounded(right), _rounded(cross(towards, right)), _rounded(towards))


def _rounded(vector: Vec3) -> Vec3:
    return (round(vector[0], 15), round(vector[1], 15), round(vector[2], 15))


def place_solid(name: str, faces: Iterable[Face], frame: Frame) -> Solid:
    """Return a solid given in a frame of its own as it stands in the room."""
    placed = tuple(
        Face(
            tuple(frame.to_world(point) for point in face.outer),
            tuple(tuple(frame.to_world(point) for point in hole) for hole in face.holes),
            frame.direction(face.normal),
            face.edge,
            face.smooth,
            face.is_chord,
        )
        for face in faces
    )
    return Solid(name, placed)


def move_solid(solid: Solid, vector: Vec3) -> Solid:
    """Return a solid somewhere else in the room."""
    return place_solid(solid.name, solid.faces, Frame(vector))


def build_mesh(solids: Iterable[Solid]) -> Mesh:
    """Return solids as arrays, ready for any number of views."""
    return join_meshes([_mesh_of(solid) for solid in solids])


def place_mesh(mesh: Mesh, name: str, frame: Frame) -> Mesh:
    """Return the mesh of one solid, given in a frame of its own, as it stands in the room."""
    turned, normals = _directed(mesh.points, frame), _directed(mesh.normals, frame)
    return replace(mesh, names=(name,), points=np.array(frame.origin) + turned, normals=normals)


def move_mesh(mesh: Mesh, vector: Vec3) -> Mesh:
    """Return a mesh somewhere else in the room."""
    return replace(mesh, points=mesh.points + np.array(vector))


def join_meshes(meshes: Sequence[Mesh]) -> Mesh:
    """Return the solids of several meshes in one, in their order."""
    parts = meshes or [replace(_mesh_of(Solid("", ())), names=(), convex=np.zeros(0, np.bool_))]
    corners = _numbers_before([len(part.points) for part in parts])
    faces = _numbers_before([len(part.starts) for part in parts])
    solids = _numbers_before([len(part.names) for part in parts])
    return Mesh(
        names=tuple(name for part in parts for name in part.names),
        points=np.concatenate([part.points for part in parts]),
        follows=np.concatenate([p.follows + n for p, n in zip(parts, corners, strict=True)]),
        starts=np.concatenate([p.starts + n for p, n in zip(parts, corners, strict=True)]),
        counts=np.concatenate([part.counts for part in parts]),
        normals=np.concatenate([part.normals for part in parts]),
        owners=np.concatenate([p.owners + n for p, n in zip(parts, solids, strict=True)]),
        sides=np.concatenate([part.sides for part in parts]),
        rings=np.concatenate(
            [np.add(p.rings, (f, c, 0)) for p, f, c in zip(parts, faces, corners, strict=True)]
        ),
        edges=np.concatenate(
            [
                np.where(p.edges < 0, -1, np.add(p.edges, (c, c, f, f)))
                for p, f, c in zip(parts, faces, corners, strict=True)
            ]
        ),
        smooth=np.concatenate([part.smooth for part in parts]),
        convex=np.concatenate([part.convex for part in parts]),
    )


def look_at(mesh: Mesh, view: View) -> Seen:
    """Return a mesh as seen from one side."""
    return look_from(mesh, (view,))[0]


def look_from(mesh: Mesh, views: Sequence[View]) -> list[Seen]:
    """Return a mesh as seen from each of some sides.

    Projected numbers are rounded far below a tolerance: a view along a face would else leave
    differences of 1e-200, which set operations divide by.
    """
    ways = [way for view in views for way in (view.right, view.up, view.eye)]
    axes = np.array(ways, dtype=np.float64).T
    points, normals = np.round(mesh.points @ axes, 9), np.round(mesh.normals @ axes, 12)
    low = np.minimum.reduceat(points, mesh.starts, axis=0)
    high = np.maximum.reduceat(points, mesh.starts, axis=0)
    offsets = normals * points[mesh.starts]
    found = []
    for column in range(0, len(ways), 3):
        part = slice(column, column + 3)
        normal = normals[:, part]
        front = normal[:, 2] > PARALLEL_SINE
        steep = np.where(front, normal[:, 2], 1.0)
        slopes = np.stack([-normal[:, 0], -normal[:, 1], offsets[:, part].sum(axis=1)], axis=1)
        slopes /= steep[:, None]
        found.append(Seen(points[:, part], front, slopes, low[:, part], high[:, part]))
    return found


def _directed(vectors: Floats, frame: Frame) -> Floats:
    """Return directions of a frame in the frame it stands in, as `Frame.direction` does."""
    x, y, z = (np.array(way) for way in (frame.x, frame.y, frame.z))
    turned: Floats = vectors[:, :1] * x + vectors[:, 1:2] * y + vectors[:, 2:] * z
    return turned


def _numbers_before(counts: list[int]) -> list[int]:
    return [0, *accumulate(counts[:-1])]


def _mesh_of(solid: Solid) -> Mesh:
    points: list[Vec3] = []
    follows: list[int] = []
    rings: list[tuple[int, int, int]] = []
    starts: list[int] = []
    for number, face in enumerate(solid.faces):
        starts.append(len(points))
        for loop in (face.outer, *face.holes):
            first, count = len(points), len(loop)
            points += loop
            follows += [first + (i + 1) % count for i in range(count)]
            rings.append((number, first, count))
    edges, smooth = _find_edges(points, follows, solid.faces)
    corners = np.array(points, dtype=np.float64).reshape(-1, 3)
    normals = np.array([face.normal for face in solid.faces], dtype=np.float64).reshape(-1, 3)
    heights = (
        normals @ corners.T
        - np.sum(normals * corners[np.array(starts, dtype=np.intp)], axis=1)[:, None]
    )
    return Mesh(
        names=(solid.name,),
        points=corners,
        follows=np.array(follows, dtype=np.intp),
        starts=np.array(starts, dtype=np.intp),
        counts=np.array([b - a for a, b in pairwise([*starts, len(points)])], dtype=np.intp),
        normals=normals,
        owners=np.zeros(len(starts), dtype=np.intp),
        sides=np.array([face.edge for face in solid.faces], dtype=np.intp),
        rings=np.array(rings, dtype=np.intp).reshape(-1, 3),
        edges=np.array(edges, dtype=np.intp).reshape(-1, 4),
        smooth=np.array(smooth, dtype=np.bool_),
        convex=np.array([bool((heights < SAME_POINT_MM).all())]),
    )


Key = tuple[tuple[int, ...], tuple[int, ...]]


def _find_edges(
    points: Sequence[Vec3], follows: Sequence[int], faces: Sequence[Face]
) -> tuple[list[tuple[int, int, int, int]], list[bool]]:
    """Return every edge of a solid once, with the faces on both sides of it."""
    keys = [tuple(round(x / SAME_POINT_MM) for x in point) for point in points]
    found: dict[Key, int] = {}
    edges: list[tuple[int, int, int, int]] = []
    smooth: list[bool] = []
    corner = 0
    for index, face in enumerate(faces):
        count = sum(map(len, (face.outer, *face.holes)))
        for i in range(count):
            start = corner + i
            end = follows[start]
            is_smooth = i < len(face.smooth) and face.smooth[i]
            partner = found.pop((keys[end], keys[start]), None)
            if partner is not None:
                edges[partner] = (*edges[partner][:3], index)
                flat = _is_flat(faces[edges[partner][2]], face)
                smooth[partner] = smooth[partner] or is_smooth or flat
            elif keys[start] != keys[end]:
                found[(keys[start], keys[end])] = len(edges)
                edges.append((start, end, index, -1))
                smooth.append(is_smooth)
        corner += count
    return edges, smooth


def _is_flat(one: Face, other: Face) -> bool:
    difference = subtract(one.normal, other.normal)
    return dot(difference, difference) < PARALLEL_SINE * PARALLEL_SINE
