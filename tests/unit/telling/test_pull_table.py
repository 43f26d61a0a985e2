"""What screws and nails held in tests, as the page of a plan tells it."""

import pytest

from generator.telling.pull_table import make_pulls
from generator.units import SYSTEMS, System
from tests.little_designs import RAIL_ON_LEG, plan_of

HEAD = """\
title: Leg
date: 2026-11-26
stands: hung
stock:
  leg: {imperial: 4x4, metric: 69x69}
  rail: {imperial: 1x4, metric: 18x94}
"""


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_pull_is_told_to_two_digits_in_the_unit_of_the_edition(
    system: System,
) -> None:
    plan = plan_of(RAIL_ON_LEG.replace("WITH", "face screws"), system, HEAD)
    (screw,) = plan.joinery.fasteners
    table = make_pulls(plan)

    assert screw.pull_n is not None
    assert len(table.rows) == 1
    number = float(table.rows[0][-1].split()[1])
    size = screw.pull_n / (4.448_221_615 if system == "imperial" else 1.0)
    assert number == pytest.approx(size, rel=0.05)
    assert number == float(f"{size:.2g}")
    assert table.rows[0][-1].endswith("lbf" if system == "imperial" else "N")


def test_dowels_have_no_row() -> None:
    assert make_pulls(plan_of(RAIL_ON_LEG.replace("WITH", "dowels"), "metric", HEAD)).rows == ()
