"""The values of formulas, their kinds, and the faults of working them out."""

import math
from fractions import Fraction

import pytest

from generator.formula.evaluate import evaluate_formula
from generator.formula.parse import parse_formula
from generator.problems import Place, ProblemLog
from generator.units import Kind, Quantity
from tests.unit.formula.formulas import NAMES, fault, hint, parse, place_of, value, work_out


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("height - 4 in", Fraction("914.4")),
        ("(height - 4 in) / trays", Fraction("304.8")),
        ("2 * 18 mm + 3 mm", Fraction(39)),
        ("width / height * height", Fraction(762)),
        ("sqrt(height*height + width*width)", Fraction(1270)),
        ("max(0; height - 2 m)", Fraction(0)),
        ("min(height; width; 1 m)", Fraction(762)),
        ("abs(width - height)", Fraction(254)),
        ("round(100 mm; 1/16 in)", Fraction("100.0125")),
        ("round(2.5 mm; 1 mm)", Fraction(3)),
        ("floor(2.9 mm; 1 mm)", Fraction(2)),
        ("ceil(2.1 mm; 1 mm)", Fraction(3)),
        ("height if width > 900 mm else width", Fraction(762)),
        ("width if trays == 3 and not lean > 15 deg else height", Fraction(762)),
        ("lean / (1 deg) * 1 mm", Fraction(12)),
        ("width * sin(30 deg)", Fraction(381)),
        ("width * tan(45 deg)", Fraction(762)),
        ("0 - width", Fraction(-762)),
        ("-width", Fraction(-762)),
    ],
)
def test_a_length_is_exact_wherever_it_can_be(text: str, mm: Fraction) -> None:
    assert value(text, "length") == Quantity("length", mm)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("sin(lean)", math.sin(math.radians(12))),
        ("cos(lean)", math.cos(math.radians(12))),
        ("tan(lean)", math.tan(math.radians(12))),
        ("sin(-390 deg)", -0.5),
        ("cos(120 deg)", -0.5),
        ("tan(135 deg)", -1.0),
        ("sqrt(2)", math.sqrt(2)),
    ],
)
def test_trigonometry_takes_angles_and_gives_numbers(text: str, expected: float) -> None:
    found = value(text, "number")

    assert found.kind == "number"
    assert float(found) == pytest.approx(expected, abs=1e-15)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("asin(0.5)", 30.0),
        ("acos(0.5)", 60.0),
        ("atan(1)", 45.0),
        ("atan2(height; height)", 45.0),
        ("atan2(0; width)", 0.0),
        ("atan2(-1 mm; -1 mm)", -135.0),
        ("atan2(height; width)", math.degrees(math.atan2(1016, 762))),
        ("2 * lean", 24.0),
        ("lean / 2", 6.0),
        ("90 deg - lean", 78.0),
    ],
)
def test_the_arc_functions_give_angles(text: str, degrees: float) -> None:
    found = value(text, "angle")

    assert found.kind == "angle"
    assert float(found) == pytest.approx(degrees, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "holds"),
    [
        ("width > 762 mm", False),
        ("width >= 762 mm", True),
        ("width == 30 in", True),
        ("width != 30 in", False),
        ("width > 0", True),
        ("sqrt(2) * sqrt(2) == 2", True),
        ("sqrt(2) * sqrt(2) > 2", False),
        ("trays > 0 or 1 / (trays - 3) > 1", True),
        ("trays > 3 and 1 / (trays - 3) > 1", False),
    ],
)
def test_comparisons_are_exact_and_forgive_only_the_last_bits_of_floats(
    text: str, holds: bool
) -> None:
    assert value(text, "truth") == Quantity("truth", Fraction(int(holds)))


@pytest.mark.parametrize("needed", ["length", "angle", "mass", "number"])
def test_a_plain_zero_is_of_every_kind(needed: Kind) -> None:
    assert value("0", needed) == Quantity(needed, Fraction(0))


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [
        ("2 * 20 kg + 5 kg", Fraction(45)),
        ("100 lb", Fraction("45.359237")),
        ("max(20 kg; 50 lb) * 2", Fraction("45.359237")),
        ("10 lb / 2", Fraction("2.26796185")),
    ],
)
def test_masses_are_exact_kilograms(text: str, kilograms: Fraction) -> None:
    assert value(text, "mass") == Quantity("mass", kilograms)


