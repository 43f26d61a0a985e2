"""The search for a short strip: outlines may overlap for a while, and every overlap grows dearer.

A strip that holds all outlines is made a little shorter. What then overlaps is moved, one outline
at a time, to the place and turn where it overlaps the others least; overlaps that stay are counted
for more and more, until they give way (guided local search, Voudouris and Tsang 1999; for outlines
Egeblad, Nielsen and Odgaard 2007). Places lie on a grid, and at its points overlap is exact.
What comes of it, overlaps or not, is pressed together off the grid.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import inf
from random import Random

import numpy as np
from numpy.typing import NDArray

from generator.cutting.router_press import Press
from generator.cutting.router_shapes import Floats, Shape, find_bounds, find_sums
from generator.geometry.tolerance import ROUNDING

Cells = NDArray[np.float32]

SHRINK = 0.04
"""How much shorter the strip is made at first; half of it after every failure."""

ROUNDS = 200
"""Rounds through all outlines that overlap before a length is given up."""

DEARER = 0.35
"""By how much the deepest overlap of a round is counted for more in the next; others by less."""


COARSE = 0.5
"""Part of the effort that is spent on the grid that is twice as wide."""

REMEMBERED = 8
"""Layouts with overlap from which a search goes on with two outlines in each other's place."""

FROM_FAILED = 0.4
"""How often a search goes on from one of them, and not from the shortest strip."""

PRESS_COST = 10_000
"""What a wall of a program that presses outlines together costs, in cells."""

TRY_COST = 10_000
"""What beginning with another length costs for every outline, in cells: so every search ends."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where an outline lies: its turn, a place in its list of turns, and its least x and y."""

    turn: int
    x: int
    y: int


@dataclass(frozen=True, slots=True, eq=False)
class Strip:
    """A strip without overlap: the way every outline lies, its least x and y, and the length."""

    turns: tuple[int, ...]
    places: Floats
    length: float


@dataclass(frozen=True, slots=True)
class _Depths:
    """How deep one shape reaches into another, for places of its corner on the grid."""

    cells: Cells
    x: int
    y: int


@dataclass(frozen=True, slots=True)
class _Failed:
    """Outlines that overlap in all, and by how much."""

    overlap: float
    spots: list[Spot]


@dataclass(slots=True)
class _Search:
    """What a search knows: the shapes, the grid, where everything lies and the shortest strip."""

    shapes: Sequence[tuple[Shape, ...]]
    kinds: Sequence[int]
    step: float
    height: float
    room: Random
    effort: float
    press: Press
    best: Strip
    pairs: dict[tuple[int, int, int, int], _Depths] = field(default_factory=dict)
    spots: list[Spot] = field(default_factory=list)
    length: int = 0


def find_strip(
    shapes: Sequence[tuple[Shape, ...]],
    kinds: Sequence[int],
    height: float,
    step: float,
    effort: float,
    enough: float = 0.0,
    seed: int = 1,
) -> Strip:
    """Return the shortest strip found.

    The search begins on a grid twice as wide, where a place costs a quarter.

    Args:
        shapes: For every kind of outline the ways it may lie, each no higher than the strip.
        kinds: The kind of every outline.
        height: Of the strip.
        step: Of the grid.
        effort: Cells of the grid that may be looked at.
        enough: A strip of this length is short enough.
        seed: Another one searches in another order.
    """
    press = Press(shapes, kinds, height)
    none = Strip((), np.zeros((0, 2)), inf)
    coarse = _Search(shapes, kinds, 2 * step, height, Random(seed), COARSE * effort, press, none)
    _lay_first(coarse)
    _shorten(coarse, enough)
    left = effort * (1 - COARSE) + min(coarse.effort, 0.0)
    search = _Search(shapes, kinds, step, height, Random(seed), left, press, coarse.best)
    search.spots = _on_grid(search)
    search.length = _reached(search)
    _shorten(search, enough)
    return search.best


def _on_grid(search: _Search) -> list[Spot]:
    """Return the shortest strip with every outline at the next crossing of lines."""
    spots = []
    for one, turn in enumerate(search.best.turns):
        _, across = _room_for(search, _shape(search, one, turn))
        x, y = np.rint(search.best.places[one] / search.step).astype(int).tolist()
        spots.append(Spot(turn, max(x, 0), min(max(y, 0), across - 1)))
    return spots


