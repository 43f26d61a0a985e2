"""Layouts for blanks of slightly other sizes: the same cuts, or none."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from generator.cutting.replay import keep_blank
from generator.cutting.stage import lay_out_again, plan_cutting, saw_again
from generator.model.cutting import Blank, Cut, Cutting
from generator.model.edition import Stock
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_stock
from tests.sawing import find_faults, read_sawing

SAW = make_saw(2.0)


def _resaw(planned: Sequence[Line], wanted: Sequence[Line], stock: Stock) -> Cutting | None:
    """Return the cuts for other sizes after those planned; what is sawn is simulated."""
    before = make_parts(planned, [stock])
    cutting, problems = plan_cutting(before, (stock,), SAW, "metric")
    assert cutting is not None, problems
    sawn = lay_out_again(before, (stock,), SAW, "metric", "normal")
    parts = make_parts(wanted, [stock])
    found = saw_again(sawn, cutting, parts, (stock,), "metric")
    if found is not None:
        assert find_faults(read_sawing(found, parts)) == []
        assert [(cut.order, cut.kind, cut.of, cut.frees) for cut in _cuts(found)] == [
            (cut.order, cut.kind, cut.of, cut.frees) for cut in _cuts(cutting)
        ]
    return found


def _cuts(cutting: Cutting) -> list[Cut]:
    return [cut for layout in cutting.all_layouts() for cut in layout.cuts]


def _lines(length_mm: float, width_mm: float) -> list[Line]:
    return [
        Line(label="A", count=4, length_mm=length_mm, width_mm=300.0),
        Line(label="B", count=3, length_mm=400.0, width_mm=width_mm),
    ]


def test_the_same_sizes_give_the_same_cuts() -> None:
    stock = make_stock([(2440.0, 1220.0)], trim_mm=5.0)
    found = _resaw(_lines(700.0, 200.0), _lines(700.0, 200.0), stock)
    planned, _ = plan_cutting(make_parts(_lines(700.0, 200.0), [stock]), (stock,), SAW, "metric")

    assert planned is not None
    assert found is not None
    assert found.layouts == planned.layouts
    assert found.settings == planned.settings


@pytest.mark.parametrize(
    ("length_mm", "width_mm"), [(701.6, 200.8), (698.8, 199.4), (700.8, 199.2)]
)
def test_other_sizes_are_sawn_by_the_same_cuts_set_otherwise(
    length_mm: float, width_mm: float
) -> None:
    stock = make_stock([(2440.0, 1220.0)], trim_mm=5.0)
    found = _resaw(_lines(700.0, 200.0), _lines(length_mm, width_mm), stock)

    assert found is not None
    assert {length_mm, width_mm} < {setting.value_mm for setting in found.settings}


@pytest.mark.parametrize(("more_mm", "holds"), [(0.9, True), (1.1, False)])
def test_a_sheet_that_becomes_too_small_is_no_layout(more_mm: float, holds: bool) -> None:
    """Two parts of 598 mm and a kerf of 2 mm leave 2 mm of 1200."""
    planned = [Line(label="A", count=2, length_mm=598.0, width_mm=600.0)]
    wanted = [replace(planned[0], length_mm=598.0 + more_mm)]
    found = _resaw(planned, wanted, make_stock([(1200.0, 610.0)]))

    assert (found is not None) == holds


def test_boards_are_sawn_again_too() -> None:
    planned = [Line(label="A", count=3, length_mm=700.0, width_mm=90.0, stock="b")]
    wanted = [replace(planned[0], length_mm=701.2)]
    found = _resaw(planned, wanted, make_board([2400.0], name="b"))

    assert found is not None
    assert [placed.length_mm for placed in found.boards[0].placements] == [701.2] * 3


def _blank(length_mm: float, allowances: tuple[float, float, float, float]) -> Blank:
    return Blank(label="A", count=1, length_mm=length_mm, width_mm=200.0, allowance_mm=allowances)


def test_a_blank_for_bevels_stays_and_its_allowance_takes_the_difference() -> None:
    planned = _blank(713.0, (6.0, 7.0, 0.0, 0.0))
    kept = keep_blank(_blank(714.0, (6.0, 6.6, 0.0, 0.0)), planned)

    assert kept is not None
    assert kept.length_mm == 713.0
    assert kept.allowance_mm == pytest.approx((6.0, 5.6, 0.0, 0.0))


def test_a_blank_that_would_leave_too_little_for_its_bevel_is_none() -> None:
    planned = _blank(706.0, (6.0, 0.0, 0.0, 0.0))

    assert keep_blank(_blank(707.9, (6.0, 0.0, 0.0, 0.0)), planned) is not None
    assert keep_blank(_blank(708.1, (6.0, 0.0, 0.0, 0.0)), planned) is None


def test_a_plain_blank_is_as_large_as_its_part() -> None:
    plain = (0.0, 0.0, 0.0, 0.0)

    assert keep_blank(_blank(701.2, plain), _blank(700.0, plain)) == _blank(701.2, plain)
