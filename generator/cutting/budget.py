"""How much a search may do: counted in work, not in time, so that every run does the same."""

from dataclasses import dataclass
from math import inf
from typing import Protocol

from generator.model.cutting import Effort

NODES = 1000
"""Most nodes of one search for whole numbers, where nodes are counted."""

CORRECTIONS: dict[Effort, int] = {"quick": 2, "normal": 6, "best": 6}
"""Most rounds of each simple rule in which blanks from badly used sheets get more weight."""

WORK: dict[Effort, int] = {"quick": 15_000_000, "normal": 90_000_000, "best": 1_500_000_000}
"""Work for one stock; 100 million take about a second where a sheet holds a dozen blanks."""


BOARD_WORK: dict[Effort, int] = {
    "quick": 100_000_000,
    "normal": 400_000_000,
    "best": 4_000_000_000,
}
"""Work of the linear program over the boards of one stock: 400 million take about a second."""


class Budget(Protocol):
    """What a search asks before it goes on.

    Attributes:
        nodes: Most nodes of one search for whole numbers.
        corrections: Most rounds of each simple rule.
    """

    nodes: int
    corrections: int

    def spend(self, work: int) -> None:
        """Note work that was done."""

    def used(self) -> float:
        """Return how much is used; 1 is all."""

    def seconds_left(self) -> float:
        """Return for how long a step may go on that does not count its work."""


@dataclass(slots=True)
class CountedBudget:
    """So much work and no more; attributes as in `Budget`."""

    total: int
    nodes: int = NODES
    corrections: int = 6
    done: int = 0

    def spend(self, work: int) -> None:
        """Note work that was done."""
        self.done += work

    def used(self) -> float:
        """Return how much is used."""
        return self.done / self.total

    def seconds_left(self) -> float:
        """Return infinity: nodes are counted instead."""
        return inf


def start_budget(effort: Effort) -> CountedBudget:
    """Return a fresh budget for one stock."""
    return CountedBudget(total=WORK[effort], corrections=CORRECTIONS[effort])
