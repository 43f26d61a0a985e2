"""What the sheets of a stock cost at the very least, where sizes differ in price or are limited.

A function of lengths and one of widths give every blank an amount, and every size of sheet a most
that it can hold of that: as much as fits side by side in its length times as much as fits in its
width. The reason is that of `bounds` (S. P. Fekete and J. Schepers, 2001), with any function of
lengths: what a length can hold of it at most is worked out for each size by itself. Numbers of
sheets that hold less than all blanks of any such amount are not enough, and the cheapest that hold
enough of every one cost what no layout can do with less than.
"""

from collections.abc import Iterable, Sequence
from math import gcd, inf

import numpy as np

from generator.cutting.bounds import find_functions
from generator.cutting.programs import Rows, Values, solve_whole
from generator.cutting.trees import Pose, Size

MOST_FUNCTIONS = 100
"""Functions in one direction."""

MOST_STEPS = 5_000
"""Steps in the longest sheet that lengths are counted in, rounded down where they are finer."""

PADDING = 1e-9
"""What sums of fractions may be wrong by."""

FIRST_ROWS = 8
MOST_ROUNDS = 40
NODES = 2_000


def find_shares(
    poses: Sequence[tuple[Pose, ...]], counts: Sequence[int], sizes: Sequence[Size]
) -> Values:
    """Return for every amount (rows) which part of the whole a sheet of each size can hold at most.

    Args:
        poses: For every blank the ways it may lie, kerf included.
        counts: Copies of every blank, at least one in all.
        sizes: Trimmed, kerf included.
    """
    used = [(ways, count) for ways, count in zip(poses, counts, strict=True) if count]
    ways = [way for way, _ in used]
    many = np.array([count for _, count in used], np.float64)
    across, room_x = _functions_of(
        [(way[0].along_x, way[-1].along_x) for way in ways], many, [s.along_x for s in sizes]
    )
    upward, room_y = _functions_of(
        [(way[0].along_y, way[-1].along_y) for way in ways], many, [s.along_y for s in sizes]
    )
    first = across[:, None, :, 0] * upward[None, :, :, 0]
    second = across[:, None, :, 1] * upward[None, :, :, 1]
    needs = (np.minimum(first, second) @ many).reshape(-1)
    rooms = (room_x[:, None, :] * room_y[None, :, :]).reshape(len(needs), -1)
    rooms, needs = rooms[needs > 0], needs[needs > 0]
    return np.unique(np.round(rooms / needs[:, None], 12), axis=0) + PADDING


def find_cost_bound(shares: Values, sizes: Sequence[Size], copies: int) -> int | None:
    """Return a cost that no layout can do with less than; None where no layout can be at all.

    Args:
        shares: As `find_shares` returns them.
        sizes: The same, with what they cost and how many there are.
        copies: How many blanks there are: more sheets are never needed.
    """
    costs = [size.cost for size in sizes]
    most = np.array([copies if s.most is None else min(copies, s.most) for s in sizes], np.float64)
    chosen = np.argsort(shares.max(axis=1), kind="stable")[:FIRST_ROWS].tolist()
    bound = 0
    for _ in range(MOST_ROUNDS):
        some = shares[chosen]
        rows = Rows(some, np.ones(len(chosen)), np.full(len(chosen), inf))
        answer = solve_whole(costs, rows, most, NODES)
        if answer.bound is None:
            return None
        bound = max(bound, answer.bound)
        if answer.times is None:
            break
        held = shares @ answer.times
        worst = int(held.argmin())
        if held[worst] >= 1 or worst in chosen:
            break
        chosen.append(worst)
    return bound


def _functions_of(
    pairs: Sequence[tuple[int, int]], many: Values, rooms: Sequence[int]
) -> tuple[Values, Values]:
    """Return what functions make of both lengths of every blank, and of what fits into each room.

    Args:
        pairs: The length of every blank as it lies one way and the other.
        many: Copies of every blank.
        rooms: Lengths of the sheets.
    """
    lengths = sorted({length for pair in pairs for length in pair})
    place = {length: index for index, length in enumerate(lengths)}
    copies = np.zeros(len(lengths), np.int64)
    for pair, count in zip(pairs, many, strict=True):
        for length in set(pair):
            copies[place[length]] += int(count)
    values = np.array(list(_values_of(lengths, rooms)), np.float64)
    values = values[values.max(axis=1) > 0]
    values /= values.max(axis=1)[:, None]
    _, first = np.unique(np.round(values, 12), axis=0, return_index=True)
    values = values[np.sort(first)[:MOST_FUNCTIONS]]
    held = _hold_most(values, lengths, copies.tolist(), rooms)
    places = np.array([[place[one], place[other]] for one, other in pairs])
    return values[:, places], held


def _values_of(lengths: Sequence[int], rooms: Sequence[int]) -> Iterable[list[int]]:
    """Yield what each function makes of the lengths: plain ones first."""
    yield list(lengths)
    yield [1] * len(lengths)
    for room in sorted(set(rooms)):
        yield [int(length > room) for length in lengths]
    for room in sorted(set(rooms), reverse=True):
        for function, _ in find_functions(room, lengths):
            yield [max(0, function(length)) for length in lengths]


def _hold_most(
    values: Values, lengths: Sequence[int], copies: Sequence[int], rooms: Sequence[int]
) -> Values:
    """Return how much of every amount (rows) fits side by side into each room."""
    step = max(gcd(*lengths), -(-max(rooms) // MOST_STEPS))
    steps = max(rooms) // step
    best = np.zeros((len(values), steps + 1))
    for index, length in enumerate(lengths):
        size = length // step
        if size > steps:
            continue
        left = copies[index] if size == 0 else min(copies[index], steps // size)
        bundle = 1
        while left > 0:
            bundle = min(bundle, left)
            long = bundle * size
            trial = best[:, : steps + 1 - long] + bundle * values[:, index, None]
            np.maximum(best[:, long:], trial, out=best[:, long:])
            left -= bundle
            bundle *= 2
    return best[:, [room // step for room in rooms]]
