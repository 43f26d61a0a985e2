"""Designs with one fault each are refused in the right words, on the right line; near misses build.

``tests/cases/bad/<code>-<slug>.yml`` has one fault, on the line that ends ``# problem: <code>``;
``tests/cases/good`` holds, under the same name, a design as near to it as can be that builds.
"""

import re
from functools import cache
from pathlib import Path

import pytest

from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.design.read import read_design
from generator.model.catalogue import Catalogue
from generator.problem_text import format_problem
from generator.problems import CODES, Problem, ProblemLog
from generator.units import SYSTEMS

ROOT = Path(__file__).parents[2]
CASES = ROOT / "tests" / "cases"
BAD = sorted(path.name for path in (CASES / "bad").glob("*.yml"))
GOOD = sorted(path.name for path in (CASES / "good").glob("*.yml"))

MARK = re.compile(rb" # problem: ([A-Z]\d{3})\r?$", re.MULTILINE)
"""Bytes: one of the bad files is not UTF-8."""

WITHOUT_CASE = {
    "D208": "two designs, not one: tests/unit/test_targets.py",
    "K106": "catalogue files, not designs: tests/unit/catalogue",
    "K107": "catalogue files, not designs: tests/unit/catalogue",
    "N104": "what library.yml says, not designs: tests/unit/catalogue, tests/unit/cutting",
    "N102": "a design of so many pieces is refused before (D116): tests/unit/cutting",
}
NO_WORDS_OF_MAKERS = re.compile(
    r"\b(None|dict|tuple|list object|str|int|float|NoneType|Traceback|KeyError|ValueError"
    r"|TypeError|IndexError|AssertionError|Exception|null|nan|inf|True|False|Fraction)\b"
)


@cache
def _catalogue() -> Catalogue:
    catalogue = read_catalogue(ROOT / "shared", ProblemLog())
    assert catalogue is not None
    return catalogue


@cache
def _problems_of(path: Path) -> tuple[tuple[Problem, ...], ...]:
    """Return what is wrong in each edition; once where the file cannot be read at all."""
    design, problems = read_design(path, path.name)
    if design is None:
        return (problems,)
    return tuple(build_plan(design, _catalogue(), system)[1] for system in SYSTEMS)


@pytest.mark.parametrize("name", BAD)
def test_a_bad_design_is_refused_with_its_code_on_its_line_and_nothing_else(name: str) -> None:
    source = (CASES / "bad" / name).read_bytes()
    marks = list(MARK.finditer(source))
    found = _problems_of(CASES / "bad" / name)

    assert [name[:4].encode()] == [mark[1] for mark in marks]
    line = source.count(b"\n", 0, marks[0].start()) + 1
    assert {(name[:4], line)} == {
        (problem.code, problem.place.line if problem.place else 0)
        for problems in found
        for problem in problems
    }
    assert all(len(problems) <= 1 for problems in found)


@pytest.mark.parametrize("name", BAD)
def test_a_problem_is_said_in_words_a_maker_uses_and_underlines_something(name: str) -> None:
    for problem in {p for problems in _problems_of(CASES / "bad" / name) for p in problems}:
        text = format_problem(problem)
        place = problem.place

        assert NO_WORDS_OF_MAKERS.search(text) is None
        assert place is not None
        if place.text:
            assert 1 <= place.column <= len(place.text)
            assert place.column + place.width <= len(place.text) + 1


@pytest.mark.parametrize("name", GOOD)
def test_a_near_miss_builds_in_both_editions(name: str) -> None:
    found = _problems_of(CASES / "good" / name)

    assert len(SYSTEMS) == len(found)
    assert not any(found)


def test_every_bad_design_has_a_near_miss_of_the_same_name() -> None:
    assert BAD
    assert BAD == GOOD


def test_every_code_has_a_bad_design_or_a_reason_why_not() -> None:
    cases = {name[:4] for name in BAD}

    assert set(CODES) == cases | set(WITHOUT_CASE)
    assert not cases & set(WITHOUT_CASE)
