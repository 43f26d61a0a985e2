"""The search for cheaper sheets, where sizes differ in price or there are only so many of them.

1. Sheet after sheet is filled, each of the size whose blanks are worth the most for its price.
2. What a copy of each blank is worth comes from a linear program over all sheets met so far, with
   prices and limits; new fills of every size are made for that (column generation), and a program
   in whole numbers picks the cheapest that hold everything.
3. Every choice of sheets that would be cheaper, and that is not ruled out by what it can hold, is
   aimed at: by the simple rules, then by filling one or two of its sheets anew with what is left
   over, again and again.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import exp

import numpy as np

from generator.cutting.budget import Budget
from generator.cutting.buying_pool import BuyingPool, Goods
from generator.cutting.many_fills import Fill, Filler
from generator.cutting.pieces import BLOCKS, Counts, find_pieces
from generator.cutting.programs import CLOSE, Values
from generator.cutting.trees import Node, Pose, Size

MOST_AIMED = 12
"""Sheets in a choice that is aimed at; of more there are too many choices."""

MOST_CHOICES = 50_000
"""Choices of sheets that are looked at to find those worth aiming at."""

RULE_WORK = 5_000
"""Work of one blank laid by a rule."""

DENSE = 8
"""From so many blanks a sheet on, blocks of blanks are worth their time."""


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """A filled sheet: its size, the copies of every blank on it, and its cut tree."""

    size: Size
    counts: Counts
    tree: Node


Layout = tuple[Laid, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be laid out.

    Attributes:
        poses: For every blank the ways it may lie.
        counts: Copies of every blank.
        sizes: Those that can be had, with their costs and limits.
        shares: What each size can hold of what is needed; see `cost_bounds`.
        bound: No layout costs less.
        least: No less than this may be left beside a piece, in ticks, unless it is nothing.
    """

    poses: tuple[tuple[Pose, ...], ...]
    counts: tuple[int, ...]
    sizes: tuple[Size, ...]
    shares: Values
    bound: int
    least: int

    @property
    def beyond(self) -> int:
        """What a sheet costs of which there are no more: more than any layout within the limits."""
        return (max(size.cost for size in self.sizes) + 1) * (sum(self.counts) + 1)

    def cost_of(self, sizes: Sequence[int]) -> int:
        """Return what sheets cost, by the places of their sizes."""
        many = np.bincount(np.array(sizes, np.int64), minlength=len(self.sizes)).tolist()
        return sum(
            size.cost * n + (0 if size.most is None else max(0, n - size.most) * self.beyond)
            for size, n in zip(self.sizes, many, strict=True)
        )


def find_cheaper(
    task: Task,
    known: Sequence[Layout],
    by_rules: Callable[[tuple[Size, ...]], Layout | None],
    budget: Budget,
) -> tuple[Layout, ...]:
    """Return the cheapest layouts found, if they are cheaper than those that are known.

    Sheets may hold more copies than are asked for; what is too many is waste.

    Args:
        task: What is to be laid out.
        known: Some layouts, at least one.
        by_rules: Lays everything on sheets of these sizes, if one of the simple rules can.
        budget: How much may be done.
    """
    search = _Search(task, known, by_rules, budget)
    search.run()
    return tuple(search.found)


