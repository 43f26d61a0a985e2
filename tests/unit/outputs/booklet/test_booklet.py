"""The booklet of a plan, opened by poppler, which shares no code with what wrote it."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.model.plan import Plan
from generator.outputs.booklet.booklet import booklet_data, booklet_name, booklet_pdf
from generator.outputs.booklet.drawings import Drawings
from generator.outputs.booklet.items import cautions, groups, heading, points, prose, table, text
from generator.outputs.booklet.typeset import TypesettingError, typeset
from generator.outputs.plan_files import draw_pictures
from generator.telling.buying_tables import make_shopping
from generator.telling.joinery_tables import make_steps
from generator.telling.tables import make_table
from generator.units import SYSTEMS, System
from tests.pdf_reader import MM_PER_POINT, Pdf, longest_dark_run_mm
from tests.samples import sample_plan

PAPER = {"imperial": "612 x 792 pts", "metric": "595.276 x 841.89 pts"}
"""ANSI Y14.1 A is 8 1/2 by 11 in, ISO 216 A4 is 210 by 297 mm; a point is 1/72 in."""

NASTY = (
    '#panic("no") $x^2$ *bold* _it_ \\ @part <label> // end /* a */ [b] {c} `d` #include "e.typ" '
    "= head - item ~ \"quote\" 'q' %s ${x} <b>&amp; </script> \u4e2d\u6587 \U0001f600"
)
SMALLEST_PT = 8.0


def booklet_of(plan: Plan, folder: Path) -> Pdf:
    artifacts, scenes = draw_pictures(plan)
    path = folder / booklet_name(plan)
    path.write_bytes(booklet_pdf(plan, artifacts, scenes))
    return Pdf(path)


def retold(plan: Plan, **words: object) -> Plan:
    story = replace(plan.edition.story, **words)  # type: ignore[arg-type]
    return replace(plan, edition=replace(plan.edition, story=story))


@pytest.fixture(scope="module", params=SYSTEMS)
def told(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Plan, Pdf]:
    system: System = request.param
    plan = sample_plan(system)
    return plan, booklet_of(plan, tmp_path_factory.mktemp(system))


def test_the_paper_is_the_one_of_the_edition(told: tuple[Plan, Pdf]) -> None:
    plan, pdf = told
    name = {"imperial": "booklet-letter.pdf", "metric": "booklet-a4.pdf"}[plan.edition.system]

    assert name == pdf.path.name
    assert {PAPER[plan.edition.system]} == pdf.page_sizes()


def test_the_file_is_tagged_and_says_what_it_is(told: tuple[Plan, Pdf]) -> None:
    plan, pdf = told
    unit = {"imperial": "in inches", "metric": "in millimetres"}[plan.edition.system]
    facts = pdf.facts()
    raw = pdf.path.read_bytes()

    assert f"{plan.edition.story.title}, {unit}" == facts["Title"]
    assert "yes" == facts["Tagged"]
    assert b"/Lang(en" in raw.replace(b" ", b"")
    assert b"<pdfuaid:part>1</pdfuaid:part>" in raw


def test_headings_tables_lists_and_figures_are_tagged_as_such(told: tuple[Plan, Pdf]) -> None:
    tags = set(told[1].tags())

    assert {"H1", "H2", "Table", "TR", "TH", "TD", "L", "LI", "Figure", "TOC"} <= tags


def test_every_drawing_is_told_in_words_to_who_cannot_see_it(told: tuple[Plan, Pdf]) -> None:
    raw = told[1].path.read_bytes()

    assert raw.count(b"/S/Figure") + raw.count(b"/S /Figure") <= raw.count(b"/Alt")


def test_every_font_is_in_the_file(told: tuple[Plan, Pdf]) -> None:
    fonts = told[1].fonts()

    assert fonts
    assert all(embedded for _, embedded in fonts), fonts
    assert all("DejaVuSans" in name for name, _ in fonts), fonts


def test_every_part_step_and_thing_to_buy_can_be_found_in_its_text(told: tuple[Plan, Pdf]) -> None:
    plan, pdf = told
    artifacts, _ = draw_pictures(plan)
    words = pdf.text()
    wanted = [f"{part.label}: {part.title}" for part in plan.parts.parts]
    wanted += [f"Step {s.order}: {s.title}" for s in make_steps(plan, artifacts.steps)]
    wanted += [cell for row in make_shopping(plan).rows for cell in row if cell]

    assert [one for one in wanted if " ".join(one.split()) not in words] == []


def test_no_page_is_empty_and_each_says_which_it_is(told: tuple[Plan, Pdf]) -> None:
    pages = told[1].pages()

    assert str(len(pages)) == told[1].facts()["Pages"]
    for number, page in enumerate(pages[1:], start=2):
        assert f"page {number} / {len(pages)}" in page
        assert len(page.split()) > 25


def test_no_heading_is_the_last_line_of_a_page(told: tuple[Plan, Pdf]) -> None:
    contents = told[1].contents()

    assert len(contents) > 10
    assert contents.isdisjoint(told[1].last_lines())


def test_no_text_is_smaller_than_eight_points(told: tuple[Plan, Pdf]) -> None:
    assert told[1].smallest_text_pt() > SMALLEST_PT - 0.01


def test_no_text_leaves_the_margins(told: tuple[Plan, Pdf]) -> None:
    plan, pdf = told
    width = {"imperial": 612.0, "metric": 595.276}[plan.edition.system]

    for word in (word for page in pdf.words() for word in page):
        assert word.left * MM_PER_POINT > 14.9
        assert (width - word.right) * MM_PER_POINT > 14.9


def test_a_part_that_states_its_scale_is_printed_at_that_scale(told: tuple[Plan, Pdf]) -> None:
    """The bottom of the sample is drawn 1:5, not shortened; its outline is 0.5 mm wide."""
    plan, pdf = told
    part = plan.parts.part("B")
    number, page = next(
        (number, page)
        for number, page in enumerate(pdf.pages(), start=1)
        if "B: Bottom" in page and "Finished" in page
    )
    (ratio,) = {int(found) for found in re.findall(r"scale 1:(\d+)(?!,)", page)}
    run_mm = longest_dark_run_mm(pdf.picture(number, 300), 300, darker_than=60)

    assert run_mm - 0.5 == pytest.approx(part.length_mm / ratio, abs=0.2)


def test_the_same_plan_is_the_same_bytes(tmp_path: Path) -> None:
    one, two = (booklet_of(sample_plan("metric"), tmp_path).path.read_bytes() for _ in range(2))

    assert one == two


def test_what_a_maker_writes_is_printed_and_never_obeyed(tmp_path: Path) -> None:
    plan = retold(
        sample_plan("metric"),
        title=NASTY,
        summary=NASTY,
        about=f"{NASTY}\n\n- [l](https://example.org/#x) ![p](x.png)\n\n> **q**\n\n    raw #x\n",
        made_by=NASTY,
        licence=NASTY,
        cautions=(NASTY,),
        changes=((NASTY, NASTY),),
        finish="# Head\n\n1. *one*\n2. `two`\n\n---\n",
    )
    pdf = booklet_of(plan, tmp_path)
    words = pdf.text().replace(" ", "")

    assert NASTY.partition(" \u4e2d")[0].replace(" ", "") in words
    assert "raw#x" in words
    assert f"{NASTY}, in millimetres" == pdf.facts()["Title"]


PLAIN = sample_plan("metric")
PICTURES, SCENES = draw_pictures(PLAIN)
USED = Drawings(scenes=SCENES)
WITHOUT_ITEMS = booklet_data(PLAIN, PICTURES, USED) | {"items": []}
SIGNS = st.characters(exclude_categories=("Cs", "Cc", "Cn"), exclude_characters="\ufeff")
"""What a design file may hold: no control signs, and none that are no signs."""


@given(st.text(SIGNS, min_size=1, max_size=200))
def test_any_words_can_be_set(words: str) -> None:
    told = {
        **WITHOUT_ITEMS,
        "title": words,
        "summary": words,
        "items": [
            heading(words),
            text(words),
            prose(words),
            points([words], ticked=True),
            cautions([words], head=words),
            groups([(words, [words])]),
            table(make_table(words, (words, "b"), [(words, words)]), tick_word=words),
        ],
    }

    assert typeset("booklet", told, USED.used, "2026-05-02").startswith(b"%PDF-1.7")


def test_a_fault_of_the_typesetter_is_a_fault_of_ours_and_says_where() -> None:
    with pytest.raises(TypesettingError, match="date"):
        typeset("booklet", {"title": "A shelf"}, {}, "2026-05-02")
