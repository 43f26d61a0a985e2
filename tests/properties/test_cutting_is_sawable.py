"""Whatever is to be cut: it comes off the sheets by cuts from edge to edge, and nothing is lost."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting import plan_cutting
from generator.cutting.order import find_tasks
from generator.cutting.tidying import lay_in_order
from generator.cutting.trees import Axis, Box, Leaf, Node, Split, leaves, ticks
from generator.model.cutting import Cutting
from generator.model.edition import Grain, Stock
from generator.model.parts import Parts
from tests.plain_parts import Line, make_parts, make_saw, make_stock
from tests.sawing import find_faults, read_sawing

GRAINS: st.SearchStrategy[Grain] = st.sampled_from(["along", "either"])
SIXTEENTHS = st.integers(min_value=16, max_value=16 * 23).map(lambda n: n * 25.4 / 16)
MILLIMETRES = st.integers(min_value=20, max_value=580).map(float)
CASES = settings(max_examples=25, deadline=None, derandomize=True)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[Parts, tuple[Stock, ...], float]:
    """Draw up to six kinds of blanks, one or two stocks with small sheets, and a kerf."""
    kerf = draw(st.sampled_from([0.0, 1.6, 25.4 / 8, 3.2]))
    trim = draw(st.sampled_from([0.0, 3.0, 6.35]))
    names = ["panel", "back"][: draw(st.integers(min_value=1, max_value=2))]
    sizes = [(1220.0, 620.0), (620.0, 620.0)][: draw(st.integers(min_value=1, max_value=2))]
    stocks = tuple(make_stock(sizes, name=name, trim_mm=trim) for name in names)
    size = SIXTEENTHS if draw(st.booleans()) else MILLIMETRES
    lines = [
        Line(
            label=f"P{index}",
            count=draw(st.integers(min_value=1, max_value=4)),
            length_mm=draw(size),
            width_mm=draw(size),
            grain=draw(GRAINS),
            stock=draw(st.sampled_from(names)),
        )
        for index in range(draw(st.integers(min_value=1, max_value=6)))
    ]
    return make_parts(lines, stocks), stocks, kerf


def _cut(job: tuple[Parts, tuple[Stock, ...], float]) -> Cutting:
    parts, stocks, kerf = job
    cutting, problems = plan_cutting(parts, stocks, make_saw(kerf), "metric")
    assert problems == ()
    assert cutting is not None
    return cutting


@CASES
@given(jobs())
def test_every_layout_is_sawable_complete_and_inside_the_trimmed_sheet(
    job: tuple[Parts, tuple[Stock, ...], float],
) -> None:
    assert find_faults(read_sawing(_cut(job), job[0])) == []


@settings(max_examples=10, deadline=None, derandomize=True)
@given(jobs())
def test_cutting_the_same_twice_gives_the_same(
    job: tuple[Parts, tuple[Stock, ...], float],
) -> None:
    assert _cut(job) == _cut(job)


@CASES
@given(jobs())
def test_no_stock_needs_fewer_sheets_than_its_bound(
    job: tuple[Parts, tuple[Stock, ...], float],
) -> None:
    for need in _cut(job).needs:
        assert 1 <= need.bound <= need.sheets
        assert (need.bound == need.sheets) == need.proved_least


@settings(max_examples=15, deadline=None, derandomize=True)
@given(jobs(), st.sampled_from([0.5, 1.6, 4.0]))
def test_a_wider_kerf_never_needs_fewer_sheets_than_are_proved_least(
    job: tuple[Parts, tuple[Stock, ...], float], more: float
) -> None:
    parts, stocks, kerf = job
    thin, wide = _cut(job), _cut((parts, stocks, kerf + more))

    for before, after in zip(thin.needs, wide.needs, strict=True):
        assert not before.proved_least or before.sheets <= after.sheets
        assert before.bound <= after.sheets


@settings(max_examples=15, deadline=None, derandomize=True)
@given(jobs())
def test_a_part_more_never_needs_fewer_sheets_than_are_proved_least(
    job: tuple[Parts, tuple[Stock, ...], float],
) -> None:
    parts, stocks, kerf = job
    fewer = replace(parts, parts=parts.parts[:-1])
    before = {need.stock.name: need for need in _cut((fewer, stocks, kerf)).needs}

    for need in _cut(job).needs:
        if need.stock.name in before:
            least = before[need.stock.name]
            assert not least.proved_least or least.sheets <= need.sheets
            assert least.bound <= need.bound


@CASES
@given(jobs())
def test_every_cut_is_made_with_the_setting_it_names_and_settings_follow_each_other(
    job: tuple[Parts, tuple[Stock, ...], float],
) -> None:
    cutting = _cut(job)

    made = sorted((cut for layout in cutting.layouts for cut in layout.cuts), key=lambda c: c.order)
    assert [cut.setting for cut in made] == sorted(cut.setting for cut in made)
    for setting in cutting.settings:
        cuts = [cut for cut in made if cut.setting == setting.order]
        assert len(cuts) == setting.cuts
        assert {setting.kind} == {cut.kind for cut in cuts}
        assert all(0 <= cut.setting_mm - setting.value_mm <= 0.05 + 1e-9 for cut in cuts)


@st.composite
def trees(draw: st.DrawFn) -> Node:
    """Draw a sheet of 1000 by 600 mm cut at random places, some pieces of it waste."""
    return _draw_node(draw, Box(0, 0, ticks(1000), ticks(600)), 4)


def _draw_node(draw: st.DrawFn, box: Box, depth: int) -> Node:
    axis: Axis = "x" if draw(st.booleans()) else "y"
    most = box.extent(axis) // ticks(20)
    if depth == 0 or most < 3 or draw(st.integers(min_value=0, max_value=3)) == 0:
        return Leaf(box, draw(st.sampled_from([0, None])))
    first = ticks(20) * draw(st.integers(min_value=1, max_value=most - 1))
    rest = box.slice(axis, first, box.extent(axis) - first)
    return Split(
        box,
        axis,
        (
            _draw_node(draw, box.slice(axis, 0, first), depth - 1),
            _draw_node(draw, rest, depth - 1),
        ),
    )


@CASES
@given(trees())
def test_pieces_waste_and_kerf_make_up_the_sheet(tree: Node) -> None:
    kerf = ticks(3.2)
    laid = lay_in_order(tree)

    pieces = sum((leaf.box.along_x - kerf) * (leaf.box.along_y - kerf) for leaf in leaves(laid))
    dust = sum(
        kerf * (task.piece.extent("y" if task.axis == "x" else "x") - kerf)
        for task in find_tasks([laid], kerf)
    )
    assert (ticks(1000) - kerf) * (ticks(600) - kerf) == pieces + dust


@CASES
@given(trees())
def test_no_cut_is_made_between_narrow_pieces_where_a_wide_one_could_be_left(tree: Node) -> None:
    """51 mm with a thin kerf: the 50 mm of C201, common practice, no source."""
    waiting = [lay_in_order(tree)]
    while waiting:
        node = waiting.pop()
        if isinstance(node, Split):
            wide = [child.box.extent(node.axis) >= ticks(51) for child in node.children]
            assert any(wide) == any(wide[-2:])
            waiting += node.children


@CASES
@given(trees())
def test_laying_in_order_keeps_every_blank(tree: Node) -> None:
    def sizes(node: Node) -> list[tuple[int, int]]:
        found = [leaf.box for leaf in leaves(node) if leaf.blank is not None]
        return sorted((box.along_x, box.along_y) for box in found)

    assert sizes(tree) == sizes(lay_in_order(tree))


def test_blanks_offcuts_kerf_and_trim_make_up_a_sheet_that_is_cut_into_four() -> None:
    stock = make_stock([(1000.0, 600.0)], trim_mm=6.0)
    parts = make_parts([Line(label="A", count=2, length_mm=400.0, width_mm=300.0)], [stock])
    (layout,) = _cut((parts, (stock,), 3.0)).layouts

    blanks = 2 * 400.0 * 300.0
    offcuts = sum(offcut.length_mm * offcut.width_mm for offcut in layout.offcuts)
    trim = 1000.0 * 600.0 - 988.0 * 588.0
    sawdust = 3.0 * 988.0 + 2 * 3.0 * 300.0
    assert pytest.approx(1000.0 * 600.0) == blanks + offcuts + trim + sawdust