def test_a_mass_divided_by_a_mass_is_a_number() -> None:
    assert value("30 kg / 20 kg", "number") == Quantity("number", Fraction(3, 2))


def test_only_the_branch_that_holds_is_worked_out() -> None:
    assert value("width / (trays - 3) if trays > 3 else width") == NAMES["width"]


@pytest.mark.parametrize(
    ("text", "needed", "code", "words", "underlined"),
    [
        ("height + 3", None, "E103", "`height` + `3`: a length and a number cannot be added",
         "height + 3"),
        ("1 mm + height + lean", None, "E103",
         "`1 mm + height` + `lean`: a length and an angle cannot be added", "1 mm + height + lean"),
        ("(1 mm + height) < trays", None, "E103",
         "`(1 mm + height)` < `trays`: a length and a number cannot be compared",
         "(1 mm + height) < trays"),
        ("lean * height", None, "E103",
         "`lean` * `height`: an angle and a length cannot be multiplied", "lean * height"),
        ("lean * lean", None, "E103", "`lean` * `lean`: two angles cannot be multiplied",
         "lean * lean"),
        ("20 kg + 3", None, "E103", "`20 kg` + `3`: a mass and a number cannot be added",
         "20 kg + 3"),
        ("20 kg < height", None, "E103",
         "`20 kg` < `height`: a mass and a length cannot be compared", "20 kg < height"),
        ("20 kg * height", None, "E103",
         "`20 kg` * `height`: a mass and a length cannot be multiplied", "20 kg * height"),
        ("20 kg / height", None, "E103",
         "`20 kg` / `height`: a mass and a length cannot be divided", "20 kg / height"),
        ("2 kg * 3 kg", None, "E103", "`2 kg` * `3 kg`: two masses cannot be multiplied",
         "2 kg * 3 kg"),
        ("20", "mass", "E106", "`20` is a number; a mass is needed", "20"),
        ("20 kg", "length", "E106", "`20 kg` is a mass; a length is needed", "20 kg"),
        ("height * width", "length", "E106", "`height * width` is an area; a length is needed",
         "height * width"),
        ("height / width", "length", "E106", "`height / width` is a number; a length is needed",
         "height / width"),
        ("3 / 4 in", "length", "E106",
         "`3 / 4 in` is neither a number nor a length; a length is needed", "3 / 4 in"),
        ("height", "angle", "E106", "`height` is a length; an angle is needed", "height"),
        ("height", "truth", "E106", "`height` is a length; a condition is needed", "height"),
        ("3 if height else 4", None, "E106", "`height` is a length; a condition is needed",
         "height"),
        ("300", "length", "D112", "length `300` has no unit", "300"),
        ("-300", "length", "D112", "length `-300` has no unit", "-300"),
        ("12", "angle", "D113", "angle `12` has no unit", "12"),
        ("height / 0", None, "E105", "a division by zero in `height / 0`", "0"),
        ("1 + height / (trays - 3)", None, "E105",
         "a division by zero in `1 + height / (trays - 3)`", "(trays - 3)"),
        ("1 - sqrt(-4)", None, "E107", "sqrt of a value less than 0 does not exist", "sqrt(-4)"),
        ("tan(90 deg)", None, "E107", "tan of 90° does not exist", "tan(90 deg)"),
        ("asin(1.5)", None, "E107", "asin of 1.5 does not exist", "asin(1.5)"),
        ("atan2(0; 0)", None, "E107", "atan2 of two zeros does not exist", "atan2(0; 0)"),
        ("sin(12)", None, "E111", "sin takes an angle, not a number", "sin(12)"),
        ("asin(lean)", None, "E111", "asin takes a number, not an angle", "asin(lean)"),
        ("sqrt(height)", None, "E111", "sqrt takes a number or an area, not a length",
         "sqrt(height)"),
        ("max(height; 3)", None, "E111", "max takes values of one kind, not a length and a number",
         "max(height; 3)"),
        ("round(height)", None, "E111", "round takes a value and a step, not a length alone",
         "round(height)"),
        ("round(height; -1 mm)", None, "E111", "round takes a step of more than 0, not -1",
         "round(height; -1 mm)"),
        ("abs(1 > 2)", None, "E111", "abs takes a size or a number, not a condition", "abs(1 > 2)"),
        ("1500 m", "length", "E112",
         "`1500 m` is too large to work with: 1500000 mm; the most is 1000000 mm", "1500 m"),
        ("height*height*height*height / height", None, "E112",
         "`height*height*height*height / height` is too large to work with: "
         "too many lengths are multiplied with each other", "height"),
        ("999999999999 * 999999999999", None, "E112",
         "`999999999999 * 999999999999` is too large to work with: "
         "a number on the way has more than 18 digits", "999999999999"),
    ],
)  # fmt: skip
def test_a_formula_without_a_value_is_explained_at_its_column(
    text: str, needed: Kind | None, code: str, words: str, underlined: str
) -> None:
    assert fault(text, needed) == (code, words, underlined)


