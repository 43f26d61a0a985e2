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
import numpy.typing as npt

from generator.geometry.capsules import Capsules, segment_gaps
from generator.geometry.vectors import Vec2
from generator.outputs.scene import SMALLEST_TEXT_MM, Disc, Item, Stroke, Words
from generator.outputs.text_width import text_width_mm

Floats = npt.NDArray[np.float64]

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
LOOKED_AT_FIRST: Final = 8
"""Of the leaders from a text to its spots, the shortest."""
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
    wanted = sorted(
        (_want(one, width_mm, edge, free) for one in callouts),
        key=lambda one: (one.middle, one.text),
    )
    row = _find_row(wanted, width_mm, edge, free)
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
class _Wanted:
    """Words to be put into a row.

    Attributes:
        spots: (n, 2) where their leader may lead to.
        middle: Where they want to stand: below the lowest of the spots.
        width: Of the words on paper.
    """

    text: str
    spots: Floats
    middle: float
    width: float


@dataclass(frozen=True, slots=True)
class _Row:
    """Words in an order, where each starts, its leader, and how good that is altogether."""

    order: Sequence[_Wanted]
    starts: list[float]
    leaders: list[tuple[Vec2, Vec2] | None]
    loss_mm: float


def _want(one: Callout, width_mm: float, edge: float, free: Capsules) -> _Wanted:
    """Return what is said, and of its spots those a leader straight down or up reaches, if any."""
    spots = np.array(one.spots).reshape(-1, 2)
    drops = np.stack([spots, spots], axis=1)
    drops[:, 0, 1] = edge
    is_plain = ~free.meet(drops)
    spots = spots[is_plain] if is_plain.any() else spots
    lowest = np.lexsort((spots[:, 0], spots[:, 1].round(1)))[:1]
    middle = round(float(spots[lowest[0], 0]), 2) if len(lowest) else width_mm
    return _Wanted(one.text, spots, middle, text_width_mm(one.text, SMALLEST_TEXT_MM))


def _find_row(wanted: Sequence[_Wanted], width_mm: float, edge: float, free: Capsules) -> _Row:
    """Return the row in the order of the spots, or a better one where a leader meets something."""
    first = _make_row(wanted, width_mm, edge, free)
    if first.loss_mm < MEETS_MM or len(wanted) > MOST_ORDERS_OF:
        return first
    # A spot far up may need its words elsewhere: every other order is tried, further left too.
    best = first
    for order in permutations(wanted):
        for shift in SHIFTS_MM:
            row = _make_row(order, width_mm, edge, free, shift, best.loss_mm)
            if round(row.loss_mm, 2) < round(best.loss_mm, 2):
                best = row
    return best


def _make_row(
    order: Sequence[_Wanted],
    width_mm: float,
    edge: float,
    free: Capsules,
    shift_mm: float = 0.0,
    most_mm: float = math.inf,
) -> _Row:
    """Return words in a row with their leaders; not all of them once the loss is too great."""
    starts = _spread(order, width_mm)
    left = min(shift_mm, starts[0] - APART_MM / 2) if starts else 0.0
    starts = [start - left for start in starts]
    leaders: list[tuple[Vec2, Vec2] | None] = []
    loss = 0.0
    for one, x in zip(order, starts, strict=True):
        if loss >= most_mm:
            break
        if len(one.spots):
            drawn = [leader for leader in leaders if leader is not None]
            leader, worse = _best_leader(one.spots, (x, x + one.width), edge, free, drawn)
            leaders.append(leader)
            loss += worse
        else:
            leaders.append(None)
    return _Row(order, starts, leaders, loss)


def _spread(ordered: Sequence[_Wanted], width_mm: float) -> list[float]:
    """Return where each text starts: below its spot if there is room, none over another."""
    starts: list[float] = []
    reached = APART_MM / 2
    for one in ordered:
        starts.append(max(reached, one.middle - one.width / 2))
        reached = starts[-1] + one.width + APART_MM
    limit = width_mm - APART_MM / 2
    for i in range(len(starts) - 1, -1, -1):
        starts[i] = min(starts[i], limit - ordered[i].width)
        limit = starts[i] - APART_MM
    return starts


def _best_leader(
    spots: Floats,
    span: tuple[float, float],
    high: float,
    free: Capsules,
    others: Sequence[tuple[Vec2, Vec2]],
) -> tuple[tuple[Vec2, Vec2], float]:
    """Return the leader from above a text to a spot, short and meeting nothing; and its loss."""
    ends = np.repeat(spots, 2, axis=0)
    starts = np.full(ends.shape, high)
    starts[0::2, 0] = (span[0] + span[1]) / 2
    starts[1::2, 0] = np.clip(spots[:, 0], span[0] + 1, span[1] - 1)
    lines = np.stack([starts, ends], axis=1)
    lengths = np.hypot(*(ends - starts).T)
    order = np.argsort(lengths.round(2), kind="stable")
    taken = np.array(others).reshape(-1, 2, 2)
    # Of the shortest one mostly meets nothing: the others are looked at only if none does.
    for chosen in (order[:LOOKED_AT_FIRST], order):
        crossed = np.any(segment_gaps(lines[chosen], taken) < CROSSED_MM, axis=1)
        meets = free.meet(lines[chosen]).astype(np.intp) + crossed
        if not meets.all():
            break
    best = int(chosen[np.argmin(meets)])
    (x, y), (spot_x, spot_y) = lines[best].tolist()
    return ((x, y), (spot_x, spot_y)), float(lengths[best] + MEETS_MM * meets.min())
