"""Spreads labels along a line so that none stands on another, nor on a line that passes."""

import functools
import math
from collections.abc import Sequence

Slot = tuple[float, float]
"""A stretch in which the middles of labels may stand."""


def spread_places(wanted: Sequence[tuple[float, float]], pitch_mm: float) -> list[float]:
    """Return places near the wanted ones (place, weight), at least a pitch apart.

    Neighbours that are too near are pooled and share their weighted mean (pool adjacent
    violators, on places from which the pitch has been taken off); heavy ones hardly move.
    """
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    pools: list[tuple[float, float, int]] = []
    for rank, i in enumerate(order):
        pools.append((wanted[i][0] - rank * pitch_mm, wanted[i][1], 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (mean, weight, count), (last, last_weight, last_count) = pools[-2:]
            total = weight + last_weight
            mean = (mean * weight + last * last_weight) / total
            pools[-2:] = [(mean, total, count + last_count)]
    places = [mean for mean, _, count in pools for _ in range(count)]
    result = [0.0] * len(wanted)
    for rank, i in enumerate(order):
        result[i] = places[rank] + rank * pitch_mm
    return result


def spread_between(
    wanted: Sequence[float], lines: Sequence[float], pitch_mm: float, clear_mm: float
) -> list[float]:
    """Return places for labels in their order, a pitch apart and clear of lines that pass.

    Args:
        wanted: In rising order.
        lines: Places that labels keep clear of.
        pitch_mm: Least distance of the middles of two labels.
        clear_mm: Least distance of a label's middle from a line.
    """
    slots = _slots(lines, clear_mm)
    counts = _share_out(tuple(wanted), tuple(slots), pitch_mm)
    places: list[float] = []
    for slot, count in zip(slots, counts, strict=True):
        some = wanted[len(places) : len(places) + count]
        inside = [(min(max(place, slot[0]), slot[1]), 1.0) for place in some]
        places += _pushed_in(spread_places(inside, pitch_mm), slot, pitch_mm)
    return places


def _slots(lines: Sequence[float], clear_mm: float) -> list[Slot]:
    """Return the stretches between lines, the endless ones at both ends included."""
    slots: list[Slot] = []
    start = -math.inf
    for line in sorted(lines):
        if line - clear_mm > start:
            slots.append((start, line - clear_mm))
        start = line + clear_mm
    return [*slots, (start, math.inf)]


def _share_out(wanted: tuple[float, ...], slots: tuple[Slot, ...], pitch_mm: float) -> list[int]:
    """Return how many labels each slot takes, in order, so that they move least."""

    @functools.cache
    def least(first: int, slot: int) -> tuple[float, tuple[int, ...]]:
        if slot == len(slots):
            return (0.0 if first == len(wanted) else math.inf, ())
        low, high = slots[slot]
        size = high - low
        room = len(wanted) if math.isinf(size) else int(size / pitch_mm + 1e-6) + 1
        best: tuple[float, tuple[int, ...]] = (math.inf, ())
        moved = 0.0
        for count in range(min(room, len(wanted) - first) + 1):
            if count:
                place = wanted[first + count - 1]
                moved += max(low - place, place - high, 0.0)
            rest, counts = least(first + count, slot + 1)
            if moved + rest < best[0]:
                best = (moved + rest, (count, *counts))
        return best

    return list(least(0, 0)[1])


def _pushed_in(places: list[float], slot: Slot, pitch_mm: float) -> list[float]:
    """Return places, apart by a pitch already, inside a slot that has room for them."""
    low, high = slot
    last = len(places) - 1
    return [
        min(max(place, low + i * pitch_mm), high - (last - i) * pitch_mm)
        for i, place in enumerate(places)
    ]
