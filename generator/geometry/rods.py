"""A rod: a round solid along x, with the same interface as a slab.

______________________        It stands in the frame of the square slab around it: x from
y     (                      )       0 to the length, y and z from 0 to the diameter. What a
^     (______________________)       slab says of faces A and B, a rod says of that slab: the
|--> x                               rectangle somebody sees who looks at it square on.
"""

import math
from dataclasses import dataclass

from generator.geometry.channels import Channel, Triangle
from generator.geometry.faces import Face
from generator.geometry.frames import Frame
from generator.geometry.outlines import Outline, circle
from generator.geometry.slabs import Slab
from generator.geometry.tolerance import CHORD_MM
from generator.geometry.vectors import Vec2, Vec3, cross, subtract, unit

END_EDGES = (1, 3)
"""Of the four edges around the rectangle the ends: at the greatest x, and at x = 0."""
ROUND_EDGE = 0
"""The edge its round side is said to follow: none of it is flat."""


@dataclass(frozen=True, slots=True)
class Rod:
    """A cylinder from x = 0 to its length that touches y = 0 and z = 0."""

    length_mm: float
    diameter_mm: float

    @property
    def face_a(self) -> Outline:
        """The rectangle it fills, seen square on."""
        x, y = self.length_mm, self.diameter_mm
        return Outline(((0.0, 0.0), (x, 0.0), (x, y), (0.0, y)))

    @property
    def face_b(self) -> Outline:
        """The same rectangle."""
        return self.face_a

    @property
    def thickness_mm(self) -> float:
        """The diameter."""
        return self.diameter_mm

    @property
    def holes(self) -> tuple[Outline, ...]:
        """A rod has none."""
        return ()

    @property
    def channels(self) -> tuple[Channel, ...]:
        """A rod has none."""
        return ()

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y."""
        return (0.0, 0.0, self.length_mm, self.diameter_mm)

    @property
    def volume_mm3(self) -> float:
        """Exact volume."""
        return math.pi * self.diameter_mm * self.diameter_mm / 4 * self.length_mm

    @property
    def center(self) -> Vec3:
        """Exact centre of the volume."""
        return (self.length_mm / 2, self.diameter_mm / 2, self.diameter_mm / 2)

    def section(self, z_mm: float) -> Outline:
        """Return the outline at a height: a rectangle, widest in the middle."""
        radius = self.diameter_mm / 2
        half = math.sqrt(max(radius * radius - (z_mm - radius) ** 2, 0.0))
        x, low, high = self.length_mm, radius - half, radius + half
        return Outline(((0.0, low), (x, low), (x, high), (0.0, high)))

    def faces(self, chord_mm: float = CHORD_MM) -> tuple[Face, ...]:
        """Return its two ends and, as chords, its round side."""
        ring = self._ring(chord_mm)
        near = tuple((0.0, y, z) for y, z in reversed(ring))
        far = tuple((self.length_mm, y, z) for y, z in ring)
        sharp = (False,) * len(ring)
        return (
            Face(far, (), (1.0, 0.0, 0.0), END_EDGES[0], sharp),
            Face(near, (), (-1.0, 0.0, 0.0), END_EDGES[1], sharp),
            *(
                Face(side, (), _normal(side), ROUND_EDGE, (False, True, False, True), is_chord=True)
                for side in self._sides(ring)
            ),
        )

    def triangles(self, chord_mm: float = CHORD_MM) -> tuple[Triangle, ...]:
        """Return a closed skin of triangles, counter-clockwise seen from outside."""
        ring = self._ring(chord_mm)
        skin: list[Triangle] = []
        for i in range(1, len(ring) - 1):
            (y0, z0), (y1, z1), (y2, z2) = ring[0], ring[i], ring[i + 1]
            x = self.length_mm
            skin.append(((x, y0, z0), (x, y1, z1), (x, y2, z2)))
            skin.append(((0.0, y0, z0), (0.0, y2, z2), (0.0, y1, z1)))
        for a, b, c, d in self._sides(ring):
            skin += [(a, b, c), (a, c, d)]
        return tuple(skin)

    def _ring(self, chord_mm: float) -> tuple[Vec2, ...]:
        """Return the corners of an end in y and z, counter-clockwise seen from the greatest x."""
        radius = self.diameter_mm / 2
        return circle((radius, radius), self.diameter_mm).flattened(chord_mm)

    def _sides(self, ring: tuple[Vec2, ...]) -> list[tuple[Vec3, Vec3, Vec3, Vec3]]:
        length = self.length_mm
        return [
            ((0.0, y0, z0), (0.0, y1, z1), (length, y1, z1), (length, y0, z0))
            for (y0, z0), (y1, z1) in zip(ring, ring[1:] + ring[:1], strict=True)
        ]


Body = Slab | Rod
"""What a part is made of."""


def place_corners(body: Body, frame: Frame) -> list[Vec3]:
    """Return the corners of both faces where a frame stands in the room, arcs as chords."""
    faces = ((body.face_a, 0.0), (body.face_b, body.thickness_mm))
    return [frame.to_world((x, y, z)) for face, z in faces for x, y in face.flattened()]


def _normal(side: tuple[Vec3, Vec3, Vec3, Vec3]) -> Vec3:
    return unit(cross(subtract(side[1], side[0]), subtract(side[3], side[0])))
