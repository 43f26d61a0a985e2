"""Plain vectors as tuples of floats."""

import math

Vec2 = tuple[float, float]
Vec3 = tuple[float, float, float]

RIGHT: Vec3 = (1.0, 0.0, 0.0)
BACK: Vec3 = (0.0, 1.0, 0.0)
UP: Vec3 = (0.0, 0.0, 1.0)
LEFT: Vec3 = (-1.0, 0.0, 0.0)
FRONT: Vec3 = (0.0, -1.0, 0.0)
DOWN: Vec3 = (0.0, 0.0, -1.0)


def add(a: Vec3, b: Vec3) -> Vec3:
    """Return a + b."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def subtract(a: Vec3, b: Vec3) -> Vec3:
    """Return a - b."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vec3, factor: float) -> Vec3:
    """Return a times a number."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def dot(a: Vec3, b: Vec3) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec3, b: Vec3) -> Vec3:
    """Return the vector product, right-handed."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def norm(a: Vec3) -> float:
    """Return the length of a vector."""
    return math.hypot(*a)


def unit(a: Vec3) -> Vec3:
    """Return the vector of length 1 in the same direction.

    Raises:
        ZeroDivisionError: The vector has no length.
    """
    return scale(a, 1.0 / norm(a))


def distance(a: Vec3, b: Vec3) -> float:
    """Return the distance of two points."""
    return norm(subtract(a, b))


def angle_between_deg(a: Vec3, b: Vec3) -> float:
    """Return the angle of two vectors, 0 to 180 degrees."""
    return math.degrees(math.atan2(norm(cross(a, b)), dot(a, b)))


def rotate(a: Vec3, axis: Vec3, angle_deg: float) -> Vec3:
    """Return a turned about an axis of length 1, right-handed (Rodrigues' formula)."""
    angle = math.radians(angle_deg)
    cosine, sine = math.cos(angle), math.sin(angle)
    along = scale(axis, dot(axis, a) * (1 - cosine))
    return add(add(scale(a, cosine), scale(cross(axis, a), sine)), along)
