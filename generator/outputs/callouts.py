"""Call-outs: words below a picture, each with a leader to one of the spots it speaks of.

Words stand in a row in the order of their spots, so that leaders do not cross; of many spots the
one is chosen whose leader is short and meets nothing that must stay free.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from generator.geometry.vectors import Vec2
from generator.outputs.scene import SMALLEST_TEXT_MM, Disc, Item, Stroke, Words
from generator.outputs.text_width import text_width_mm

APART_MM: Final = 4.0
"""Between neighbours in the row."""
ROW_MM: Final = 6.5
"""What a row of words takes up below a picture."""
CALLOUT_MM: Final = 1.0
"""From the upper edge of a picture to the base line of a row above it."""
FOOT_FIRST: Final = 0.5
"""Words stand above a picture only if that is less than half as far."""
BELOW_MM: Final = 0.9
"""From the base line of words above a picture down to where their leaders begin."""
TOP_MM: Final = 2.9
"""From the base line of the words to where their leaders begin."""
DOT_MM: Final = 0.45
MEETS_MM: Final = 1000.0
"""A leader that meets something counts as so much longer."""


@dataclass(frozen=True, slots=True)
class Callout:
    """Words, and the spots on paper any of which their leader may lead to."""

    text: str
    spots: tuple[Vec2, ...]


def is_nearer_above(one: Callout, low_mm: float, high_mm: float) -> bool:
    """Whether the nearest spot of a call-out is nearer to the top of a sheet than to its foot."""
    if not one.spots:
        return False
    ys = [y for _, y in one.spots]
    return high_mm - max(ys) < FOOT_FIRST * (min(ys) - low_mm)


def draw_callouts(
    callouts: Sequence[Callout],
    width_mm: float,
    base_mm: float,
    free: BaseGeometry,
    *,
    from_above: bool = False,
) -> list[Item]:
    """Return the words in a row with their leaders.

    Args:
        callouts: What is said; those without spots get no leader.
        width_mm: Of the sheet.
        base_mm: Height of the base line.
        free: What leaders must not meet.
        from_above: Whether the row stands above the picture.
    """
    edge = base_mm + (-BELOW_MM if from_above else TOP_MM)
    shapely.prepare(free)
    plain = [Callout(one.text, _plain_spots(one.spots, edge, free)) for one in callouts]
    ordered = sorted(plain, key=lambda one: (_middle(one, width_mm), one.text))
    starts = _spread(ordered, width_mm)
    leaders: list[LineString] = []
    items: list[Item] = []
    for one, x in zip(ordered, starts, strict=True):
        width = text_width_mm(one.text, SMALLEST_TEXT_MM)
        items.append(Words(at=(x, base_mm), text=one.text, size_mm=SMALLEST_TEXT_MM))
        if one.spots:
            line = _best_leader(one.spots, (x, x + width), edge, free, leaders)
            leaders.append(line)
            start, end = line.coords
            spot = (round(float(end[0]), 3), round(float(end[1]), 3))
            origin = (round(float(start[0]), 3), round(float(start[1]), 3))
            items.append(Stroke(points=(origin, spot), layer="leader"))
            items.append(Disc(center=spot, radius_mm=DOT_MM, tone="screw"))
    return items


def _plain_spots(spots: Sequence[Vec2], edge: float, free: BaseGeometry) -> tuple[Vec2, ...]:
    """Return the spots that a leader straight down or up reaches; all if it reaches none."""
    if not spots:
        return ()
    drops = shapely.linestrings([[(x, edge), (x, y)] for x, y in spots])
    meets = shapely.intersects(free, drops).tolist()
    return tuple(s for s, meet in zip(spots, meets, strict=True) if not meet) or tuple(spots)


def _middle(one: Callout, width_mm: float) -> float:
    """Return where a call-out wants to stand: below the lowest of its spots."""
    if not one.spots:
        return width_mm
    return round(min(one.spots, key=lambda spot: (round(spot[1], 1), spot[0]))[0], 2)


def _spread(ordered: Sequence[Callout], width_mm: float) -> list[float]:
    """Return where each text starts: below its spot if there is room, none over another."""
    widths = [text_width_mm(one.text, SMALLEST_TEXT_MM) for one in ordered]
    starts: list[float] = []
    reached = APART_MM / 2
    for one, width in zip(ordered, widths, strict=True):
        starts.append(max(reached, _middle(one, width_mm) - width / 2))
        reached = starts[-1] + width + APART_MM
    limit = width_mm - APART_MM / 2
    for i in range(len(starts) - 1, -1, -1):
        starts[i] = min(starts[i], limit - widths[i])
        limit = starts[i] - APART_MM
    return starts


def _best_leader(
    spots: Sequence[Vec2],
    span: tuple[float, float],
    high: float,
    free: BaseGeometry,
    others: Sequence[LineString],
) -> LineString:
    """Return the leader from above a text to a spot, short and meeting nothing."""
    middle = (span[0] + span[1]) / 2
    ends = [
        ((x, high), spot)
        for spot in spots
        for x in (middle, min(max(spot[0], span[0] + 1), span[1] - 1))
    ]
    lines = shapely.linestrings(ends)
    meets = shapely.intersects(free, lines)
    crossed = shapely.distance(lines, shapely.union_all(list(others))) < 1.0
    lengths = [
        math.dist(*line) + MEETS_MM * (meet + cross)
        for line, meet, cross in zip(ends, meets.tolist(), crossed.tolist(), strict=True)
    ]
    best = min(range(len(ends)), key=lambda i: (round(lengths[i], 2), i))
    return LineString(ends[best])
