"""Blocks of blanks: what is joined, how large it is, and how it comes apart again."""

from generator.cutting.pieces import EXACT_IN_SINGLE, LEAST_FILLED, find_pieces
from generator.cutting.trees import Box, Leaf, Pose, Size, Split, leaves

SHEET = Size(0, 101, 61)


def _ways(*sizes: tuple[int, int]) -> list[tuple[Pose, ...]]:
    return [(Pose(blank, *size, turned=False),) for blank, size in enumerate(sizes)]


def test_blanks_of_one_width_are_joined_and_those_of_unlike_widths_are_not() -> None:
    pieces = find_pieces(_ways((40, 30), (20, 30), (25, 17)), [1, 1, 1], SHEET)

    assert [(60, 30)] == [
        (int(pieces.along_x[index]), int(pieces.along_y[index]))
        for index in range(3, len(pieces.made_of))
    ]
    assert [1, 1, 0] == pieces.need[3].tolist()


def test_no_block_has_more_copies_than_there_are_or_is_larger_than_the_sheet() -> None:
    pieces = find_pieces(_ways((40, 30)), [2], SHEET)

    assert [[1], [2], [2]] == pieces.need.tolist()
    assert {(40, 30), (80, 30), (40, 60)} == {
        (int(x), int(y)) for x, y in zip(pieces.along_x, pieces.along_y, strict=True)
    }


def test_three_copies_are_joined_along_the_sheet_but_not_where_they_do_not_fit() -> None:
    pieces = find_pieces(_ways((30, 25)), [3], SHEET)

    sizes = {(int(x), int(y)) for x, y in zip(pieces.along_x, pieces.along_y, strict=True)}
    assert (90, 25) in sizes
    assert (30, 75) not in sizes


def test_a_block_comes_apart_into_its_blanks_and_the_waste_beside_the_narrower_one() -> None:
    ways = _ways((5000, 3000), (5000, 2950))
    pieces = find_pieces(ways, [1, 1], Size(0, 10_000, 6_000))
    block = next(index for index in range(2, len(pieces.made_of)) if pieces.along_x[index] > 100)
    tree = pieces.lay(block, Box(0, 0, pieces.extent(block, "x"), pieces.extent(block, "y")))

    assert isinstance(tree, Split)
    boxes = {(leaf.blank, leaf.box.along_x, leaf.box.along_y) for leaf in leaves(tree)}
    assert {(0, 5000, 3000), (1, 5000, 2950), (None, 5000, 50)} == boxes
    assert LEAST_FILLED <= 1 - 5000 * 50 / (10_000 * 3000)


def test_lengths_are_held_exactly_however_long_they_are() -> None:
    odd = 244_000_001
    pieces = find_pieces(_ways((odd - 2, 7)), [1], Size(0, odd, 122_000_003))

    assert odd > EXACT_IN_SINGLE
    assert odd - 2 == pieces.extent(0, "x")
    assert isinstance(pieces.lay(0, Box(0, 0, odd - 2, 7)), Leaf)
