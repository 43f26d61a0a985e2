"""Boards where lengths have prices, or there are only so many of them: the cheapest that will do.

Ways to fill a board are generated for what a copy of each piece is worth, as in `board_program`,
with prices instead of lengths and with a rent for lengths there are too few of. In small jobs every
way is looked at, and a program in whole numbers proves the cheapest choice.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

import numpy as np

from generator.cutting.buying_pool import BuyingPool, Counts, Goods, Offer
from generator.cutting.lengths import Filled, Left, Length
from generator.cutting.ways import WayFinder

FINENESS = 2**40
"""What a board beyond the limits is worth in whole numbers: bounds are worked out in those."""

LP_WORK = 4
"""Work of one linear program for each of its numbers, in that of `WayFinder`."""

MOST_WAYS = 1_500
"""Ways to fill boards that are all looked at; of more only those that are generated."""

MOST_TRIED = 60_000
"""Steps of looking for all ways."""

NODES = 2_000
MOST_DIVES = 60
NEARLY = 1e-6


@dataclass(frozen=True, slots=True)
class PricedChoice:
    """Boards to buy or to take.

    Attributes:
        bound: No choice costs less, in the costs of the lengths.
        is_possible: False where it is proved that there are too few boards.
    """

    boards: tuple[Filled, ...]
    bound: int
    is_possible: bool

    @property
    def cost(self) -> int:
        """What they cost, in the costs of the lengths."""
        return sum(board.length.cost for board in self.boards)

    def missing(self) -> dict[int, int]:
        """Return of which lengths, by index, there are too few, and how many."""
        many: dict[Length, int] = {}
        for board in self.boards:
            many[board.length] = many.get(board.length, 0) + 1
        over = {one.index: n - one.most for one, n in many.items() if one.most is not None}
        return {index: few for index, few in sorted(over.items()) if few > 0}


def choose_priced(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length], work: int
) -> PricedChoice:
    """Return the cheapest boards found for pieces of some lengths; of equal cost the fewest.

    Args:
        pieces: Different lengths in ticks, kerf included, the longest first; each has a board.
        counts: How many of each.
        lengths: What can be had, with costs and limits.
        work: Most work, in that of `WayFinder`.
    """
    search = _Search(pieces, counts, lengths, work)
    search.run()
    several = search.several
    bound = max(0, ceil(Fraction(search.bound - sum(counts), several)))
    return PricedChoice(search.boards(), bound, search.bound < search.beyond)


def find_priced_bound(
    pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length], work: int
) -> int:
    """Return a cost that no choice of boards can do with less than; arguments as above."""
    search = _Search(pieces, counts, lengths, work)
    search.generate_all()
    return max(0, ceil(Fraction(search.bound - sum(counts), search.several)))


class _Search:
    """The pool of ways, the cheapest boards, and what is proved of them.

    Costs in here are those of the lengths times `several`, and 1 for each board.
    """

    def __init__(
        self, pieces: Sequence[int], counts: Sequence[int], lengths: Sequence[Length], work: int
    ) -> None:
        self.pieces, self.lengths, self.work = pieces, lengths, work
        self.counts: Counts = np.array(counts, np.int64)
        self.several = sum(counts) + 1
        costs = tuple(one.cost * self.several + 1 for one in lengths)
        self.beyond = max(costs) * self.several
        self.pool = BuyingPool(
            self.counts, Goods(costs, tuple(one.most for one in lengths), self.beyond)
        )
        self.finder = WayFinder(pieces, [one.room for one in lengths])
        self.random = np.random.default_rng(1)
        self.bound = 0
        self.cheapest = self.beyond * self.several
        self.chosen: list[int] = []
        self._grain = FINENESS // self.beyond or 1
        for index, piece in enumerate(pieces):
            for place, one in enumerate(lengths):
                if piece <= one.room:
                    for copies in (1, min(counts[index], one.room // piece)):
                        way: Counts = np.zeros_like(self.counts)
                        way[index] = copies
                        self.pool.add(way, place)

    def run(self) -> None:
        """Search until the cheapest is proved or the work is done."""
        self.generate_all()
        is_whole = self._add_every_way()
        self._pick()
        if is_whole and self.cheapest > self.bound:
            self.bound = max(self.bound, self.pool.bound_whole(NODES))
        for number in range(MOST_DIVES):
            if is_whole or self.cheapest <= self.bound or self.finder.work >= self.work:
                return
            self._dive(draws=number > 0)
            if number % 8 == 0:
                self._pick()

    def generate_all(self) -> None:
        """Find the bound for all pieces."""
        while True:
            offer = self.pool.solve()
            self.finder.work += LP_WORK * len(self.pieces) * len(self.pool.ways)
            worth = self._whole_worth(offer)
            ways = self.finder.find_ways(worth, self.counts)
            limits = [value for value, _ in ways]
            if not self.finder.is_exact:
                limits = self.finder.find_limits(worth, self.counts)
            self.bound = max(self.bound, self._bound(worth, limits))
            if not self._add(ways, offer) or self.finder.work >= self.work // 2:
                return

    def boards(self) -> tuple[Filled, ...]:
        """Return the cheapest boards; pieces that are too many are left out."""
        left = self.counts.copy()
        boards = []
        for way in self.chosen:
            part = np.minimum(self.pool.ways[way], left)
            left -= part
            if part.any():
                taken = tuple(part.tolist())
                boards.append(Filled(self.lengths[self.pool.sizes[way]], taken))
        return tuple(boards)

    def _whole_worth(self, offer: Offer) -> Counts:
        worth: Counts = np.floor(offer.worth * self._grain).astype(np.int64)
        return worth

    def _add(self, ways: Sequence[tuple[int, Counts]], offer: Offer) -> int:
        """Take up the ways that are worth more than their boards; return how many are new."""
        return sum(
            self.pool.add(way, place)
            for place, (value, way) in enumerate(ways)
            if value > (self.pool.goods.costs[place] + offer.rents[place]) * self._grain
        )

    def _bound(self, worth: Counts, limits: Sequence[int]) -> int:
        """Return a bound from what pieces are worth and what a board can hold of it at most.

        What a board can hold beyond its cost is made good: where there is no limit by making all
        pieces worth less, where there is one by its rent.
        """
        costs, most = self.pool.goods.costs, self.pool.goods.limits
        part = Fraction(1)
        for cost, limit, held in zip(costs, most, limits, strict=True):
            if limit is None and held > cost * self._grain:
                part = min(part, Fraction(cost * self._grain, held))
        total = part * sum(w * n for w, n in zip(worth.tolist(), self.counts.tolist(), strict=True))
        for cost, limit, held in zip(costs, most, limits, strict=True):
            if limit is not None:
                total -= max(Fraction(0), part * held - cost * self._grain) * limit
        bound: int = ceil(total / self._grain)
        return bound

    def _add_every_way(self) -> bool:
        """Take up every way to which no piece can be added; False if there are too many."""
        tried = 0
        found: list[tuple[int, Left]] = []
        for place, one in enumerate(self.lengths):
            for taken in _fillings(self.pieces, self.counts.tolist(), one.room):
                tried += 1
                if tried > MOST_TRIED or len(found) > MOST_WAYS:
                    return False
                if taken is not None and any(taken):
                    found.append((place, taken))
        for place, taken in found:
            self.pool.add(np.array(taken, np.int64), place)
        return True

    def _pick(self) -> None:
        picked = self.pool.pick(self.cheapest, NODES)
        self.finder.work += LP_WORK * len(self.pieces) * len(self.pool.ways) * 100
        if picked:
            self._take(picked)

    def _dive(self, *, draws: bool) -> None:
        """Take what the program uses most, work out the rest anew, and so on to the end."""
        left, chosen = self.counts.copy(), list[int]()
        used = [0] * len(self.lengths)
        while left.any():
            offer = self.pool.solve(left, used)
            for _ in range(3):
                if not self._add(self.finder.find_ways(self._whole_worth(offer), left), offer):
                    break
                offer = self.pool.solve(left, used)
            self.finder.work += LP_WORK * len(left) * len(self.pool.ways)
            if self.finder.work >= self.work:
                return
            times = np.floor(offer.times + NEARLY).astype(np.int64)
            if draws:
                times *= self.random.random(len(times)) < self.random.random()
            if not times.any():
                chance = self.random.random(len(offer.times)) if draws else 1.0
                times[int((offer.times * chance).argmax())] = 1
            for way in np.flatnonzero(times).tolist():
                for _ in range(int(times[way])):
                    if np.minimum(self.pool.ways[way], left).any():
                        chosen.append(way)
                        used[self.pool.sizes[way]] += 1
                        left = np.maximum(left - self.pool.ways[way], 0)
        self._take(chosen)

    def _take(self, chosen: Sequence[int]) -> None:
        """Keep boards if none as cheap are known."""
        cost = 0
        for place, one in enumerate(self.lengths):
            many = sum(self.pool.sizes[way] == place for way in chosen)
            over = 0 if one.most is None else max(0, many - one.most)
            cost += many * self.pool.goods.costs[place] + over * self.beyond
        if cost < self.cheapest:
            self.cheapest, self.chosen = cost, list(chosen)


def _fillings(pieces: Sequence[int], counts: Sequence[int], room: int) -> Iterator[Left | None]:
    """Yield every choice of pieces to which none can be added; None for a step on the way."""

    def fill(index: int, rest: int, taken: Left) -> Iterator[Left | None]:
        if index == len(pieces):
            spare = zip(counts, taken, pieces, strict=True)
            is_full = not any(have > used and piece <= rest for have, used, piece in spare)
            yield taken if is_full else None
            return
        for count in range(min(counts[index], rest // pieces[index]), -1, -1):
            yield from fill(index + 1, rest - count * pieces[index], (*taken, count))

    yield from fill(0, room, ())
