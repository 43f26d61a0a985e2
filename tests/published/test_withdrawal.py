"""Screws and nails pulled straight out of the side grain: the Wood Handbook's formulas.

Wood Handbook, FPL-GTR-190 (2010), chapter 8: p = 15 700 G^2 D L for wood screws (from memory, the
square quoted), p = 7 850 G^(5/2) D L for bright common nails (quoted; the exponent also FPL-093,
1965, read). Allowable loads of one inch of penetration, 2 850 G^2 D and 1 380 G^(5/2) D, and their
examples: a page of design formulas after the NDS, quoted.
"""

import pytest

from generator.joinery.withdrawal import (
    NAIL_N_MM2,
    SCREW_N_MM2,
    nail_pull_n,
    screw_pull_n,
    specific_gravity,
)
from tests.little_designs import RAIL_ON_LEG, plan_of

INCH = 25.4
POUND_N = 4.448_221_615
"""NIST Handbook 44, appendix C; from memory."""

HEAD = """\
title: Leg
date: 2026-11-26
stock:
  leg: {imperial: 4x4, metric: 69x69}
  rail: {imperial: 1x4, metric: 18x94}
"""


@pytest.mark.parametrize(("metric", "inches"), [(SCREW_N_MM2, 15_700.0), (NAIL_N_MM2, 7_850.0)])
def test_the_factors_in_millimetres_and_in_inches_are_one_factor(
    metric: float, inches: float
) -> None:
    assert metric == pytest.approx(inches * POUND_N / INCH**2, rel=1e-3)


@pytest.mark.parametrize(("gravity", "pounds"), [(0.40, 411.97), (0.48, 593.2), (0.63, 1021.9)])
def test_an_inch_of_a_number_8_screw_comes_out_at_these_pounds(
    gravity: float, pounds: float
) -> None:
    """Arithmetic from the handbook's formula in pounds and inches."""
    pull = screw_pull_n(gravity, 0.164 * INCH, INCH)

    assert pounds * POUND_N == pytest.approx(pull, rel=2e-4)


def test_a_number_10_screw_may_hold_the_published_109_pounds_an_inch() -> None:
    """The allowable load is 2 850 / 15 700 of the average one; 109.65, published as 109."""
    pull = screw_pull_n(0.45, 0.190 * INCH, INCH)

    assert pytest.approx(109.65, abs=0.05) == pull / POUND_N * 2850 / 15700


def test_a_twenty_penny_nail_may_hold_the_published_38_pounds_an_inch() -> None:
    """With G^(5/2): copies that lost the fraction of the exponent would give 57 pounds."""
    pull = nail_pull_n(0.45, 0.203 * INCH, INCH)

    assert pytest.approx(38.05, abs=0.05) == pull / POUND_N * 1380 / 7850


def test_an_eight_penny_nail_in_douglas_fir_comes_out_at_246_pounds() -> None:
    pull = nail_pull_n(0.48, 0.131 * INCH, 1.5 * INCH)

    assert pytest.approx(246.2, abs=0.1) == pull / POUND_N


def test_the_specific_gravity_of_a_density_is_the_handbooks() -> None:
    # Wood Handbook, chapter 4: G 0.40 at 12 % moisture weighs 448 kg/m3; quoted.
    assert pytest.approx(0.40) == specific_gravity(448.0)


def test_a_screw_in_the_side_grain_of_a_board_gets_its_figure() -> None:
    """50 mm of a 4 mm screw through 18 mm: 32 mm in the leg, all thread; 480 kg/m3 is G 0.4286."""
    plan = plan_of(RAIL_ON_LEG.replace("WITH", "face screws"), head=HEAD)
    (screw,) = plan.joinery.fasteners
    thread = min(screw.goods.length_mm - 18.0, screw.goods.length_mm * 2 / 3)

    assert screw.pull_n == pytest.approx(
        108.25 * (480 / 1120) ** 2 * screw.goods.diameter_mm * thread
    )


def test_a_nail_gets_its_figure_and_a_dowel_none() -> None:
    (nail,) = plan_of(RAIL_ON_LEG.replace("WITH", "nails"), head=HEAD).joinery.fasteners
    (dowel,) = plan_of(RAIL_ON_LEG.replace("WITH", "dowels"), head=HEAD).joinery.fasteners

    assert nail.pull_n == pytest.approx(
        54.12 * (480 / 1120) ** 2.5 * nail.goods.diameter_mm * (nail.goods.length_mm - 18.0)
    )
    assert dowel.pull_n is None


def test_a_panel_and_the_end_of_a_board_get_no_figure() -> None:
    panel = HEAD.replace("4x4, metric: 69x69", "plywood-23/32, metric: plywood-18")
    wide = RAIL_ON_LEG.replace("length: 700 mm", "length: 700 mm\n    width: 100 mm")
    end = RAIL_ON_LEG.replace("length: 700 mm\n    runs: {length: up, width: back}", END)

    for text, head in ((wide, panel), (end, HEAD)):
        plan = plan_of(text.replace("WITH", "face screws"), head=head)
        assert [None] == [one.pull_n for one in plan.joinery.fasteners]


END = """length: 700 mm
    corner: [-631 mm, 0 mm, 300 mm]
    runs: {length: right, width: back}"""
