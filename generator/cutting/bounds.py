"""How many sheets a stock needs at the very least.

Source of the method: dual feasible functions, S. P. Fekete and J. Schepers, "New classes of fast
lower bounds for bin packing problems", Mathematical Programming 91 (2001) 11-31; the two families
used are their u(k) and U(epsilon), written from memory. A dual feasible function gives every
length a new one such that lengths that fit side by side still do; so the sum of the new areas,
divided by the new area of a sheet, is a bound as good as the sum of the true ones.
"""

from collections.abc import Callable, Sequence
from operator import mul

from generator.cutting.trees import Pose

MOST_ROUNDINGS = 6
MOST_LIMITS = 40

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
    lengths = [(_map(f, [[p.along_x for p in ways] for ways in poses]), top) for f, top in across]
    widths = [(_map(g, [[p.along_y for p in ways] for ways in poses]), top) for g, top in upward]
    best = 1
    for long, f_sheet in lengths:
        for wide, g_sheet in widths:
            areas = (min(map(mul, x, y)) for x, y in zip(long, wide, strict=True))
            best = max(best, -(-sum(map(mul, counts, areas)) // (f_sheet * g_sheet)))
    return best


def _map(function: Callable[[int], int], rows: list[list[int]]) -> list[list[int]]:
    return [[function(length) for length in row] for row in rows]


def find_functions(sheet: int, lengths: Sequence[int]) -> list[Function]:
    """Return dual feasible functions for a sheet, made for the lengths that occur."""
    limits = sorted({min(length, sheet - length) for length in lengths})
    limits = [limit for limit in limits if 0 < limit * 2 <= sheet][:MOST_LIMITS]
    plain: Function = (lambda length: length, sheet)
    rounded = [_rounding(sheet, k) for k in range(1, MOST_ROUNDINGS + 1)]
    raised = [_raising(sheet, limit) for limit in limits]
    return [plain, *rounded, *raised]


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
