"""The benchmark of booklets sets what it says it sets."""

from tests.benchmarks.booklets import format_row, time_plan


def test_a_plan_has_a_booklet_and_templates_that_take_time() -> None:
    row = time_plan("step-stool", "", "metric")

    assert row.booklet_s > 0
    assert row.templates_s > 0
    assert row.booklet_kb > 100
    assert row.templates_kb > 10
    assert format_row(row).startswith("step-stool metric")