class _Search:
    """The pool of sheets, the cheapest layouts, and the moves that make more of both."""

    def __init__(
        self,
        task: Task,
        known: Sequence[Layout],
        by_rules: Callable[[tuple[Size, ...]], Layout | None],
        budget: Budget,
    ) -> None:
        self.task, self.by_rules, self.budget = task, by_rules, budget
        self.random = np.random.default_rng(1)
        self.counts: Counts = np.array(task.counts, np.int64)
        self.found: list[Layout] = []
        goods = Goods(
            tuple(size.cost for size in task.sizes),
            tuple(size.most for size in task.sizes),
            task.beyond,
        )
        self.pool = BuyingPool(self.counts, goods)
        self.made: list[Fill | Laid] = []
        self.fillers = [self._make_filler(size) for size in task.sizes]
        greatest = max(size.area for size in task.sizes)
        areas = [max(pose.along_x * pose.along_y for pose in ways) for ways in task.poses]
        self.area: Values = np.array(areas, np.float64) / greatest
        place = {size: index for index, size in enumerate(task.sizes)}
        for layout in known:
            for laid in layout:
                self._pool(laid, place[laid.size])
        costs = [task.cost_of([place[laid.size] for laid in layout]) for layout in known]
        self.cheapest = min(costs)

    def run(self) -> None:
        """Search until the bound is met or the budget is used."""
        for density in (1.0, 1.1, 0.9):
            if not self._is_done():
                self._sequence(self.area**density)
        self._aim(0.5)
        rounds = 0
        while not self._is_done(0.95) and rounds < 100:
            rounds += 1
            self._generate()
            self._pick()
            worth = self.pool.solve().worth
            noise = 1 + 0.08 * self.random.standard_normal(len(worth))
            self._sequence((worth + 0.01 * self.area) * np.clip(noise, 0.3, 3))
            self._aim(min(0.95, self.budget.used() + 0.2))

    def _make_filler(self, size: Size) -> Filler:
        full = sum(max(p.along_x * p.along_y for p in ways) * count for ways, count in
                   zip(self.task.poses, self.task.counts, strict=True))  # fmt: skip
        dense = sum(self.task.counts) * size.area >= DENSE * full
        pieces = find_pieces(self.task.poses, self.task.counts, size, BLOCKS if dense else 0)
        return Filler(pieces, self.random, self.task.least / pieces.scale)

    def _is_done(self, part: float = 1.0) -> bool:
        return self.cheapest <= self.task.bound or self.budget.used() >= part

    def _pool(self, made: Fill | Laid, place: int) -> bool:
        is_new = self.pool.add(made.counts, place)
        if is_new:
            self.made.append(made)
        return is_new

    def _take(self, layout: Sequence[Fill | Laid], places: Sequence[int]) -> None:
        """Keep a layout if none that is cheaper is known."""
        cost = self.task.cost_of(places)
        if cost < self.cheapest:
            self.cheapest = cost
            self.found = []
        if cost == self.cheapest and len(self.found) < 8:
            pairs = zip(layout, places, strict=True)
            self.found.append(tuple(self._lay(made, self.task.sizes[at]) for made, at in pairs))

    def _lay(self, made: Fill | Laid, size: Size) -> Laid:
        return made if isinstance(made, Laid) else Laid(size, made.counts, made.tree())

    def _fill(
        self, place: int, values: Values, left: Counts, fills: int, above: float = 0.0
    ) -> list[tuple[float, Fill]]:
        """Return the best fills of one size; all of them go into the pool."""
        filler = self.fillers[place]
        before = filler.work
        best = filler.fill(values, left, fills, 6, above)
        self.budget.spend(filler.work - before + RULE_WORK)
        for _, fill in best:
            self._pool(fill, place)
        return best

    def _sequence(self, values: Values) -> None:
        """Fill sheet after sheet, each of the size that is worth the most for its price."""
        left, places, layout = self.counts.copy(), list[int](), list[Fill | Laid]()
        while left.any():
            if self._is_done():
                return
            place, fill = self._next_sheet(values, left, places)
            size = self.task.sizes[place]
            placed = fill.counts > 0
            times = int((left[placed] // fill.counts[placed]).min())
            if size.most is not None:
                times = max(1, min(times, size.most - places.count(place)))
            left = np.maximum(left - times * fill.counts, 0)
            layout += [fill] * times
            places += [place] * times
        self._take(layout, places)

    def _next_sheet(self, values: Values, left: Counts, places: Sequence[int]) -> tuple[int, Fill]:
        """Return a sheet to take next: the cheapest that holds all that is left, if one does."""
        options = self._options(values, left, [p for p in self._all() if self._is_there(p, places)])
        if not options:
            options = self._options(values, left, list(self._all()))
        costs = [self.task.sizes[at].cost for _, at, _ in options]
        noise = 1 + 0.1 * self.random.random(len(options))
        scores = [
            worth * more / (cost + CLOSE)
            for (worth, _, _), cost, more in zip(options, costs, noise.tolist(), strict=True)
        ]
        best = int(np.argmax(scores))
        last = [at for at, (_, _, fill) in enumerate(options) if (fill.counts >= left).all()]
        if last:
            least = min(last, key=lambda at: costs[at])
            if costs[least] <= costs[best] or self.random.random() < 0.5:
                best = least
        return options[best][1], options[best][2]

    def _all(self) -> range:
        return range(len(self.task.sizes))

    def _is_there(self, place: int, places: Sequence[int]) -> bool:
        most = self.task.sizes[place].most
        return most is None or places.count(place) < most

    def _options(
        self, values: Values, left: Counts, places: Sequence[int]
    ) -> list[tuple[float, int, Fill]]:
        found = []
        for place in places:
            best = self._fill(place, values, left, 64)
            if best:
                found.append((best[0][0], place, best[0][1]))
        return found

    def _generate(self) -> None:
        """Fill sheets for the dual values until nothing new is worth more than it costs."""
        fills = 128
        for _ in range(12):
            if self._is_done(0.9):
                return
            offer = self.pool.solve()
            before = len(self.made)
            for place, size in enumerate(self.task.sizes):
                cost = size.cost + offer.rents[place]
                self._fill(place, offer.worth, self.counts, fills, cost + CLOSE)
            if len(self.made) == before:
                if fills == 512:
                    return
                fills = 512

    def _pick(self) -> None:
        """Let a program in whole numbers pick from the pool."""
        nodes = max(1, self.budget.nodes // 5)
        self.budget.spend(min(len(self.made), 4_000) * nodes)
        picked = self.pool.pick(self.cheapest, nodes)
        if picked:
            self._take([self.made[i] for i in picked], [self.pool.sizes[i] for i in picked])

    def _aim(self, until: float) -> None:
        """Aim at every choice of sheets that is cheaper, those with the most room first."""
        targets = self._targets()
        start = self.budget.used()
        for number, target in enumerate(targets):
            if self._is_done(until):
                return
            if self.task.cost_of(target) >= self.cheapest:
                continue
            self.budget.spend(RULE_WORK * 30 * int(self.counts.sum()))
            laid = self.by_rules(tuple(self.task.sizes[place] for place in target))
            if laid is not None:
                index = {size: place for place, size in enumerate(self.task.sizes)}
                self._take(laid, [index[one.size] for one in laid])
                continue
            share = (until - start) / min(8, len(targets) - number)
            self._reach(target, min(until, self.budget.used() + share))

    def _targets(self) -> list[list[int]]:
        """Return the choices of sheets that cost less and may hold everything."""
        sizes = self.task.sizes
        ranges = []
        for size in sizes:
            most = MOST_AIMED if size.most is None else min(size.most, MOST_AIMED)
            if size.cost:
                ranges.append(range(min(most, (self.cheapest - 1) // size.cost) + 1))
            else:
                ranges.append(range(most, most + 1))
        if np.prod([len(one) for one in ranges], dtype=float) > MOST_CHOICES:
            return []
        every = np.array(list(product(*ranges)), np.int64)
        costs = every @ np.array([size.cost for size in sizes], np.int64)
        paid = every @ np.array([size.cost > 0 for size in sizes], np.int64)
        every = every[(costs < self.cheapest) & (costs >= self.task.bound) & (paid <= MOST_AIMED)]
        if not len(every):
            return []
        room = (every @ self.task.shares.T).min(axis=1)
        order = [int(at) for at in np.argsort(-room, kind="stable") if room[at] >= 1]
        by_area = sorted(self._all(), key=lambda place: -sizes[place].area)
        return [[place for place in by_area for _ in range(every[at, place])] for at in order]

    def _reach(self, target: Sequence[int], until: float) -> None:
        """Fill one or two sheets of a choice anew until nothing is left over."""
        weights = np.ones_like(self.area)
        layout = list(self._begin(target))
        over, heat, turn = self._left(layout), 0.01, 0
        draw = self.random.random
        while over.any() and not self._is_done(until):
            turn += 1
            many = 1 if draw() < 0.5 else min(2, len(target))
            ruined = self.random.choice(len(target), many, replace=False)
            trial = [None if index in ruined else made for index, made in enumerate(layout)]
            left = self._left(trial)
            noise = 1 + 0.3 * draw() * (2 * draw(len(self.area)) - 1)
            values = self.area ** (1 + 0.15 * self.random.standard_normal()) * weights * noise
            for index in ruined:
                best = self._fill(target[index], values, left, 96) if left.any() else []
                if best:
                    trial[index] = best[0][1]
                    left = np.maximum(left - best[0][1].counts, 0)
            weights[left > 0] *= 1.03
            weights /= weights.mean()
            gain = (over - left) @ (self.area * weights)
            if gain >= 0 or draw() < exp(gain / heat):
                layout, over = trial, left
            heat = max(heat * 0.999, 0.002)
        if not over.any():
            kept = [(made, at) for made, at in zip(layout, target, strict=True) if made is not None]
            self._take([made for made, _ in kept], [at for _, at in kept])

    def _begin(self, target: Sequence[int]) -> Iterator[Fill | None]:
        left = self.counts.copy()
        for place in target:
            best = self._fill(place, self.area, left, 96) if left.any() else []
            yield best[0][1] if best else None
            if best:
                left = np.maximum(left - best[0][1].counts, 0)

    def _left(self, layout: Sequence[Fill | None]) -> Counts:
        """Return the copies that a layout does not hold."""
        held: Counts = sum((m.counts for m in layout if m is not None), np.zeros_like(self.counts))
        left: Counts = np.maximum(self.counts - held, 0)
        return left
