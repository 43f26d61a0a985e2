"""What is left of a strip is waste or is sawn to size again; wide pieces come off first."""

import pytest

from generator.cutting import plan_cutting
from generator.cutting.tidying import lay_in_order
from generator.cutting.trees import Axis, Box, Leaf, Node, Split, ticks
from tests.plain_parts import Line, make_parts, make_saw, make_stock
from tests.sawing import read_sawing
from tests.simulator import work


def _row(axis: Axis, box: Box, *extents: int) -> Node:
    """Return blanks of so many mm side by side, and what is left as waste."""
    start, parts = 0, list[Node]()
    for extent in extents:
        parts.append(Leaf(box.slice(axis, start, ticks(extent)), 0))
        start += ticks(extent)
    if start < box.extent(axis):
        parts.append(Leaf(box.slice(axis, start, box.extent(axis) - start), None))
    return Split(box, axis, tuple(parts))


def _box(x: int, y: int, along_x: int, along_y: int) -> Box:
    return Box(ticks(x), ticks(y), ticks(along_x), ticks(along_y))


def _sheet(strip: int, *beside: Node) -> Node:
    """Return a sheet of 1000 by 500: a strip of two rows of 300 and 100 that just fill it."""
    box = _box(0, 0, 1000, 500)
    rows = tuple(_row("y", _box(400 * n, 0, 400, strip), strip - 100, 100) for n in range(2))
    end = Leaf(_box(800, 0, 200, strip), None)
    first = Split(_box(0, 0, 1000, strip), "x", (*rows, end))
    used = strip + sum(node.box.along_y for node in beside) // ticks(1)
    rest = () if used == 500 else (Leaf(_box(0, used, 1000, 500 - used), None),)
    return Split(box, "y", (first, *beside, *rest))


def _extents(node: Node) -> list[float]:
    """Return what a node falls into, in mm; waste is below zero."""
    assert isinstance(node, Split)
    return [
        child.box.extent(node.axis)
        / ticks(1)
        * (-1 if isinstance(child, Leaf) and child.blank is None else 1)
        for child in node.children
    ]


def _first(node: Node) -> Node:
    assert isinstance(node, Split)
    return node.children[0]


def test_a_strip_as_wide_as_its_rows_gets_a_little_of_the_waste_beside_it() -> None:
    laid = lay_in_order(_sheet(400))

    assert [406, -94] == _extents(laid)
    assert [300, 100, -6] == _extents(_first(_first(laid)))


@pytest.mark.parametrize(("strip", "given"), [(488, 6), (489, 0)])
def test_nothing_is_taken_where_too_little_waste_would_be_left(strip: int, given: int) -> None:
    assert [strip + given, strip + given - 500] == _extents(lay_in_order(_sheet(strip)))


def test_a_strip_with_a_blank_as_wide_as_it_is_set_to_that_blank() -> None:
    box = _box(0, 0, 1000, 500)
    strip = (_row("y", _box(0, 0, 400, 400), 300, 100), Leaf(_box(400, 0, 600, 400), 1))
    first = Split(_box(0, 0, 1000, 400), "x", strip)
    laid = lay_in_order(Split(box, "y", (first, Leaf(_box(0, 400, 1000, 100), None))))

    assert [400, -100] == _extents(laid)


def _loose(y: int, along_y: int, blank: int) -> Node:
    """Return a strip with a blank that is sawn to its width later."""
    row = _row("y", _box(0, y, 400, along_y), blank)
    return Split(_box(0, y, 1000, along_y), "x", (row, Leaf(_box(400, y, 600, along_y), None)))


def _tight(y: int, along_y: int) -> Node:
    """Return a strip as wide as the blanks in it."""
    return _row("x", _box(0, y, 1000, along_y), 500, 400)


def test_a_blank_comes_off_and_what_is_sawn_again_is_left_where_nothing_is_waste() -> None:
    parts = (_loose(0, 280, 240), _tight(280, 220))

    assert [220, 280] == _extents(lay_in_order(Split(_box(0, 0, 1000, 500), "y", parts)))


def test_the_widest_comes_off_first_where_waste_is_left() -> None:
    parts = (_loose(0, 260, 240), _tight(260, 220), Leaf(_box(0, 480, 1000, 20), None))

    assert [260, 220, -20] == _extents(lay_in_order(Split(_box(0, 0, 1000, 500), "y", parts)))


def test_a_narrow_strip_is_not_left_last_between_narrow_ones() -> None:
    """Nobody clamps a straightedge to a strip of 40 mm: it comes off the wide piece."""
    parts = (_loose(0, 40, 30), _tight(40, 420), _tight(460, 40))
    laid = lay_in_order(Split(_box(0, 0, 1000, 500), "y", parts))

    assert isinstance(laid, Split)
    assert [40, 420, 40] == _extents(laid)
    assert [30, -10] == _extents(_first(laid.children[-1]))


def test_of_layouts_as_good_one_without_cuts_in_small_pieces_is_taken() -> None:
    """50 mm beside a cut: common practice, no source. The other layout has the larger offcut."""
    lines = [
        Line(label="A", count=2, length_mm=1200, width_mm=80),
        Line(label="B", count=2, length_mm=880, width_mm=100),
        Line(label="C", count=2, length_mm=880, width_mm=18),
    ]
    stock = make_stock([(4000.0, 2000.0)], trim_mm=5.0)
    parts = make_parts(lines, [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(2.38125), "metric")
    assert problems == ()
    assert cutting is not None
    shop = work(read_sawing(cutting, parts))

    assert shop.faults == []
    assert min(step.room_mm for step in shop.steps if step.kind != "trim") >= 50
