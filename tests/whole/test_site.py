"""The finished site on disk: links, downloads, sizes, and what mkdocs refuses."""

import json
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from jsonschema import Draft202012Validator

from generator.files import write_file
from generator.pages.site import SiteError, run_mkdocs
from tests.sample_site import write_sample_docs
from tests.whole.conftest import ServedSite

pytestmark = pytest.mark.whole

LARGEST_PAGE = 120_000
"""A page of this many bytes is about 20 KB on the wire."""


class _Links(HTMLParser):
    """Collects what a page links to, loads, and can be linked to."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.loads: list[str] = []
        self.ids: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value for name, value in attrs if value is not None}
        if "id" in values:
            self.ids.append(values["id"])
        if tag == "a" and "href" in values:
            self.links.append(values["href"])
        if tag in {"img", "script", "iframe"} and "src" in values:
            self.loads.append(values["src"])
        if tag == "link" and "href" in values:
            self.loads.append(values["href"])


@pytest.fixture(scope="module", params=["demo", "sample"])
def site(request: pytest.FixtureRequest) -> Path:
    served: ServedSite = request.getfixturevalue(request.param)
    return served.folder


def read_links(site: Path) -> dict[Path, _Links]:
    """Return every page of a site with what it links to and loads."""
    pages = sorted(site.rglob("*.html"))
    return {page: _Links(page.read_text(encoding="utf-8")) for page in pages}


def _target(site: Path, page: Path, link: str) -> Path:
    path = unquote(urlsplit(link).path)
    base = site if path.startswith("/") else page.parent
    found = (base / path.lstrip("/")).resolve() if path else page
    return found / "index.html" if found.is_dir() else found


def test_every_link_picture_and_download_leads_to_a_file_and_a_place_in_it(site: Path) -> None:
    pages = read_links(site)
    lost = []
    for page, found in pages.items():
        for link in (*found.links, *found.loads):
            if urlsplit(link).scheme in {"http", "https", "mailto"}:
                continue
            target, place = _target(site, page, link), urlsplit(link).fragment
            known = pages[target].ids if target in pages else ()
            if not target.is_file() or (place and place != "__skip" and place not in known):
                lost.append(f"{page.relative_to(site)}: {link}")

    assert lost == []


def test_nothing_is_loaded_from_outside(site: Path) -> None:
    loads = [load for found in read_links(site).values() for load in found.loads]

    assert [load for load in loads if urlsplit(load).netloc] == []


def test_every_file_of_every_plan_is_linked(site: Path) -> None:
    linked = {
        _target(site, page, link)
        for page, found in read_links(site).items()
        for link in found.links
    }
    files = [path for path in sorted((site / "plans").rglob("*")) if "files" in path.parts]

    assert [path for path in files if path.is_file() and path not in linked] == []


def test_no_page_uses_an_id_twice_or_is_too_large(site: Path) -> None:
    for page, found in read_links(site).items():
        twice = [name for name, count in Counter(found.ids).items() if count > 1]

        assert twice == [], page
        assert page.stat().st_size <= LARGEST_PAGE


def test_every_plan_json_is_valid_by_the_schema_that_the_site_publishes(site: Path) -> None:
    schema = json.loads((site / "schema" / "plan-1.schema.json").read_text(encoding="utf-8"))
    validator = Draft202012Validator(schema)
    plans = sorted(site.rglob("plan.json"))

    assert plans
    for path in plans:
        faults = validator.iter_errors(json.loads(path.read_text(encoding="utf-8")))
        assert [fault.message for fault in faults] == [], path


def test_building_the_site_twice_gives_the_same_bytes(tmp_path: Path) -> None:
    write_sample_docs(tmp_path / "docs")
    first = _bytes_of(run_mkdocs(tmp_path, "2026-03-14"))
    second = _bytes_of(run_mkdocs(tmp_path, "2026-03-14"))

    assert first == second


def test_a_page_that_mkdocs_warns_about_leaves_the_site_of_before(tmp_path: Path) -> None:
    write_sample_docs(tmp_path / "docs")
    before = _bytes_of(run_mkdocs(tmp_path, "no date"))
    write_file(tmp_path / "docs" / "checking.md", b"[lost](nowhere.md)\n")
    with pytest.raises(SiteError, match=r"nowhere\.md"):
        run_mkdocs(tmp_path, "2026-03-14")

    assert _bytes_of(tmp_path / "site") == before
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "docs",
        "mkdocs.yml",
        "site",
        "theme",
    ]


def _bytes_of(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}
