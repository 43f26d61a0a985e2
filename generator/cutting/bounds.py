"""How many sheets a stock needs at the very least.

Source of the method: dual feasible functions, S. P. Fekete and J. Schepers, "New classes of fast
lower bounds for bin packing problems", Mathematical Programming 91 (2001) 11-31; the families used
are their u(k) and U(epsilon), and f2 of J. Carlier, F. Clautiaux and A. Moukrim, "New reduction
procedures and lower bounds for the two-dimensional bin packing problem with fixed orientation",
Computers and Operations Research 34 (2007) 2223-2250, all written from memory and held to their law
by a test. A dual feasible function gives every length a new one such that lengths that fit side by
side still do; so the sum of the new areas, divided by the new area of a sheet, is a bound as good
as the sum of the true ones.
"""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from generator.cutting.trees import Pose

MOST_ROUNDINGS = 6
MOST_LIMITS = 40
MOST_EQUAL = 30
"""Parts of a sheet, all equal, of which one is a unit that lengths are counted in."""

Function = tuple[Callable[[int], int], int]
"""A dual feasible function in whole numbers, and what it makes of the sheet's own length."""


def find_bound(
    poses: Sequence[tuple[Pose, ...]], counts: Sequence[int], along_x: int, along_y: int
) -> int:
    """Return a number of sheets that no layout can do with less than.

    Args:
        poses: For every blank the ways it may lie, kerf included.
        counts: Copies of every blank.
        along_x: Greatest length of a trimmed sheet over all its sizes, kerf included.
        along_y: Greatest width, the same.
    """
    if not any(counts):
        return 0
    across = find_functions(along_x, [pose.along_x for ways in poses for pose in ways])
    upward = find_functions(along_y, [pose.along_y for ways in poses for pose in ways])
    lengths = [_table(across, [ways[turn].along_x for ways in poses]) for turn in (0, -1)]
    widths = [_table(upward, [ways[turn].along_y for ways in poses]) for turn in (0, -1)]
    many = np.array(counts, np.float64)
    needs = np.array(
        [
            np.minimum(one * widths[0], other * widths[1]) @ many / whole
            for one, other, (_, whole) in zip(*lengths, across, strict=True)
        ]
    )
    needs /= [whole for _, whole in upward]
    best_x, best_y = np.unravel_index(needs.argmax(), needs.shape)
    return _count_exactly(poses, counts, across[best_x], upward[best_y])


def _table(functions: Sequence[Function], lengths: Sequence[int]) -> NDArray[np.float64]:
    """Return what each function (rows) makes of each length, rounded as such numbers are."""
    return np.array([[function(length) for length in lengths] for function, _ in functions], float)


def _count_exactly(
    poses: Sequence[tuple[Pose, ...]], counts: Sequence[int], across: Function, upward: Function
) -> int:
    """Return the bound that two functions give, in whole numbers."""
    (f, f_sheet), (g, g_sheet) = across, upward
    area = sum(
        count * min(f(pose.along_x) * g(pose.along_y) for pose in ways)
        for ways, count in zip(poses, counts, strict=True)
    )
    return max(1, -(-area // (f_sheet * g_sheet)))


def find_functions(sheet: int, lengths: Sequence[int]) -> list[Function]:
    """Return dual feasible functions for a sheet, made for the lengths that occur."""
    limits = sorted({min(length, sheet - length) for length in lengths})
    limits = [limit for limit in limits if 0 < limit * 2 <= sheet][:MOST_LIMITS]
    plain: Function = (lambda length: length, sheet)
    rounded = [_rounding(sheet, k) for k in range(1, MOST_ROUNDINGS + 1)]
    raised = [_raising(sheet, limit) for limit in limits]
    units = {sheet // parts + more for parts in range(2, MOST_EQUAL) for more in (0, 1)}
    units = {unit for unit in units | set(limits) if 0 < 2 * unit <= sheet}
    return [plain, *rounded, *raised, *(_counting(sheet, unit) for unit in sorted(units))]


def _rounding(sheet: int, k: int) -> Function:
    """u(k), times k: whole (k+1)ths stay as they are, all others lose their fraction."""

    def function(length: int) -> int:
        parts, rest = divmod((k + 1) * length, sheet)
        return parts * sheet if rest else k * length

    return function, k * sheet


def _raising(sheet: int, limit: int) -> Function:
    """U(epsilon): what leaves less than the limit counts as the whole, less than it as nothing."""

    def function(length: int) -> int:
        if length > sheet - limit:
            return sheet
        return length if length >= limit else 0

    return function, sheet


def _counting(sheet: int, unit: int) -> Function:
    """f2: how often a unit goes into a length, twice; of what is over half, into what is left."""
    most = sheet // unit

    def function(length: int) -> int:
        if 2 * length > sheet:
            return 2 * (most - (sheet - length) // unit)
        return most if 2 * length == sheet else 2 * (length // unit)

    return function, 2 * most
