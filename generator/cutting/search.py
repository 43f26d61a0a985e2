"""The search for fewer sheets: fills that go by what blanks are worth, and programs over them.

1. Sheets are filled one after the other, the best of hundreds of fills each time.
2. What a copy of each blank is worth comes from the linear program over all sheets met so far, and
   new fills are made for that (column generation).
3. Where few sheets are needed, one sheet fewer is aimed at: one or two sheets, or parts of them
   where a sheet holds many blanks, are filled anew with what is left over, again and again, and
   blanks that are often left over become worth more. The aim is that of J. Gardeyn and T. Wauters,
   "A goal-driven ruin and recreate heuristic", European Journal of Operational Research 301 (2022).
4. Where it needs many, the program's answer is made whole sheet by sheet: the one it uses most is
   kept and the rest worked out anew. Now and then a program in whole numbers picks from the pool.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, exp

import numpy as np

from generator.cutting.budget import Budget
from generator.cutting.lose_sheet import lose_sheet
from generator.cutting.many_fills import Filler, Values
from generator.cutting.patching import Laid
from generator.cutting.pieces import BLOCKS, Counts, find_pieces
from generator.cutting.pool import CLOSE, Fractions, Pool
from generator.cutting.trees import Pose, Size

Sheets = tuple[Laid, ...]

SEQUENCE = 2000
"""About so many fills in all while sheet after sheet is filled: few sheets get more fills each."""

END = 7
"""From so many sheets on, in fractions, the end of a dive is left to a program."""

DENSE = 8
"""From so many blanks a sheet on, blocks of blanks are worth their time."""

FIRST = 0.4
"""Part of the budget after which sheets made so far must do for the first layouts by programs."""

FEW = 5
"""So many sheets or fewer are refilled towards one fewer before anything else."""


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be laid out.

    Attributes:
        poses: For every blank the ways it may lie.
        counts: Copies of every blank.
        sizes: The sizes that no other size covers.
        bound: Fewer sheets than this cannot be enough.
        least: No less than this may be left beside a piece, in ticks, unless it is nothing.
    """

    poses: tuple[tuple[Pose, ...], ...]
    counts: tuple[int, ...]
    sizes: tuple[Size, ...]
    bound: int
    least: int = 0


def find_sheets(task: Task, budget: Budget, draw: int = 1) -> tuple[Sheets, ...]:
    """Return layouts of the fewest sheets found, the first found first.

    Sheets may hold more copies than are asked for; what is too many is waste.

    Args:
        task: What is to be laid out.
        budget: How much may be done.
        draw: Another number draws other rules.
    """
    search = _Search(task, budget, draw)
    search.run()
    return tuple(search.found)


