"""The names of straight edges on one sheet of a template, so that it is laid on no wrong way."""

import math
from collections.abc import Iterator
from typing import Final

from shapely import box
from shapely.geometry import LineString

from generator.geometry.vectors import Vec2
from generator.outputs.full_size.ground import Ground
from generator.outputs.full_size.shapes import Shape
from generator.outputs.scene import SMALLEST_TEXT_MM, Words

AWAY_MM: Final = 2.0
"""From an edge to its name."""
SHORTEST_MM: Final = 15.0
"""An edge of which less is seen has no name on the sheet."""
SHARES: Final = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Where a name may stand along what is seen of its edge."""


def name_edges(ground: Ground, shape: Shape) -> None:
    """Write every name outside its edge where nothing stands; without such a place it is left."""
    for name, start, end in shape.named_edges:
        seen = LineString([ground.place(start), ground.place(end)]).intersection(
            box(*ground.window)
        )
        if not isinstance(seen, LineString) or seen.length < SHORTEST_MM:
            continue
        free = ground.find_free(list(_places(name, seen)))
        if free is not None:
            ground.write(free)


def _places(name: str, seen: LineString) -> Iterator[Words]:
    """Yield the name along an edge, the wood to the left of which is not written on."""
    start, end = seen.coords
    way = (end[0] - start[0], end[1] - start[1])
    length = math.hypot(*way)
    out = (way[1] / length, -way[0] / length)
    turn_deg = math.degrees(math.atan2(way[1], way[0]))
    is_under = -90.0 < round(turn_deg, 6) <= 90.0
    away = AWAY_MM + (0.76 * SMALLEST_TEXT_MM if is_under else 0.0)
    for share in SHARES:
        at: Vec2 = (
            start[0] + share * way[0] + away * out[0],
            start[1] + share * way[1] + away * out[1],
        )
        yield Words(
            at=at,
            text=name,
            size_mm=SMALLEST_TEXT_MM,
            anchor="middle",
            angle_deg=turn_deg if is_under else turn_deg - math.copysign(180.0, turn_deg),
        )
