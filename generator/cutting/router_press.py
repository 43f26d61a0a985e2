"""Pressing outlines together: a linear program moves all of them at once, off any grid.

Of every two convex pieces that are near each other one has to stay beyond one line; which one is
chosen where they lie, as the line they overlap least or are farthest apart in. With the lines fixed
the shortest strip is a linear program (Z. Li and V. Milenkovic, "Compaction and separation
algorithms for non-convex polygons", European Journal of Operational Research 84 (1995)); then the
lines are chosen anew.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import inf

import highspy
import numpy as np
from numpy.typing import NDArray

from generator.cutting.router_shapes import Floats, Shape, find_sums
from generator.geometry.tolerance import ROUNDING

PASSES = 12
"""Most programs for one layout; three or four are enough for most."""

REACH = 0.15
"""How far an outline may move in one program, in heights of the strip."""

BETTER = 1e-4
"""A program that shortens the strip by a lesser part of it was the last one."""

LEFTWARD = 1e-3
"""What a place farther left counts beside the length, for all outlines together."""


@dataclass(frozen=True, slots=True)
class _Lines:
    """Directions (pieces × sides × 2) and reaches of all places where two outlines overlap."""

    normals: Floats
    reaches: Floats


@dataclass(slots=True)
class Press:
    """What is pressed, and how much work that was: walls, over all programs.

    Attributes:
        shapes: For every kind of outline the ways it may lie.
        kinds: The kind of every outline.
        height: Of the strip.
    """

    shapes: Sequence[tuple[Shape, ...]]
    kinds: Sequence[int]
    height: float
    work: int = 0
    known: dict[tuple[int, int, int, int], _Lines] = field(default_factory=dict)

    def press(self, turns: Sequence[int], places: Floats) -> tuple[Floats, float] | None:
        """Return places without overlap and the length of strip they need, None if none is found.

        Args:
            turns: The way every outline lies.
            places: Least x and y of every outline, which may overlap a little.
        """
        sizes = [self.shapes[kind][turn] for kind, turn in zip(self.kinds, turns, strict=True)]
        ends = np.array([(shape.along_x, shape.along_y) for shape in sizes])
        best: tuple[Floats, float] | None = None
        for _ in range(PASSES):
            walls = self._find_walls(turns, places, ends)
            self.work += len(walls[1]) + len(ends)
            found = _solve(walls, places, ends, self.height)
            if found is None:
                return best
            shorter = best is None or found[1] < best[1] * (1 - BETTER)
            best = found if best is None or found[1] < best[1] else best
            if not shorter:
                return best
            places = found[0]
        return best

    def _find_walls(
        self, turns: Sequence[int], places: Floats, ends: Floats
    ) -> tuple[NDArray[np.int32], Floats, Floats]:
        """Return which outlines (pairs) stay apart in which direction, and by how much."""
        far = 2 * REACH * self.height
        gaps = np.maximum(
            places[None, :] - (places + ends)[:, None], places[:, None] - (places + ends)[None, :]
        ).max(axis=2)
        pairs: list[tuple[int, int]] = []
        normals: list[Floats] = []
        reaches: list[Floats] = []
        for one, other in np.argwhere(np.triu(gaps < far, 1)).tolist():
            lines = self._lines(self.kinds[one], turns[one], self.kinds[other], turns[other])
            beyond = lines.normals @ (places[other] - places[one]) - lines.reaches
            side = beyond.argmax(axis=1)
            every = np.arange(len(side))
            near = np.flatnonzero(beyond[every, side] < far)
            pairs += [(one, other)] * len(near)
            normals.append(lines.normals[near, side[near]])
            reaches.append(lines.reaches[near, side[near]])
        if not pairs:
            return np.zeros((0, 2), np.int32), np.zeros((0, 2)), np.zeros(0)
        return np.array(pairs, np.int32), np.concatenate(normals), np.concatenate(reaches)

    def _lines(self, fixed: int, turn: int, moved: int, moved_turn: int) -> _Lines:
        key = (fixed, turn, moved, moved_turn)
        if key not in self.known:
            sums = find_sums(self.shapes[fixed][turn], self.shapes[moved][moved_turn])
            most = max(len(one.reaches) for one in sums)
            normals = np.zeros((len(sums), most, 2))
            reaches = np.full((len(sums), most), inf)
            for row, one in enumerate(sums):
                normals[row, : len(one.reaches)] = one.normals
                reaches[row, : len(one.reaches)] = one.reaches
            self.known[key] = _Lines(normals, reaches)
        return self.known[key]


def _solve(
    walls: tuple[NDArray[np.int32], Floats, Floats], places: Floats, ends: Floats, height: float
) -> tuple[Floats, float] | None:
    """Return the places with the least length of strip, walls kept, and that length."""
    pairs, normals, reaches = walls
    count, rows = len(places), len(reaches)
    length, far = 2 * count, REACH * height
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = length + 1, rows + count
    low, high = np.maximum(places - far, 0.0), places + far
    high[:, 1] = np.minimum(high[:, 1], height - ends[:, 1])
    low = np.minimum(low, high)
    model.col_cost_ = np.array([*([LEFTWARD / count, 0.0] * count), 1.0])
    model.col_lower_ = np.array([*low.ravel(), 0.0])
    model.col_upper_ = np.array([*high.ravel(), inf])
    model.row_lower_ = np.concatenate([reaches, ends[:, 0]])
    model.row_upper_ = np.full(rows + count, inf)
    one, other = 2 * pairs[:, :1], 2 * pairs[:, 1:]
    columns = np.concatenate([one, one + 1, other, other + 1], axis=1)
    values = np.concatenate([-normals, normals], axis=1)
    own = np.arange(count, dtype=np.int32)
    borders = np.stack([2 * own, np.full(count, length)], axis=1)
    signs = np.tile([-1.0, 1.0], count)
    starts = np.concatenate([4 * np.arange(rows), 4 * rows + 2 * np.arange(count + 1)])
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = starts.astype(np.int32)
    model.a_matrix_.index_ = np.concatenate([columns.ravel(), borders.ravel()]).astype(np.int32)
    model.a_matrix_.value_ = np.concatenate([values.ravel(), signs])
    program = highspy.Highs()
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0)):
        program.setOptionValue(option, value)
    program.setOptionValue("primal_feasibility_tolerance", ROUNDING / 100)
    program.passModel(model)
    program.run()
    if program.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    found = np.array(program.getSolution().col_value)
    at = found[:length].reshape(count, 2)
    return at, float((at[:, 0] + ends[:, 0]).max())