@pytest.mark.parametrize(
    ("text", "needed", "expected"),
    [
        ("300", "length", 'write "300 mm" or "11 13/16 in", or a formula of parameters'),
        ("12", "angle", 'write "12 deg"'),
        ("height + 3", None, 'give `3` a unit, such as "3 mm"'),
        ("lean - 3", None, 'give `3` a unit, such as "3 deg"'),
        ("20 kg - 3", None, 'give `3` a unit, such as "3 kg"'),
        ("20", "mass", "give it a unit, such as 20 kg or 45 lb"),
        ("height - trays", None, "multiply `trays` by a length"),
        ("height * lean", None, "sin, cos and tan make a number of an angle"),
        ("height * width", "length",
         "a length times a length is an area; divide it by a length, or take sqrt of it"),
        ("3 / 4 in", "length",
         "a number divided by a length is no size; write fractions without blanks: 3/4 in"),
        ("height / width", "length", "multiply it by a length, or give its numbers units"),
        ("height / (trays - 3)", None, "write what to take where it is 0: a / b if b > 0 else 0"),
        ("sin(12)", None, 'write the angle with its unit, such as "12 deg"'),
    ],
)  # fmt: skip
def test_the_hint_says_what_to_write(text: str, needed: Kind | None, expected: str) -> None:
    assert hint(text, needed) == expected


def test_an_unknown_name_is_underlined_and_the_good_one_is_named_with_its_line() -> None:
    text = "width - 2 * heigth"
    formula, _ = parse(text)
    assert formula is not None
    log = ProblemLog()
    defined = {"height": Place(file="design.yml", line=8, column=3)}
    found = evaluate_formula(formula, NAMES, log, defined=defined)

    assert found is None
    (problem,) = log.problems
    assert (problem.code, problem.help) == ("D203", "did you mean `height`, line 8?")
    assert problem.place == place_of(text).shifted(text.index("heigth"), len("heigth"))


def test_a_name_whose_own_fault_is_reported_elsewhere_is_passed_over_in_silence() -> None:
    formula, _ = parse("gap + 1 mm")
    assert formula is not None
    log = ProblemLog()
    found = evaluate_formula(formula, NAMES, log, broken=frozenset({"gap"}))

    assert found is None
    assert log.problems == []


def test_an_unknown_name_is_reported_even_beside_a_broken_one() -> None:
    formula, _ = parse("gap + nothing")
    assert formula is not None
    log = ProblemLog()
    evaluate_formula(formula, NAMES, log, broken=frozenset({"gap"}))

    assert [problem.what for problem in log.problems] == [
        "formula uses `nothing`, which is not a parameter"
    ]


def test_two_hundred_summands_are_worked_out() -> None:
    assert value("1" + "+1" * 99) == Quantity("number", Fraction(100))


def test_fractions_stop_growing_and_go_on_as_floats() -> None:
    text = "*".join(["0.123456789012"] * 12)
    found = value(text)

    assert isinstance(found.value, float)
    assert found.value == pytest.approx(0.123456789012**12, rel=1e-12)


def test_a_fault_is_reported_once_for_each_time_it_is_worked_out() -> None:
    text = "height + 3"
    log = ProblemLog()
    formula = parse_formula(text, place_of(text), log)
    assert formula is not None
    for _ in range(2):
        evaluate_formula(formula, NAMES, log)

    assert len(log.problems) == 2
    assert len(set(log.problems)) == 1


def test_the_kind_of_the_outcome_is_free_where_none_is_needed() -> None:
    assert work_out("lean")[0] == NAMES["lean"]
    assert work_out("trays")[0] == NAMES["trays"]
