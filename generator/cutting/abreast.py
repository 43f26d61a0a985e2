"""Pieces side by side on a board: lengths of it that are crosscut first and ripped afterwards.

All sizes are whole ticks with one kerf after each of them, as in `trees`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.cutting.tidying import lay_in_order
from generator.cutting.trees import NO_CUT, Box, Leaf, Node, Split


@dataclass(frozen=True, slots=True)
class Strip:
    """Blanks of one width, one after the other along the board."""

    width: int
    blanks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Segment:
    """A length of board and the strips that lie abreast in it."""

    length: int
    strips: tuple[Strip, ...]


class _Pile:
    """The blanks still to be laid, the longest first; never leaves this module."""

    def __init__(
        self, lengths: Sequence[int], widths: Sequence[int], counts: Sequence[int]
    ) -> None:
        self.lengths, self.widths, self.left = lengths, widths, list(counts)

        def rank(blank: int) -> tuple[int, int, int]:
            return (-lengths[blank], -widths[blank], blank)

        self.order = sorted(range(len(lengths)), key=rank)

    def take(self, length: int, least: int, most: int) -> int | None:
        """Take the longest blank no longer than that, with a width in between, if there is one."""
        for blank in self.order:
            fits = self.lengths[blank] <= length and least <= self.widths[blank] <= most
            if fits and self.left[blank]:
                self.left[blank] -= 1
                return blank
        return None

    def longest_left(self) -> int | None:
        """Return the length of the longest blank left, if any is."""
        return next((self.lengths[blank] for blank in self.order if self.left[blank]), None)


def find_segments(
    lengths: Sequence[int], widths: Sequence[int], counts: Sequence[int], board_width: int
) -> tuple[Segment, ...]:
    """Return all blanks as segments: the longest opens one, what fits beside it goes along.

    Args:
        lengths: Of every blank.
        widths: The same.
        counts: Copies of every blank.
        board_width: Of the board, its kerf included.
    """
    pile = _Pile(lengths, widths, counts)
    segments = []
    while (length := pile.longest_left()) is not None:
        strips: list[Strip] = []
        rest = board_width
        while (blank := pile.take(length, 0, rest + NO_CUT)) is not None:
            strips.append(_fill_strip(blank, length, pile))
            rest -= widths[blank]
        segments.append(Segment(length, tuple(strips)))
    return tuple(segments)


def build_tree(
    segments: Iterable[Segment], room: int, board_width: int, lengths: Sequence[int]
) -> Node:
    """Return the cut tree of one board.

    Segments that are ripped alike are ripped as one: a long piece is safer to rip than a short one.

    Args:
        segments: What the board is sawn into; together no longer than it.
        room: Length of the trimmed board, kerf included.
        board_width: Of the board, kerf included.
        lengths: Of every blank.
    """
    merged: dict[tuple[int, ...] | int, Segment] = {}
    for index, segment in enumerate(sorted(segments, key=lambda one: -one.length)):
        widths = tuple(strip.width for strip in segment.strips)
        is_ripped = len(widths) > 1 or widths[0] < board_width - NO_CUT
        key: tuple[int, ...] | int = widths if is_ripped else index
        merged[key] = _joined(merged[key], segment) if key in merged else segment
    children = tuple(_segment_node(one, board_width, lengths) for one in merged.values())
    return lay_in_order(Split(Box(0, 0, room, board_width), "x", children))


def _fill_strip(first: int, length: int, pile: _Pile) -> Strip:
    """Return a strip as wide as its first blank, filled with blanks of the same width."""
    width = pile.widths[first]
    blanks = [first]
    rest = length - pile.lengths[first]
    while (blank := pile.take(rest, width, width)) is not None:
        blanks.append(blank)
        rest -= pile.lengths[blank]
    return Strip(width, tuple(blanks))


def _joined(one: Segment, other: Segment) -> Segment:
    strips = zip(one.strips, other.strips, strict=True)
    return Segment(
        one.length + other.length,
        tuple(Strip(first.width, first.blanks + second.blanks) for first, second in strips),
    )


def _segment_node(segment: Segment, board_width: int, lengths: Sequence[int]) -> Node:
    box = Box(0, 0, segment.length, board_width)
    return Split(
        box, "y", tuple(_strip_node(strip, segment.length, lengths) for strip in segment.strips)
    )


def _strip_node(strip: Strip, length: int, lengths: Sequence[int]) -> Node:
    box = Box(0, 0, length, strip.width)
    children = tuple(Leaf(Box(0, 0, lengths[blank], strip.width), blank) for blank in strip.blanks)
    return Split(box, "x", children)
