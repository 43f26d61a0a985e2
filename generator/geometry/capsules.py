"""Capsules in a plane: all that is no further from a segment than a radius; circles are some, too.

(=========)     How far points are from them and which segments meet them is found exactly,
                for all at once.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from generator.geometry.projection import Floats, Truths
from generator.geometry.vectors import Vec2

Capsule = tuple[Vec2, Vec2, float]
"""Both ends of the segment, which may be one point, and the radius."""


@dataclass(frozen=True, slots=True)
class Capsules:
    """Many capsules, in mm.

    Attributes:
        ends: (n, 2, 2) of their segments.
        radii: (n,).
    """

    ends: Floats
    radii: Floats

    def away(self, points: Floats) -> Floats:
        """Return how far each of (m, 2) points is from the nearest: 0 within, endless for none."""
        gaps = _from_points(points, self.ends) - self.radii
        away: Floats = np.maximum(gaps.min(axis=1, initial=np.inf), 0.0)
        return away

    def meet(self, segments: Floats) -> Truths:
        """Return which of (m, 2, 2) segments have a point in any of them."""
        meets: Truths = np.any(segment_gaps(segments, self.ends) <= self.radii, axis=1)
        return meets


def make_capsules(capsules: Sequence[Capsule]) -> Capsules:
    """Return capsules as arrays."""
    table = np.array([(*start, *end, radius) for start, end, radius in capsules])
    table = table.reshape(-1, 5)
    return Capsules(table[:, :4].reshape(-1, 2, 2), table[:, 4])


def segment_gaps(segments: Floats, others: Floats) -> Floats:
    """Return how far each of (m, 2, 2) segments is from each of (n, 2, 2) others: (m, n)."""
    count, other_count = len(segments), len(others)
    from_ends = _from_points(segments.reshape(-1, 2), others).reshape(count, 2, other_count)
    to_ends = _from_points(others.reshape(-1, 2), segments).reshape(other_count, 2, count)
    gaps: Floats = np.minimum(from_ends.min(axis=1), to_ends.min(axis=1).T)
    gaps[_cross(segments, others) & _cross(others, segments).T] = 0.0
    return gaps


def _from_points(points: Floats, segments: Floats) -> Floats:
    """Return how far each of some points is from each of some segments."""
    along = segments[:, 1] - segments[:, 0]
    square = np.sum(along * along, axis=1)
    away = points[:, None] - segments[:, 0]
    part = np.sum(away * along, axis=2) / np.where(square > 0, square, 1.0)
    away -= np.clip(part, 0.0, 1.0)[:, :, None] * along
    distances: Floats = np.hypot(away[:, :, 0], away[:, :, 1])
    return distances


def _cross(lines: Floats, segments: Floats) -> Truths:
    """Return of each line whether each segment has its ends on both sides of it: (m, n)."""
    along = lines[:, None, 1] - lines[:, None, 0]
    sides = []
    for end in (0, 1):
        away = segments[None, :, end] - lines[:, None, 0]
        sides.append(along[:, :, 0] * away[:, :, 1] - along[:, :, 1] * away[:, :, 0])
    crosses: Truths = sides[0] * sides[1] < 0
    return crosses
