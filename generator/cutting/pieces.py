"""What a sheet can be filled with: single blanks, and blocks of a few that leave little between.

A block is two or three blanks side by side in a box of their own. Sheets filled with blocks among
single blanks leave about half as much waste where many small blanks go on one sheet (measured).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import gcd
from typing import Any

import numpy as np
from numpy.typing import NDArray

from generator.cutting.trees import Axis, Box, Leaf, Node, Pose, Size, Split

Numbers = NDArray[np.floating[Any]]
Counts = NDArray[np.int64]
Places = NDArray[np.intp]

BLOCKS = 150
"""Most blocks of two blanks, and most of three."""

LEAST_FILLED = 0.98
"""Part of a block's box that is blanks; blocks with more waste are of no use."""

EXACT_IN_SINGLE = 2**22
"""Whole numbers below it are held, compared and divided by each other exactly enough in 32 bits:
a quotient of two of them is greater than 1 after rounding if and only if it was before."""


@dataclass(frozen=True, slots=True)
class Join:
    """Two pieces side by side in the direction of the axis, both from the lower edge."""

    first: int
    second: int
    axis: Axis


@dataclass(frozen=True, slots=True)
class Pieces:
    """All pieces that go onto sheets of one size, as arrays with a row for each piece.

    Attributes:
        size: The size of the sheet.
        scale: Ticks that are 1 in the arrays: the greatest that leaves whole numbers.
        along_x: Lengths, kerf included.
        along_y: Widths, the same.
        need: Copies of every blank (columns) that are in a piece.
        made_of: A blank's pose, or which two earlier pieces make the block.
    """

    size: Size
    scale: int
    along_x: Numbers
    along_y: Numbers
    need: Counts
    made_of: tuple[Pose | Join, ...]

    def lay(self, piece: int, box: Box) -> Node:
        """Return a piece in a box of just its size, cut into its blanks."""
        made = self.made_of[piece]
        if isinstance(made, Pose):
            return Leaf(box, made.blank, made.turned)
        extent = self.extent(made.first, made.axis)
        first = box.slice(made.axis, 0, extent)
        second = box.slice(made.axis, extent, box.extent(made.axis) - extent)
        parts = (self._lay_narrower(made.first, first, made.axis),
                 self._lay_narrower(made.second, second, made.axis))  # fmt: skip
        return Split(box, made.axis, parts)

    def extent(self, piece: int, axis: Axis) -> int:
        """Return the size of a piece in the direction of an axis, in ticks."""
        lengths = self.along_x if axis == "x" else self.along_y
        return int(lengths[piece]) * self.scale

    def _lay_narrower(self, piece: int, box: Box, axis: Axis) -> Node:
        """Return a piece in a box that is as long as it but may be wider."""
        across: Axis = "y" if axis == "x" else "x"
        extent = self.extent(piece, across)
        rest = box.extent(across) - extent
        laid = self.lay(piece, box.slice(across, 0, extent))
        if not rest:
            return laid
        return Split(box, across, (laid, Leaf(box.slice(across, extent, rest), None)))


def find_pieces(
    poses: Sequence[tuple[Pose, ...]], counts: Sequence[int], size: Size, most: int = BLOCKS
) -> Pieces:
    """Return the pieces for sheets of one size.

    Args:
        poses: For every blank the ways it may lie.
        counts: Copies of every blank: no block has more.
        size: The sheet.
        most: Most blocks of two blanks, and most of three.
    """
    single = [pose for ways in poses for pose in ways if size.holds(pose)]
    lengths = [length for pose in single for length in (pose.along_x, pose.along_y)]
    scale = gcd(size.along_x, size.along_y, *lengths)
    kind = np.float32 if max(size.along_x, size.along_y) // scale < EXACT_IN_SINGLE else np.float64
    need = np.zeros((len(single), len(poses)), np.int64)
    need[np.arange(len(single)), [pose.blank for pose in single]] = 1
    singles = _Row(
        np.array([pose.along_x // scale for pose in single], np.float64),
        np.array([pose.along_y // scale for pose in single], np.float64),
        need,
    )
    rows, joins = [singles], list[Join]()
    limit = (size.along_x // scale, size.along_y // scale)
    start = 0
    for _ in range(2):
        row, made = _join(rows[-1], start, singles, np.array(counts), limit, most)
        start += len(rows[-1].along_x)
        rows.append(row)
        joins += made
    return Pieces(
        size=size,
        scale=scale,
        along_x=np.concatenate([row.along_x for row in rows]).astype(kind),
        along_y=np.concatenate([row.along_y for row in rows]).astype(kind),
        need=np.concatenate([row.need for row in rows]),
        made_of=(*single, *joins),
    )


@dataclass(frozen=True, slots=True)
class _Row:
    """Pieces of equally many blanks, as in `Pieces`."""

    along_x: NDArray[np.float64]
    along_y: NDArray[np.float64]
    need: Counts


def _join(
    row: _Row, start: int, singles: _Row, counts: Counts, limit: tuple[int, int], most: int
) -> tuple[_Row, list[Join]]:
    """Return the fullest blocks of a piece and a single blank; pieces of the row begin at start."""
    found: list[tuple[_Row, NDArray[np.float64], list[Join]]] = []
    for axis in _axes():
        found.append(_join_along(row, start, singles, counts, limit, axis))
    both = _Row(
        np.concatenate([joined.along_x for joined, _, _ in found]),
        np.concatenate([joined.along_y for joined, _, _ in found]),
        np.concatenate([joined.need for joined, _, _ in found]),
    )
    waste = np.concatenate([unused for _, unused, _ in found])
    joins = [join for _, _, made in found for join in made]
    order = np.lexsort((-both.along_x * both.along_y, np.round(waste, 4)))[:most]
    kept = _Row(both.along_x[order], both.along_y[order], both.need[order])
    return kept, [joins[index] for index in order]


def _axes() -> Iterator[Axis]:
    yield "x"
    yield "y"


def _join_along(
    row: _Row, start: int, singles: _Row, counts: Counts, limit: tuple[int, int], axis: Axis
) -> tuple[_Row, NDArray[np.float64], list[Join]]:
    """Return the blocks along one axis, the part of each that is waste, and what they are of."""
    one, two = (part.ravel() for part in np.indices((len(row.along_x), len(singles.along_x))))
    if start == 0:
        one, two = one[one <= two], two[one <= two]
    if axis == "x":
        along_x = row.along_x[one] + singles.along_x[two]
        along_y = np.maximum(row.along_y[one], singles.along_y[two])
    else:
        along_x = np.maximum(row.along_x[one], singles.along_x[two])
        along_y = row.along_y[one] + singles.along_y[two]
    singly = np.zeros(len(counts))
    np.maximum.at(singly, np.argmax(singles.need, axis=1), singles.along_x * singles.along_y)
    filled = ((row.need @ singly)[one] + (singles.need @ singly)[two]) / (along_x * along_y)
    good = (along_x <= limit[0]) & (along_y <= limit[1]) & (filled >= LEAST_FILLED)
    one, two, along_x, along_y = one[good], two[good], along_x[good], along_y[good]
    waste = 1 - filled[good]
    need = row.need[one] + singles.need[two]
    enough = (need <= counts).all(axis=1)
    pairs = zip(one[enough].tolist(), two[enough].tolist(), strict=True)
    joins = [Join(start + first, second, axis) for first, second in pairs]
    return _Row(along_x[enough], along_y[enough], need[enough]), waste[enough], joins
