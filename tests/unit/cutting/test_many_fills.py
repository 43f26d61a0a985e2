"""Fills side by side: every one is a layout a saw can follow, with what it says is on it."""

import numpy as np
import pytest

from generator.cutting.many_fills import Fill, Filler
from generator.cutting.pieces import find_pieces
from generator.cutting.trees import Node, Pose, Size, Split, leaves

SHEET = Size(0, 244_000_001, 122_000_003)


def _ways(size: tuple[int, int], blank: int, turns: bool) -> tuple[Pose, ...]:
    way = Pose(blank, *size, turned=False)
    return (way, Pose(blank, size[1], size[0], turned=True)) if turns else (way,)


def _fill(
    sizes: list[tuple[int, int]], counts: list[int], sheet: Size, *, least: int = 0, fills: int = 64
) -> list[tuple[float, Fill]]:
    poses = [_ways(size, blank, blank % 2 == 0) for blank, size in enumerate(sizes)]
    pieces = find_pieces(poses, counts, sheet)
    filler = Filler(pieces, np.random.default_rng(3), least / pieces.scale)
    values = np.array([size[0] * size[1] / sheet.area for size in sizes])
    return filler.fill(values, np.array(counts), fills, 20, 0.0)


def _is_whole(node: Node) -> bool:
    """Whether the children of every split fill it, side by side, and are as wide as it."""
    if not isinstance(node, Split):
        return True
    start = 0
    for child in node.children:
        slice_of = node.box.slice(node.axis, start, child.box.extent(node.axis))
        if child.box != slice_of or not child.box.extent(node.axis):
            return False
        start += child.box.extent(node.axis)
    return start == node.box.extent(node.axis) and all(map(_is_whole, node.children))


@pytest.mark.parametrize("sheet", [SHEET, Size(0, 2440, 1220)])
def test_the_tree_of_a_fill_is_cut_from_edge_to_edge_and_has_the_copies_it_counts(
    sheet: Size,
) -> None:
    unit = sheet.along_x // 2440
    sizes = [(700 * unit, 301 * unit), (401 * unit, 255 * unit), (1220 * unit, 199 * unit)]
    found = _fill(sizes, [9, 15, 6], sheet)

    assert len(found) > 1
    for worth, fill in found:
        tree = fill.tree()
        assert sheet.box == tree.box
        assert _is_whole(tree)
        placed = [leaf for leaf in leaves(tree) if leaf.blank is not None]
        counts = [sum(leaf.blank == blank for leaf in placed) for blank in range(3)]
        assert fill.counts.tolist() == counts
        for leaf in placed:
            size = (leaf.box.along_x, leaf.box.along_y)
            assert sizes[leaf.blank or 0] == (size[::-1] if leaf.turned else size)
        area = sum(leaf.box.along_x * leaf.box.along_y for leaf in placed)
        assert worth == pytest.approx(area / sheet.area)


def test_the_best_fill_stands_first_and_no_two_hold_the_same() -> None:
    found = _fill([(70, 30), (40, 25), (30, 20)], [3, 5, 4], Size(0, 244, 122))

    assert sorted((worth for worth, _ in found), reverse=True) == [worth for worth, _ in found]
    assert len(found) == len({fill.key for _, fill in found})


def test_what_fits_to_the_tick_is_placed_and_what_is_a_tick_too_long_is_not() -> None:
    fitting = _fill([(SHEET.along_x // 2, SHEET.along_y)], [2], SHEET)
    odd = SHEET.along_x // 2 + 1

    assert [2] == fitting[0][1].counts.tolist()
    assert SHEET.along_x < 2 * odd
    assert [1] == _fill([(odd, SHEET.along_y)], [2], SHEET)[0][1].counts.tolist()


def test_nothing_narrower_than_the_least_is_left_beside_a_blank() -> None:
    free = _fill([(99, 50)], [1], Size(0, 100, 100))
    careful = _fill([(99, 50), (60, 30)], [1, 1], Size(0, 100, 100), least=2)

    assert [1] == free[0][1].counts.tolist()
    assert all(fill.counts[0] == 0 or _is_upright(fill) for _, fill in careful)
    assert careful


def _is_upright(fill: Fill) -> bool:
    (leaf,) = (leaf for leaf in leaves(fill.tree()) if leaf.blank == 0)
    return leaf.turned


def test_equal_draws_give_equal_fills() -> None:
    one, two = (_fill([(70, 30), (40, 25)], [6, 9], Size(0, 244, 122)) for _ in range(2))

    assert [(worth, fill.tree()) for worth, fill in one] == [(w, fill.tree()) for w, fill in two]


def test_where_nothing_fits_nothing_is_returned() -> None:
    assert [] == _fill([(70, 30)], [0], Size(0, 244, 122))
