"""The feed, the search index and the filters of a small library."""

import json
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from generator.pages.entries import Entry, make_cards
from generator.pages.feed import make_feed
from generator.pages.filters import make_filters
from generator.pages.search_index import search_index
from tests.sample_site import write_sample_docs

ATOM = "{http://www.w3.org/2005/Atom}"


@pytest.fixture(scope="module")
def entries(tmp_path_factory: pytest.TempPathFactory) -> tuple[Entry, ...]:
    return write_sample_docs(tmp_path_factory.mktemp("library") / "docs")


def _dated(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    first, second = entries
    return replace(first, date="2026-02-01"), replace(second, date="2026-05-02")


def test_the_feed_has_all_that_atom_asks_for_and_the_newest_plan_first(
    entries: tuple[Entry, ...],
) -> None:
    """RFC 4287, 4.1.1 and 4.1.2: id, title, updated, author; a link to what an entry stands for."""
    data = make_feed(_dated(entries), title="A & B", says="", address="https://plans.example/")
    feed = ElementTree.fromstring(data)
    found = feed.findall(f"{ATOM}entry")

    assert feed.tag == f"{ATOM}feed"
    assert feed.findtext(f"{ATOM}title") == "A & B"
    assert feed.findtext(f"{ATOM}updated") == "2026-05-02T00:00:00Z"
    assert feed.findtext(f"{ATOM}author/{ATOM}name") == "A & B"
    assert [one.findtext(f"{ATOM}title") for one in found] == [
        "Second <b>shelf</b> & *more* {x}",
        "Leaning shelf",
    ]
    for one in (feed, *found):
        assert len(one.findall(f"{ATOM}id")) == len(one.findall(f"{ATOM}updated")) == 1
    assert len({one.findtext(f"{ATOM}id") for one in (feed, *found)}) == 3
    link = found[1].find(f"{ATOM}link")
    assert link is not None
    assert link.get("href") == "https://plans.example/plans/leaning-shelf/index.html"


def test_an_entry_of_the_feed_keeps_its_name_when_its_plan_changes(
    entries: tuple[Entry, ...],
) -> None:
    """RFC 4287, 4.2.6: an id never changes."""
    first = make_feed(entries, title="Library", says="", address="")
    changed = tuple(replace(one, date="2027-01-01", summary="New", title="New") for one in entries)
    second = make_feed(changed, title="Library", says="Says", address="")

    def names(data: bytes) -> set[str | None]:
        return {one.text for one in ElementTree.fromstring(data).iter(f"{ATOM}id")}

    assert names(first) == names(second)


def test_a_plan_whose_date_is_no_date_is_in_the_feed_all_the_same(
    entries: tuple[Entry, ...],
) -> None:
    feed = make_feed([replace(entries[0], date="soon")], title="Library", says="", address="")

    assert b"<updated>2000-01-01T00:00:00Z</updated>" in feed


def test_the_search_finds_plans_keys_and_problems(entries: tuple[Entry, ...]) -> None:
    text = search_index(entries).decode("utf-8")
    rows = json.loads(text.removeprefix("var kerfolioIndex = ").removesuffix(";\n"))
    paths = {title: path for title, path, _, _ in rows}
    words = {path: found for _, path, found, _ in rows}

    assert paths["Leaning shelf"] == "plans/leaning-shelf/index.html"
    assert "write-a-design/problems-j.html#j103" in words
    assert "carries" in words["write-a-design/keys.html#part"]


def test_filters_offer_only_what_parts_the_plans(entries: tuple[Entry, ...]) -> None:
    first, second = entries
    alike = make_filters(make_cards([first]))
    second = replace(
        second,
        design="second-shelf",
        difficulty="beginner",
        hours="9 to 11",
        tags=("hall",),
        tools=(*first.tools, "Lathe"),
    )
    first = replace(first, difficulty="intermediate", hours="5 to 6", tags=("porch",))
    apart = make_filters(make_cards([first, second]))

    assert (alike.levels, alike.hours, alike.sheets, alike.tools) == ((), (), (), ())
    assert apart.levels == ("beginner", "intermediate")
    assert apart.hours == (6, 8)
    assert apart.tags == ("hall", "porch")
    assert apart.tools == ("Lathe",)


def test_a_card_looks_up_to_nothing_that_is_not_there(tmp_path: Path) -> None:
    assert make_filters(()).tags == ()
    assert b"<entry>" not in make_feed((), title="Library", says="", address="")
    assert b"plans/" not in search_index(())
