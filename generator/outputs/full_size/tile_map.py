"""The map of tiles: the whole part, small, with the sheets of its template laid over it."""

from collections.abc import Sequence
from typing import Final

from generator.geometry.outlines import Outline
from generator.geometry.vectors import Vec2
from generator.outputs.full_size.shapes import Shape
from generator.outputs.full_size.spots import Spot
from generator.outputs.full_size.tiles import Tile
from generator.outputs.scene import Area, Disc, Item, Scene, Stroke, Words

WIDEST_MM: Final = 150.0
HIGHEST_MM: Final = 75.0
ROOM_MM: Final = 4.0
DOT_MM: Final = 0.6
"""Half the width of a hole."""


def draw_map(shape: Shape, spots: Sequence[Spot], tiles: Sequence[Tile]) -> Scene:
    """Return the part with its holes, and numbered frames where its sheets lie."""
    windows = [tile.window for tile in tiles]
    left, bottom = (min(0.0, *(one[axis] for one in windows)) for axis in (0, 1))
    right = max(shape.part.length_mm, *(one[2] for one in windows))
    top = max(shape.part.width_mm, *(one[3] for one in windows))
    factor = min(WIDEST_MM / (right - left), HIGHEST_MM / (top - bottom))

    def place(point: Vec2) -> Vec2:
        return ((point[0] - left) * factor + ROOM_MM, (point[1] - bottom) * factor + ROOM_MM)

    def shown(outline: Outline) -> tuple[Vec2, ...]:
        return tuple(place(point) for point in outline.flattened())

    wood = shown(shape.outline)
    holes = tuple(shown(one) for one in shape.openings)
    items: list[Item] = [Area(rings=(wood, *holes), tone="wood")]
    items += [Stroke(points=ring, layer="outline", closed=True) for ring in (wood, *holes)]
    items += [Disc(center=place(one.at), radius_mm=DOT_MM, tone="screw") for one in spots]
    for tile in tiles:
        x0, y0, x1, y1 = tile.window
        frame = shown(Outline(((x0, y0), (x1, y0), (x1, y1), (x0, y1))))
        items.append(Stroke(points=frame, layer="hidden", closed=True))
    for tile in tiles:
        x0, y0, x1, y1 = tile.window
        x, y = place(((x0 + x1) / 2, (y0 + y1) / 2))
        items += [
            Disc(center=(x, y), radius_mm=3.2, tone="bubble", layer="leader"),
            Words(at=(x, y - 1.2), text=str(tile.number), anchor="middle", bold=True),
        ]
    return Scene(
        width_mm=(right - left) * factor + 2 * ROOM_MM,
        height_mm=(top - bottom) * factor + 2 * ROOM_MM,
        title=f"Map of the template of part {shape.part.label}",
        description=f"Part {shape.part.label} with the {len(tiles)} sheets of its template on it.",
        items=tuple(items),
    )
