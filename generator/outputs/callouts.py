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
from generator.geometry.projection import Floats, Truths
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
    wanted = sorted(
        (_want(n, one, width_mm, edge, free) for n, one in enumerate(callouts)),
        key=lambda one: (one.middle, one.text),
    )
    row = _find_row(wanted, width_mm, _Leaders(edge, free, {}, {}))
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
        number: Among all that is said.
        text: The words.
        spots: (n, 2) where their leader may lead to.
        middle: Where they want to stand: below the lowest of the spots.
        width: Of the words on paper.
    """

    number: int
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


@dataclass(frozen=True, slots=True)
class _Leaders:
    """Leaders from words in any place to their spots; places come back in many rows.

    Attributes:
        edge: Height at which they begin.
        free: What they must not meet.
        known: By words and place: leaders, the shortest first, and how long that is.
        meets: Of each of these whether it meets something.
    """

    edge: float
    free: Capsules
    known: dict[tuple[int, float], tuple[Floats, float]]
    meets: dict[tuple[int, float], Truths]

    def of(self, one: _Wanted, x: float) -> tuple[Floats, float]:
        """Return the leaders of words that start at an x: (n, 2, 2), and the least length."""
        if (one.number, x) not in self.known:
            ends = np.repeat(one.spots, 2, axis=0)
            starts = np.full(ends.shape, self.edge)
            starts[0::2, 0] = x + one.width / 2
            starts[1::2, 0] = np.clip(one.spots[:, 0], x + 1, x + one.width - 1)
            lengths = np.hypot(*(ends - starts).T)
            order = np.argsort(lengths.round(2), kind="stable")
            lines = np.stack([starts, ends], axis=1)[order]
            self.known[one.number, x] = (lines, float(lengths.min(initial=math.inf)))
        return self.known[one.number, x]

    def meeting(self, one: _Wanted, x: float) -> Truths:
        """Return which of the leaders of words that start at an x meet something."""
        if (one.number, x) not in self.meets:
            self.meets[one.number, x] = self.free.meet(self.of(one, x)[0])
        return self.meets[one.number, x]


def _want(number: int, one: Callout, width_mm: float, edge: float, free: Capsules) -> _Wanted:
    """Return what is said, and of its spots those a leader straight down or up reaches, if any."""
    spots = np.array(one.spots).reshape(-1, 2)
    drops = np.stack([spots, spots], axis=1)
    drops[:, 0, 1] = edge
    is_plain = ~free.meet(drops)
    spots = spots[is_plain] if is_plain.any() else spots
    lowest = np.lexsort((spots[:, 0], spots[:, 1].round(1)))[:1]
    middle = round(float(spots[lowest[0], 0]), 2) if len(lowest) else width_mm
    return _Wanted(number, one.text, spots, middle, text_width_mm(one.text, SMALLEST_TEXT_MM))


def _find_row(wanted: Sequence[_Wanted], width_mm: float, known: _Leaders) -> _Row:
    """Return the row in the order of the spots, or a better one where a leader meets something."""
    best = _make_row(wanted, _spread(wanted, width_mm), known, math.inf)
    if best.loss_mm < MEETS_MM or len(wanted) > MOST_ORDERS_OF:
        return best
    # A spot far up may need its words elsewhere: every other order is tried, further left too.
    for order in permutations(wanted):
        starts = _spread(order, width_mm)
        for left in dict.fromkeys(min(shift, starts[0] - APART_MM / 2) for shift in SHIFTS_MM):
            row = _make_row(order, [start - left for start in starts], known, best.loss_mm)
            if round(row.loss_mm, 2) < round(best.loss_mm, 2):
                best = row
    return best


def _make_row(
    order: Sequence[_Wanted], starts: list[float], known: _Leaders, most_mm: float
) -> _Row:
    """Return words in a row with their leaders; none once that is no better than another row."""
    placed = list(zip(order, starts, strict=True))
    loss = sum(known.of(one, x)[1] for one, x in placed if len(one.spots))
    leaders: list[tuple[Vec2, Vec2] | None] = []
    for one, x in placed:
        if loss >= most_mm:
            break
        if len(one.spots):
            drawn = [leader for leader in leaders if leader is not None]
            lines, shortest = known.of(one, x)
            leader, worse = _best_leader(lines, known.meeting(one, x), drawn)
            leaders.append(leader)
            loss += worse - shortest
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
    lines: Floats, meets: Truths, others: Sequence[tuple[Vec2, Vec2]]
) -> tuple[tuple[Vec2, Vec2], float]:
    """Return the shortest of some leaders that meets nothing and crosses none; and its loss."""
    crossed = np.zeros(len(lines), dtype=np.bool_)
    if others:
        crossed = np.any(segment_gaps(lines, np.array(others)) < CROSSED_MM, axis=1)
    faults = meets.astype(np.intp) + crossed
    best = int(np.argmin(faults))
    (x, y), (spot_x, spot_y) = lines[best].tolist()
    loss = math.dist((x, y), (spot_x, spot_y)) + MEETS_MM * int(faults[best])
    return ((x, y), (spot_x, spot_y)), loss
