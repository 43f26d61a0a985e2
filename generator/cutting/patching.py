"""Patching: some of a cut tree is torn out, and what fills the hole takes its place.

Where a cut runs through, what lies on either side of it may change places; so pieces side by side
can be torn out together wherever they lay, with the waste beside them. Only sizes count here: where
a box lies is worked out at the end.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from generator.cutting.many_fills import Fill
from generator.cutting.pieces import Counts, Pieces
from generator.cutting.tidying import lay_in_order
from generator.cutting.trees import Axis, Box, Leaf, Node, Split, is_waste, leaves

NEAR = 3.0
"""A hole is torn into a piece that is at most so many times as large, if there is one."""


@dataclass(frozen=True, slots=True, eq=False)
class Patched:
    """A filled sheet that was patched; attributes as in `Fill`.

    Attributes:
        root: Its cut tree; sizes are right and places are not.
    """

    pieces: Pieces
    counts: Counts
    root: Node

    @property
    def key(self) -> bytes:
        """Equal for sheets with the same blanks."""
        return self.counts.tobytes()

    def tree(self) -> Node:
        """Return the cut tree with every box in its place."""
        return lay_in_order(self.root)


Laid = Fill | Patched
"""A filled sheet, however it came about."""


@dataclass(frozen=True, slots=True)
class Torn:
    """A tree with a hole.

    Attributes:
        root: The tree as it was.
        path: Which child, again and again, leads to the piece with the hole.
        kept: What is left of that piece.
        torn: What was torn out.
        hole: Its size.
    """

    root: Node
    path: tuple[int, ...]
    kept: tuple[Node, ...]
    torn: tuple[Node, ...]
    hole: Box

    def patch(self, filled: Node) -> Node:
        """Return the tree with something else in the hole."""
        return _replace(self.root, self.path, self.kept, filled)


def tear(root: Node, random: np.random.Generator, least: float) -> Torn:
    """Tear out some neighbours at random, of at least a part of the area of the whole."""
    area = least * root.box.along_x * root.box.along_y
    path, node = _choose(root, random, area)
    if not isinstance(node, Split):
        return Torn(root, path, (), (node,), node.box)
    order = random.permutation(len(node.children)).tolist()
    order.sort(key=lambda index: not is_waste(node.children[index]))
    across = node.box.along_x * node.box.along_y / node.box.extent(node.axis)
    extent, chosen = 0, 0
    while (extent * across < area and chosen < len(order)) or chosen == 0:
        extent += node.children[order[chosen]].box.extent(node.axis)
        chosen += 1
    torn = tuple(node.children[index] for index in order[:chosen])
    kept = tuple(node.children[index] for index in sorted(order[chosen:]))
    return Torn(root, path, kept, torn, node.box.slice(node.axis, 0, extent))


def flatten(node: Node) -> Node:
    """Return a tree with the cuts of one direction that follow each other in one piece."""
    if not isinstance(node, Split):
        return node
    return _join(node.box, node.axis, [flatten(child) for child in node.children])


def count_blanks(nodes: Sequence[Node], blanks: int) -> Counts:
    """Return the copies of every blank in some trees."""
    found = [leaf.blank for node in nodes for leaf in leaves(node)]
    here = [blank for blank in found if blank is not None]
    return np.bincount(here, minlength=blanks).astype(np.int64)


def _choose(root: Node, random: np.random.Generator, area: float) -> tuple[tuple[int, ...], Node]:
    """Return one of the pieces that are large enough and cut further, and the way to it."""
    found: list[tuple[tuple[int, ...], Node]] = []
    waiting: list[tuple[tuple[int, ...], Node]] = [((), root)]
    while waiting:
        path, node = waiting.pop()
        if node.box.along_x * node.box.along_y < area and path:
            continue
        if isinstance(node, Split):
            found.append((path, node))
            waiting += [((*path, index), child) for index, child in enumerate(node.children)]
    small = [one for one in found if one[1].box.along_x * one[1].box.along_y <= NEAR * area]
    few = small or found or [((), root)]
    return few[int(random.integers(len(few)))]


def _replace(node: Node, path: Sequence[int], kept: Sequence[Node], filled: Node) -> Node:
    """Return a piece in which what is left at the end of a path has something beside it."""
    if not isinstance(node, Split):
        return filled
    if not path:
        return _join(node.box, node.axis, [*kept, filled])
    children = list(node.children)
    children[path[0]] = _replace(children[path[0]], path[1:], kept, filled)
    return _join(node.box, node.axis, children)


def _join(box: Box, axis: Axis, children: Sequence[Node]) -> Node:
    """Return pieces side by side as one, cuts of one direction together and waste in one piece."""
    parts: list[Node] = []
    waste = 0
    for child in children:
        for part in child.children if isinstance(child, Split) and child.axis == axis else (child,):
            if is_waste(part):
                waste += part.box.extent(axis)
            else:
                parts.append(part)
    if waste:
        parts.append(Leaf(box.slice(axis, 0, waste), None))
    return parts[0] if len(parts) == 1 else Split(box, axis, tuple(parts))
