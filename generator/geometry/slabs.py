"""A slab: a solid between two parallel faces with a plane (or upright arc) for every edge.

    face B (z = thickness)
  ______________
 /             /|     Both faces have the same number of points; edge i of face A and
/_____________/ |     edge i of face B lie in one plane, so the solid is a prismatoid
|             | /     and Simpson's rule over three sections gives its volume and its
|_____________|/      centre exactly (Kepler's barrel rule).
 face A (z = 0)

Channels may be cut into both faces; what they take off is left aside by `section` and `bounds`.
"""

import math
from dataclasses import dataclass
from typing import Final

from shapely import constrained_delaunay_triangles, get_coordinates
from shapely.geometry import Polygon

from generator.geometry.channels import Channel, Triangle, cut_faces, cut_triangles
from generator.geometry.faces import Face
from generator.geometry.outlines import Outline
from generator.geometry.removed import integrate_channels
from generator.geometry.tolerance import CHORD_MM
from generator.geometry.vectors import Vec2, Vec3, cross, norm, subtract, unit

SMOOTH_DEG: Final = 1.0
"""Where a line runs into an arc with less of a turn nobody sees an edge."""


@dataclass(frozen=True, slots=True)
class Slab:
    """A solid between face A at z = 0 and face B at z = thickness, in its own frame.

    Attributes:
        face_a: Outline at z = 0, counter-clockwise seen from +z.
        face_b: Outline at z = thickness, same number of points and same bulges.
        thickness_mm: More than 0.
        holes: Outlines cut straight through, counter-clockwise, inside both faces.
        channels: Cut into the faces.
    """

    face_a: Outline
    face_b: Outline
    thickness_mm: float
    holes: tuple[Outline, ...] = ()
    channels: tuple[Channel, ...] = ()

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y over both faces."""
        a, b = self.face_a.bounds, self.face_b.bounds
        return (min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3]))

    @property
    def volume_mm3(self) -> float:
        """Exact volume, holes and channels taken off."""
        return self._integrals()[0]

    @property
    def center(self) -> Vec3:
        """Exact centre of the volume."""
        volume, x, y, z = self._integrals()
        return (x / volume, y / volume, z / volume)

    def section(self, z_mm: float) -> Outline:
        """Return the outline at a height between the faces, holes left aside."""
        part = z_mm / self.thickness_mm
        points = tuple(
            (a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part)
            for a, b in zip(self.face_a.points, self.face_b.points, strict=True)
        )
        return Outline(points, self.face_a.bulges)

    def faces(self, chord_mm: float = CHORD_MM) -> tuple[Face, ...]:
        """Return all faces: A, B, one or more for every edge, then holes' walls and channels.

        Channels may leave several faces where there was one, and none where nothing is left.
        """
        faces = self._plain_faces(chord_mm)
        if not self.channels:
            return faces
        return cut_faces(faces, self._plain_skin(chord_mm), self.channels, self.thickness_mm)

    def triangles(self, chord_mm: float = CHORD_MM) -> tuple[Triangle, ...]:
        """Return a closed skin of triangles, counter-clockwise seen from outside."""
        skin = self._plain_skin(chord_mm)
        if not self.channels:
            return tuple(triangle for _, triangle in skin)
        return cut_triangles(skin, self.channels, self.thickness_mm)

    def _plain_faces(self, chord_mm: float) -> tuple[Face, ...]:
        t = self.thickness_mm
        low = [(x, y, 0.0) for x, y in self.face_a.flattened(chord_mm)]
        high = [(x, y, t) for x, y in self.face_b.flattened(chord_mm)]
        owners = _owners(self.face_a, chord_mm)
        holes = [hole.flattened(chord_mm) for hole in self.holes]
        up = tuple(tuple((x, y, t) for x, y in reversed(hole)) for hole in holes)
        down = tuple(tuple((x, y, 0.0) for x, y in hole) for hole in holes)
        sharp = (False,) * len(low)
        faces = [
            Face(tuple(reversed(low)), down, (0.0, 0.0, -1.0), -1, sharp),
            Face(tuple(high), up, (0.0, 0.0, 1.0), -2, sharp),
        ]
        faces += _walls(low, high, owners, _smooth_joins(self.face_a))
        for hole in holes:
            ring = list(reversed(hole))
            faces += _walls(
                [(x, y, 0.0) for x, y in ring],
                [(x, y, t) for x, y in ring],
                [-3] * len(ring),
                frozenset({(-3, -3)}),
            )
        return tuple(faces)

    def _plain_skin(self, chord_mm: float) -> list[tuple[int, Triangle]]:
        """Return the triangles of all plain faces, each with the index of its face."""
        t = self.thickness_mm
        low, high = self.face_a.flattened(chord_mm), self.face_b.flattened(chord_mm)
        holes = [hole.flattened(chord_mm) for hole in self.holes]
        skin: list[tuple[int, Triangle]] = []
        for (x0, y0), (x1, y1), (x2, y2) in _fill(low, holes):
            skin.append((0, ((x0, y0, 0.0), (x2, y2, 0.0), (x1, y1, 0.0))))
        for (x0, y0), (x1, y1), (x2, y2) in _fill(high, holes):
            skin.append((1, ((x0, y0, t), (x1, y1, t), (x2, y2, t))))
        for index, face in enumerate(self._plain_faces(chord_mm)[2:], 2):
            a, b, c, d = face.outer
            skin += [(index, (a, b, c)), (index, (a, c, d))]
        return skin

    def _integrals(self) -> tuple[float, float, float, float]:
        t = self.thickness_mm
        total = [0.0, 0.0, 0.0, 0.0]
        for z, weight in ((0.0, t / 6), (t / 2, 4 * t / 6), (t, t / 6)):
            area, moment_x, moment_y = self.section(z).moments()
            for hole in self.holes:
                hole_area, hole_x, hole_y = hole.moments()
                area, moment_x, moment_y = area - hole_area, moment_x - hole_x, moment_y - hole_y
            for i, value in enumerate((area, moment_x, moment_y, area * z)):
                total[i] += weight * value
        taken = integrate_channels((self.face_a, self.face_b), self.holes, t, self.channels)
        volume, x, y, height = (whole - gone for whole, gone in zip(total, taken, strict=True))
        return (volume, x, y, height)


def _owners(outline: Outline, chord_mm: float) -> list[int]:
    """Return for every flattened side the index of the edge it belongs to."""
    owners: list[int] = []
    for index in range(len(outline.points)):
        one = Outline(outline.points, outline.bulges).edges()[index]
        chords = len(Outline((one[0], one[1]), (one[2], 0.0)).flattened(chord_mm)) - 1
        owners += [index] * chords
    return owners


def _walls(
    low: list[Vec3], high: list[Vec3], owners: list[int], joins: frozenset[tuple[int, int]]
) -> list[Face]:
    """Return the faces around an outline; ``joins`` are the edges that run smoothly on."""
    faces = []
    count = len(low)
    for i in range(count):
        j = (i + 1) % count
        outer = (low[i], low[j], high[j], high[i])
        normal = cross(subtract(low[j], low[i]), subtract(high[i], low[i]))
        if norm(normal) == 0.0:
            normal = cross(subtract(high[j], high[i]), subtract(high[i], low[i]))
        before, after = (owners[i - 1], owners[i]) in joins, (owners[i], owners[j]) in joins
        is_chord = (owners[i], owners[i]) in joins
        smooth = (False, after, False, before)
        faces.append(Face(outer, (), unit(normal), owners[i], smooth, is_chord))
    return faces


def _smooth_joins(outline: Outline) -> frozenset[tuple[int, int]]:
    """Return every arc with itself, and neighbours of which one goes on where the other aims."""
    edges = outline.edges()
    found = {(i, i) for i, (_, _, bulge) in enumerate(edges) if bulge}
    for i, edge in enumerate(edges):
        after = (i + 1) % len(edges)
        turn = _aim_deg(edges[after], -1) - _aim_deg(edge, 1)
        if abs((turn + 180.0) % 360.0 - 180.0) < SMOOTH_DEG:
            found.add((i, after))
    return frozenset(found)


def _aim_deg(edge: tuple[Vec2, Vec2, float], end: int) -> float:
    """Return the direction of a line or arc at its start (-1) or its end (1)."""
    (x0, y0), (x1, y1), bulge = edge
    chord = math.degrees(math.atan2(y1 - y0, x1 - x0))
    return chord + end * math.degrees(2 * math.atan(bulge))


def _fill(
    ring: tuple[tuple[float, float], ...], holes: list[tuple[tuple[float, float], ...]]
) -> list[tuple[tuple[float, float], tuple[float, float], tuple[float, float]]]:
    """Return counter-clockwise triangles that fill a ring with holes."""
    polygon = Polygon(ring, holes)
    filled = []
    for triangle in constrained_delaunay_triangles(polygon).geoms:
        a, b, c = [(float(x), float(y)) for x, y in get_coordinates(triangle)[:3]]
        turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        filled.append((a, b, c) if turn > 0 else (a, c, b))
    return filled
