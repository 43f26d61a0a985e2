"""The finished site on disk: links, downloads, sizes, and what mkdocs refuses."""

import gzip
import json
import re
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

LARGEST_PAGE = 60_000
LARGEST_INDEX_ROW = 500
LARGEST_FIRST_VIEW = 150_000
"""Bytes: a page, what the search keeps of a plan, and all that is loaded at first, packed."""


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


def test_the_search_keeps_little_of_every_plan_and_finds_all_pages_it_names(site: Path) -> None:
    text = (site / "assets" / "search-index.js").read_text(encoding="utf-8")
    rows = json.loads(text.removeprefix("var kerfolioIndex = ").removesuffix(";\n"))
    plans = [row for row in rows if row[1].startswith("plans/")]

    assert {f"plans/{path.name}/index.html" for path in (site / "plans").iterdir()} == {
        path for _, path, _, _ in plans
    }
    assert [row for row in plans if len(json.dumps(row).encode()) > LARGEST_INDEX_ROW] == []
    for _, path, _, _ in rows:
        page, _, place = path.partition("#")
        assert not place or place in _Links((site / page).read_text(encoding="utf-8")).ids


def test_the_first_view_of_every_plan_is_small_on_the_wire(site: Path) -> None:
    """All scripts and styles of a page, and the pictures that do not wait for scrolling."""
    for page in sorted(site.glob("plans/*/*.html")):
        text = page.read_text(encoding="utf-8")
        found = _Links(text)
        eager = set(found.loads) - set(re.findall(r'src="([^"]+)"[^>]*loading="lazy"', text))
        files = {_target(site, page, link) for link in eager if not link.endswith("feed.xml")}
        packed = sum(len(gzip.compress(path.read_bytes())) for path in (page, *files))

        assert packed <= LARGEST_FIRST_VIEW, page


def test_without_an_address_no_page_names_one_and_with_it_every_page_does(
    site: Path, tmp_path: Path
) -> None:
    write_sample_docs(tmp_path / "docs", address="https://plans.example/shop/")
    published = run_mkdocs(tmp_path, "2026-03-14")
    page = (published / "plans/leaning-shelf/metric.html").read_text(encoding="utf-8")
    here = "https://plans.example/shop/plans/leaning-shelf"

    assert f'<link rel="canonical" href="{here}/metric.html">' in page
    assert f'<meta property="og:image" content="{here}/drawings/metric/card.png">' in page
    assert f"<loc>{here}/metric.html</loc>" in (published / "sitemap.xml").read_text()
    assert f'href="{here}/index.html"' in (published / "feed.xml").read_text()
    assert (
        "Sitemap: https://plans.example/shop/sitemap.xml" in (published / "robots.txt").read_text()
    )
    assert not (site / "robots.txt").exists()
    for path in site.rglob("*.html"):
        assert 'rel="canonical"' not in path.read_text(encoding="utf-8")


def test_every_plan_tells_programs_its_tools_supplies_and_steps(site: Path) -> None:
    """The types and names are those of https://schema.org/HowTo."""
    for edition in ("imperial", "metric"):
        for page in sorted(site.glob(f"plans/*/{edition}.html")):
            text = page.read_text(encoding="utf-8")
            found = re.findall(r'<script type="application/ld\+json">(.*?)</script>', text)
            data = json.loads(found[0])
            ids = _Links(text).ids

            assert len(found) == 1
            assert (data["@context"], data["@type"]) == ("https://schema.org", "HowTo")
            assert {type(one) for one in (*data["tool"], *data["supply"])} == {str}
            assert {one["@type"] for one in data["step"]} == {"HowToStep"}
            assert {one["url"][1:] for one in data["step"]} <= set(ids)


def test_labels_lead_from_lists_and_steps_to_drawings_and_back(site: Path) -> None:
    for page in sorted(site.glob("plans/*/metric.html")):
        found = _Links(page.read_text(encoding="utf-8"))
        labels = {
            name.removeprefix("cut-") for name in found.ids if re.fullmatch("cut-[a-z]{1,2}", name)
        }

        assert labels
        assert {f"part-{label}" for label in labels} <= set(found.ids)
        assert {f"#part-{label}" for label in labels} <= set(found.links)
        assert {f"#cut-{label}" for label in labels} <= set(found.links)
        steps = {name for name in found.ids if name.startswith("step-")}
        assert {f"#{name}" for name in steps} & set(found.links)


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
