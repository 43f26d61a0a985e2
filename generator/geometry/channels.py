"""Channels: straight troughs cut into a face of a slab, which may run out over its edges.

 ____    ______ face         The outline of a channel reaches past the slab where it runs
|    |__|      |             out. The skin is cut by a boolean of solids, which keeps every
|______________|             point of the slab as it is and says of every triangle which face
                             it comes from; triangles of one face are made one polygon again.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from manifold3d import Manifold, Mesh64

from generator.geometry.faces import Face, floor_side, wall_side
from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec3, add, cross, norm, scale, subtract, unit

Triangle = tuple[Vec3, Vec3, Vec3]

MOST_SIDES = 16
"""Of one channel: what tells its walls apart in the boolean."""

BEYOND_MM = 1.0
"""How far the solid that is taken off stands out of the face it is cut into."""

DIGITS = 9
"""Of new points, in mm: far below a tolerance, and the same on every machine."""


@dataclass(frozen=True, slots=True)
class Channel:
    """A trough with upright walls and a level floor.

    Attributes:
        outline: Convex, straight, counter-clockwise; past the edges of the slab where it runs out.
        in_b: Whether it is cut into face B, not into face A.
        depth_mm: From that face to the floor.
    """

    outline: Outline
    in_b: bool
    depth_mm: float

    def levels(self, thickness_mm: float) -> tuple[float, float]:
        """Return the least and the greatest z of what is taken off."""
        if self.in_b:
            return (thickness_mm - self.depth_mm, thickness_mm)
        return (0.0, self.depth_mm)


def cut_triangles(
    skin: Sequence[tuple[int, Triangle]], channels: Sequence[Channel], thickness_mm: float
) -> tuple[Triangle, ...]:
    """Return a closed skin with channels taken off, counter-clockwise seen from outside.

    Args:
        skin: Number of a face, 0 or more, and a triangle of it, counter-clockwise from outside.
        channels: To be taken off.
        thickness_mm: Of the slab.
    """
    cut = _cut(skin, channels, thickness_mm)
    return tuple((cut.points[a], cut.points[b], cut.points[c]) for a, b, c in cut.triangles)


def cut_faces(
    faces: Sequence[Face],
    skin: Sequence[tuple[int, Triangle]],
    channels: Sequence[Channel],
    thickness_mm: float,
) -> tuple[Face, ...]:
    """Return the faces of a slab with channels taken off, then the floors and walls.

    Args:
        faces: Of the slab before.
        skin: Its triangles, each with the index of its face.
        channels: To be taken off.
        thickness_mm: Of the slab.
    """
    cut = _cut(skin, channels, thickness_mm)
    patches: dict[int, list[_Loop]] = {}
    for loop in _without_points_on_lines(_find_loops(cut), cut.points):
        patches.setdefault(loop.patch, []).append(loop)
    return tuple(
        _make_face(patches[patch], faces, cut, _first_number(skin)) for patch in sorted(patches)
    )


@dataclass(frozen=True, slots=True)
class _Cut:
    """A skin: points, triangles as indices of points, and the face every triangle lies in."""

    points: list[Vec3]
    triangles: list[tuple[int, int, int]]
    owners: list[int]


@dataclass(frozen=True, slots=True)
class _Loop:
    """A closed line around some triangles of one face, the triangles on its left.

    Attributes:
        owner: The face.
        patch: Number of the patch of triangles that hang together.
        points: Indices of points.
        beyond: For the side from each point to the next, the face on the other side of it.
    """

    owner: int
    patch: int
    points: tuple[int, ...]
    beyond: tuple[int, ...]


def _cut(
    skin: Sequence[tuple[int, Triangle]], channels: Sequence[Channel], thickness_mm: float
) -> _Cut:
    """Return the skin of what is left, by faces and places: the same on every machine."""
    solid = _solid(skin)
    first = _first_number(skin)
    for number, channel in enumerate(channels):
        solid -= _solid(list(_prism(channel, first + number * MOST_SIDES, thickness_mm)))
    mesh = solid.to_mesh64()
    places = np.round(np.asarray(mesh.vert_properties)[:, :3], DIGITS) + 0.0
    points = [(x, y, z) for x, y, z in places.tolist()]
    corners = [_least_first((a, b, c), points) for a, b, c in np.asarray(mesh.tri_verts).tolist()]
    owners = [int(number) for number in mesh.face_id]
    rows = sorted(range(len(owners)), key=lambda i: (owners[i], [points[j] for j in corners[i]]))
    return _Cut(points, [corners[i] for i in rows], [owners[i] for i in rows])


def _first_number(skin: Sequence[tuple[int, Triangle]]) -> int:
    return max(number for number, _ in skin) + 1


def _least_first(corners: tuple[int, int, int], points: list[Vec3]) -> tuple[int, int, int]:
    a, b, c = corners
    return min(((a, b, c), (b, c, a), (c, a, b)), key=lambda turned: points[turned[0]])


def _solid(skin: Sequence[tuple[int, Triangle]]) -> Manifold:
    corners, indices = np.unique(
        np.round(np.array([triangle for _, triangle in skin]).reshape(-1, 3), DIGITS),
        axis=0,
        return_inverse=True,
    )
    numbers = np.array([number for number, _ in skin], dtype=np.uint64)
    mesh = Mesh64(corners, indices.reshape(-1, 3).astype(np.uint64), face_id=numbers)
    return Manifold(mesh)


def _prism(channel: Channel, first: int, thickness_mm: float) -> Iterator[tuple[int, Triangle]]:
    """Yield the triangles of what is taken off: the floor has the first number, then the walls."""
    low_mm, high_mm = channel.levels(thickness_mm)
    if channel.in_b:
        high_mm += BEYOND_MM
    else:
        low_mm -= BEYOND_MM
    low = [(x, y, low_mm) for x, y in channel.outline.points]
    high = [(x, y, high_mm) for x, y in channel.outline.points]
    for i in range(1, len(low) - 1):
        yield first, (low[0], low[i + 1], low[i])
        yield first, (high[0], high[i], high[i + 1])
    for i in range(len(low)):
        j = (i + 1) % len(low)
        yield first + 1 + i, (low[i], low[j], high[j])
        yield first + 1 + i, (low[i], high[j], high[i])


def _find_loops(cut: _Cut) -> list[_Loop]:
    """Return the lines around all patches of triangles of one face."""
    holders = {
        (triangle[i], triangle[(i + 1) % 3]): row
        for row, triangle in enumerate(cut.triangles)
        for i in range(3)
    }
    patches = _number_patches(cut, holders)
    borders = {
        side: row
        for side, row in holders.items()
        if patches[holders[side[1], side[0]]] != patches[row]
    }
    loops = []
    for first in sorted(borders, key=lambda side: (borders[side], cut.points[side[0]])):
        if first not in borders:
            continue
        row, side = borders[first], first
        points, beyond = [], []
        while side in borders:
            del borders[side]
            points.append(side[0])
            beyond.append(cut.owners[holders[side[1], side[0]]])
            side = _next_border(side, cut, holders, patches)
        loops.append(_Loop(cut.owners[row], patches[row], tuple(points), tuple(beyond)))
    return loops


def _number_patches(cut: _Cut, holders: dict[tuple[int, int], int]) -> list[int]:
    """Return for every triangle the number of its patch, in the order of their first triangles."""
    patches = [-1] * len(cut.triangles)
    count = 0
    for start in range(len(patches)):
        if patches[start] >= 0:
            continue
        waiting = [start]
        patches[start] = count
        while waiting:
            a, b, c = cut.triangles[waiting.pop()]
            for side in ((b, a), (c, b), (a, c)):
                row = holders[side]
                if patches[row] < 0 and cut.owners[row] == cut.owners[start]:
                    patches[row] = count
                    waiting.append(row)
        count += 1
    return patches


def _next_border(
    side: tuple[int, int],
    cut: _Cut,
    holders: dict[tuple[int, int], int],
    patches: list[int],
) -> tuple[int, int]:
    """Return the side of the patch that follows, going round the point the two share."""
    patch = patches[holders[side]]
    while True:
        side = _following(side, cut.triangles[holders[side]])
        other = (side[1], side[0])
        if patches[holders[other]] != patch:
            return side
        side = other


def _following(side: tuple[int, int], triangle: tuple[int, int, int]) -> tuple[int, int]:
    i = triangle.index(side[1])
    return (triangle[i], triangle[(i + 1) % 3])


def _without_points_on_lines(loops: list[_Loop], points: list[Vec3]) -> list[_Loop]:
    """Return the loops without points that lie on a line of only two faces.

    Both faces lose the point, so that every side of one is still a side of the other.
    """
    kept: set[int] = set()
    met: dict[int, int] = {}
    for loop in loops:
        count = len(loop.points)
        for i, point in enumerate(loop.points):
            met[point] = met.get(point, 0) + 1
            before, after = loop.points[i - 1], loop.points[(i + 1) % count]
            if met[point] > 2 or not _is_between(*(points[j] for j in (before, point, after))):
                kept.add(point)
    return [_thinned(loop, kept) for loop in loops]


def _thinned(loop: _Loop, kept: set[int]) -> _Loop:
    stays = [i for i, point in enumerate(loop.points) if point in kept]
    points = tuple(loop.points[i] for i in stays)
    return replace(loop, points=points, beyond=tuple(loop.beyond[i] for i in stays))


def _is_between(start: Vec3, point: Vec3, end: Vec3) -> bool:
    along = subtract(end, start)
    length = norm(along)
    if length < SAME_POINT_MM:
        return False
    return norm(cross(along, subtract(point, start))) < SAME_POINT_MM / 10 * length


def _make_face(loops: list[_Loop], faces: Sequence[Face], cut: _Cut, first: int) -> Face:
    """Return the polygon around a patch: its outer line is the one with the greatest area."""
    rings = [tuple(cut.points[i] for i in loop.points) for loop in loops]
    areas = [_area_vector(ring) for ring in rings]
    outer = max(range(len(rings)), key=lambda i: norm(areas[i]))
    owner = loops[outer].owner
    number = owner - first
    if number < 0:
        edge, normal = faces[owner].edge, faces[owner].normal
    else:
        channel, wall = divmod(number, MOST_SIDES)
        edge, normal = (wall_side if wall else floor_side)(channel), unit(areas[outer])
    return Face(
        outer=rings[outer],
        holes=tuple(ring for i, ring in enumerate(rings) if i != outer),
        normal=normal,
        edge=edge,
        smooth=tuple(_is_smooth(owner, other, faces) for other in loops[outer].beyond),
        is_chord=number < 0 and faces[owner].is_chord,
    )


def _area_vector(ring: tuple[Vec3, ...]) -> Vec3:
    """Return the normal of a ring, as long as its area is great."""
    total: Vec3 = (0.0, 0.0, 0.0)
    for i in range(1, len(ring) - 1):
        ahead = cross(subtract(ring[i], ring[0]), subtract(ring[i + 1], ring[0]))
        total = add(total, scale(ahead, 0.5))
    return total


def _is_smooth(owner: int, other: int, faces: Sequence[Face]) -> bool:
    """Whether two faces follow each other smoothly, as the plain solid has them."""
    if owner == other or max(owner, other) >= len(faces):
        return False
    one, two = faces[owner], faces[other]
    return len(one.outer) == len(two.outer) == 4 and any(
        smooth and set(side) <= set(two.outer)
        for smooth, side in zip(
            one.smooth, zip(one.outer, one.outer[1:] + one.outer[:1], strict=True), strict=True
        )
    )