class _Search:
    """The pool of sheets, the best layouts, and the moves that make more of both."""

    def __init__(self, task: Task, budget: Budget, draw: int) -> None:
        self.task, self.budget = task, budget
        self.random = np.random.default_rng(draw)
        self.counts: Counts = np.array(task.counts, np.int64)
        self.pool = Pool(self.counts)
        self.found: list[Sheets] = []
        self.fewest = int(self.counts.sum()) + 1
        self.batch = int(np.clip(SEQUENCE // max(1, task.bound), 64, 512))
        self.dense = sum(task.counts) >= DENSE * task.bound
        self.fillers = [self._make_filler(size) for size in task.sizes]
        greatest = max(size.area for size in task.sizes)
        areas = [max(pose.along_x * pose.along_y for pose in ways) for ways in task.poses]
        self.area: Values = np.array(areas, np.float64) / greatest

    def run(self) -> None:
        """Search until the bound is met or the budget is used."""
        for density in (1.0, 1.1):
            if not self._is_done():
                self._sequence(self.area**density, self.batch)
        if self.fewest <= FEW:
            self._aim_lower(96, 0.9)
        rounds = 0
        while not self._is_done(0.95):
            rounds += 1
            self._generate(rounds)
            self._sequence_by_worth()
            self._dive()
            self._dive()
            self._ruin(64, min(0.95, self.budget.used() + 0.08))
            if rounds % 3 == 1 and self.fewest > FEW and not self._is_done():
                picked = self._pick(self.fewest, 0.2, self.counts)
                if picked:
                    self._take(picked)

    def _make_filler(self, size: Size) -> Filler:
        pieces = find_pieces(self.task.poses, self.task.counts, size, BLOCKS if self.dense else 0)
        return Filler(pieces, self.random, self.task.least / pieces.scale)

    def _is_done(self, part: float = 1.0) -> bool:
        return self.fewest <= self.task.bound or self.budget.used() >= part

    def _take(self, fills: Sequence[Laid]) -> None:
        """Keep a layout if none with fewer sheets is known."""
        if len(fills) < self.fewest:
            self.fewest = len(fills)
            self.found = []
        if len(fills) == self.fewest and len(self.found) < 8:
            self.found.append(tuple(fills))

    def _fill(
        self, values: Values, copies: Counts, fills: int, keep: int, above: float = 0.0
    ) -> list[tuple[float, Laid]]:
        """Return the best fills of all sizes."""
        best: list[tuple[float, Laid]] = []
        for filler in self.fillers:
            before = filler.work
            best += filler.fill(values, copies, fills, keep, above)
            self.budget.spend(filler.work - before)
        return sorted(best, key=lambda found: -found[0])[:keep]

    def _sequence(
        self, values: Values, fills: int, copies: Counts | None = None, most: int | None = None
    ) -> list[Laid] | None:
        """Fill sheet after sheet; a layout of everything is taken.

        None if more than most are needed, or if the budget is used and a layout is known.
        """
        left = (self.counts if copies is None else copies).copy()
        sheets: list[Laid] = []
        while left.any():
            if most is not None and len(sheets) >= most:
                return None
            if self.found and self._is_done():
                return None
            best = self._fill(values, left, fills, 6)
            for _, fill in best:
                self.pool.add(fill)
            chosen = best[0][1]
            placed = chosen.counts > 0
            times = int((left[placed] // chosen.counts[placed]).min())
            left -= times * chosen.counts
            sheets += [chosen] * times
        if copies is None:
            self._take(sheets)
        return sheets

    def _generate(self, rounds: int) -> None:
        """Fill sheets for the dual values until nothing new is worth more than a sheet."""
        idle, fills = 0, 128 if rounds == 1 else 512
        until = FIRST if rounds == 1 else 0.9
        while not self._is_done(until) and idle < 2:
            best = self._fill(self.pool.solve().worth, self.counts, fills, 40, 1 + CLOSE)
            added = sum([self.pool.add(fill) for _, fill in best])
            if added < 10:
                fills = min(512, 2 * fills)
            idle = idle + 1 if not added else 0
            if rounds > 1 and added < 3:
                return

    def _sequence_by_worth(self) -> None:
        worth = self.pool.solve().worth
        for turn in range(2):
            if self._is_done(0.9):
                return
            noise = 1 + 0.08 * turn * self.random.standard_normal(len(worth))
            self._sequence((worth + 0.01 * self.area) * np.clip(noise, 0.3, 3), self.batch)

    def _dive(self) -> None:
        """Take the sheet the program uses most, work out the rest anew, and so on to the end."""
        left = self.counts.copy()
        sheets: list[Laid] = []
        tried = False
        while left.any():
            fractions = self._generate_for(left)
            spare = self.fewest - len(sheets)
            if ceil(fractions.sheets - CLOSE) >= spare or self._is_done(0.95):
                return
            if fractions.sheets <= END < len(self.counts) and not tried:
                tried = True
                end = self._pick(spare, 0.02, left)
                if end:
                    self._take([*sheets, *end])
                    return
            whole = np.flatnonzero(fractions.times > 1 - CLOSE)
            if not len(whole):
                noise = 1 + 0.3 * self.random.random(len(fractions.times))
                whole = np.array([(fractions.times * noise).argmax()])
            for index in whole:
                fill = self.pool.fills[index]
                for _ in range(max(1, int(fractions.times[index] + CLOSE))):
                    if (np.minimum(fill.counts, left) > 0).any():
                        sheets.append(fill)
                        left = np.maximum(left - fill.counts, 0)
        self._take(sheets)

    def _pick(self, fewer_than: int, part: float, copies: Counts) -> list[Laid] | None:
        """Let a program in whole numbers pick from the pool, for a part of what is left."""
        nodes = max(1, int(part * self.budget.nodes))
        self.budget.spend(len(self.pool.fills) * nodes)
        return self.pool.pick(fewer_than, nodes, part * self.budget.seconds_left(), copies)

    def _generate_for(self, left: Counts) -> Fractions:
        """Return the program's answer for what is left, with some new fills made for that."""
        fractions = self.pool.solve(left)
        for _ in range(2):
            if self._is_done(0.95):
                break
            best = self._fill(fractions.worth, left, self.batch, 20, 1 + CLOSE)
            if not sum([self.pool.add(fill) for _, fill in best]):
                break
            fractions = self.pool.solve(left)
        return fractions

    def _fullness(self, sheets: Sequence[Laid]) -> float:
        return float(sum((fill.counts @ self.area) ** 2 for fill in sheets))

    def _ruin(self, fills: int, until: float) -> None:
        """Fill two or three sheets anew, mostly badly filled ones; keep what is not much worse."""
        now = list(self.found[0])
        full, heat = self._fullness(now), 0.02
        while not self._is_done(until) and len(now) > 1:
            draw = self.random.random
            often = 1.07 - np.minimum(1, np.array([fill.counts @ self.area for fill in now]))
            many = 2 if len(now) == 2 or draw() < 0.5 else min(len(now), 3 + int(draw() < 0.3))
            ruined = self.random.choice(len(now), many, replace=False, p=often / often.sum())
            copies = self._held([now[index] for index in ruined], now)
            noise = 1 + 0.5 * draw() * (2 * draw(len(self.area)) - 1)
            values = self.area ** (0.9 + 0.5 * draw()) * noise
            again = self._sequence(values, fills, copies, many)
            if again is None:
                continue
            trial = [fill for index, fill in enumerate(now) if index not in ruined] + again
            gain = self._fullness(trial) - full
            if len(trial) < len(now) or gain >= 0 or draw() < exp(gain / heat):
                now, full = trial, full + gain
                self._take(now)
            heat *= 0.997

    def _held(self, some: Sequence[Laid], every: Sequence[Laid]) -> Counts:
        """Return the copies on some sheets that the others do not hold."""
        rest: Counts = sum((fill.counts for fill in every), np.zeros_like(self.counts))
        held: Counts = sum((fill.counts for fill in some), np.zeros_like(self.counts))
        return np.clip(self.counts - (rest - held), 0, held)

    def _aim_lower(self, fills: int, until: float) -> None:
        """Aim at one sheet fewer until it is reached or the budget is used; then at the next."""
        weights = np.ones_like(self.area)
        while not self._is_done(until):
            if not (self._lose_sheet(until) if self.dense else self._reach(weights, fills, until)):
                return

    def _lose_sheet(self, until: float) -> bool:
        """Patch the fullest sheets until they hold everything."""
        sheets = self._fullest()
        over = self._left(sheets)
        found = lose_sheet(sheets, over, self.area, self.fillers, self.random, self.budget, until)
        if found is not None:
            self._take(found)
        return found is not None

    def _fullest(self) -> list[Laid]:
        """Return all sheets of the best layout but the one that holds least."""
        by_area = sorted(self.found[0], key=lambda fill: -(fill.counts @ self.area))
        return by_area[: self.fewest - 1]

    def _reach(self, weights: Values, fills: int, until: float) -> bool:
        """Refill one or two sheets with what is left over until nothing is left over."""
        aim = self.fewest - 1
        layout: list[Laid | None] = list(self._fullest())
        over = self._left(layout)
        heat = 0.01
        draw = self.random.random
        turn = 0
        while not self._is_done(until):
            turn += 1
            ruined = self.random.choice(aim, 1 if draw() < 0.5 or aim == 1 else 2, replace=False)
            trial = list(layout)
            for index in ruined:
                trial[index] = None
            left = self._left(trial)
            normal = self.random.standard_normal()
            noise = 1 + 0.3 * draw() * (2 * draw(len(self.area)) - 1)
            values = self.area ** (1 + 0.15 * normal) * weights * noise
            for index in ruined:
                best = self._fill(values, left, fills, 6) if left.any() else []
                for _, fill in best[:3]:
                    self.pool.add(fill)
                if best:
                    trial[index] = best[0][1]
                    left = left - best[0][1].counts
            if not left.any():
                self._take([fill for fill in trial if fill is not None])
                return True
            weights[left > 0] *= 1.03
            if turn % 20 == 0:
                weights /= weights.mean()
            gain = (over - left) @ (self.area * weights)
            if gain >= 0 or draw() < exp(gain / heat):
                layout, over = trial, left
            heat = max(heat * 0.999, 0.002)
        return False

    def _left(self, layout: Sequence[Laid | None]) -> Counts:
        """Return the copies that a layout does not hold."""
        left = self.counts.copy()
        for fill in layout:
            if fill is not None:
                left -= fill.counts
        return np.maximum(left, 0)
