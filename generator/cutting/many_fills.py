"""Many fills of one sheet side by side: every fill under its own random rule, as rows of arrays.

A fill takes one of its free rectangles, puts the piece into its corner that its rule likes most,
and cuts beside it, until no piece fits anywhere. Hundreds of fills take their steps together, so
that each costs some ten microseconds. What a fill did is kept, and its cut tree built when asked.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from generator.cutting.pieces import Counts, Pieces, Places
from generator.cutting.trees import Axis, Box, Leaf, Node, Split

ROOM = 16
"""Columns for free rectangles that are added when they run out."""

STEP = 30_000
"""Work that a step of all fills costs beside the likings that are worked out."""

MOST_NOISE = 0.7
"""How far a rule may change what it likes from what is worth most."""

MOST_DENSITY = 1.2
"""Greatest exponent of the area by which the worth of a piece is divided."""

MOST_FIT = 2.0
"""How much more a piece is liked that fits a free rectangle exactly in one direction."""

Choice = NDArray[np.int64]
"""Which free rectangle comes next: 0 the smallest, 1 the last one made, 2 the largest."""


Values = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Start:
    """What fills begin with.

    Attributes:
        values: What one copy of each blank is worth.
        copies: How many of each there are.
        boxes: What is to be filled.
    """

    values: Values
    copies: Counts
    boxes: tuple[Box, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Fill:
    """A filled sheet: what is on it and the steps that filled it.

    Attributes:
        pieces: What it was filled from.
        counts: Copies of every blank.
        steps: For every step the free rectangle, the piece or -1, and how it was cut.
    """

    pieces: Pieces
    counts: Counts
    steps: NDArray[np.int16]

    @property
    def key(self) -> bytes:
        """Equal for fills with the same blanks."""
        return self.counts.tobytes()

    def tree(self) -> Node:
        """Return the cut tree of a sheet that was empty."""
        return self.trees([self.pieces.size.box])[0]

    def trees(self, boxes: Sequence[Box]) -> list[Node]:
        """Return the cut trees of the boxes that were filled: the same steps once more."""
        parts: list[_Open | _Closed] = [_Open(box) for box in boxes]
        free = list(range(len(boxes)))
        for place, piece, cut in self.steps.tolist():
            index = free[place]
            free[place] = free[-1]
            free.pop()
            if piece >= 0:
                free += _cut_beside(parts, index, self.pieces, piece, cut)
        return [_grow(parts, index) for index in range(len(boxes))]


CUT_UP, KEEP_FIRST, KEEP_SECOND = 1, 2, 4
"""Bits of a cut: the first cut runs across x; which of the rests is filled further."""


@dataclass(slots=True)
class _Open:
    """A rectangle that nothing was put into."""

    box: Box


@dataclass(slots=True)
class _Closed:
    """A rectangle with a piece in its corner; the numbers of both rests, if there are any."""

    box: Box
    piece: Node
    axis: Axis
    beside: int | None
    rest: int | None


def _cut_beside(
    parts: list["_Open | _Closed"], index: int, pieces: Pieces, piece: int, cut: int
) -> list[int]:
    """Put a piece into a rectangle and return the numbers of its rests that are filled further."""
    box = parts[index].box
    axis: Axis = "x" if cut & CUT_UP else "y"
    across: Axis = "y" if cut & CUT_UP else "x"
    extent, other = pieces.extent(piece, axis), pieces.extent(piece, across)
    strip = box.slice(axis, 0, extent)
    corner = strip.slice(across, 0, other)
    rest = box.slice(axis, extent, box.extent(axis) - extent)
    beside = strip.slice(across, other, strip.extent(across) - other)
    numbers: list[int | None] = []
    for part in (rest, beside):
        numbers.append(len(parts) if part.along_x and part.along_y else None)
        if numbers[-1] is not None:
            parts.append(_Open(part))
    parts[index] = _Closed(box, pieces.lay(piece, corner), axis, numbers[1], numbers[0])
    kept = (numbers[0] if cut & KEEP_FIRST else None, numbers[1] if cut & KEEP_SECOND else None)
    return [number for number in kept if number is not None]


def _grow(parts: list["_Open | _Closed"], index: int) -> Node:
    part = parts[index]
    if isinstance(part, _Open):
        return Leaf(part.box, None)
    across: Axis = "y" if part.axis == "x" else "x"
    strip = part.piece
    if part.beside is not None:
        box = part.box.slice(part.axis, 0, part.piece.box.extent(part.axis))
        strip = Split(box, across, (strip, _grow(parts, part.beside)))
    if part.rest is None:
        return strip
    return Split(part.box, part.axis, (strip, _grow(parts, part.rest)))


@dataclass(slots=True)
class Filler:
    """Fills sheets of one size; counts its work, in likings worked out.

    Attributes:
        least: No less than this may be left beside a piece, unless it is nothing; as in `pieces`.
    """

    pieces: Pieces
    random: np.random.Generator
    least: float = 0.0
    work: int = 0

    def fill(
        self, values: Values, copies: Counts, fills: int, keep: int, above: float
    ) -> list[tuple[float, Fill]]:
        """Return the best different fills of an empty sheet and what they are worth, best first.

        Args:
            values: What one copy of each blank is worth.
            copies: How many of each there are.
            fills: How many are tried.
            keep: Most that are returned.
            above: Only such as are worth more.
        """
        batch = self._fill_all([Start(values, copies, (self.pieces.size.box,))], fills)
        if batch is None:
            return []
        worth = batch.counts @ values[batch.live]
        found: dict[bytes, tuple[float, Fill]] = {}
        for row in np.argsort(-worth, kind="stable"):
            if worth[row] <= above or len(found) >= keep:
                break
            key = batch.counts[row].tobytes()
            if key not in found:
                found[key] = (float(worth[row]), batch.read(int(row)))
        return list(found.values())

    def fill_each(self, starts: Sequence[Start], fills: int) -> list[Fill]:
        """Return the best of so many fills of every start; all of them go on side by side."""
        batch = self._fill_all(starts, fills)
        if batch is None:
            nothing = Fill(self.pieces, 0 * starts[0].copies, np.zeros((0, 3), np.int16))
            return [nothing] * len(starts)
        best = []
        for number, start in enumerate(starts):
            first = number * fills
            worth = batch.counts[first : first + fills] @ start.values[batch.live]
            best.append(batch.read(first + int(worth.argmax())))
        return best

    def _fill_all(self, starts: Sequence[Start], fills: int) -> "_Batch | None":
        """Return finished fills, so many of each start, or None if nothing can be filled."""
        enough = np.array([(self.pieces.need <= start.copies).all(axis=1) for start in starts])
        chosen = np.flatnonzero(enough.any(axis=0))
        if not len(chosen):
            return None
        batch = _Batch(self.pieces, self.random, chosen, starts, fills, self.least)
        if len(starts) > 1:
            batch.liking *= np.repeat(enough[:, chosen], fills, axis=0)
        while len(batch.rows):
            self.work += batch.liking.size + STEP
            batch.step()
        return batch


class _Batch:
    """Fills on their way. Rows are the fills that are not finished yet."""

    def __init__(
        self,
        pieces: Pieces,
        random: np.random.Generator,
        chosen: Places,
        starts: Sequence[Start],
        fills: int,
        least: float,
    ) -> None:
        self.pieces, self.random, self.chosen, self.least = pieces, random, chosen, least
        kind = pieces.along_x.dtype
        copies = np.array([start.copies for start in starts])
        self.live = np.flatnonzero((copies > 0).any(axis=0))
        self.along_x, self.along_y = pieces.along_x[chosen], pieces.along_y[chosen]
        self.need = pieces.need[chosen][:, self.live].astype(np.int16)
        self.uses = [np.ascontiguousarray((self.need > many).T) for many in range(3)]
        self.single = not (copies > 1).any()
        if self.single:
            shared = self.need.astype(np.float32)
            self.apart = (shared @ shared.T == 0).astype(kind)
        self.narrow_x, self.narrow_y = self.along_x.min(), self.along_y.min()
        rows = fills * len(starts)
        self.rows = np.arange(rows)
        self.left = np.repeat(copies[:, self.live].astype(np.int16), fills, axis=0)
        self.counts = np.zeros_like(self.left)
        self.free_x, self.free_y = np.zeros((rows, ROOM), kind), np.zeros((rows, ROOM), kind)
        self.open = np.repeat([len(start.boxes) for start in starts], fills)
        for number, start in enumerate(starts):
            own = slice(number * fills, (number + 1) * fills)
            for place, box in enumerate(start.boxes):
                self.free_x[own, place] = box.along_x // pieces.scale
                self.free_y[own, place] = box.along_y // pieces.scale
        self.log: list[NDArray[np.int16]] = []
        self._make_rules(np.array([start.values for start in starts]), fills, kind)

    def _make_rules(self, values: Values, fills: int, kind: Any) -> None:
        """Draw a rule for every fill; a row of values is shared by so many fills."""
        draw = self.random.random
        size = self.pieces.size
        area = (self.along_x * self.along_y).astype(np.float64) / (
            (size.along_x // self.pieces.scale) * (size.along_y // self.pieces.scale)
        )
        worth = (np.maximum(values[:, self.live], 1e-9) @ self.need.T).astype(kind)
        fills *= len(values)
        noise = draw((fills, 1), dtype=np.float32) * np.float32(MOST_NOISE)
        density = draw((fills, 1), dtype=np.float32) * np.float32(MOST_DENSITY)
        self.liking = np.exp(-np.log(area).astype(kind) * density)
        self.liking *= np.repeat(worth, fills // len(values), axis=0)
        self.liking *= 1 + (2 * draw(self.liking.shape, dtype=np.float32) - 1) * noise
        self.fit = (draw((fills, 1), dtype=np.float32) * np.float32(MOST_FIT)).astype(kind)
        self.fit[draw(fills) < 0.3] = 0.15
        self.choice: Choice = np.array([0, 0, 1, 2])[self.random.integers(0, 4, fills)]
        self.usual = 0.55 + 0.45 * draw(fills, dtype=np.float32)

    def step(self) -> None:
        """Let every fill go on by one free rectangle."""
        every = np.arange(len(self.rows))
        place, long, wide = self._take_rectangles(every)
        piece, hit = self._like_best(long, wide, every)
        cut = np.zeros(len(every), np.int16)
        if len(hit):
            self._take_copies(piece[hit], hit)
            cut[hit] = self._cut(long[hit], wide[hit], piece[hit], hit)
        note = np.full((len(self.counts), 3), -1, np.int16)
        note[self.rows, 0], note[self.rows, 2] = place, cut
        note[self.rows[hit], 1] = self.chosen[piece[hit]]
        self.log.append(note)
        going = self.open > 0
        if not going.all():
            self._keep_only(np.flatnonzero(going))

    def read(self, row: int) -> Fill:
        """Return what one fill has become."""
        steps = np.array([note[row] for note in self.log if note[row, 0] >= 0], np.int16)
        counts = np.zeros(self.pieces.need.shape[1], np.int64)
        counts[self.live] = self.counts[row]
        return Fill(self.pieces, counts, steps)

    def _take_rectangles(self, every: Places) -> tuple[Places, Any, Any]:
        """Take one free rectangle from every fill; the last one takes its place."""
        area = self.free_x * self.free_y
        place = np.where(
            self.choice == 0,
            np.where(area > 0, area, np.inf).argmin(axis=1),
            np.where(self.choice == 1, self.open - 1, area.argmax(axis=1)),
        )
        long, wide = self.free_x[every, place], self.free_y[every, place]
        self.open -= 1
        for free in (self.free_x, self.free_y):
            free[every, place] = free[every, self.open]
            free[every, self.open] = 0
        return place, long, wide

    def _like_best(self, long: Any, wide: Any, every: Places) -> tuple[Places, Places]:
        """Return the piece every fill likes most, and the fills for which one fits at all."""
        across, upward = self.along_x / long[:, None], self.along_y / wide[:, None]
        liked = np.maximum(across, upward)
        fits = liked <= 1
        if self.least:
            for rest in (long[:, None] - self.along_x, wide[:, None] - self.along_y):
                fits &= (rest == 0) | (rest >= self.least)
        for _ in range(3):
            liked *= liked
        liked *= self.fit
        liked += 1
        liked *= self.liking
        liked *= fits
        piece = liked.argmax(axis=1)
        return piece, np.flatnonzero(liked[every, piece] > 0)

    def _take_copies(self, piece: Places, hit: Places) -> None:
        """Take the copies of the pieces placed; what has too few left is liked no more."""
        need = self.need[piece]
        self.counts[self.rows[hit]] += need
        if self.single:
            self.liking[hit] *= self.apart[piece]
            return
        left = self.left[hit] - need
        self.left[hit] = left
        gone = np.zeros((len(hit), len(self.chosen)), bool)
        for many, uses in enumerate(self.uses):
            fills, blanks = np.nonzero((left == many) & (need > 0))
            place = np.arange(len(fills))
            new = np.ones(len(fills), bool)
            new[1:] = fills[1:] != fills[:-1]
            rank = place - np.maximum.accumulate(np.where(new, place, 0)) if len(fills) else place
            for turn in range(3):
                now = rank == turn
                if now.any():
                    gone[fills[now]] |= uses[blanks[now]]
        liking = self.liking[hit]
        liking[gone] = 0
        self.liking[hit] = liking

    def _cut(self, long: Any, wide: Any, piece: Places, hit: Places) -> NDArray[np.int16]:
        """Cut beside the pieces, mostly so that the larger rest is as large as can be."""
        along_x, along_y = self.along_x[piece], self.along_y[piece]
        right, above = long - along_x, wide - along_y
        upright = np.maximum(right * wide, along_x * above)
        level = np.maximum(right * along_y, long * above)
        up = (upright > level) ^ (self.random.random(len(hit), dtype=np.float32) > self.usual[hit])
        if self.open.max() >= self.free_x.shape[1] - 2:
            self.free_x = np.pad(self.free_x, ((0, 0), (0, ROOM)))
            self.free_y = np.pad(self.free_y, ((0, 0), (0, ROOM)))
        cut = np.where(up, CUT_UP, 0).astype(np.int16)
        rests = (
            (np.where(up, right, long), np.where(up, wide, above), KEEP_FIRST),
            (np.where(up, along_x, right), np.where(up, above, along_y), KEEP_SECOND),
        )
        for rest_x, rest_y, bit in rests:
            kept = (rest_x >= self.narrow_x) & (rest_y >= self.narrow_y)
            fills = hit[kept]
            self.free_x[fills, self.open[fills]] = rest_x[kept]
            self.free_y[fills, self.open[fills]] = rest_y[kept]
            self.open[fills] += 1
            cut[kept] += bit
        return cut

    def _keep_only(self, going: Places) -> None:
        """Leave out the fills that are finished."""
        self.rows, self.left, self.open = self.rows[going], self.left[going], self.open[going]
        self.free_x, self.free_y = self.free_x[going], self.free_y[going]
        self.liking, self.fit = self.liking[going], self.fit[going]
        self.choice, self.usual = self.choice[going], self.usual[going]
