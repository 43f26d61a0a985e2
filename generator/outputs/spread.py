"""Spreads labels along a line so that none stands on another."""

from collections.abc import Sequence


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
