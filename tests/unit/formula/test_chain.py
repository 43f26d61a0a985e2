"""How a formula came to its value, in one line."""

import pytest

from generator.formula.chain import format_chain
from generator.units import System, format_quantity
from tests.unit.formula.formulas import NAMES, parse, value


@pytest.mark.parametrize(
    ("text", "system", "expected"),
    [
        ("height - 4 in", "imperial", "height - 4 in = 40 - 4 = 36 in"),
        ("height - 16 mm", "metric", "height - 16 mm = 1016 - 16 = 1000 mm"),
        ("(height - 4 in) / trays", "imperial",
         "(height - 4 in) / trays = (40 - 4) / 3 = 12 in"),
        ("width", "imperial", "width = 30 in"),
        ("30 in", "imperial", "30 in"),
        ("width * sin(lean)", "metric", "width * sin(lean) = 762 * sin(12°) = 158.4 mm"),
        ("2 * lean", "metric", "2 * lean = 2 * 12° = 24°"),
        ("width + 900 mm", "imperial", "width + 900 mm = 30 + 35.433 = 65 7/16 in bare"),
        ("trays > 2", "metric", "trays > 2 = 3 > 2 = yes"),
        ("2 * 3", "metric", "2 * 3 = 6"),
    ],
)  # fmt: skip
def test_a_chain_shows_the_formula_its_numbers_and_the_outcome(
    text: str, system: System, expected: str
) -> None:
    formula, _ = parse(text)
    assert formula is not None

    assert format_chain(formula, NAMES, system) == expected


def test_a_long_chain_leaves_out_the_numbers() -> None:
    text = " + ".join(["width"] * 12)
    formula, _ = parse(text)
    assert formula is not None

    assert format_chain(formula, NAMES, "metric") == f"{text} = 9144 mm"


def test_a_number_is_shown_to_four_places() -> None:
    assert format_quantity(value("1/3"), "metric") == "0.3333"
    assert format_quantity(value("-0.00001"), "metric") == "0"
