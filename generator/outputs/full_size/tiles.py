"""Tiles: how a region at full size is spread over sheets of paper, and which of them are needed.

+-------+-+-------+        Neighbours share a strip of `OVERLAP_MM`; crosses in its
|   1   |+|   2   |        middle are printed on both and are laid on each other.
+-------+-+-------+
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from shapely import box, unary_union
from shapely.geometry.base import BaseGeometry

from generator.outputs.booklet.paper import Paper
from generator.outputs.full_size.shapes import Box, Shape, find_regions

MARGIN_MM: Final = 12.0
"""What most printers leave white, and the line a cut along the window needs."""
HEAD_MM: Final = 22.0
FOOT_MM: Final = 14.0
"""Strips above and below the window: what it is, and the bar to measure."""
OVERLAP_MM: Final = 12.0
FEW: Final = 4
"""So many sheets are soon taped together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One sheet of paper.

    Attributes:
        number: From 1, over all regions of a part.
        window: What is seen of the part, in its millimetres.
        region: The number of its region.
        row: From the bottom.
        column: From the left.
        is_wide: Whether the paper lies on its long side.
    """

    number: int
    window: Box
    region: int
    row: int
    column: int
    is_wide: bool


def paper_size(paper: Paper, *, is_wide: bool) -> tuple[float, float]:
    """Return width and height of a sheet as it lies, in mm."""
    size = (paper.width_mm, paper.height_mm)
    return (size[1], size[0]) if is_wide else size


def choose_tiles(
    shape: Shape, spots: Sequence[Box], paper: Paper
) -> tuple[Shape, tuple[Tile, ...]]:
    """Return a part with what its sheets show, and the sheets.

    Where one sheet more, or a few in all, show every hole as well, they do; else holes far from
    what is shaped are left to the part drawing.

    Args:
        shape: The part.
        spots: Boxes around the crosses of its holes.
        paper: What it is printed on.
    """
    bare = lay_tiles(shape, paper)
    bored = replace(shape, spots=tuple(spots))
    whole = lay_tiles(bored, paper)
    return (bored, whole) if len(whole) <= max(len(bare) + 1, FEW) else (shape, bare)


def lay_tiles(shape: Shape, paper: Paper) -> tuple[Tile, ...]:
    """Return the fewest sheets found that show everything shaped.

    Regions are tiled one by one, or all as one where that takes no more sheets.
    """
    regions = find_regions(shape)
    single = _lay_all(shape, paper, (unary_union([box(*one) for one in regions]).bounds,))
    apart = _lay_all(shape, paper, regions)
    return single if len(single) <= len(apart) else apart


def _lay_all(shape: Shape, paper: Paper, regions: tuple[Box, ...]) -> tuple[Tile, ...]:
    tiles: list[Tile] = []
    for number, region in enumerate(regions, start=1):
        ways = [_lay(shape, paper, region, is_wide=is_wide) for is_wide in (False, True)]
        best = min(ways, key=len)
        tiles += [
            replace(one, number=len(tiles) + index, region=number)
            for index, one in enumerate(best, start=1)
        ]
    return tuple(tiles)


def _lay(shape: Shape, paper: Paper, region: Box, *, is_wide: bool) -> list[Tile]:
    """Return the sheets of one region, row by row from the top; those without a shape are left."""
    width, height = paper_size(paper, is_wide=is_wide)
    wide, high = width - 2 * MARGIN_MM, height - 2 * MARGIN_MM - HEAD_MM - FOOT_MM
    xs = _starts((region[0], region[2]), wide, shape.part.length_mm / 2)
    ys = _starts((region[1], region[3]), high, shape.part.width_mm / 2)
    tiles = [
        Tile(
            number=0,
            window=(x, ys[row], x + wide, ys[row] + high),
            region=0,
            row=row,
            column=column,
            is_wide=is_wide,
        )
        for row in reversed(range(len(ys)))
        for column, x in enumerate(xs)
    ]
    inside = box(*region)
    lines = unary_union([line for line in shape.lines if line.within(inside)])
    spots = [box(*spot) for spot in shape.spots]
    return _needed(tiles, lines, [spot for spot in spots if spot.within(inside)])


def _needed(tiles: list[Tile], lines: BaseGeometry, spots: Sequence[BaseGeometry]) -> list[Tile]:
    """Return the tiles without those on which nothing is that others do not show.

    A line may go on from tile to tile; a spot is whole on one of them.
    """
    kept = list(tiles)
    for tile in tiles:
        others = [box(*one.window) for one in kept if one is not tile]
        if lines.difference(unary_union(others)).is_empty and all(
            any(spot.within(other) for other in others) for spot in spots
        ):
            kept.remove(tile)
    return kept


def _starts(stretch: tuple[float, float], size: float, middle: float) -> list[float]:
    """Return where tiles of a size begin that cover a stretch.

    Room left over shows as much of the part as it can: it goes to the side of its middle.
    """
    low, high = stretch
    count = max(1, math.ceil((high - low - OVERLAP_MM) / (size - OVERLAP_MM)))
    covered = count * (size - OVERLAP_MM) + OVERLAP_MM
    first = min(max(middle - covered / 2, high - covered), low)
    return [first + index * (size - OVERLAP_MM) for index in range(count)]
