"""What counts as a formula, and where a text stops being one."""

from fractions import Fraction

import pytest

from generator.formula.parse import LIMIT_CHARACTERS, LIMIT_DEPTH, LIMIT_TOKENS, parse_formula
from generator.formula.tokens import RESERVED_WORDS
from generator.formula.tree import Literal
from generator.problems import Place, ProblemLog
from generator.units import Quantity
from tests.unit.formula.formulas import FIRST_COLUMN, fault, hint, parse, place_of, value

INCH = Fraction(254, 10)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("46 1/2 in", Fraction(93, 2)),
        ("46-1/2 in", Fraction(93, 2)),
        ("46  1/2in", Fraction(93, 2)),
        ("1/2 in", Fraction(1, 2)),
        ("12in", Fraction(12)),
        ("5 ft 3 1/4 in", Fraction(253, 4)),
        ("5 ft 3-1/4 in", Fraction(253, 4)),
        ("5 ft 3 in", Fraction(63)),
        ("5 ft 3/4 in", Fraction(243, 4)),
        ("5 ft 3.5 in", Fraction(127, 2)),
        ("5 ft", Fraction(60)),
        ("2.25 in", Fraction(9, 4)),
        (".5 in", Fraction(1, 2)),
        ("11 13/16 in", Fraction(189, 16)),
    ],
)
def test_inches_are_read_as_a_tape_is_read(text: str, inches: Fraction) -> None:
    formula, problems = parse(text)

    assert problems == []
    assert formula is not None
    assert isinstance(formula.tree, Literal)
    assert formula.tree.quantity == Quantity("length", inches * INCH)


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("1180 mm", Quantity("length", Fraction(1180))),
        ("1.18 m", Quantity("length", Fraction(1180))),
        ("118cm", Quantity("length", Fraction(1180))),
        ("12 deg", Quantity("angle", Fraction(12))),
        ("22.5 deg", Quantity("angle", Fraction(45, 2))),
        ("3", Quantity("number", Fraction(3))),
        ("2 1/2", Quantity("number", Fraction(5, 2))),
        ("0.1", Quantity("number", Fraction(1, 10))),
    ],
)
def test_other_units_and_plain_numbers_are_exact(text: str, quantity: Quantity) -> None:
    assert value(text) == quantity


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("46 1/2 in - 1 in", "45 1/2 in"),
        ("46 - 1/2", "45 1/2"),
        ("46 in-1/2 in", "45 1/2 in"),
        ("2*3-1/2 in", "7 in"),
        ("-3 1/2 in", "0 in - 3 1/2 in"),
        ("10 in/1/2 in", "20"),
        ("1 in + 2 in * 3", "7 in"),
        ("(1 in + 2 in) * 3", "9 in"),
        ("12/2/3", "2"),
        ("10 - 3 - 2", "5"),
        ("--3", "3"),
        ("+3", "3"),
        ("3 × 4 − 6 ÷ 2", "9"),
        ("max(1; 2, 3)", "3"),
        ("1 if 2 > 1 else 3 if 2 > 5 else 4", "1"),
        ("1 if 2 < 1 else 3 if 2 > 5 else 4", "4"),
        ("1 if not 2 < 1 and (1 > 2 or 2 > 1) else 5", "1"),
        ("1 if 2 ≤ 2 and 2 ≥ 2 and 1 ≠ 2 else 5", "1"),
    ],
)
def test_operators_bind_as_on_paper(text: str, same: str) -> None:
    assert value(text) == value(same)


def test_names_are_listed_once_in_the_order_of_their_first_use() -> None:
    formula, _ = parse("width + max(height; width) * trays if lean > 3 deg else lean2")

    assert formula is not None
    assert formula.names == ("width", "height", "trays", "lean", "lean2")


