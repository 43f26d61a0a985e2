"""The order of pieces side by side: wide before narrow, and no blank as what happens to remain.

A fence is set for every piece but the last. That one is as large as the kerfs and the sheet leave
it, so it is waste, or it is sawn to size again:

    +---+---+--+            +---+---+--+-+      A strip just as wide as its blanks and the kerfs
    | B | B | D|  becomes   | B | B | D| |      between them gets a little of the waste beside it;
    +---+---+--+            +---+---+--+-+      D is sawn to its width like the others.
"""

from collections.abc import Iterator, Sequence

from generator.cutting.trees import (
    NO_CUT,
    TICKS_PER_MM,
    Axis,
    Box,
    Leaf,
    Node,
    Split,
    is_waste,
)

WIDE = round(51 * TICKS_PER_MM)
"""A piece this wide carries a saw and a clamp beside a cut: 50 mm or 2 in, and a thin kerf.
Common practice, no source."""

SPARE = round(6 * TICKS_PER_MM)
"""What a strip gets, a kerf included, so that its last blank is sawn to size: more than a blade
takes. Common practice, no source."""


_Part = tuple[Node, int]
"""A child, and how much of the direction it gets."""


def lay_in_order(node: Node) -> Node:
    """Return the tree with the children of every split from wide to narrow, waste last.

    A fence goes from wide to narrow and equal widths are made one after the other. Where that
    would end with a cut between two narrow pieces, narrow ones come off first, from a wide piece.
    Where nothing is waste, something that is sawn to size again later comes last, not a blank.
    """
    return _lay(node, node.box)


def _lay(node: Node, box: Box) -> Node:
    """Return a node as it lies in a box, which may have more or less waste than its own."""
    if isinstance(node, Leaf):
        return Leaf(box, node.blank, node.turned)
    axis, room = node.axis, box.extent(node.axis)
    kept = [child for child in _flatten(node, axis) if not is_waste(child)]
    rest = room - sum(child.box.extent(axis) for child in kept)
    extents = _give_room(kept, axis, rest)
    pairs = sorted(zip(kept, extents, strict=True), key=lambda pair: -pair[1])
    placed: list[Node] = []
    start = 0
    for child, extent in _end_loose(_end_wide(pairs, room), axis, room):
        placed.append(_lay(child, box.slice(axis, start, extent)))
        start += extent
    if room - start > NO_CUT:
        placed.append(Leaf(box.slice(axis, start, room - start), None))
    if len(placed) == 1:
        return placed[0]
    return Split(box, axis, tuple(placed))


def _give_room(children: Sequence[Node], axis: Axis, rest: int) -> list[int]:
    """Return how much each child gets: some of the waste where its last blank needs it."""
    extents = [child.box.extent(axis) for child in children]
    for place, child in enumerate(children):
        if rest >= 2 * SPARE and _is_tight(child, axis):
            extents[place] += SPARE
            rest -= SPARE
    return extents


def _end_wide(pairs: list[_Part], room: int) -> list[_Part]:
    """Return children, the widest first, so that the last cut has a wide piece on one side.

    The narrowest that is wide enough goes to the end, and with it all that are as wide.
    """
    extents = [extent for _, extent in pairs]
    rest = room - sum(extents)
    beside = (extents[-1:] if rest > NO_CUT else extents[-2:]) if extents else []
    wide = [extent for extent in extents if extent >= WIDE]
    if not wide or max(*beside, rest) >= WIDE:
        return pairs
    ends = [pair for pair in pairs if pair[1] == wide[-1]]
    return [pair for pair in pairs if pair[1] != wide[-1]] + ends


def _end_loose(pairs: list[_Part], axis: Axis, room: int) -> list[_Part]:
    """Return children, with one that is sawn to size again at the end where nothing is waste.

    The narrowest there is, if the last cut still has a wide piece on one side then.
    """
    if room - sum(extent for _, extent in pairs) > NO_CUT:
        return pairs
    for place in reversed(range(len(pairs))):
        child, extent = pairs[place]
        moved = [*pairs[:place], *pairs[place + 1 :], pairs[place]]
        is_loose = extent - _need(child, axis) > NO_CUT
        if is_loose and (_is_safe(moved) or not _is_safe(pairs)):
            return moved
    return pairs


def _is_tight(node: Node, axis: Axis) -> bool:
    """Whether what fills a strip are rows along the axis, without waste or a blank as long."""
    if isinstance(node, Leaf):
        return False
    least = node.box.extent(axis) - NO_CUT
    full = [child for child in _flatten(node, node.axis) if _need(child, axis) >= least]
    return bool(full) and all(_is_row(child, axis) for child in full)


def _is_row(node: Node, axis: Axis) -> bool:
    return sum(not is_waste(child) for child in _flatten(node, axis)) > 1


def _is_safe(pairs: Sequence[_Part]) -> bool:
    return max(extent for _, extent in pairs[-2:]) >= WIDE


def _need(node: Node, axis: Axis) -> int:
    """Return how much of a direction the blanks in a node need, a kerf after each included."""
    if isinstance(node, Leaf):
        return 0 if node.blank is None else node.box.extent(axis)
    needs = [_need(child, axis) for child in node.children]
    return sum(needs) if node.axis == axis else max(needs)


def _flatten(node: Node, axis: Axis) -> Iterator[Node]:
    """Yield what a piece falls into by cuts of one direction alone."""
    if isinstance(node, Split) and node.axis == axis:
        for child in node.children:
            yield from _flatten(child, axis)
    else:
        yield node
