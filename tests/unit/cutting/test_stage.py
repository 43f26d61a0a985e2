"""The whole cutting stage on small jobs whose outcome can be seen at a glance."""

import time
from collections.abc import Sequence

import pytest

from generator.cutting import plan_cutting
from generator.model.cutting import Cutting, SettingsNeed
from generator.model.edition import Grain, Stock
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_stock
from tests.sawing import find_faults, read_sawing

SIZES = [(2440.0, 1220.0), (1220.0, 1220.0), (1220.0, 610.0)]


def _cut(lines: Sequence[Line], *stocks: Stock, kerf: float | None = 3.2) -> Cutting:
    parts = make_parts(lines, stocks)
    cutting, problems = plan_cutting(parts, stocks, make_saw(kerf), "metric")
    assert problems == ()
    assert cutting is not None
    assert find_faults(read_sawing(cutting, parts)) == []
    return cutting


def test_no_parts_need_no_sheets() -> None:
    cutting = _cut([], make_stock(SIZES))

    assert (cutting.layouts, cutting.settings, cutting.needs) == ((), (), ())


def test_a_part_that_fits_nothing_gives_a_problem_and_no_cutting() -> None:
    stock = make_stock(SIZES)
    parts = make_parts([Line(label="A", count=1, length_mm=3000, width_mm=10)], [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(3.2), "metric")

    assert cutting is None
    assert [problem.code for problem in problems] == ["N101"]


def test_the_smallest_size_that_holds_everything_is_bought() -> None:
    stock = make_stock(SIZES, trim_mm=6)
    few = _cut([Line(label="A", count=1, length_mm=1000, width_mm=500)], stock)
    more = _cut([Line(label="A", count=2, length_mm=1000, width_mm=500)], stock)

    assert [layout.size.length_mm * layout.size.width_mm for layout in few.layouts] == [744200]
    assert [layout.size.length_mm * layout.size.width_mm for layout in more.layouts] == [1488400]


def test_the_last_sheet_may_be_a_smaller_one() -> None:
    stock = make_stock(SIZES, trim_mm=6)
    cutting = _cut([Line(label="A", count=5, length_mm=1200, width_mm=590)], stock)

    assert [layout.size.name for layout in cutting.layouts] == ["2440 x 1220", "1220 x 610"]


def test_sheets_are_numbered_over_all_stocks_in_their_order() -> None:
    stocks = (make_stock(SIZES, name="back"), make_stock(SIZES, name="panel"))
    lines = [
        Line(label="A", count=3, length_mm=2400, width_mm=1000, stock="panel"),
        Line(label="B", count=1, length_mm=900, width_mm=900, stock="back"),
    ]
    cutting = _cut(lines, *stocks)

    assert [(layout.number, layout.stock.name) for layout in cutting.layouts] == [
        (1, "back"),
        (2, "panel"),
        (3, "panel"),
        (4, "panel"),
    ]
    assert [(need.sheets, need.proved_least) for need in cutting.needs] == [(1, True), (3, True)]


def test_a_stock_without_parts_is_not_bought() -> None:
    stocks = (make_stock(SIZES, name="back"), make_stock(SIZES))
    cutting = _cut([Line(label="A", count=1, length_mm=900, width_mm=900)], *stocks)

    assert [need.stock.name for need in cutting.needs] == ["panel"]


@pytest.mark.parametrize(("grain", "sheets"), [("along", 2), ("either", 1)])
def test_turning_a_part_is_used_only_where_the_grain_lets_it(grain: Grain, sheets: int) -> None:
    line = Line(label="A", count=2, length_mm=700, width_mm=600, grain=grain)
    cutting = _cut([line], make_stock([(1300.0, 700.0)]))

    assert len(cutting.layouts) == sheets


def test_a_sheet_without_grain_lets_every_part_turn() -> None:
    line = Line(label="A", count=1, length_mm=600, width_mm=1200, grain="along")
    cutting = _cut([line], make_stock([(1220.0, 610.0)], has_grain=False))

    assert cutting.layouts[0].placements[0].turned


def test_edges_are_trimmed_before_anything_else_with_one_setting() -> None:
    cutting = _cut(
        [Line(label="A", count=3, length_mm=2000, width_mm=1000)], make_stock(SIZES, trim_mm=6)
    )
    trims = [cut for layout in cutting.layouts for cut in layout.cuts if cut.kind == "trim"]

    assert (cutting.settings[0].kind, cutting.settings[0].value_mm) == ("trim", 6.0)
    assert list(range(1, 13)) == [cut.order for cut in trims]


def test_a_clean_edged_sheet_is_not_trimmed() -> None:
    cutting = _cut([Line(label="A", count=1, length_mm=2000, width_mm=1000)], make_stock(SIZES))

    assert [cut.kind for cut in cutting.layouts[0].cuts] == ["rip", "crosscut"]


def test_cuts_say_what_they_go_through_and_what_they_free() -> None:
    lines = [
        Line(label="A", count=2, length_mm=1100, width_mm=300),
        Line(label="B", count=1, length_mm=1100, width_mm=800),
    ]
    cutting = _cut(lines, make_stock([(2440.0, 1220.0)]))
    words = [(cut.of, cut.frees) for cut in cutting.layouts[0].cuts]

    assert ("sheet 1", "strip 1.1") in words
    assert any(of.startswith("strip 1.") and "A" in frees for of, frees in words)


@pytest.mark.parametrize(
    ("narrow_mm", "words"), [(30.0, ["B", "B, leaving A"]), (60.0, ["A", "B, leaving B"])]
)
def test_narrow_strips_come_off_while_there_is_wide_wood_beside_them(
    narrow_mm: float, words: list[str]
) -> None:
    lines = [
        Line(label="A", count=1, length_mm=1000, width_mm=300),
        Line(label="B", count=2, length_mm=1000, width_mm=narrow_mm),
    ]
    cutting = _cut(lines, make_stock([(1000.0, 300 + 2 * narrow_mm + 2 * 3.2)]))

    assert words == [cut.frees for cut in cutting.layouts[0].cuts]


def test_a_plan_knows_how_few_settings_its_sheets_and_boards_need() -> None:
    lines = [
        Line(label="A", count=2, length_mm=1100, width_mm=300),
        Line(label="C", count=2, length_mm=700, width_mm=90, stock="stick"),
    ]
    cutting = _cut(lines, make_stock(SIZES, trim_mm=6), make_board([1800], name="stick"))

    assert [s.kind for s in cutting.settings] == ["trim", "rip", "crosscut", "crosscut"]
    assert cutting.settings_need == SettingsNeed(settings=4, bound=4)
    assert cutting.settings_need.proved_least


def test_a_saw_without_a_kerf_takes_nothing() -> None:
    cutting = _cut(
        [Line(label="A", count=4, length_mm=610, width_mm=1220)],
        make_stock([(2440.0, 1220.0)]),
        kerf=None,
    )

    assert len(cutting.layouts) == 1
    assert cutting.layouts[0].used == pytest.approx(1.0)


def test_only_offcuts_worth_keeping_are_named() -> None:
    wide = _cut([Line(label="A", count=1, length_mm=2440, width_mm=1100)], make_stock(SIZES))
    narrow = _cut([Line(label="A", count=1, length_mm=2440, width_mm=1120)], make_stock(SIZES))

    (offcut,) = wide.layouts[0].offcuts
    assert (offcut.length_mm, offcut.width_mm) == pytest.approx((2440, 1220 - 1100 - 3.2))
    assert narrow.layouts[0].offcuts == ()


def test_forty_parts_on_four_sheets_are_planned_in_a_few_seconds_of_work() -> None:
    lines = [
        Line(
            label=f"P{index}",
            count=4,
            length_mm=500.0 + 57 * index,
            width_mm=180.0 + 31 * index,
            grain="either",
        )
        for index in range(10)
    ]
    start = time.process_time()
    cutting = _cut(lines, make_stock(SIZES, trim_mm=6))

    assert len(cutting.layouts) >= 4
    assert time.process_time() - start < 5
