"""Programs in whole numbers, and how every program is set so that it does the same in every run."""

from collections.abc import Sequence
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]

IMPOSSIBLE = (
    highspy.HighsModelStatus.kInfeasible,
    highspy.HighsModelStatus.kUnboundedOrInfeasible,
)
"""Nothing here is unbounded: no cost is less than nothing."""

CLOSE = 1e-6
"""What the programs may be wrong by."""


@dataclass(frozen=True, slots=True)
class Rows:
    """What every column gives towards each row, and between what the sum of a row must lie."""

    matrix: Values
    least: Values
    most: Values


@dataclass(frozen=True, slots=True, eq=False)
class WholeAnswer:
    """An answer in whole numbers.

    Attributes:
        times: How often each column is taken; None if none was found.
        bound: No answer costs less, rounded up; None if there cannot be an answer.
    """

    times: NDArray[np.int64] | None
    bound: int | None


def new_program() -> highspy.Highs:
    """Return an empty program that is solved the same way every time."""
    program = highspy.Highs()
    program.setOptionValue("output_flag", False)
    program.setOptionValue("threads", 1)
    program.setOptionValue("random_seed", 0)
    return program


def solve_whole(costs: Sequence[int], rows: Rows, most: Values, nodes: int) -> WholeAnswer:
    """Return how often to take each column so that the costs are least.

    Args:
        costs: Of every column, none less than nothing.
        rows: What the columns must give together.
        most: How often each column may be taken.
        nodes: Most nodes of the search tree; the bound holds though it ends there.
    """
    program = new_program()
    program.setOptionValue("mip_max_nodes", nodes)
    program.setOptionValue("mip_rel_gap", 0.0)
    program.setOptionValue("mip_abs_gap", 0.5)
    program.passModel(_model(costs, rows, most))
    program.run()
    if program.getModelStatus() in IMPOSSIBLE:
        return WholeAnswer(times=None, bound=None)
    reached = float(program.getInfo().mip_dual_bound)
    bound = int(np.ceil(reached - CLOSE * max(1.0, reached))) if np.isfinite(reached) else 0
    values = np.array(program.getSolution().col_value)
    times = np.round(values).astype(np.int64)
    if len(times) != len(costs) or not _is_answer(times, rows, most):
        return WholeAnswer(times=None, bound=max(0, bound))
    return WholeAnswer(times=times, bound=max(0, bound))


def _is_answer(times: NDArray[np.int64], rows: Rows, most: Values) -> bool:
    given = rows.matrix @ times
    is_within = (times >= 0).all() and (times <= most).all()
    return bool(
        is_within and (given >= rows.least - CLOSE).all() and (given <= rows.most + CLOSE).all()
    )


def _model(costs: Sequence[int], rows: Rows, most: Values) -> highspy.HighsLp:
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(costs), len(rows.least)
    model.col_cost_ = np.array(costs, np.float64)
    model.col_lower_ = np.zeros(len(costs))
    model.col_upper_ = most
    model.row_lower_, model.row_upper_ = rows.least, rows.most
    filled = [np.flatnonzero(column) for column in rows.matrix.T]
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = np.cumsum([0, *map(len, filled)]).astype(np.int32)
    model.a_matrix_.index_ = np.concatenate(filled).astype(np.int32)
    pairs = zip(rows.matrix.T, filled, strict=True)
    model.a_matrix_.value_ = np.concatenate([column[places] for column, places in pairs])
    model.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    return model
