"""Call-outs: words below a picture, each with a leader to one of the spots it speaks of.

Words stand in a row in the order of their spots, so that leaders do not cross; of many spots the
one is chosen whose leader is short and meets nothing that must stay free.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations
from typing import Final

import numpy as np

from generator.geometry.capsules import Capsules, segment_gaps
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
CROSSED_MM: Final = 1.0
"""Leaders that come nearer to each other than this count as crossing."""
MOST_ORDERS_OF: Final = 4
"""Of more call-outs not every order is tried."""
SHIFTS_MM: Final = (0.0, 12.0, 24.0, 48.0)
"""How far to the left of its spots a row is tried where a leader meets something."""
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
    free: Capsules,
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
    plain = [Callout(one.text, _plain_spots(one.spots, edge, free)) for one in callouts]
    wanted = tuple(sorted(plain, key=lambda one: (_middle(one, width_mm), one.text)))
    row = _make_row(wanted, width_mm, edge, free)
    if row.loss_mm >= MEETS_MM and len(wanted) <= MOST_ORDERS_OF:
        # A spot far up may need its words elsewhere: every other order is tried, further left too.
        rows = [
            _make_row(order, width_mm, edge, free, shift)
            for order in permutations(wanted)
            for shift in SHIFTS_MM
        ]
        row = min(rows, key=lambda one: round(one.loss_mm, 2))
    items: list[Item] = []
    for one, x, leader in zip(row.order, row.starts, row.leaders, strict=True):
        items.append(Words(at=(x, base_mm), text=one.text, size_mm=SMALLEST_TEXT_MM))
        if leader is not None:
            start, end = leader
            spot = (round(end[0], 3), round(end[1], 3))
            origin = (round(start[0], 3), round(start[1], 3))
            items.append(Stroke(points=(origin, spot), layer="leader"))
            items.append(Disc(center=spot, radius_mm=DOT_MM, tone="screw"))
    return items


@dataclass(frozen=True, slots=True)
class _Row:
    """Call-outs in an order, where each starts, its leader, and how good that is altogether."""

    order: tuple[Callout, ...]
    starts: list[float]
    leaders: list[tuple[Vec2, Vec2] | None]
    loss_mm: float


def _make_row(
    order: tuple[Callout, ...],
    width_mm: float,
    edge: float,
    free: Capsules,
    shift_mm: float = 0.0,
) -> _Row:
    starts = _spread(order, width_mm)
    left = min(shift_mm, starts[0] - APART_MM / 2) if starts else 0.0
    starts = [start - left for start in starts]
    leaders: list[tuple[Vec2, Vec2] | None] = []
    loss = 0.0
    for one, x in zip(order, starts, strict=True):
        if one.spots:
            span = (x, x + text_width_mm(one.text, SMALLEST_TEXT_MM))
            drawn = [leader for leader in leaders if leader is not None]
            leader, worse = _best_leader(one.spots, span, edge, free, drawn)
            leaders.append(leader)
            loss += worse
        else:
            leaders.append(None)
    return _Row(order, starts, leaders, loss)


def _plain_spots(spots: Sequence[Vec2], edge: float, free: Capsules) -> tuple[Vec2, ...]:
    """Return the spots that a leader straight down or up reaches; all if it reaches none."""
    if not spots:
        return ()
    meets = free.meet(np.array([((x, edge), (x, y)) for x, y in spots])).tolist()
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
    free: Capsules,
    others: Sequence[tuple[Vec2, Vec2]],
) -> tuple[tuple[Vec2, Vec2], float]:
    """Return the leader from above a text to a spot, short and meeting nothing; and its loss."""
    middle = (span[0] + span[1]) / 2
    ends = [
        ((x, high), spot)
        for spot in spots
        for x in (middle, min(max(spot[0], span[0] + 1), span[1] - 1))
    ]
    lines = np.array(ends)
    meets = free.meet(lines)
    gaps = segment_gaps(lines, np.array(others).reshape(-1, 2, 2))
    crossed = np.any(gaps < CROSSED_MM, axis=1)
    lengths = [
        math.dist(*line) + MEETS_MM * (meet + cross)
        for line, meet, cross in zip(ends, meets.tolist(), crossed.tolist(), strict=True)
    ]
    best = min(range(len(ends)), key=lambda i: (round(lengths[i], 2), i))
    return ends[best], lengths[best]
