"""Frames: a place and three directions; and planes."""

import math
from dataclasses import dataclass

from generator.geometry.vectors import (
    BACK,
    RIGHT,
    UP,
    Vec3,
    add,
    cross,
    dot,
    rotate,
    scale,
    subtract,
)

Matrix4 = tuple[tuple[float, float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Plane:
    """All points p with ``normal . p = offset``; the normal has length 1 and points outward."""

    normal: Vec3
    offset: float

    def height(self, point: Vec3) -> float:
        """Return how far a point lies on the side the normal points to, in mm."""
        return dot(self.normal, point) - self.offset

    def inset(self, point: Vec3) -> float:
        """Return how far a point lies behind the line in which the plane cuts the point's level.

        The level is all that has the same z; the plane must not be level itself.
        """
        return -self.height(point) / math.hypot(self.normal[0], self.normal[1])

    def flipped(self) -> "Plane":
        """Return the same plane with the normal the other way."""
        return Plane(scale(self.normal, -1.0), -self.offset)


@dataclass(frozen=True, slots=True)
class Frame:
    """An origin in mm and three directions of length 1 at right angles to each other.

    Frames of pieces are right-handed; a mirrored frame (see `mirrored`) is left-handed and is only
    a step on the way to a mirrored piece.
    """

    origin: Vec3 = (0.0, 0.0, 0.0)
    x: Vec3 = RIGHT
    y: Vec3 = BACK
    z: Vec3 = UP

    def to_world(self, point: Vec3) -> Vec3:
        """Return a point of this frame in the frame it stands in."""
        return add(self.origin, self.direction(point))

    def direction(self, vector: Vec3) -> Vec3:
        """Return a direction of this frame in the frame it stands in."""
        return add(
            add(scale(self.x, vector[0]), scale(self.y, vector[1])), scale(self.z, vector[2])
        )

    def to_local(self, point: Vec3) -> Vec3:
        """Return a point given in the outer frame in this one."""
        return self.local_direction(subtract(point, self.origin))

    def local_direction(self, vector: Vec3) -> Vec3:
        """Return a direction given in the outer frame in this one."""
        return (dot(vector, self.x), dot(vector, self.y), dot(vector, self.z))

    def plane_to_world(self, plane: Plane) -> Plane:
        """Return a plane of this frame in the outer frame."""
        normal = self.direction(plane.normal)
        return Plane(normal, plane.offset + dot(normal, self.origin))

    def plane_to_local(self, plane: Plane) -> Plane:
        """Return a plane given in the outer frame in this one."""
        return Plane(
            self.local_direction(plane.normal), plane.offset - dot(plane.normal, self.origin)
        )

    def inside(self, outer: "Frame") -> "Frame":
        """Return this frame, which stands in ``outer``, in the frame ``outer`` stands in."""
        return Frame(
            outer.to_world(self.origin),
            outer.direction(self.x),
            outer.direction(self.y),
            outer.direction(self.z),
        )

    def turned(self, axis: Vec3, angle_deg: float) -> "Frame":
        """Return the frame turned about one of its own directions, right-handed."""
        about = self.direction(axis)
        return Frame(
            self.origin,
            rotate(self.x, about, angle_deg),
            rotate(self.y, about, angle_deg),
            rotate(self.z, about, angle_deg),
        )

    def moved(self, vector: Vec3) -> "Frame":
        """Return the frame moved by a vector of its own directions."""
        return Frame(self.to_world(vector), self.x, self.y, self.z)

    def mirrored(self, plane: Plane) -> "Frame":
        """Return the mirror image in a plane of the outer frame; handedness changes."""
        return Frame(
            reflect_point(self.origin, plane),
            reflect_direction(self.x, plane),
            reflect_direction(self.y, plane),
            reflect_direction(self.z, plane),
        )

    @property
    def is_right_handed(self) -> bool:
        """Whether x cross y is z."""
        return dot(cross(self.x, self.y), self.z) > 0

    def matrix(self) -> Matrix4:
        """Return the 4 by 4 matrix that takes points of this frame to the outer one, by rows."""
        rows = tuple((self.x[i], self.y[i], self.z[i], self.origin[i]) for i in range(3))
        return (*rows, (0.0, 0.0, 0.0, 1.0))


def reflect_point(point: Vec3, plane: Plane) -> Vec3:
    """Return the mirror image of a point."""
    return subtract(point, scale(plane.normal, 2 * plane.height(point)))


def reflect_plane(plane: Plane, mirror: Plane) -> Plane:
    """Return the mirror image of a plane; what was its outer side still is."""
    normal = reflect_direction(plane.normal, mirror)
    return Plane(normal, dot(normal, reflect_point(scale(plane.normal, plane.offset), mirror)))


def reflect_direction(vector: Vec3, plane: Plane) -> Vec3:
    """Return the mirror image of a direction."""
    return subtract(vector, scale(plane.normal, 2 * dot(plane.normal, vector)))
