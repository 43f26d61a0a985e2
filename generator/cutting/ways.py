"""Ways to fill one board: the pieces that are worth the most together and still fit.

Lengths are counted in steps of the greatest common divisor of all pieces, so that one table of the
best worth for every room answers for all lengths of board at once (dynamic programming). Where that
would be too fine a table the steps are coarser: pieces are then rounded up for ways that are sawn,
and down for bounds, so that neither promises what is not so.
"""

from collections.abc import Sequence
from math import gcd

import numpy as np
from numpy.typing import NDArray

Counts = NDArray[np.int64]

MOST_STEPS = 20_000
"""Steps in the longest board: 0.12 mm in one of 2.4 m, where common divisors are finer."""

ROW_WORK = 2_000
"""Work of one row of the table apart from its steps."""


class WayFinder:
    """Finds the best ways to fill a board from pieces that have a worth.

    Attributes:
        is_exact: Whether no length had to be rounded.
        work: Done so far; a hundred million take about half a second.
    """

    def __init__(self, pieces: Sequence[int], rooms: Sequence[int]) -> None:
        longest = max(rooms)
        common = gcd(*pieces)
        step = max(common, -(-longest // MOST_STEPS))
        self.is_exact = step == common
        self.work = 0
        self._raised = [-(-piece // step) for piece in pieces]
        self._lowered = [piece // step for piece in pieces]
        self._rooms = [room // step for room in rooms]

    def find_ways(self, worth: Counts, counts: Counts) -> list[tuple[int, Counts]]:
        """Return for every room what the best way to fill it is worth, and the way.

        Args:
            worth: Of one copy of every piece; pieces worth nothing are left out.
            counts: Most copies of every piece.
        """
        best, rows = self._fill(self._raised, worth, counts, keep=True)
        return [(int(best[room]), self._trace(rows, room, len(worth))) for room in self._rooms]

    def find_limits(self, worth: Counts, counts: Counts) -> list[int]:
        """Return for every room a worth that no way to fill it exceeds."""
        best, _ = self._fill(self._lowered, worth, counts, keep=False)
        return [int(best[room]) for room in self._rooms]

    def _fill(
        self, sizes: Sequence[int], worth: Counts, counts: Counts, *, keep: bool
    ) -> tuple[Counts, list[tuple[int, int, int, NDArray[np.bool_]]]]:
        """Return the best worth for every room, and for each bundle of copies where it is taken."""
        most = max(self._rooms)
        best: Counts = np.zeros(most + 1, np.int64)
        rows: list[tuple[int, int, int, NDArray[np.bool_]]] = []
        for index in np.flatnonzero((worth > 0) & (counts > 0)).tolist():
            size = sizes[index]
            left = int(counts[index]) if size == 0 else min(int(counts[index]), most // size)
            bundle = 1
            while left > 0:
                bundle = min(bundle, left)
                long = bundle * size
                trial = best[: most + 1 - long] + bundle * int(worth[index])
                if keep:
                    rows.append((index, bundle, long, trial > best[long:]))
                np.maximum(best[long:], trial, out=best[long:])
                self.work += most + ROW_WORK
                left -= bundle
                bundle *= 2
        return best, rows

    def _trace(
        self, rows: list[tuple[int, int, int, NDArray[np.bool_]]], room: int, pieces: int
    ) -> Counts:
        way: Counts = np.zeros(pieces, np.int64)
        for index, bundle, long, is_taken in reversed(rows):
            if room >= long and is_taken[room - long]:
                way[index] += bundle
                room -= long
        return way
