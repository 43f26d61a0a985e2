"""The pool of filled sheets or boards that differ in price or of which there are only so many.

The linear program buys as cheaply as can be, in fractions, and tells what a copy of each blank is
worth, and what a size is worth beyond its price because there are too few of it (its rent). More
than there are may be had as well, at a price nobody would pay: so there always is an answer.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from generator.cutting.programs import Rows, Values, new_program, solve_whole

Counts = NDArray[np.int64]

SAFE_DUAL = 1e-5
"""What a reduced cost may be wrong by before a way is left out for it."""

MOST_PICKED = 150
"""Ways that one program in whole numbers picks from: those that cost least for what they hold."""


@dataclass(frozen=True, slots=True)
class Goods:
    """What can be had: for every size what one costs and how many there are; None for no end.

    Attributes:
        beyond: What one costs of which there are no more: more than any choice that can be had.
    """

    costs: tuple[int, ...]
    limits: tuple[int | None, ...]
    beyond: int


@dataclass(frozen=True, slots=True, eq=False)
class Offer:
    """An answer of the linear program.

    Attributes:
        cost: The least, in fractions.
        worth: Of a copy of each blank.
        rents: Of each size.
        times: How much of each way of the pool is used.
    """

    cost: float
    worth: Values
    rents: Values
    times: Values


class BuyingPool:
    """Ways to fill one sheet or board, each once, as columns of a linear program.

    Attributes:
        ways: Copies of every blank.
        sizes: The place of its size.
    """

    def __init__(self, counts: Counts, goods: Goods) -> None:
        self.goods = goods
        self.counts = counts
        self.ways: list[Counts] = []
        self.sizes: list[int] = []
        self._known: set[tuple[int, bytes]] = set()
        self._program = new_program()
        for count in counts.tolist():
            self._program.addRow(float(count), inf, 0, [], [])
        self._rows: dict[int, int] = {}
        for size, limit in enumerate(goods.limits):
            if limit is not None:
                self._rows[size] = len(counts) + len(self._rows)
                self._program.addRow(-inf, float(limit), 0, [], [])
        for row in self._rows.values():
            self._program.addCol(
                float(goods.beyond), 0.0, inf, 1, np.array([row], np.int32), np.array([-1.0])
            )

    def add(self, way: Counts, size: int) -> bool:
        """Take up a way to fill a size; say whether it is new."""
        key = (size, way.tobytes())
        if key in self._known:
            return False
        self._known.add(key)
        blanks = np.flatnonzero(way).tolist()
        given = way[blanks].astype(float).tolist()
        if size in self._rows:
            blanks.append(self._rows[size])
            given.append(1.0)
        self._program.addCol(
            float(self.goods.costs[size]),
            0.0,
            inf,
            len(blanks),
            np.array(blanks, np.int32),
            np.array(given),
        )
        self.ways.append(way)
        self.sizes.append(size)
        return True

    def solve(self, left: Counts | None = None, used: Sequence[int] = ()) -> Offer:
        """Return the cheapest choice in fractions.

        Args:
            left: What must be had; everything by default. The pool must hold all of it.
            used: How many of each size are taken already; none by default.
        """
        for row, count in enumerate((self.counts if left is None else left).tolist()):
            self._program.changeRowBounds(row, float(count), inf)
        for size, row in self._rows.items():
            limit = self.goods.limits[size] or 0
            gone = used[size] if used else 0
            self._program.changeRowBounds(row, -inf, float(max(0, limit - gone)))
        self._program.run()
        solution = self._program.getSolution()
        duals = np.array(solution.row_dual)
        rents = np.zeros(len(self.goods.costs))
        for size, row in self._rows.items():
            rents[size] = max(0.0, -duals[row])
        return Offer(
            cost=float(self._program.getInfo().objective_function_value),
            worth=np.maximum(0.0, duals[: len(self.counts)]),
            rents=rents,
            times=np.array(solution.col_value)[len(self._rows) :],
        )

    def pick(self, below: int, nodes: int) -> list[int] | None:
        """Return ways that hold everything and cost less than some that are known, if there are.

        Args:
            below: What those cost; beyond the limits or not.
            nodes: Most nodes of the search tree.
        """
        times, _ = self._solve_whole(below, nodes)
        return times

    def bound_whole(self, nodes: int) -> int:
        """Return what no choice of these ways costs less than."""
        return self._solve_whole(None, nodes)[1]

    def _solve_whole(self, below: int | None, nodes: int) -> tuple[list[int] | None, int]:
        offer = self.solve()
        chosen = self._worth_a_look(offer, below)
        if below is not None and (offer.cost > below - 1 + SAFE_DUAL or not len(chosen)):
            return None, 0
        limited = list(self._rows)
        matrix = np.zeros((len(self.counts) + len(limited), len(limited) + len(chosen)))
        for column, index in enumerate(chosen.tolist(), start=len(limited)):
            matrix[: len(self.counts), column] = self.ways[index]
            if self.sizes[index] in self._rows:
                matrix[self._rows[self.sizes[index]], column] = 1
        for place in range(len(limited)):
            matrix[len(self.counts) + place, place] = -1
        rows = Rows(
            matrix,
            np.concatenate([self.counts.astype(float), np.full(len(limited), -inf)]),
            np.concatenate(
                [
                    np.full(len(self.counts), inf),
                    [float(self.goods.limits[size] or 0) for size in limited],
                ]
            ),
        )
        costs = [self.goods.beyond] * len(limited)
        costs += [self.goods.costs[self.sizes[index]] for index in chosen]
        most = np.full(len(costs), float(self.counts.sum()))
        answer = solve_whole(costs, rows, most, nodes)
        bound = 0 if answer.bound is None else answer.bound
        if answer.times is None:
            return None, bound
        if below is not None and int(answer.times @ np.array(costs)) >= below:
            return None, bound
        many = answer.times[len(limited) :]
        return [i for i, n in zip(chosen.tolist(), many, strict=True) for _ in range(n)], bound

    def _worth_a_look(self, offer: Offer, below: int | None) -> NDArray[np.intp]:
        """Return the ways that may be part of a choice that costs less."""
        if below is None:
            return np.arange(len(self.ways))
        costs = np.array(self.goods.costs, np.float64) + offer.rents
        places = np.array(self.sizes)
        reduced = costs[places] - np.array(self.ways, np.float64) @ offer.worth
        kept = np.flatnonzero(reduced <= below - 1 - offer.cost + SAFE_DUAL * max(1.0, offer.cost))
        best: NDArray[np.intp] = kept[np.argsort(reduced[kept], kind="stable")[:MOST_PICKED]]
        return np.sort(best)
