"""The benchmark of the settings counts what it says it counts."""

from generator.cutting import plan_cutting
from generator.model.cutting import Cutting
from tests.benchmarks.settings import Count, count_hard, count_settings, format_table
from tests.plain_parts import Line, make_parts, make_saw, make_stock


def _cut() -> Cutting:
    """Return two sheets of 1000 by 500, each of two wide and one narrow strip, trimmed."""
    stock = make_stock([(1012.0, 512.0)], trim_mm=6.0)
    lines = [
        Line(label="A", count=4, length_mm=900.0, width_mm=200.0),
        Line(label="B", count=4, length_mm=450.0, width_mm=90.0),
    ]
    cutting, _ = plan_cutting(make_parts(lines, [stock]), (stock,), make_saw(3.0), "metric")
    assert cutting is not None
    assert len(cutting.layouts) == 2
    return cutting


def test_a_sheet_at_a_time_takes_each_setting_once_for_every_strip() -> None:
    """By hand: trim; rip, crosscut, rip, crosscut, rip, crosscut; and the same again."""
    count = count_settings("two sheets", _cut())

    assert 2 * (1 + 6) == count.before
    assert 1 + 4 == count.after == count.quick == count.bound


def test_hard_sheets_take_fewer_settings_than_the_quick_order_and_keep_to_the_bound() -> None:
    count = count_hard(2)

    assert count.bound <= count.after < count.quick < count.before


def test_the_table_has_a_line_for_each_plan_and_says_what_is_proved() -> None:
    counts = [
        Count(name="one", cuts=9, before=8, quick=6, after=5, bound=5),
        Count(name="two", cuts=9, before=8, quick=7, after=7, bound=6),
    ]
    head, first, second, sums, proved = format_table(counts).splitlines()

    assert ["plan", "cuts", "before", "quick", "after", "bound"] == head.split()
    assert ["one", "9", "8", "6", "5", "5", "least"] == first.split()
    assert ["two", "9", "8", "7", "7", "6", "not", "proved"] == second.split()
    assert ["all", "16", "13", "12"] == sums.split()
    assert proved == "1 of 2 proved least"
