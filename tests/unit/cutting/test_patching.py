"""Patching: a tree with a hole that is filled again is a tree cut from edge to edge."""

import numpy as np
import pytest

from generator.cutting.many_fills import Filler, Start
from generator.cutting.patching import count_blanks, flatten, tear
from generator.cutting.pieces import find_pieces
from generator.cutting.tidying import lay_in_order
from generator.cutting.trees import Axis, Leaf, Node, Pose, Size, Split, leaves

SHEET = Size(0, 240_000_000, 120_000_000)
SIZES = [(70, 30), (40, 25), (61, 47), (33, 21), (18, 12), (95, 40)]


def _area(node: Node) -> int:
    return sum(leaf.box.along_x * leaf.box.along_y for leaf in leaves(node))


def _is_flat(node: Node, outside: Axis | None = None) -> bool:
    """Whether every split fills its box, lies across its parent and has at most one waste."""
    if isinstance(node, Leaf):
        return True
    waste = [child for child in node.children if isinstance(child, Leaf) and child.blank is None]
    extents = sum(child.box.extent(node.axis) for child in node.children)
    return (
        node.axis != outside
        and len(waste) <= 1
        and extents == node.box.extent(node.axis)
        and all(_is_flat(child, node.axis) for child in node.children)
    )


@pytest.mark.parametrize("draw", range(8))
def test_a_sheet_that_is_torn_and_patched_again_and_again_stays_a_sheet(draw: int) -> None:
    unit = SHEET.along_x // 240
    poses = [(Pose(n, x * unit, y * unit, turned=False),) for n, (x, y) in enumerate(SIZES)]
    counts = np.array([3, 6, 2, 8, 12, 1])
    random = np.random.default_rng(draw)
    filler = Filler(find_pieces(poses, counts.tolist(), SHEET), random)
    area = np.array([x * y / (240 * 120) for x, y in SIZES])
    root = flatten(filler.fill(area, counts, 32, 1, 0.0)[0][1].tree())
    for _ in range(10):
        torn = tear(root, random, 0.2)
        out = count_blanks(torn.torn, len(SIZES))
        over = counts - count_blanks([root], len(SIZES))
        fill = filler.fill_each([Start(area, over + out, (torn.hole,))], 16)[0]
        filled = flatten(fill.trees([torn.hole])[0])
        before, root = root, torn.patch(filled)

        assert _is_flat(root)
        assert SHEET.area == _area(root) == _area(lay_in_order(root))
        put_in = count_blanks([root], len(SIZES)) - count_blanks([before], len(SIZES))
        assert fill.counts.tolist() == (put_in + out).tolist()
        assert (count_blanks([root], len(SIZES)) <= counts).all()


def test_a_hole_has_the_size_that_was_asked_for_and_takes_the_waste_beside_it() -> None:
    box = SHEET.box
    parts = tuple(Leaf(box.slice("x", n * 60_000_000, 60_000_000), n) for n in range(3))
    root = Split(box, "x", (*parts, Leaf(box.slice("x", 180_000_000, 60_000_000), None)))
    holes = [tear(root, np.random.default_rng(draw), 0.3).hole for draw in range(5)]

    assert {(120_000_000, 120_000_000)} == {(hole.along_x, hole.along_y) for hole in holes}


def test_fills_of_several_starts_use_only_what_each_of_them_has() -> None:
    poses = [(Pose(n, 60, 40, turned=False),) for n in range(2)]
    sheet = Size(0, 240, 120)
    filler = Filler(find_pieces(poses, (20, 20), sheet), np.random.default_rng(1))
    starts = [
        Start(np.array([1.0, 1.0]), np.array([2, 0]), (sheet.box,)),
        Start(np.array([1.0, 1.0]), np.array([0, 30]), (sheet.box, sheet.box)),
        Start(np.array([1.0, 1.0]), np.array([0, 0]), (sheet.box,)),
    ]

    assert [[2, 0], [0, 24], [0, 0]] == [
        fill.counts.tolist() for fill in filler.fill_each(starts, 8)
    ]
