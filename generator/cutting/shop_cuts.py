"""The fewest cuts at a shop: which of the plan's own make every piece of a sheet fit a car.

The shop saws the sheet as it is sold, so a piece with a factory edge keeps the trim on it. An
offcut worth keeping that is too large is cut into equal pieces. A blank that is itself larger than
the car is cut free and stays too large.

    +-----------+---------+    Children of a split lie side by side. A run of them may stay together
    |  A  |  A  |    B    |    where it fits the car; only a run of one child may be cut further,
    +-----+-----+---------+    the other way.
"""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.cutting.trees import Axis, Box, Leaf, Node

AXES: tuple[Axis, Axis] = ("x", "y")

MOST_SLICES = 50
"""An offcut is never cut into more pieces than this side by side."""


@dataclass(frozen=True, slots=True)
class Way:
    """How a box is cut to fit: runs side by side along an axis, each cut further or not.

    Attributes:
        misfit: Area in square ticks of what is too large all the same.
        cuts: Their number.
        axis: Of the first cuts; where there are no runs, the box is left whole.
        runs: What the box falls into, in order.
    """

    misfit: int
    cuts: int
    axis: Axis = "x"
    runs: tuple[tuple[Box, "Way"], ...] = ()

    @property
    def cost(self) -> tuple[int, int]:
        """What is least in the best way: what does not fit, then the cuts."""
        return (self.misfit, self.cuts)


WHOLE = Way(0, 0)


@dataclass(frozen=True, slots=True)
class Room:
    """A sheet and a car, in ticks; the sheet's box carries a kerf, its pieces their trims.

    Attributes:
        root: The trimmed sheet.
        trim: Taken off the ends.
        edge_trim: Taken off the long edges.
        kerf: Of the saw.
        car: Length and width of what the car takes.
        keep: Length and width an offcut worth keeping has at least.
    """

    root: Box
    trim: int
    edge_trim: int
    kerf: int
    car: tuple[int, int]
    keep: tuple[int, int]

    def corners(self, box: Box) -> tuple[tuple[int, int], tuple[int, int]]:
        """Return the two corners of a piece on the untrimmed sheet."""
        x0, x1 = self._ends(box.x, box.along_x, self.root.along_x, self.trim)
        y0, y1 = self._ends(box.y, box.along_y, self.root.along_y, self.edge_trim)
        return (x0, y0), (x1, y1)

    def size(self, box: Box) -> tuple[int, int]:
        """Return the size of a piece as the shop saws it off."""
        low, high = self.corners(box)
        return (high[0] - low[0], high[1] - low[1])

    def fits(self, box: Box) -> bool:
        """Whether a piece lies in the car, one way or the other."""
        return _lies_in(self.size(box), self.car)

    def is_kept(self, box: Box) -> bool:
        """Whether an offcut is worth keeping."""
        return _lies_in(self.keep, self.size(box))

    def _ends(self, start: int, extent: int, whole: int, trim: int) -> tuple[int, int]:
        low = 0 if start == 0 else start + trim
        high = start + extent - self.kerf + trim + (trim if start + extent == whole else 0)
        return low, max(low, high)


def find_way(node: Node, room: Room) -> Way:
    """Return the way to make a node fit that leaves least too large, and then has fewest cuts."""
    if room.fits(node.box):
        return WHOLE
    if isinstance(node, Leaf):
        if node.blank is None:
            return _cut_waste(node.box, room)
        length, width = room.size(node.box)
        return Way(length * width, 0)
    best = [Way(0, -1, node.axis)]
    for end in range(1, len(node.children) + 1):
        endings = _endings(node.children[:end], best, node.axis, room)
        best.append(min(endings, key=lambda way: way.cost))
    return best[-1]


def _endings(
    children: Sequence[Node], best: Sequence[Way], axis: Axis, room: Room
) -> Iterator[Way]:
    """Yield the best ways to cut up children, one for each run that may come last.

    Args:
        children: The first ones of a split.
        best: The best way for the first 0, 1, 2 … of them; nothing is cut for the first run.
        axis: Of the split.
        room: Sheet and car.
    """
    extent = 0
    for start in range(len(children) - 1, -1, -1):
        first = children[start]
        extent += first.box.extent(axis)
        box = first.box.slice(axis, 0, extent)
        is_one = start == len(children) - 1
        if not is_one and not room.fits(box):
            return
        way = find_way(first, room) if is_one else WHOLE
        before = best[start]
        yield Way(
            before.misfit + way.misfit,
            before.cuts + 1 + way.cuts,
            axis,
            (*before.runs, (box, way)),
        )


def _cut_waste(box: Box, room: Room) -> Way:
    """Return an offcut in equal pieces; one not worth keeping stays as it is."""
    if not room.is_kept(box):
        return WHOLE
    ways = [_in_strips(box, axis, car, room) for axis in AXES for car in _both_ways(room.car)]
    return min(ways, key=lambda way: way.cost)


def _in_strips(box: Box, axis: Axis, car: tuple[int, int], room: Room) -> Way:
    """Return a box in equal strips along an axis, each in equal pieces the other way."""
    index = AXES.index(axis)
    other = AXES[1 - index]
    runs = []
    for strip in _slices(box, axis, car[index], room):
        pieces = tuple((piece, WHOLE) for piece in _slices(strip, other, car[1 - index], room))
        cut = Way(0, len(pieces) - 1, other, pieces) if len(pieces) > 1 else WHOLE
        runs.append((strip, cut))
    if len(runs) == 1:
        return runs[0][1]
    return Way(0, len(runs) - 1 + sum(way.cuts for _, way in runs), axis, tuple(runs))


def _slices(box: Box, axis: Axis, limit: int, room: Room) -> list[Box]:
    """Return a box in as few equal slices as are no larger than the limit, trims included."""
    index = AXES.index(axis)
    whole = room.size(box)[index]
    count = min(max(1, -(-(whole + room.kerf) // (limit + room.kerf))), MOST_SLICES)
    if count == 1:
        return [box]
    step = -(-(whole + room.kerf) // count)
    trim = (room.trim, room.edge_trim)[index] if (box.x, box.y)[index] == 0 else 0
    inner = [step * i - trim for i in range(1, count)]
    ends = [0, *inner, box.extent(axis)]
    return [box.slice(axis, a, b - a) for a, b in itertools.pairwise(ends)]


def _lies_in(size: tuple[int, int], space: tuple[int, int]) -> bool:
    return any(size[0] <= way[0] and size[1] <= way[1] for way in _both_ways(space))


def _both_ways(pair: tuple[int, int]) -> tuple[tuple[int, int], tuple[int, int]]:
    return pair, (pair[1], pair[0])
