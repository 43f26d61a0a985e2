"""The symbol that tells how views are arranged: a truncated cone from the side and from its end.

    first angle   <|  (o)          third angle   (o)  <|

The end is seen from the narrow side, so both circles are visible. In third angle a view from the
left stands on the left, in first angle on the right. Source: ISO 5456-2:1996, from memory.
"""

from typing import Final

from generator.geometry.vectors import Vec2
from generator.outputs.scene import Disc, Item, Stroke

SYMBOL_HEIGHT_MM: Final = 6.0
"""Great diameter of the cone; the small one is half of it, its length the same."""
BEYOND_MM: Final = 1.2
"""How far centre lines run out."""
BETWEEN_MM: Final = 4.0
SYMBOL_WIDTH_MM: Final = 2 * SYMBOL_HEIGHT_MM + BETWEEN_MM


def draw_symbol(at: Vec2, third: bool) -> list[Item]:
    """Return the symbol with its lower left corner at a point."""
    size = SYMBOL_HEIGHT_MM
    x, y = at[0], at[1] + size / 2
    cone_x = x + size + BETWEEN_MM if third else x
    round_x = x + size / 2 if third else x + size + BETWEEN_MM + size / 2
    cone = (
        (cone_x, y - size / 4),
        (cone_x + size, y - size / 2),
        (cone_x + size, y + size / 2),
        (cone_x, y + size / 4),
    )
    reach = size / 2 + BEYOND_MM
    return [
        Stroke(points=((cone_x - BEYOND_MM, y), (cone_x + size + BEYOND_MM, y)), layer="center"),
        Stroke(points=((round_x - reach, y), (round_x + reach, y)), layer="center"),
        Stroke(points=((round_x, y - reach), (round_x, y + reach)), layer="center"),
        Stroke(points=cone, layer="outline", closed=True),
        Disc(center=(round_x, y), radius_mm=size / 2, layer="outline"),
        Disc(center=(round_x, y), radius_mm=size / 4, layer="outline"),
    ]
