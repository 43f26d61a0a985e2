"""Parameters in one edition: any order, limits, circles; and values from the command line."""

import pytest

from generator.design.overrides import override_parameters
from generator.edition.stage import evaluate_design
from generator.model.edition import Edition
from generator.units import System
from tests.little_designs import (
    catalogue_of,
    codes,
    edition_of,
    edition_problems,
    parts_of,
    read_text,
)

BOARD = """
parts:
  board: {from: panel, length: width, width: 50 mm, runs: {length: right, width: back}}
"""


def values(edition: Edition) -> dict[str, float]:
    return {parameter.name: float(parameter.quantity) for parameter in edition.parameters}


def test_parameters_may_use_each_other_in_any_order() -> None:
    text = "parameters: {half: width / 2, width: 3 * third, third: 100 mm}" + BOARD

    assert values(edition_of(text)) == {"half": 150.0, "width": 300.0, "third": 100.0}


def test_each_edition_has_its_own_value() -> None:
    text = "parameters: {width: {imperial: 30 in, metric: 760 mm}}" + BOARD

    assert values(edition_of(text, "metric")) == {"width": 760.0}
    assert values(edition_of(text, "imperial")) == {"width": pytest.approx(762.0)}


def test_a_stock_is_as_thick_as_its_sheet() -> None:
    assert values(edition_of("parameters: {width: 10 * panel}" + BOARD)) == {"width": 180.0}


def test_parameters_in_a_circle_are_reported_once_and_silence_what_hangs_on_them() -> None:
    text = "parameters: {width: a, a: 2 * b, b: a / 2}" + BOARD
    (problem,) = edition_problems(text)

    assert problem.code == "E104"
    assert problem.what == "parameters `a` and `b` depend on each other"


@pytest.mark.parametrize(("value", "found"), [("99 mm", ["E101"]), ("100 mm", []),
                                              ("200 mm", []), ("201 mm", ["E101"])])  # fmt: skip
def test_a_parameter_keeps_its_limits(value: str, found: list[str]) -> None:
    text = f"parameters: {{width: {{value: {value}, min: 100 mm, max: 2 * 100 mm}}}}" + BOARD

    assert codes(edition_problems(text)) == found


def test_a_parameter_of_another_kind_is_refused_where_a_length_is_needed() -> None:
    assert codes(edition_problems("parameters: {width: 12 deg}" + BOARD)) == ["E106"]


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_a_value_from_the_command_line_counts_in_both_editions(system: System) -> None:
    design = read_text("parameters: {width: {imperial: 30 in, metric: 760 mm}}" + BOARD)
    changed, problems = override_parameters(design, {"width": "2 * 10 in"})
    edition, _ = evaluate_design(changed, catalogue_of(), system)

    assert problems == ()
    assert edition is not None
    assert values(edition) == {"width": pytest.approx(508.0)}


def test_a_value_from_the_command_line_may_use_other_parameters() -> None:
    design = read_text("parameters: {width: 1 m, lip: 30 mm}" + BOARD)
    changed, _ = override_parameters(design, {"width": "10 * lip"})
    edition, _ = evaluate_design(changed, catalogue_of(), "metric")

    assert edition is not None
    assert values(edition)["width"] == 300.0


def test_an_unknown_name_on_the_command_line_is_reported_with_the_near_ones() -> None:
    design = read_text("parameters: {width: 1 m}" + BOARD)
    changed, problems = override_parameters(design, {"widht": "1 m"})

    assert codes(problems) == ["D202"]
    assert problems[0].help == "did you mean `width`?"
    assert changed == design


def test_a_formula_on_the_command_line_that_says_nothing_is_reported() -> None:
    design = read_text("parameters: {width: 1 m}" + BOARD)

    assert codes(override_parameters(design, {"width": "1 +"})[1]) == ["D108"]


def test_a_value_from_the_command_line_keeps_the_limits_of_the_file() -> None:
    design = read_text("parameters: {width: {value: 1 m, max: 2 m}}" + BOARD)
    changed, _ = override_parameters(design, {"width": "3 m"})

    assert codes(evaluate_design(changed, catalogue_of(), "metric")[1]) == ["E101"]


def test_a_text_shows_lengths_as_a_tape_does() -> None:
    text = (
        "summary: 'It is {width} wide and leans {lean}.'\nparameters: {width: 30 in, lean: 12 deg}"
    )
    imperial, metric = (
        edition_of(text + BOARD, system).story.summary for system in ("imperial", "metric")
    )

    assert imperial == "It is 30 in wide and leans 12°."
    assert metric == "It is 762 mm wide and leans 12°."


def test_a_screw_of_the_other_edition_or_kind_is_refused() -> None:
    text = """
parts:
  low: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  high: {from: panel, length: 600 mm, width: 300 mm, corner: [0 mm, 0 mm, panel],
         runs: {length: right, width: back}}
joints: [{join: low to high, with: face screws, screw: KEY}]
"""

    assert codes(edition_problems(text.replace("KEY", "wood-4x30"))) == []
    assert codes(edition_problems(text.replace("KEY", "wood-8x1-1/4"))) == ["D207"]
    assert codes(edition_problems(text.replace("KEY", "pocket-4.2x32"))) == ["D205"]


def test_a_length_that_follows_from_a_parameter_is_the_parts_length() -> None:
    parts = parts_of("parameters: {width: 421.5 mm}" + BOARD)

    assert parts.parts[0].length_mm == pytest.approx(421.5)