def _shorten(search: _Search, enough: float) -> None:
    """Make the strip shorter, until it is short enough, the effort is spent, or no less exists."""
    least = sum(_area(search.shapes[kind][0]) for kind in search.kinds)
    longest = max(min(way.along_x for way in search.shapes[kind]) for kind in search.kinds)
    least = max(least / search.height, longest)
    enough = max(least, enough) + ROUNDING * search.step
    shrink = SHRINK
    failed: list[_Failed] = []
    while search.effort > 0 and search.best.length > enough:
        steps = int(np.ceil(search.best.length / search.step - ROUNDING))
        by = max(1, int(steps * shrink))
        search.spots = _on_grid(search)
        if failed and by == 1:
            if search.room.random() < FROM_FAILED:
                search.spots = list(failed[int(len(failed) * search.room.random() ** 2)].spots)
            _swap_two(search)
        search.length = max(steps - by, int(np.ceil(least / search.step - ROUNDING)))
        before = search.best.length
        nearest = _separate(search)
        if search.best.length < before:
            failed = []
        else:
            shrink /= 2
            failed = sorted([*failed, *nearest], key=lambda one: one.overlap)[:REMEMBERED]


def _press(search: _Search, spots: Sequence[Spot]) -> None:
    """Press outlines together, and note the strip if none is shorter."""
    turns = tuple(spot.turn for spot in spots)
    places = search.step * np.array([(spot.x, spot.y) for spot in spots], np.float64)
    before = search.press.work
    found = search.press.press(turns, places)
    search.effort -= PRESS_COST * (search.press.work - before)
    if found is not None and found[1] < search.best.length:
        search.best = Strip(turns, *found)


def _area(shape: Shape) -> float:
    def own(points: np.ndarray) -> float:
        after = np.roll(points, -1, axis=0)
        return float(np.sum(points[:, 0] * after[:, 1] - points[:, 1] * after[:, 0])) / 2

    return sum(own(piece) for piece in shape.pieces)


def _lay_first(search: _Search) -> None:
    """Lay the outlines down one by one, the largest first, each as far left as it goes."""
    widest = [max(shape.along_x for shape in search.shapes[kind]) for kind in search.kinds]
    search.length = int(np.ceil(sum(widest) / search.step)) + 1
    order = sorted(
        range(len(search.kinds)), key=lambda one: -_area(search.shapes[search.kinds[one]][0])
    )
    search.spots = [Spot(0, 0, 0)] * len(search.kinds)
    placed: list[int] = []
    for one in order:
        found = []
        for turn, shape in enumerate(search.shapes[search.kinds[one]]):
            cost = _costs(search, one, turn, dict.fromkeys(placed, 1.0))
            free = np.flatnonzero(cost.ravel() <= 0)
            x, y = divmod(int(free[0]), cost.shape[1])
            found.append((x * search.step + shape.along_x, y, Spot(turn, x, y)))
        search.spots[one] = min(found, key=lambda each: each[:2])[2]
        placed.append(one)
    search.length = _reached(search)
    _note(search)


def _note(search: _Search) -> None:
    """Note a strip without overlap as it lies on the grid, then pressed together."""
    places = search.step * np.array([(spot.x, spot.y) for spot in search.spots], np.float64)
    length = _length(search)
    if length < search.best.length:
        search.best = Strip(tuple(spot.turn for spot in search.spots), places, length)
    _press(search, search.spots)


def _length(search: _Search) -> float:
    return max(
        spot.x * search.step + _shape(search, one, spot.turn).along_x
        for one, spot in enumerate(search.spots)
    )


def _reached(search: _Search) -> int:
    ends = [
        spot.x + int(np.ceil(_shape(search, one, spot.turn).along_x / search.step - ROUNDING))
        for one, spot in enumerate(search.spots)
    ]
    return max(ends)


def _shape(search: _Search, one: int, turn: int) -> Shape:
    return search.shapes[search.kinds[one]][turn]


def _room_for(search: _Search, shape: Shape) -> tuple[int, int]:
    """Return how many places there are along and across the strip."""
    across = int((search.height - shape.along_y) / search.step + ROUNDING)
    along = int(search.length - np.ceil(shape.along_x / search.step - ROUNDING))
    return along + 1, across + 1


def _costs(search: _Search, one: int, turn: int, weights: dict[int, float]) -> Cells:
    """Return what every place of an outline costs in overlap with others of these weights."""
    shape = _shape(search, one, turn)
    along, across = _room_for(search, shape)
    costs = np.zeros((max(along, 0), across), dtype=np.float32)
    for other, weight in weights.items():
        spot = search.spots[other]
        depths = _pair(search, search.kinds[other], spot.turn, search.kinds[one], turn)
        x, y = spot.x + depths.x, spot.y + depths.y
        x0, y0 = max(x, 0), max(y, 0)
        x1, y1 = min(x + depths.cells.shape[0], along), min(y + depths.cells.shape[1], across)
        if x0 < x1 and y0 < y1:
            piece = depths.cells[x0 - x : x1 - x, y0 - y : y1 - y]
            costs[x0:x1, y0:y1] += piece if weight == 1.0 else np.float32(weight) * piece
            search.effort -= piece.size + 2000
    search.effort -= costs.size
    return costs


