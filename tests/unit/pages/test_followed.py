"""The texts of a page, the values they carry, and the marks around those that are followed."""

import json
from pathlib import Path

from generator.model.measured import Change, FollowedText, Measured, MeasuredStock, Wording
from generator.pages.entries import make_entry
from generator.pages.followed import (
    KEPT,
    PANEL_SIGN,
    drop_values,
    find_kept,
    find_section,
    publish_pages,
    read_texts,
    split_text,
)
from generator.units import carrying, format_length, format_mass, format_size
from tests.sample_site import named_plan, sample_artifacts

METRIC = carrying("metric")
PAGE = (
    "## Cut list { #cut-list }\n\n"
    f"<td>{format_size(437.25, METRIC)}<td>about {format_mass(3.21, METRIC)}\n"
    f'<p title="{format_length(18.0, METRIC)}">deep {format_length(18.0, METRIC)}, no more</p>\n'
)


def test_texts_stand_between_tags_and_only_they_carry_values() -> None:
    texts = read_texts(PAGE)

    assert '<p title="18 mm">' in texts
    assert split_text(texts[texts.index('<p title="18 mm">') + 1]) == (
        ("deep ", ", no more"),
        "l",
        (18.0,),
    )


def test_a_mass_is_kept_as_planned() -> None:
    text = f"about {format_mass(3.21, METRIC)} of {format_size(18, METRIC)} mm"

    assert split_text(text) == ((f"about {KEPT} of ", " mm"), "s", (18.0,))
    assert find_kept(text) == ("3.2 kg",)


def test_without_its_values_a_page_reads_as_it_always_did() -> None:
    assert drop_values(PAGE) == (
        "## Cut list { #cut-list }\n\n<td>437.3<td>about 3.2 kg\n"
        '<p title="18 mm">deep 18 mm, no more</p>\n'
    )


def test_a_text_knows_its_section() -> None:
    texts = read_texts(PAGE)

    assert find_section(texts, len(texts) - 1) == "Cut list"
    assert find_section(["plain"], 0) == ""


def _measured(number: int) -> Measured:
    wording = Wording(parts=("deep ", f" &amp; {KEPT}"), kinds="l")
    change = Change(wording=wording, start_mm=(17.0,), slopes=(1.0,))
    stock = MeasuredStock(
        key="ply",
        title="18 mm <b>ply</b>",
        planned_mm=18.0,
        least_mm=17.0,
        most_mm=18.5,
        source="test",
        pieces=((17.0, 18.5),),
        below="it tips",
        above="",
    )
    text = FollowedText(
        number=number, wording=wording, values_mm=(18.0,), along=((change,),), kept=("more",)
    )
    return Measured(stocks=(stock,), texts=(text,))


def test_the_page_has_a_box_and_a_script_with_what_changes(tmp_path: Path) -> None:
    plan = named_plan("metric", "shelf", "Shelf")
    entry = make_entry({"metric": plan}, {"metric": sample_artifacts(plan, tmp_path)})
    page = f"{PANEL_SIGN}\n<p>deep 18 mm &amp; more</p>\n".encode()
    files = publish_pages(page, _measured(4), entry, "metric")
    written = files["metric.md"].decode()
    script = files["metric-panel.js"].decode()
    data = json.loads(script.removeprefix("window.planPanel=").rstrip(";\n"))

    assert "drawn for panels of 18 mm;" in written
    assert "<p>deep 18 mm &amp; more</p>" in written
    assert data["wordings"] == [[["deep ", " & more"], "l"]]
    assert data["texts"] == [[0, [18.0], [[[0, [17.0], [1.0]]]], "deep 18 mm & more", 0]]
    assert data["stocks"] == [
        {
            "title": "18 mm <b>ply</b>",
            "planned": 18.0,
            "entered": "18",
            "range": "17.0 to 18.5 mm",
            "pieces": [[17.0, 18.5]],
            "below": "it tips",
            "above": "",
        }
    ]


def test_a_page_that_cannot_follow_says_why_and_has_no_script(tmp_path: Path) -> None:
    plan = named_plan("metric", "shelf", "Shelf")
    entry = make_entry({"metric": plan}, {"metric": sample_artifacts(plan, tmp_path)})
    refused = Measured(refused="“a * b” in the design is no straight line of the thickness")
    files = publish_pages(PANEL_SIGN.encode(), refused, entry, "metric")

    assert list(files) == ["metric.md"]
    assert "cannot follow the thickness of your own panel: “a * b”" in files["metric.md"].decode()


def test_a_page_without_sheets_says_nothing_of_panels(tmp_path: Path) -> None:
    plan = named_plan("metric", "shelf", "Shelf")
    entry = make_entry({"metric": plan}, {"metric": sample_artifacts(plan, tmp_path)})

    assert publish_pages(PANEL_SIGN.encode(), Measured(), entry, "metric") == {"metric.md": b""}