@pytest.mark.parametrize(
    ("text", "why", "underlined"),
    [
        ("height +", "it ends where a value is needed", "+"),
        ("(height", "a `(` is never closed", "("),
        ("height)", "this `)` closes nothing", ")"),
        ("max(height", "a `(` is never closed", "("),
        ("b)", "this `)` closes nothing", ")"),
        ("height width", "an operator is missing before `width`", "width"),
        ("2 (3)", "an operator is missing before `(`", "("),
        ("3 inches", "`inches` is not a unit", "inches"),
        ("3 km", "`km` is not a unit", "km"),
        ("1e3 mm", "`e3` is not a unit", "e3"),
        ('3 "', '`"` has no meaning here', '"'),
        ("3½ in", "`½` has no meaning here", "½"),
        ("46-1/2", "it can be read in two ways", "46-1/2"),
        ("1 < 2 < 3", "two comparisons run into each other", "<"),
        ("max(height)", "`max` takes 2 to 20 values, not 1", "max"),
        ("sqrt(1; 2)", "`sqrt` takes 1 value, not 2", "sqrt"),
        ("max", "`max` is a function and needs ( )", "max"),
        ("1 if 2 > 1", "an `if` has no `else`", "if"),
        ("1,5 mm", "nothing here takes several values", ","),
        ("height^2", "`^` has no meaning here", "^"),
        ("height = 3", "`=` has no meaning here", "="),
        ("in", "the unit `in` has no number", "in"),
        ("1/0 in", "a fraction cannot have 0 below the line", "1/0 in"),
        ("()", "`)` stands where a value is needed", ")"),
        ("* 3", "`*` stands where a value is needed", "*"),
        ("else", "`else` stands where a value is needed", "else"),
    ],
)
def test_a_text_that_is_no_formula_is_explained_at_its_column(
    text: str, why: str, underlined: str
) -> None:
    found = fault(text)

    assert found == ("D108", f"`{text}` is not a formula: {why}", underlined)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("max(height", "inside [ ] or { } YAML splits at commas: write ; between the arguments, "
         "or put the formula in quotes"),
        ("b)", "inside [ ] or { } YAML splits at commas: write ; between the arguments, "
         "or put the formula in quotes"),
        ("46-1/2", "write 46 1/2, or 46 - 1/2 with blanks"),
        ("3 inches", "write the unit as in"),
        ("3 Degrees", "write the unit as deg"),
        ('3 "', "write the unit as in"),
        ("3'", "write the unit as ft"),
        ("3°", "write the unit as deg"),
        ("3½ in", "write the fraction with a stroke, such as 1/2"),
        ("1,5 mm", "write decimals with a point"),
        ("height^2", "there are no powers; write a * a"),
        ("height = 3", "write == to compare"),
    ],
)  # fmt: skip
def test_a_usual_slip_gets_the_text_to_write_instead(text: str, expected: str) -> None:
    assert hint(text) == expected


def test_the_second_of_two_equal_signs_is_the_one_underlined() -> None:
    log = ProblemLog()
    text = "1 < 2 < 3"
    parse_formula(text, place_of(text), log)

    assert log.problems[0].place is not None
    assert log.problems[0].place.column == FIRST_COLUMN + text.rindex("<")


def test_blanks_around_a_formula_do_not_move_the_fault() -> None:
    text = "  height = 3 "
    log = ProblemLog()
    formula = parse_formula(text, place_of(text), log)

    assert formula is None
    assert log.problems[0].place is not None
    assert log.problems[0].place.column == FIRST_COLUMN + text.index("=")


def test_a_formula_folded_from_two_lines_is_underlined_at_its_beginning() -> None:
    place = Place(file="design.yml", line=3, column=5, text="  a: height", width=6)
    log = ProblemLog()
    parse_formula("height = 3", place, log)

    assert log.problems[0].place == place


def test_a_blank_text_is_told_to_be_empty() -> None:
    formula, problems = parse("   ")

    assert formula is None
    assert [problem.what for problem in problems] == ["`length` is empty where a value is needed"]


@pytest.mark.parametrize(
    ("just_fits", "too_much"),
    [
        ("1" + " " * (LIMIT_CHARACTERS - 3) + "+1", "1" + " " * (LIMIT_CHARACTERS - 2) + "+1"),
        ("1" + "+1" * (LIMIT_TOKENS // 2 - 1), "1" + "+1" * (LIMIT_TOKENS // 2)),
        ("(" * (LIMIT_DEPTH - 1) + "1" + ")" * (LIMIT_DEPTH - 1), "(" * 140 + "1" + ")" * 140),
        ("-" * (LIMIT_DEPTH - 1) + "1", "-" * LIMIT_DEPTH + "1"),
        ("not " * (LIMIT_DEPTH - 1) + "1 > 0", "not " * LIMIT_DEPTH + "1 > 0"),
        ("9" * 12, "9" * 13),
    ],
)
def test_a_formula_at_a_limit_is_read_and_one_beyond_it_is_not(
    just_fits: str, too_much: str
) -> None:
    value(just_fits)
    formula, problems = parse(too_much)

    assert formula is None
    assert [problem.code for problem in problems] == ["D109"]


def test_units_functions_and_joining_words_cannot_be_names() -> None:
    expected = {"in", "mm", "deg", "max", "atan2", "if", "else", "and", "or", "not"}

    assert expected <= RESERVED_WORDS
    assert "width" not in RESERVED_WORDS
