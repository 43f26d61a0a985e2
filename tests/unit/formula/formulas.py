"""Short ways to write a formula in a test."""

from collections.abc import Mapping
from fractions import Fraction

from generator.formula.evaluate import evaluate_formula
from generator.formula.parse import parse_formula
from generator.formula.tree import Formula
from generator.problems import Place, Problem, ProblemLog
from generator.units import Kind, Quantity

NAMES: Mapping[str, Quantity] = {
    "height": Quantity("length", Fraction(1016)),
    "width": Quantity("length", Fraction(762)),
    "trays": Quantity("number", Fraction(3)),
    "lean": Quantity("angle", Fraction(12)),
}
PREFIX = "  length: "
FIRST_COLUMN = len(PREFIX) + 1


def place_of(text: str) -> Place:
    """Return the place of a formula that stands in line 7 under the key ``parts.side.length``."""
    return Place(
        file="design.yml",
        line=7,
        column=FIRST_COLUMN,
        key="parts.side.length",
        text=PREFIX + text,
        width=max(1, len(text)),
    )


def parse(text: str) -> tuple[Formula | None, list[Problem]]:
    """Return what a text says and what was reported."""
    log = ProblemLog()
    return parse_formula(text, place_of(text), log), log.problems


def work_out(text: str, needed: Kind | None = None) -> tuple[Quantity | None, list[Problem]]:
    """Return the value of a text and what was reported."""
    log = ProblemLog()
    formula = parse_formula(text, place_of(text), log)
    if formula is None:
        return None, log.problems
    return evaluate_formula(formula, NAMES, log, needed=needed), log.problems


def value(text: str, needed: Kind | None = None) -> Quantity:
    """Return the value of a text that is not at fault."""
    found, problems = work_out(text, needed)
    assert problems == []
    assert found is not None
    return found


def fault(text: str, needed: Kind | None = None) -> tuple[str, str, str]:
    """Return the code, the words and the underlined text of the one fault of a formula."""
    found, problems = work_out(text, needed)
    assert found is None
    (problem,) = problems
    place = problem.place
    assert place is not None
    start = place.column - 1
    return problem.code, problem.what, place.text[start : start + place.width]


def hint(text: str, needed: Kind | None = None) -> str | None:
    """Return the help for the one fault of a formula."""
    (problem,) = work_out(text, needed)[1]
    return problem.help
