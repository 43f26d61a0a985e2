"""One sheet fewer: holes are torn into layouts and filled anew, until nothing is left over.

Several layouts go on side by side, because hundreds of fills cost little more than dozens. What is
left over for long becomes worth more (guided local search, Voudouris and Tsang 1999), each layout
having its own worths; now and then the layout that has most left over begins anew from the best.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp

import numpy as np
from numpy.typing import NDArray

from generator.cutting.budget import Budget
from generator.cutting.many_fills import Fill, Filler, Start, Values
from generator.cutting.patching import Laid, Patched, Torn, count_blanks, flatten, tear
from generator.cutting.pieces import Counts

LAYOUTS = 8
"""Layouts side by side."""

FILLS = 24
"""Fills of the holes of each layout, of which the best is looked at."""

SMALLEST, LARGEST = 0.04, 0.3
"""Part of a sheet that a hole has at least; small ones are more frequent."""

DEARER = 1.01
"""By how much a blank becomes worth more in every turn that leaves it over."""

HEAT = 0.001
"""What a layout may lose in a turn, in sheets, with a chance of 1 in e."""

EVEN_OUT = 20
"""Turns after which the worst layout begins anew from the best."""

TURN_COST = 50_000
"""Work that a turn of a layout costs beside its fills."""


@dataclass(slots=True)
class _Layout:
    """A layout on its way: its sheets, what they do not hold, and what that is worth."""

    sheets: list[Patched]
    over: Counts
    weights: Values


@dataclass(frozen=True, slots=True)
class _Try:
    """Holes in some sheets of a layout, and what may fill them."""

    layout: _Layout
    holes: tuple[tuple[int, Torn], ...]
    start: Start


def lose_sheet(
    sheets: Sequence[Laid],
    over: Counts,
    area: Values,
    fillers: Sequence[Filler],
    random: np.random.Generator,
    budget: Budget,
    until: float,
) -> list[Patched] | None:
    """Return as many sheets that hold everything, or None if the budget was used before.

    Args:
        sheets: Filled sheets.
        over: Copies of every blank that they do not hold.
        area: Of every blank, in sheets.
        fillers: One for each size of sheet.
        random: Where chance comes from.
        budget: What the work is taken off.
        until: The part of it that may be used.
    """
    begun = [Patched(one.pieces, one.counts, flatten(one.tree())) for one in sheets]
    layouts = [_Layout(list(begun), over, np.ones_like(area)) for _ in range(LAYOUTS)]
    turn = 0
    while budget.used() < until:
        turn += 1
        pieces = begun[int(random.integers(len(begun)))].pieces
        filler = next(filler for filler in fillers if filler.pieces is pieces)
        tries = _tear_all(layouts, filler, area, random)
        before = filler.work
        fills = filler.fill_each([one.start for one in tries], FILLS)
        budget.spend(filler.work - before + TURN_COST * LAYOUTS)
        for one, fill in zip(tries, fills, strict=True):
            _patch(one, fill, area, random)
            if not one.layout.over.any():
                return one.layout.sheets
            one.layout.weights[one.layout.over > 0] *= DEARER
        if turn % EVEN_OUT == 0:
            _even_out(layouts, area)
    return None


def _tear_all(
    layouts: Sequence[_Layout], filler: Filler, area: Values, random: np.random.Generator
) -> list[_Try]:
    """Tear holes into sheets of one size in all layouts, all about as large."""
    part = SMALLEST + (LARGEST - SMALLEST) * random.random() ** 2
    two = random.random() > 0.4
    tries = []
    for layout in layouts:
        own = [at for at, sheet in enumerate(layout.sheets) if sheet.pieces is filler.pieces]
        chosen = random.choice(own, 2 if two and len(own) > 1 else 1, replace=False).tolist()
        holes = tuple((at, tear(layout.sheets[at].root, random, part)) for at in chosen)
        copies = layout.over + sum(count_blanks(torn.torn, len(area)) for _, torn in holes)
        noise = 1 + 0.3 * random.random() * (2 * random.random(len(area)) - 1)
        values = area ** (1 + 0.15 * random.standard_normal()) * layout.weights * noise
        start = Start(values, copies, tuple(torn.hole for _, torn in holes))
        tries.append(_Try(layout, holes, start))
    return tries


def _patch(one: _Try, fill: Fill, area: Values, random: np.random.Generator) -> None:
    """Put what fills the holes into the layout, if less is left over then, or not much more."""
    layout, left = one.layout, one.start.copies - fill.counts
    gain = (layout.over - left) @ (area * layout.weights)
    if left.any() and gain < 0 and random.random() >= exp(gain / HEAT):
        return
    layout.over = left
    trees = fill.trees(one.start.boxes)
    for (at, torn), tree in zip(one.holes, trees, strict=True):
        before, after = count_blanks(torn.torn, len(area)), count_blanks([tree], len(area))
        sheet = layout.sheets[at]
        root = torn.patch(flatten(tree))
        layout.sheets[at] = Patched(sheet.pieces, sheet.counts - before + after, root)


def _even_out(layouts: Sequence[_Layout], area: NDArray[np.float64]) -> None:
    """Let the layout with most left over go on as the one with least, and level the worths."""
    by_rest = sorted(layouts, key=lambda layout: float(layout.over @ area))
    best, worst = by_rest[0], by_rest[-1]
    worst.sheets, worst.over = list(best.sheets), best.over
    worst.weights = best.weights.copy()
    for layout in layouts:
        layout.weights /= layout.weights.mean()
