"""Where sheets of a template meet: where the neighbour begins, and crosses that both have."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from generator.geometry.vectors import Vec2
from generator.outputs.full_size.ground import Ground, cross_arms, dashed
from generator.outputs.full_size.tiles import OVERLAP_MM, Tile
from generator.outputs.scene import SMALLEST_TEXT_MM, Words

SPOTS: Final = (0.5, 0.38, 0.62, 0.1, 0.9)
"""Where the words of a seam may stand along it, beside its crosses."""
DOTS_MM: Final = (0.5, 1.5)
"""How long the dots of a dotted line are, and the gaps between."""
CROSSES: Final = (0.25, 0.75)
CROSS_MM: Final = 3.0
"""Half the length of a cross of a seam: shorter than that of a hole."""


@dataclass(frozen=True, slots=True)
class _Seam:
    """A strip that two sheets share, on paper.

    Attributes:
        axis: 0 where it is upright, its neighbour to the left or right.
        begin: Where the neighbour begins, along that axis.
        middle: Of the strip.
        low: Where it begins, along the other axis.
        high: Where it ends.
        number: Of the neighbour.
    """

    axis: Literal[0, 1]
    begin: float
    middle: float
    low: float
    high: float
    number: int

    def point(self, along: float, share: float) -> Vec2:
        """Return a point at a place across the strip, and at a share of its length."""
        across = self.low + share * (self.high - self.low)
        return (along, across) if self.axis == 0 else (across, along)


def draw_seams(ground: Ground, tile: Tile, tiles: Sequence[Tile]) -> None:
    """Draw where neighbours begin on a sheet; words and crosses come where nothing stands."""
    seams = [seam for other in tiles if (seam := _find_seam(ground, tile, other)) is not None]
    for one in seams:
        for dot in dashed(one.point(one.begin, 0.0), one.point(one.begin, 1.0), *DOTS_MM):
            ground.draw(dot, "dimension")
        for share in CROSSES:
            x, y = one.point(one.middle, share)
            for arm in cross_arms((x, y), CROSS_MM):
                ground.draw(arm, "dimension")
            ground.taken.append((x - CROSS_MM, y - CROSS_MM, x + CROSS_MM, y + CROSS_MM))
    for one in seams:
        words = [_words(one, share) for share in SPOTS]
        ground.write(ground.find_free(words) or words[0])


def _find_seam(ground: Ground, tile: Tile, other: Tile) -> _Seam | None:
    step = (other.column - tile.column, other.row - tile.row)
    if other.region != tile.region or step not in {(1, 0), (-1, 0), (0, 1), (0, -1)}:
        return None
    axis: Literal[0, 1] = 0 if step[0] else 1
    ahead = sum(step)
    edge = ground.window[axis + 2 if ahead > 0 else axis]
    low, high = ground.window[1 - axis], ground.window[3 - axis]
    begin = edge - ahead * OVERLAP_MM
    return _Seam(axis, begin, (edge + begin) / 2, low, high, other.number)


def _words(seam: _Seam, share: float) -> Words:
    x, y = seam.point(seam.middle, share)
    lower_mm = 0.36 * SMALLEST_TEXT_MM
    is_upright = seam.axis == 0
    return Words(
        at=(x + lower_mm, y) if is_upright else (x, y - lower_mm),
        text=f"tile {seam.number} goes on",
        size_mm=SMALLEST_TEXT_MM,
        anchor="middle",
        angle_deg=90.0 if is_upright else 0.0,
    )
