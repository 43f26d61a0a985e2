"""Boards for many pieces: a bound by linear programming, and choices that come close to it.

Ways to fill a board are generated for what a copy of each piece is worth in the linear program over
all ways so far, until no way is worth more than its board costs (P. C. Gilmore and R. E. Gomory, "A
linear programming approach to the cutting-stock problem", Operations Research 9 (1961), from
memory). What the pieces are worth then proves, in whole numbers, what no choice can cost less than
(the bound of A. A. Farley, Operations Research 38 (1990), from memory). Whole boards come from
dives: what the program uses most is taken, and the rest is worked out anew.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from generator.cutting.board_pool import BoardPool, Shares
from generator.cutting.ways import Counts, WayFinder

FINENESS = 2**40
"""What the dearest board is worth in whole numbers: bounds are worked out in those."""

LP_WORK = 4
"""Work of one linear program for each of its numbers, in that of `WayFinder`."""

NEARLY = 1e-6
"""How far the linear program's numbers may be from whole ones."""

MOST_DIVES = 400

WAYS_AT_ONCE = 10
"""Ways without a piece in common that are added before the program is solved again."""

MOST_BANS = 4
"""Ways of one dive that others do without."""


@dataclass(frozen=True, slots=True)
class Task:
    """What is asked for.

    Attributes:
        pieces: Different lengths in ticks, kerf included, the longest first.
        counts: How many of each.
        rooms: Of every length that is sold: what may be filled, in ticks.
        costs: Of every length: whole numbers, as small as they may be.
        work: Most work, in that of `WayFinder`.
    """

    pieces: Sequence[int]
    counts: Sequence[int]
    rooms: Sequence[int]
    costs: Sequence[int]
    work: int


@dataclass(frozen=True, slots=True)
class Answer:
    """Boards by the place of their length and what comes from them, and what is proved.

    Attributes:
        boards: The cheapest that were found; none if none cheaper than asked for were.
        bound: No boards can cost less.
    """

    boards: tuple[tuple[int, tuple[int, ...]], ...]
    bound: int


def find_cost_bound(task: Task) -> int:
    """Return a cost that no choice of boards can do with less than."""
    program = _Program(task, 0)
    program.bound_all()
    return program.bound


def find_cheaper(task: Task, best: int) -> Answer:
    """Return boards that cost less than some that are known, if any are found.

    Args:
        task: What is asked for.
        best: The cost of those that are known.
    """
    program = _Program(task, best)
    program.bound_all()
    program.dive_all()
    return Answer(program.boards, program.bound)


