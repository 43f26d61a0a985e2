"""The guide for makers says nothing that is not so, and leaves no key and no problem out."""

import re
from html import unescape
from pathlib import Path

import pytest
import yaml

from generator.design.key_tables import RECORDS
from generator.design.phrases import WAYS, parse_edge
from generator.design.read_joints import WITH
from generator.formula.parse import parse_formula
from generator.formula.tokens import FUNCTIONS
from generator.pages.guide import FOLDER, WRITTEN, write_guide
from generator.problems import CODES, Place, ProblemLog
from generator.yaml_source.nodes import Word

ROOT = Path(__file__).parents[3]
PAGES = {
    name: (ROOT / "site_templates" / "guide" / f"{name}.md").read_text("utf-8") for name in WRITTEN
}
BLOCKS = [
    (name, block)
    for name, text in PAGES.items()
    for block in re.findall(r"```yaml\n(.*?)\n```", text, re.DOTALL)
]
BUILDING = [
    *sorted((ROOT / "site_templates" / "starters").glob("*.yml")),
    *sorted((ROOT / "designs").glob("*/design.yml")),
    *sorted((ROOT / "tests" / "cases" / "good").glob("*.yml")),
    *sorted((ROOT / "tests" / "designs").rglob("*.yml")),
    *sorted((ROOT / "tests" / "libraries").glob("*.yml")),
]
"""Designs that other tests build in both editions, and library files that they read."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    docs = tmp_path_factory.mktemp("docs")
    write_guide(docs)
    return docs / FOLDER


def _stands_in(block: str, path: Path) -> bool:
    """Whether a file has the lines of a block, one after the other; notes do not count."""
    wanted, lines = _bare_lines(block), _bare_lines(path.read_text("utf-8"))
    return any(
        lines[first : first + len(wanted)] == wanted
        for first in range(len(lines) - len(wanted) + 1)
    )


def _bare_lines(text: str) -> list[str]:
    return [re.sub(r"(^| +)#.*", "", line).strip() for line in text.splitlines()]


@pytest.mark.parametrize(
    ("name", "block"), BLOCKS, ids=[f"{name}-{number}" for number, (name, _) in enumerate(BLOCKS)]
)
def test_an_example_of_the_guide_stands_in_a_design_that_builds(name: str, block: str) -> None:
    assert yaml.load(block, Loader=yaml.BaseLoader)
    assert any(_stands_in(block, path) for path in BUILDING)


def test_every_formula_in_the_table_of_formulas_can_be_read() -> None:
    section = PAGES["sizes"].partition("## Formulas")[2].partition("\n## ")[0]
    cells = [row.split(" | ")[0] for row in section.splitlines() if row.startswith("| `")]
    log = ProblemLog()
    for text in [text for cell in cells for text in re.findall(r"`([^`]+)`", cell)]:
        if text not in FUNCTIONS:
            parse_formula(text, Place(file="guide", line=1, column=1, text=text), log)

    assert len(cells) > 8
    assert [problem.what for problem in log.problems] == []


def test_the_guide_names_every_function_direction_and_way_to_join() -> None:
    everything = " ".join(PAGES.values())
    words = (*FUNCTIONS, *WAYS, *WITH)

    assert [word for word in words if not re.search(rf"\b{word}\b", everything)] == []


def test_every_edge_rule_in_the_table_of_rules_can_be_read() -> None:
    section = PAGES["parts"].partition("## Size by relation")[2].partition("\n## ")[0]
    cells = [row.split(" | ")[0] for row in section.splitlines() if row.startswith("| `")]
    log = ProblemLog()
    rules = [text for cell in cells for text in re.findall(r"`([^`]+)`", cell)]
    for text in rules:
        parse_edge(Word(text, Place(file="guide", line=1, column=1, text=text)), log)

    assert len(rules) >= 6
    assert [problem.what for problem in log.problems] == []


def test_every_key_has_its_place_its_sentence_and_its_example(folder: Path) -> None:
    page = (folder / "keys.md").read_text("utf-8")

    for record in RECORDS:
        anchor = record.name.replace(" ", "-")
        assert f"{{ #{anchor} }}" in page
        for key in record.keys:
            entry = page.partition(f'<dt id="{anchor}-{key.name.replace(" ", "-")}">')[2]
            entry = unescape(entry.partition("</dd>")[0])
            assert key.says in entry
            assert key.example in entry


def test_every_problem_is_listed_and_explained_at_its_own_anchor(folder: Path) -> None:
    page = (folder / "problems.md").read_text("utf-8")

    for code in CODES:
        group = (folder / f"problems-{code[0].lower()}.md").read_text("utf-8")
        assert f'<li id="{code.lower()}"><a href="problems-{code[0].lower()}.html#' in page
        assert f"{{ #{code.lower()} }}" in group
