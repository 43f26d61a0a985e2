"""Formulas that are straight lines of a thickness while no decision changes, and others."""

import pytest

from generator.targets import read_variant
from generator.thickness.straight import find_bent_formula
from generator.units import SYSTEMS
from tests.followed_plans import DESIGNS
from tests.little_designs import ROOT, read_text

PANEL = frozenset({"panel"})
DESIGN = """\
parameters:
  wide: {{value: {formula}}}
parts:
  board: {{from: panel, length: wide, width: 200 mm, runs: {{length: right, width: back}}}}
steps:
  - {{title: All, fit: [board]}}
"""


def _bent(formula: str) -> str:
    return find_bent_formula(read_text(DESIGN.format(formula=formula)), "metric", PANEL)


@pytest.mark.parametrize(
    "formula",
    [
        "700 mm",
        "700 mm - 2 * panel",
        "(700 mm - 4 * panel) / 3",
        "-panel + 30 mm / cos(12 deg)",
        "max(panel; 15 mm) + min(2 * panel; 40 mm)",
        "300 mm if panel > 16 mm else 310 mm - panel",
        "round(700 mm - panel; 1 mm)",
        "abs(panel - 300 mm)",
        "panel * sqrt(2)",
    ],
)
def test_a_straight_line_is_no_bent_formula(formula: str) -> None:
    assert _bent(formula) == ""


@pytest.mark.parametrize(
    "formula",
    [
        "panel * panel / 1 mm",
        "900 mm * 1 mm / panel",
        "sqrt(panel * 100 mm)",
        "1 m * cos(1 deg * panel / 1 mm)",
        "300 mm if panel * panel > 300 mm * 1 mm else 310 mm",
        "round(700 mm; panel)",
    ],
)
def test_what_bends_is_named(formula: str) -> None:
    assert _bent(formula) == formula


def test_a_parameter_hands_on_what_it_is() -> None:
    text = DESIGN.format(formula="thick * 20")
    text = text.replace("parts:", "  thick: {value: panel * panel / 18 mm}\nparts:")

    assert find_bent_formula(read_text(text), "metric", PANEL) == "thick * 20"
    assert find_bent_formula(read_text(text), "metric", frozenset()) == ""


@pytest.mark.parametrize("slug", DESIGNS)
def test_every_formula_of_the_demo_designs_is_straight(slug: str) -> None:
    design, problems = read_variant(ROOT / "designs", slug, "", {})

    assert design is not None, problems
    stocks = frozenset(stock.name for stock in design.stocks)
    assert [find_bent_formula(design, system, stocks) for system in SYSTEMS] == ["", ""]