class _Program:
    """The pool of ways, and the bounds and boards it has led to."""

    def __init__(self, task: Task, best: int) -> None:
        self.task, self.best = task, best
        self.bound = 0
        self.boards: tuple[tuple[int, tuple[int, ...]], ...] = ()
        self._grain = FINENESS // max(task.costs)
        self._counts: Counts = np.array(task.counts, np.int64)
        self._finder = WayFinder(task.pieces, task.rooms)
        self._pool = BoardPool(self._counts)
        self._random = np.random.default_rng(1)
        for index, piece in enumerate(task.pieces):
            for place, room in enumerate(task.rooms):
                if piece <= room:
                    for copies in (1, min(task.counts[index], room // piece)):
                        way: Counts = np.zeros_like(self._counts)
                        way[index] = copies
                        self._pool.add(way, place, task.costs[place])

    def bound_all(self) -> None:
        """Find the bound for all pieces."""
        self._pool.ask(self._counts, frozenset())
        shares, bound = self._generate(self._counts, self.task.work // 2)
        if not self._finder.is_exact:
            worth = self._whole_worth(shares)
            limits = self._finder.find_limits(worth, self._counts)
            bound = self._bound(worth, self._counts, limits)
        self.bound = bound

    def dive_all(self) -> None:
        """Dive again and again until the bound is met or the work is done.

        Every other dive does without a way that an earlier one took for want of a better one; in
        those between chance has a part.
        """
        waiting: list[frozenset[int]] = [frozenset()]
        for number in range(MOST_DIVES):
            if self._is_done():
                return
            if number % 2 == 0 and waiting:
                waiting += self._dive(waiting.pop(0), draws=False)
            else:
                self._dive(frozenset(), draws=True)

    def _is_done(self) -> bool:
        return self.best <= self.bound or self._finder.work >= self.task.work

    def _generate(self, left: Counts, work: int, most: int | None = None) -> tuple[Shares, int]:
        """Add ways until none is worth more than its board; return a bound for what is left.

        Args:
            left: Pieces that are left.
            work: No more is added after so much.
            most: What may be spent on them; it ends as soon as that can not be enough.
        """
        bound = 0
        while True:
            shares = self._pool.solve()
            self._finder.work += LP_WORK * len(left) * len(self._pool.ways)
            worth = self._whole_worth(shares)
            ways = self._finder.find_ways(worth, left)
            bound = max(bound, self._bound(worth, left, [value for value, _ in ways]))
            is_over = most is not None and bound > most
            if is_over or bound >= shares.cost - NEARLY or self._finder.work >= work:
                return shares, bound
            if not self._add(ways):
                return shares, bound
            rest = left
            for _ in range(WAYS_AT_ONCE - 1):
                rest = rest - max(ways, key=lambda found: found[0])[1]
                ways = self._finder.find_ways(worth, rest)
                if not self._add(ways):
                    break

    def _whole_worth(self, shares: Shares) -> Counts:
        worth: Counts = np.floor(np.maximum(shares.worth, 0) * self._grain).astype(np.int64)
        return worth

    def _add(self, ways: Sequence[tuple[int, Counts]]) -> int:
        """Take up the ways that are worth more than their boards; return how many are new."""
        return sum(
            self._pool.add(way, place, self.task.costs[place])
            for place, (value, way) in enumerate(ways)
            if value > self.task.costs[place] * self._grain
        )

    def _bound(self, worth: Counts, left: Counts, limits: Sequence[int]) -> int:
        """Return a bound from what pieces are worth and what a board can hold of it at most."""
        total: int = sum(w * n for w, n in zip(worth.tolist(), left.tolist(), strict=True))
        pairs = zip(self.task.costs, limits, strict=True)
        return min(-(-total * cost // max(limit, cost * self._grain)) for cost, limit in pairs)

    def _dive(self, banned: frozenset[int], *, draws: bool) -> list[frozenset[int]]:
        """Take ways one after the other until all pieces are had or it leads to nothing better.

        Args:
            banned: Ways to do without.
            draws: Whether chance has a part.

        Returns:
            For the first ways that were not used wholly and taken all the same: what to ban in
            other dives.
        """
        left, taken, cost = self._counts.copy(), list[int](), 0
        others: list[frozenset[int]] = []
        while left.any():
            self._pool.ask(left, banned)
            shares, bound = self._generate(left, self.task.work, self.best - 1 - cost)
            if cost + bound >= self.best or self._finder.work >= self.task.work:
                return others[:MOST_BANS]
            times = self._whole_times(shares, draws=draws)
            if not times.any():
                chosen = self._choose(shares, draws=draws)
                times[chosen] = 1
                others.append(banned | {chosen})
            for way in np.flatnonzero(times).tolist():
                for _ in range(int(times[way])):
                    if np.minimum(self._pool.ways[way], left).any():
                        taken.append(way)
                        cost += self._pool.costs[way]
                        left = np.maximum(left - self._pool.ways[way], 0)
        self._take(taken)
        return others[:MOST_BANS]

    def _whole_times(self, shares: Shares, *, draws: bool) -> Counts:
        """Return how often each way is used wholly; if chance has a part, of some ways only."""
        times: Counts = np.floor(shares.times + NEARLY).astype(np.int64)
        if draws:
            times *= self._random.random(len(times)) < self._random.random()
        return times

    def _choose(self, shares: Shares, *, draws: bool) -> int:
        """Return the way that is used most, or likely one that is used much."""
        chance = self._random.random(len(shares.times)) if draws else 1.0
        return int((shares.times * chance).argmax())

    def _take(self, chosen: Sequence[int]) -> None:
        """Keep boards if none as cheap are known; pieces that are too many are left out."""
        cost = sum(self._pool.costs[way] for way in chosen)
        if cost >= self.best:
            return
        left = self._counts.copy()
        boards = []
        for way in chosen:
            part = np.minimum(self._pool.ways[way], left)
            left -= part
            boards.append((self._pool.lengths[way], tuple(part.tolist())))
        self.best, self.boards = cost, tuple(boards)