def _pair(search: _Search, fixed: int, turn: int, moved: int, moved_turn: int) -> _Depths:
    key = (fixed, turn, moved, moved_turn)
    if key not in search.pairs:
        depths = _find_depths(search, search.shapes[fixed][turn], search.shapes[moved][moved_turn])
        search.pairs[key] = depths
        mirrored = np.ascontiguousarray(depths.cells[::-1, ::-1])
        rows, columns = depths.cells.shape
        search.pairs[moved, moved_turn, fixed, turn] = _Depths(
            mirrored, 1 - rows - depths.x, 1 - columns - depths.y
        )
    return search.pairs[key]


def _find_depths(search: _Search, fixed: Shape, moved: Shape) -> _Depths:
    sums, step = find_sums(fixed, moved), search.step
    low_x, low_y, high_x, high_y = (round(value / step) for value in find_bounds(sums))
    cells = np.zeros((high_x - low_x + 1, high_y - low_y + 1), dtype=np.float32)
    for one in sums:
        x0, y0, x1, y1 = (round(value / step) for value in one.bounds)
        search.effort -= len(one.normals) * (x1 - x0) * (y1 - y0)
        xs, ys = np.arange(x0, x1 + 1, dtype=np.float64), np.arange(y0, y1 + 1, dtype=np.float64)
        deep = one.depths(xs * step, ys * step)
        deep[deep < ROUNDING * step] = 0.0
        piece = cells[x0 - low_x : x1 + 1 - low_x, y0 - low_y : y1 + 1 - low_y]
        np.maximum(piece, deep / step, out=piece, casting="same_kind")
    return _Depths(cells, low_x, low_y)


def _depth(search: _Search, one: int, other: int) -> float:
    """Return how deep one outline reaches into another as they lie."""
    a, b = search.spots[one], search.spots[other]
    depths = _pair(search, search.kinds[one], a.turn, search.kinds[other], b.turn)
    x, y = b.x - a.x - depths.x, b.y - a.y - depths.y
    rows, columns = depths.cells.shape
    return float(depths.cells[x, y]) if 0 <= x < rows and 0 <= y < columns else 0.0


def _separate(search: _Search) -> list[_Failed]:
    """Move outlines until none overlaps; what comes of it is noted, or returned if it is poor."""
    count = len(search.spots)
    search.effort -= TRY_COST * count
    for one, spot in enumerate(search.spots):
        along, _ = _room_for(search, _shape(search, one, spot.turn))
        if along < 1:
            return []
        search.spots[one] = Spot(spot.turn, min(spot.x, along - 1), spot.y)
    weights = np.ones((count, count))
    least, nearest = inf, list(search.spots)
    for _ in range(ROUNDS):
        deep = np.zeros((count, count))
        for one in range(count):
            for other in range(one):
                deep[one, other] = deep[other, one] = _depth(search, one, other)
        worst = deep.max()
        if worst <= 0:
            _note(search)
            return []
        if deep.sum() < least:
            least, nearest = float(deep.sum()), list(search.spots)
        if search.effort <= 0:
            break
        weights += DEARER * deep / worst * weights
        moved = [one for one in range(count) if deep[one].any()]
        search.room.shuffle(moved)
        for one in moved:
            _move(search, one, weights[one])
    _press(search, nearest)
    return [_Failed(least, nearest)]


def _move(search: _Search, one: int, weights: NDArray[np.float64]) -> None:
    """Lay an outline where it overlaps the others least, if it overlaps any."""
    others = [other for other in range(len(search.spots)) if other != one]
    if not any(_depth(search, other, one) for other in others):
        return
    priced = {other: float(weights[other]) for other in others}
    found: list[tuple[float, Spot]] = []
    for turn in range(len(search.shapes[search.kinds[one]])):
        costs = _costs(search, one, turn, priced)
        if costs.size:
            least = costs.min()
            cheap = np.flatnonzero(costs.ravel() <= least)
            place = int(cheap[search.room.randrange(len(cheap))])
            x, y = divmod(place, costs.shape[1])
            found.append((float(least), Spot(turn, x, y)))
    search.spots[one] = min(found, key=lambda each: each[0])[1]


def _swap_two(search: _Search) -> None:
    """Change places of two outlines, so that the next try begins elsewhere."""
    one, other = search.room.sample(range(len(search.spots)), 2)
    a, b = search.spots[one], search.spots[other]
    for index, turn, spot in ((one, a.turn, b), (other, b.turn, a)):
        shape = _shape(search, index, turn)
        along, across = _room_for(search, shape)
        x, y = min(spot.x, max(along - 1, 0)), min(spot.y, across - 1)
        search.spots[index] = Spot(turn, x, y)
