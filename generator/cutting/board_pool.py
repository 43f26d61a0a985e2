"""The pool of ways to fill boards, and the linear program that chooses among them."""

from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

from generator.cutting.ways import Counts

Values = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Shares:
    """The best choice among the ways of a pool where boards need not be whole.

    Attributes:
        cost: What it costs.
        times: How often each way is used.
        worth: What one copy more of each piece would cost.
    """

    cost: float
    times: Values
    worth: Values


class BoardPool:
    """All ways met so far, each once, as columns of a linear program.

    Attributes:
        ways: How many of each piece come from a board filled this way.
        lengths: The place of its length among those that are sold.
        costs: Of one board.
    """

    def __init__(self, counts: Counts) -> None:
        self.ways: list[Counts] = []
        self.lengths: list[int] = []
        self.costs: list[int] = []
        self._known: set[tuple[int, bytes]] = set()
        self._banned: frozenset[int] = frozenset()
        self._program = _new_program()
        for count in counts.tolist():
            self._program.addRow(float(count), highspy.kHighsInf, 0, [], [])

    def add(self, way: Counts, length: int, cost: int) -> bool:
        """Take up a way; say whether it is new."""
        key = (length, way.tobytes())
        if key in self._known:
            return False
        self._known.add(key)
        used = np.flatnonzero(way).astype(np.int32)
        self._program.addCol(
            float(cost), 0.0, highspy.kHighsInf, len(used), used, way[used].astype(np.float64)
        )
        self.ways.append(way)
        self.lengths.append(length)
        self.costs.append(cost)
        return True

    def ask(self, left: Counts, banned: frozenset[int]) -> None:
        """Ask for other numbers of pieces, and for none of the ways that are banned."""
        for index, count in enumerate(left.tolist()):
            self._program.changeRowBounds(index, float(count), highspy.kHighsInf)
        for way in sorted(self._banned ^ banned):
            most = 0.0 if way in banned else highspy.kHighsInf
            self._program.changeColBounds(way, 0.0, most)
        self._banned = banned

    def solve(self) -> Shares:
        """Return the best choice where boards need not be whole."""
        self._program.run()
        solution = self._program.getSolution()
        return Shares(
            cost=self._program.getInfo().objective_function_value,
            times=np.array(solution.col_value),
            worth=np.array(solution.row_dual),
        )


def _new_program() -> highspy.Highs:
    """Return an empty program that does the same in every run."""
    program = highspy.Highs()
    program.setOptionValue("output_flag", False)
    program.setOptionValue("threads", 1)
    program.setOptionValue("random_seed", 0)
    return program
