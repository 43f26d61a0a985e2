"""The booklets of all demo plans, opened by poppler."""

import json
from pathlib import Path

import pytest

from generator.targets import find_targets
from tests.pdf_reader import Pdf

ROOT = Path(__file__).resolve().parents[2]
SLUGS = [target.slug for target in find_targets(ROOT / "designs")]
PAPER = {"letter": "612 x 792 pts", "a4": "595.276 x 841.89 pts"}
MOST_PAGES = 60
SMALLEST_PT = 8.0
FEWEST_WORDS = 15
"""On a page that is not empty; a drawing has that many."""


@pytest.fixture(scope="module", params=SLUGS)
def booklets(request: pytest.FixtureRequest, demo_build: Path) -> list[Pdf]:
    folder = demo_build / "docs" / "plans" / request.param / "files"
    return [Pdf(path) for path in sorted(folder.glob("*/booklet-*.pdf"))]


def test_there_is_one_for_each_edition_on_its_paper(booklets: list[Pdf]) -> None:
    assert ["booklet-letter.pdf", "booklet-a4.pdf"] == [one.path.name for one in booklets]
    for one in booklets:
        assert {PAPER[one.path.stem.partition("-")[2]]} == one.page_sizes()


def test_each_is_tagged_and_has_its_fonts_inside(booklets: list[Pdf]) -> None:
    for one in booklets:
        assert "yes" == one.facts()["Tagged"]
        assert all(embedded and "DejaVuSans" in name for name, embedded in one.fonts())


def test_each_names_every_part_step_and_thing_to_buy(booklets: list[Pdf]) -> None:
    for one in booklets:
        plan = json.loads((one.path.parent / "plan.json").read_text("utf-8"))
        wanted = [
            f"{part['label']}: {part['title']}, {part['count']} cop" for part in plan["parts"]
        ]
        wanted += [f"Step {step['order']}: {step['title']}" for step in plan["steps"]]
        wanted += [item["note"] for item in plan["shopping"]]
        text = one.text()

        assert [words for words in wanted if " ".join(words.split()) not in text] == []


def test_no_page_is_empty_and_no_heading_ends_one(booklets: list[Pdf]) -> None:
    for one in booklets:
        pages = one.pages()

        assert 10 < len(pages) < MOST_PAGES
        assert min(len(page.split()) for page in pages) >= FEWEST_WORDS
        assert len(one.contents()) > 10
        assert one.contents().isdisjoint(one.last_lines())


def test_the_first_cautions_stand_below_the_contents(booklets: list[Pdf]) -> None:
    for one in booklets:
        assert "Before you saw" in one.pages()[1]


def test_no_text_is_smaller_than_eight_points(booklets: list[Pdf]) -> None:
    for one in booklets:
        assert one.smallest_text_pt() > SMALLEST_PT - 0.01


def test_no_drawing_that_states_a_scale_was_made_smaller(booklets: list[Pdf]) -> None:
    assert not any("do not measure from it" in one.text() for one in booklets)


def test_each_shows_every_sheet_for_a_router(booklets: list[Pdf]) -> None:
    for one in booklets:
        plan = json.loads((one.path.parent / "plan.json").read_text("utf-8"))
        count = len(plan["router"])
        wanted = [f"Router sheet {number} of {count}" for number in range(1, count + 1)]
        text = one.text()

        assert [words for words in wanted if words not in text] == []
        assert ("Sheets for a router" in one.contents()) == bool(count)
