"""The pool of filled sheets met so far, and the programs over it: which of them, how often.

The linear program of set covering tells what a copy of each blank is worth (its dual values); the
whole-number one picks sheets. P. C. Gilmore and R. E. Gomory, "A linear programming approach to the
cutting stock problem", Operations Research 9 (1961) 849-859, is the source of the method.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

import highspy
import numpy as np
from numpy.typing import NDArray

from generator.cutting.patching import Laid
from generator.cutting.pieces import Counts

CLOSE = 1e-6
"""What the programs may be wrong by."""

SAFE_DUAL = 1e-5
"""What a reduced cost may be wrong by before a sheet is left out for it."""

DUAL, PRIMAL = 1, 4
"""How the program is solved anew: after new copies to hold, and after new sheets."""


@dataclass(frozen=True, slots=True, eq=False)
class Fractions:
    """An answer of the linear program.

    Attributes:
        sheets: The least number, in fractions.
        worth: What a copy of each blank is worth.
        times: How much of each sheet of the pool is used.
    """

    sheets: float
    worth: NDArray[np.float64]
    times: NDArray[np.float64]


class Pool:
    """Filled sheets, all different in their blanks, with the linear program over them."""

    def __init__(self, counts: Counts) -> None:
        self.fills: list[Laid] = []
        self.counts = counts
        self._known: set[bytes] = set()
        self._program = _new_program()
        self._wanted = counts.copy()
        for count in counts:
            self._program.addRow(float(count), inf, 0, [], [])

    def add(self, fill: Laid) -> bool:
        """Put a sheet in; False if one with the same blanks was there."""
        if fill.key in self._known:
            return False
        self._known.add(fill.key)
        self.fills.append(fill)
        blanks = np.flatnonzero(fill.counts)
        self._program.addCol(
            1.0, 0.0, inf, len(blanks), blanks.astype(np.int32), fill.counts[blanks].astype(float)
        )
        return True

    def solve(self, copies: Counts | None = None) -> Fractions:
        """Return the least number of sheets in fractions.

        Args:
            copies: What the sheets must hold; everything by default. The pool must hold all of it.
        """
        wanted = self.counts if copies is None else copies
        changed = np.flatnonzero(wanted != self._wanted).tolist()
        self._program.setOptionValue("simplex_strategy", DUAL if changed else PRIMAL)
        for row in changed:
            self._program.changeRowBounds(row, float(wanted[row]), inf)
        self._wanted = wanted.copy()
        self._program.run()
        solution = self._program.getSolution()
        return Fractions(
            sheets=float(self._program.getInfo().objective_function_value),
            worth=np.array(solution.row_dual),
            times=np.array(solution.col_value),
        )

    def pick(
        self, fewer_than: int, nodes: int, seconds: float, copies: Counts | None = None
    ) -> list[Laid] | None:
        """Return fewer sheets than so many that hold all copies, or None if none were found.

        Args:
            fewer_than: A number of sheets that is known to be enough.
            nodes: Most nodes of the search tree.
            seconds: Stops the search early; infinite where every machine is to find the same.
            copies: What the sheets must hold; everything by default.
        """
        wanted = self.counts if copies is None else copies
        fractions = self.solve(wanted)
        least = fractions.sheets
        if least > fewer_than - 1 + CLOSE:
            return None
        matrix = np.array([fill.counts for fill in self.fills], np.float64)
        reduced = 1 - matrix @ fractions.worth
        kept = np.flatnonzero(reduced <= fewer_than - 1 - least + SAFE_DUAL)
        chosen = [self.fills[index] for index in kept]
        program = _new_program()
        program.setOptionValue("mip_max_nodes", nodes)
        program.setOptionValue("objective_target", fewer_than - 1 + 0.5)
        if seconds < inf:
            program.setOptionValue("time_limit", seconds)
        program.passModel(_covering(chosen, wanted))
        program.run()
        values = np.array(program.getSolution().col_value)
        if len(values) != len(chosen):
            return None
        times = np.round(values).astype(int)
        picked = [fill for fill, many in zip(chosen, times, strict=True) for _ in range(many)]
        enough = picked and (sum(fill.counts for fill in picked) >= wanted).all()
        return picked if enough and len(picked) < fewer_than else None


def _new_program() -> highspy.Highs:
    """Return an empty program that is solved the same way every time."""
    program = highspy.Highs()
    program.setOptionValue("output_flag", False)
    program.setOptionValue("threads", 1)
    program.setOptionValue("random_seed", 0)
    return program


def _covering(fills: Sequence[Laid], counts: Counts) -> highspy.HighsLp:
    """Return the program: as few sheets as can be, at least all copies, whole numbers."""
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(fills), len(counts)
    model.col_cost_ = np.ones(len(fills))
    model.col_lower_ = np.zeros(len(fills))
    model.col_upper_ = np.full(len(fills), float(counts.max()))
    model.row_lower_ = counts.astype(np.float64)
    model.row_upper_ = np.full(len(counts), inf)
    rows = [np.flatnonzero(fill.counts) for fill in fills]
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = np.cumsum([0, *map(len, rows)]).astype(np.int32)
    model.a_matrix_.index_ = np.concatenate(rows).astype(np.int32)
    model.a_matrix_.value_ = np.concatenate(
        [fill.counts[row] for fill, row in zip(fills, rows, strict=True)]
    ).astype(np.float64)
    model.integrality_ = [highspy.HighsVarType.kInteger] * len(fills)
    return model
