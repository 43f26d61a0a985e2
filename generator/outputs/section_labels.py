"""Letters beside what a section cuts, each with a short leader that ends in a dot in the wood.

Cut edges of panels are thinner than a letter, so letters stand in the free space next to them.
"""

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.vectors import Vec2
from generator.outputs.labels import Target
from generator.outputs.scene import SMALLEST_TEXT_MM, Disc, Item, Stroke, Words
from generator.outputs.text_width import text_width_mm

Shapes = npt.NDArray[np.object_]

DISTANCES_MM: Final = (4.0, 5.0, 6.5, 8.0, 10.0, 13.0, 17.0)
"""From the spot in the wood to the middle of the letter; the nearest free one is taken."""
WAYS: Final = (
    (0.7, 0.7), (0.7, -0.7), (-0.7, 0.7), (-0.7, -0.7), (0.0, 1.0), (0.0, -1.0), (1.0, 0.0),
    (-1.0, 0.0),
)  # fmt: skip
"""From the spot to the letter."""
PARTS: Final = (0.5, 0.3, 0.7, 0.12, 0.88)
"""Where on a piece, as a part of its longer side, a leader may end."""
FREE_MM: Final = 0.6
"""Free space around a letter or a leader; half a wide line lies in it."""
DOT_MM: Final = 0.45


def draw_section_labels(targets: Sequence[Target], taken: Sequence[Polygon]) -> list[Item]:
    """Return the labels of pieces cut through; no letter stands on wood or on what is taken.

    A copy shut in by other pieces has none: no leader crosses other wood.
    """
    owners = np.array([row for row, one in enumerate(targets) for _ in one.faces], dtype=np.intp)
    wood = np.array([face for one in targets for face in one.faces], dtype=np.object_)
    others = [*taken]
    lines: list[Item] = []
    words: list[Item] = []
    for row, target in enumerate(targets):
        own = shapely.union_all(wood[owners == row]).buffer(FREE_MM)
        closed = np.array([*wood, *others], dtype=np.object_)
        in_the_way = np.array([*wood[owners != row], *others], dtype=np.object_)
        found = _first_free(target, closed, in_the_way, own)
        if found is not None:
            spot, at, room, leader = found
            lines.append(Stroke(points=_points(leader), layer="leader"))
            lines.append(Disc(center=spot, radius_mm=DOT_MM, tone="screw"))
            words.append(_letter(target.text, at))
            others += [room, leader.buffer(FREE_MM)]
    return [*lines, *words]


def _first_free(
    target: Target, closed: Shapes, in_the_way: Shapes, own: BaseGeometry
) -> tuple[Vec2, Vec2, Polygon, LineString] | None:
    """Return spot, place, room and leader of a letter that stands on nothing and crosses nothing.

    Args:
        target: What is to be named.
        closed: No letter stands there.
        in_the_way: No leader leads over that, but where it leaves its own wood.
        own: The wood the leader starts in, and a little around it.
    """
    spots = list(_spots(target))
    for distance in DISTANCES_MM:
        places = [
            (spot, (spot[0] + across * distance, spot[1] + up * distance))
            for spot in spots
            for across, up in WAYS
        ]
        rooms = _rooms(target.text, [at for _, at in places])
        met = np.any(shapely.intersects(closed[:, None], rooms), axis=0)
        for number in np.flatnonzero(~met).tolist():
            spot, at = places[number]
            leader = _leader(spot, at)
            if not np.any(shapely.intersects(in_the_way, leader.difference(own))):
                return spot, at, rooms[number], leader
    return None


def _spots(target: Target) -> Iterator[Vec2]:
    """Yield points well inside the faces of a target, the middle of the largest first."""
    for face in sorted(target.faces, key=lambda one: -one.area):
        left, low, right, high = face.bounds
        is_wide = right - left > high - low
        ends = []
        for part in PARTS:
            x, y = left + part * (right - left), low + part * (high - low)
            ends.append(
                ((x, low - 1), (x, high + 1)) if is_wide else ((left - 1, y), (right + 1, y))
            )
        for inside in shapely.intersection(face, shapely.linestrings(ends)):
            if not inside.is_empty:
                middle = max(shapely.get_parts(inside), key=lambda one: one.length).centroid
                yield (round(float(middle.x), 3), round(float(middle.y), 3))


def _rooms(text: str, places: Sequence[Vec2]) -> Shapes:
    """Return the room that a letter takes up in each of some places."""
    half = text_width_mm(text, SMALLEST_TEXT_MM, bold=True) / 2 + FREE_MM
    tall = SMALLEST_TEXT_MM * 0.5 + FREE_MM / 2
    x, y = np.array(places).reshape(-1, 2).T
    rooms: Shapes = np.asarray(shapely.box(x - half, y - tall, x + half, y + tall))
    return rooms


def _leader(spot: Vec2, at: Vec2) -> LineString:
    """Return the line from a spot to the letter, as far as the free space around the letter."""
    away = math.dist(spot, at)
    part = max(1 - (SMALLEST_TEXT_MM * 0.5 + FREE_MM) / away, 0.0)
    end = (spot[0] + (at[0] - spot[0]) * part, spot[1] + (at[1] - spot[1]) * part)
    return LineString([spot, (round(end[0], 3), round(end[1], 3))])


def _points(leader: LineString) -> tuple[Vec2, ...]:
    return tuple((float(x), float(y)) for x, y in leader.coords)


def _letter(text: str, at: Vec2) -> Words:
    return Words(
        at=(round(at[0], 3), round(at[1] - SMALLEST_TEXT_MM * 0.36, 3)),
        text=text,
        size_mm=SMALLEST_TEXT_MM,
        anchor="middle",
        bold=True,
        halo=True,
    )
