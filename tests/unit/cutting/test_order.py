"""Cuts in the order a builder makes them, with a setting for every run."""

from collections.abc import Sequence

from generator.cutting.order import find_order, find_tasks, order_tasks
from generator.cutting.trees import Axis, Box, Leaf, Node, Split, ticks

KERF = ticks(3)


def _row(box: Box, widths: Sequence[float]) -> Node:
    """Return a box crosscut into blanks of the given lengths, the rest waste."""
    children: list[Node] = []
    start = 0
    for width in widths:
        extent = ticks(width) + KERF
        children.append(Leaf(box.slice("x", start, extent), 0))
        start += extent
    children.append(Leaf(box.slice("x", start, box.along_x - start), None))
    return Split(box, "x", tuple(children))


def _strips(rows: Sequence[tuple[float, Sequence[float]]]) -> Node:
    """Return a sheet of 1000 by 500 ripped into strips, each crosscut."""
    sheet = Box(0, 0, ticks(1000) + KERF, ticks(500) + KERF)
    children: list[Node] = []
    start = 0
    for width, lengths in rows:
        extent = ticks(width) + KERF
        children.append(_row(sheet.slice("y", start, extent), lengths))
        start += extent
    children.append(Leaf(sheet.slice("y", start, sheet.along_y - start), None))
    return Split(sheet, "y", tuple(children))


def _runs(*trees: Node) -> list[tuple[str, float, int]]:
    runs = order_tasks(find_tasks(trees, KERF))
    return [(run.kind, run.value_mm, len(run.tasks)) for run in runs]


def test_pieces_of_one_size_on_all_sheets_are_cut_with_one_setting() -> None:
    sheet = _strips([(200, [300, 300]), (100, [300])])

    assert _runs(sheet, sheet) == [("rip", 200, 2), ("rip", 100, 2), ("crosscut", 300, 6)]


def test_no_cut_comes_before_the_one_that_makes_its_piece() -> None:
    tasks = find_tasks([_strips([(200, [500, 300]), (100, [300])])], KERF)

    done: set[int] = {-1}
    for run in order_tasks(tasks):
        for index in run.tasks:
            assert tasks[index].after in done
            done.add(index)
    assert len(tasks) + 1 == len(done)


def test_a_setting_that_comes_again_later_waits_for_what_it_needs() -> None:
    first = _strips([(200, [300])])
    second = _strips([(100, [500, 300])])

    assert _runs(first, second) == [
        ("rip", 200, 1),
        ("rip", 100, 1),
        ("crosscut", 500, 1),
        ("crosscut", 300, 2),
    ]


def test_values_a_fence_cannot_tell_apart_are_one_setting() -> None:
    near = _strips([(200.04, [300]), (200, [300.03])])
    apart = _strips([(200.2, [300]), (200, [300])])

    assert _runs(near) == [("rip", 200, 2), ("crosscut", 300, 2)]
    assert _runs(apart) == [("rip", 200.2, 1), ("rip", 200, 1), ("crosscut", 300, 2)]


def test_a_cut_goes_through_what_the_cut_before_it_left() -> None:
    tasks = find_tasks([_strips([(200, [300]), (100, [300])])], KERF)

    rips = [task.piece.along_y for task in tasks if task.kind == "rip"]
    assert rips == [ticks(500) + KERF, ticks(297) + KERF]


def test_cuts_in_circles_cost_one_setting_more_and_the_bound_knows() -> None:
    """One sheet must be ripped before it is crosscut, the other the other way round."""
    whole = Box(0, 0, ticks(1000) + KERF, ticks(1000) + KERF)
    ripped = _cut_twice(whole, "y", "x")
    crosscut = _cut_twice(whole, "x", "y")
    found = find_order(find_tasks([ripped, crosscut], KERF))

    assert [run.kind for run in found.runs] in (
        ["rip", "crosscut", "rip"],
        ["crosscut", "rip", "crosscut"],
    )
    assert found.bound == 3


def _cut_twice(whole: Box, first: Axis, second: Axis) -> Node:
    """Return a sheet from which 300 mm are cut one way, and 300 mm from that the other way."""
    part = ticks(300) + KERF
    strip = whole.slice(first, 0, part)
    inner = Split(
        strip,
        second,
        (
            Leaf(strip.slice(second, 0, part), 0),
            Leaf(strip.slice(second, part, strip.extent(second) - part), None),
        ),
    )
    rest = Leaf(whole.slice(first, part, whole.extent(first) - part), None)
    return Split(whole, first, (inner, rest))
