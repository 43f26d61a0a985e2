"""The docs folder of two sample plans."""

import re
from html import unescape
from pathlib import Path

import pytest

from generator.files import write_file
from generator.pages.entries import read_entry
from generator.pages.library import write_library
from generator.pages.plan_pages import remove_plans
from tests.sample_site import write_sample_docs

SECTIONS = [
    "what-you-will-build",
    "what-to-buy",
    "tools",
    "cut-list",
    "sheet-layouts",
    "cut-order",
    "part-drawings",
    "drilling-and-screws",
    "assembly",
    "finish",
    "safety",
    "what-was-checked",
    "files",
    "revisions",
]


@pytest.fixture(scope="module")
def docs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("library") / "docs"
    write_sample_docs(folder)
    return folder


def _page(docs: Path, path: str) -> str:
    return (docs / "plans" / path).read_text(encoding="utf-8")


@pytest.mark.parametrize("edition", ["imperial", "metric"])
def test_a_plan_page_tells_everything_in_a_builders_order(docs: Path, edition: str) -> None:
    page = _page(docs, f"leaning-shelf/{edition}.md")

    assert re.findall(r"^## .*\{ #([a-z-]+) ", page, re.M) == SECTIONS


def test_every_part_blank_screw_and_cut_is_on_the_page(docs: Path) -> None:
    page = unescape(_page(docs, "leaning-shelf/metric.md"))

    for text in (
        "<td>Side<td>2<td>400<td>250<td>",
        "front edge: blade tilted 12°, long point on the top face",
        "<td>256<td>left larger for a bevel",
        "4 × 4 × 50 mm wood screw: side left, side right (A) to shelf (C)",
        "<dd><b>side left (A)</b><br>On the right face draw lines 50 mm and 68 mm from the bottom "
        "end; B goes between.",
        "Stepped drill bit 9.5 mm for pockets",
        "crosscut, set to 400 mm",
        '<tr><th scope="row">11<td>',
        "Clamp the bottom before driving",
        "check local codes",
    ):
        assert text in page


def test_the_imperial_page_shows_no_metric_size_but_the_true_thickness_and_kerf(
    docs: Path,
) -> None:
    page = _page(docs, "leaning-shelf/imperial.md")

    assert set(re.findall(r"[\d.]+ mm\b", page)) <= {"18.3 mm", "2.2 mm", "0.1 mm", "0.001 mm"}


def test_a_title_full_of_signs_stands_on_the_page_as_it_is_and_does_nothing(docs: Path) -> None:
    for name in ("index.md", "imperial.md", "metric.md"):
        page = _page(docs, f"second-shelf/{name}")
        heading = next(line for line in page.splitlines() if line.startswith("# "))

        assert unescape(heading) == "# Second <b>shelf</b> & *more* {x}"
        assert "<b>shelf" not in page


def test_each_plan_leads_to_the_next_and_back(docs: Path) -> None:
    assert "](../second-shelf/index.md)" in _page(docs, "leaning-shelf/index.md")
    assert "](../leaning-shelf/index.md)" in _page(docs, "second-shelf/metric.md")


def test_every_file_is_listed_with_its_size(docs: Path) -> None:
    page = _page(docs, "leaning-shelf/index.md")
    size = (docs / "plans/leaning-shelf/files/metric/cut-list.csv").stat().st_size

    line = '<a href="files/metric/cut-list.csv" download>cut-list.csv</a> cut-list.csv'
    assert f"{line} <small>{size} bytes</small>" in page


def test_the_index_lists_the_plans_by_title(docs: Path) -> None:
    index = (docs / "index.md").read_text(encoding="utf-8")

    assert index.index("Leaning shelf") < index.index("Second &lt;b&gt;")
    assert "600 mm wide, 250 mm deep, 400 mm high; 1 sheet" in index


def test_writing_again_changes_no_byte_and_drops_what_is_no_longer_made(tmp_path: Path) -> None:
    docs = tmp_path / "docs"
    write_sample_docs(docs)
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    write_file(docs / "plans/leaning-shelf/drawings/metric/old.svg", b"<svg/>")
    write_sample_docs(docs)
    after = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}

    assert before == after


def test_a_plan_that_is_not_built_this_time_keeps_its_pages_and_its_place(tmp_path: Path) -> None:
    docs = tmp_path / "docs"
    first, second = write_sample_docs(docs)
    kept = read_entry(docs, "leaning-shelf")

    assert kept == first
    assert kept is not None
    write_library(docs, [second, kept], title="Sample plans", published={})
    assert "](../second-shelf/index.md)" in _page(docs, "leaning-shelf/imperial.md")


def test_an_entry_that_cannot_be_read_is_no_entry(tmp_path: Path) -> None:
    write_file(tmp_path / "plans/x/.entry.json", b'{"slug": 1}')
    write_file(tmp_path / "plans/y/.entry.json", b"[]")

    assert read_entry(tmp_path, "x") is None
    assert read_entry(tmp_path, "y") is None
    assert read_entry(tmp_path, "none") is None


def test_the_folder_of_a_design_that_is_gone_is_deleted(tmp_path: Path) -> None:
    docs = tmp_path / "docs"
    write_sample_docs(docs)

    assert remove_plans(docs, ("second-shelf",)) == ("leaning-shelf",)
    assert [path.name for path in (docs / "plans").iterdir()] == ["second-shelf"]
