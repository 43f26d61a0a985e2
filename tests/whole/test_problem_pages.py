"""Every problem code has a page for makers, with the same headings, and examples that are true."""

import re
from pathlib import Path

import pytest

from generator.pages.explanations import find_explanation, list_codes
from generator.problems import CODES
from tests.whole.test_cases import CASES, NO_WORDS_OF_MAKERS, WITHOUT_CASE

PAGES = Path(__file__).parents[2] / "site_templates" / "problems"
HEADINGS = (
    "## What it means",
    "## Why it matters at the bench",
    "## A design that has it",
    "## The same design put right",
)
YAML_BLOCK = re.compile(r"```yaml\n(.*?)\n```", re.DOTALL)


def _page(code: str) -> str:
    text = find_explanation(code)
    assert text is not None
    return text


def _stands_in(lines: list[str], path: Path) -> bool:
    """Whether a file has these lines in this order; indentation and the mark are left aside."""
    source = path.read_bytes().decode("utf-8", "replace").split("\n")
    rest = iter(line.partition("  # problem: ")[0].strip() for line in source)
    return all(line.strip() in rest for line in lines)


def test_there_is_a_page_for_every_code_and_no_other() -> None:
    assert sorted(CODES) == sorted(path.stem for path in PAGES.iterdir())
    assert tuple(sorted(CODES)) == list_codes()


@pytest.mark.parametrize("code", sorted(CODES))
def test_a_page_has_its_title_and_its_four_headings_in_order(code: str) -> None:
    found = [line for line in _page(code).split("\n") if line.startswith("#")]

    assert re.fullmatch(rf"# {code}: \S.{{3,60}}", found[0])
    assert list(HEADINGS) == found[1:]


@pytest.mark.parametrize("code", sorted(CODES))
def test_a_page_speaks_the_language_of_makers(code: str) -> None:
    assert NO_WORDS_OF_MAKERS.search(_page(code)) is None


@pytest.mark.parametrize("code", sorted(set(CODES) - set(WITHOUT_CASE)))
def test_the_two_examples_of_a_page_are_taken_from_a_bad_design_and_its_near_miss(
    code: str,
) -> None:
    bad, good = (block.split("\n") for block in YAML_BLOCK.findall(_page(code)))
    names = [path.name for path in (CASES / "bad").glob(f"{code}-*.yml")]

    assert any(
        _stands_in(bad, CASES / "bad" / name) and _stands_in(good, CASES / "good" / name)
        for name in names
    )
    assert bad != good
