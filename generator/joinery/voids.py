"""Channels around a fastener: where its way comes out in one, and how far it stays away."""

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from shapely.geometry import LineString, Point, Polygon

from generator.geometry.faces import channel_of
from generator.geometry.vectors import Vec3, add, dot, scale, subtract
from generator.model.parts import Part

LEVEL = 1e-9
"""A way that moves less than this towards a plane for every mm runs along it."""


@dataclass(frozen=True, slots=True)
class Room:
    """What a channel takes off a part, in the part's frame: upright above an outline.

    Attributes:
        word: What it is called: ``dado``, ``groove`` or ``rabbet``.
        low_mm: Its least z.
        high_mm: Its greatest z.
    """

    word: str
    outline: Polygon
    low_mm: float
    high_mm: float


def find_rooms(part: Part, entry_side: int) -> tuple[Room, ...]:
    """Return what the channels of a part take off, but for the one a side belongs to."""
    own = channel_of(entry_side)
    t = part.thickness_mm
    return tuple(
        Room(housing.kind, channel.outline.polygon(), *channel.levels(t))
        for housing, channel in zip(part.housings, part.slab.channels, strict=True)
        if housing.channel != own
    )


def is_in_room(room: Room, point: Vec3) -> bool:
    """Whether a point of the part's frame lies in a room."""
    if not room.low_mm < point[2] < room.high_mm:
        return False
    return bool(room.outline.contains(Point(point[:2])))


def find_entry(room: Room, start: Vec3, direction: Vec3) -> tuple[float, float] | None:
    """Return how far ahead a ray comes into a room, and the cosine of the angle it does so at.

    None where it does not. The room is what several planes leave of space; the ray is cut by one
    after the other.
    """
    low, high, slant = 0.0, math.inf, 1.0
    for normal, offset in _planes(room):
        speed, ahead = dot(normal, direction), offset - dot(normal, start)
        if abs(speed) < LEVEL:
            if ahead < 0:
                return None
        elif speed > 0:
            high = min(high, ahead / speed)
        elif ahead / speed > low:
            low, slant = ahead / speed, -speed
    return (low, slant) if low < high else None


def find_gap_mm(room: Room, start: Vec3, end: Vec3) -> float:
    """Return how far a straight way stays away from a room, along the face.

    Infinite where the way is nowhere as high as the room.
    """
    rise = end[2] - start[2]
    low, high = 0.0, 1.0
    if rise:
        ends = sorted(((room.low_mm - start[2]) / rise, (room.high_mm - start[2]) / rise))
        low, high = max(low, ends[0]), min(high, ends[1])
    elif not room.low_mm < start[2] < room.high_mm:
        return math.inf
    if low >= high:
        return math.inf
    way = subtract(end, start)
    line = LineString([add(start, scale(way, part))[:2] for part in (low, high)])
    return float(line.distance(room.outline))


def _planes(room: Room) -> Iterator[tuple[Vec3, float]]:
    yield (0.0, 0.0, 1.0), room.high_mm
    yield (0.0, 0.0, -1.0), -room.low_mm
    ring = list(room.outline.exterior.coords)
    for (x0, y0), (x1, y1) in itertools.pairwise(ring):
        length = math.hypot(x1 - x0, y1 - y0)
        normal = ((y1 - y0) / length, (x0 - x1) / length, 0.0)
        yield normal, normal[0] * x0 + normal[1] * y0
