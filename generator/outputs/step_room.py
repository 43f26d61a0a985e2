"""What is taken on the picture of a step: by wood, fasteners, labels and the enlarged part."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely import STRtree
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.capsules import Capsule, Capsules, make_capsules
from generator.geometry.projection import Floats
from generator.geometry.vectors import Vec2
from generator.outputs.labels import RADIUS_MM as BUBBLE_MM
from generator.outputs.labels import Label

Wedge = tuple[Vec2, Vec2, float, float]
"""Something long and straight on paper: both ends, and half its width there, in mm."""

CLEAR_MM: Final = 0.9
"""Between fasteners and bubbles."""
SHORTEST_MM: Final = 0.1
"""What is shorter on paper is seen end on."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What is taken on a picture.

    Attributes:
        shapes: Wood and fasteners.
        labels: Bubbles with their leaders.
    """

    shapes: STRtree
    labels: Capsules

    def with_labels(self, labels: Iterable[Label]) -> "Taken":
        """Return the same with labels in their places."""
        return Taken(self.shapes, make_capsules(capsules_of(labels, 0.0)))

    def away(self, points: Floats) -> Floats:
        """Return how far each of (m, 2) points on paper is from all that is taken."""
        away = self.labels.away(points)
        if len(self.shapes):
            middles = shapely.points(points)
            (rows, _), nearest = self.shapes.query_nearest(
                middles, return_distance=True, all_matches=False
            )
            away[rows] = np.minimum(away[rows], nearest)
        return away


def rooms_around(wedges: Sequence[Wedge]) -> list[Polygon]:
    """Return what fasteners, pins and hardware take up on paper, with some room around each."""
    ends = np.array([(start, end) for start, end, _, _ in wedges]).reshape(-1, 2, 2)
    halves = np.array([(first, last) for _, _, first, last in wedges]).reshape(-1, 2, 1) + CLEAR_MM
    along = ends[:, 1] - ends[:, 0]
    lengths = np.hypot(along[:, 0], along[:, 1])[:, None]
    along = np.where(lengths < SHORTEST_MM, (0.0, 1.0), along / np.maximum(lengths, SHORTEST_MM))
    beyond = np.stack([-along, along], axis=1) * halves
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)[:, None] * halves
    left, right = ends + beyond + across, ends + beyond - across
    corners = np.stack([right[:, 0], right[:, 1], left[:, 1], left[:, 0]], axis=1)
    rooms: list[Polygon] = np.asarray(shapely.polygons(corners)).tolist()
    return rooms


def keep_free(
    shown: Mapping[str, Sequence[Polygon]], rooms: Sequence[Polygon]
) -> dict[str, tuple[Polygon, ...]]:
    """Return faces without what fasteners take up, so that no label stands on one."""
    names = [name for name, faces in shown.items() for _ in faces]
    faces = np.array([face for faces in shown.values() for face in faces], dtype=np.object_)
    taken = np.array(rooms, dtype=np.object_)
    met, which = STRtree(taken).query(faces, predicate="intersects")
    for row in np.unique(met).tolist():
        united = shapely.disjoint_subset_union_all(taken[np.sort(which[met == row])])
        faces[row] = shapely.difference(faces[row], united)
    parts, rows = shapely.get_parts(faces, return_index=True)
    found: dict[str, list[Polygon]] = {name: [] for name in shown}
    for part, row in zip(parts.tolist(), rows.tolist(), strict=True):
        if isinstance(part, Polygon):
            found[names[row]].append(part)
    return {name: tuple(left) for name, left in found.items()}


def find_taken(shapes: Sequence[BaseGeometry]) -> Taken:
    """Return what wood and fasteners take up on a picture, before there are labels."""
    return Taken(STRtree(shapes), make_capsules(()))


def capsules_of(labels: Iterable[Label], room_mm: float) -> list[Capsule]:
    """Return bubbles and their leaders with some room around them."""
    found: list[Capsule] = []
    for label in labels:
        found.append((label.at, label.at, BUBBLE_MM + room_mm))
        if label.has_leader:
            found.append((label.at, label.on, room_mm))
    return found
