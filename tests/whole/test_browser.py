"""Every page in a real Chromium, on a phone and a desk, in light and dark.

Every page is opened once, the four ways by turns; of every kind of page the largest one is opened
in all four ways. The pages of a kind come from one template and differ in their contents only.
"""

import itertools
import re
from dataclasses import dataclass, field
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page

from tests.whole.conftest import ServedSite

pytestmark = pytest.mark.whole

PHONE, DESK = 390, 1280
Scheme = Literal["light", "dark"]
WAYS: tuple[tuple[int, Scheme], ...] = (
    (PHONE, "light"),
    (PHONE, "dark"),
    (DESK, "light"),
    (DESK, "dark"),
)
NARROWEST = 320
"""WCAG 2.2, criterion 1.4.10: no scrolling sideways at 320 CSS pixels."""
LAZY = "document.querySelectorAll('img').forEach(image => { image.loading = 'eager'; })"
ALL_LOADED = "[...document.images].every(image => image.complete)"
BROKEN = "[...document.images].filter(image => !image.naturalWidth).map(image => image.src)"


@dataclass
class Watch:
    """What a page did that it should not."""

    faults: list[str] = field(default_factory=list)

    def on_console(self, message: ConsoleMessage) -> None:
        """Note warnings and errors."""
        if message.type in {"error", "warning"}:
            self.faults.append(f"console {message.type}: {message.text}")

    def on_request(self, url: str, home: str) -> None:
        """Note requests that leave the site."""
        if not url.startswith((home, "data:", "blob:")):
            self.faults.append(f"outside request: {url}")


def _open(context: BrowserContext, site: ServedSite, path: str, watch: Watch) -> Page:
    page = context.new_page()
    page.on("console", watch.on_console)
    page.on("pageerror", lambda error: watch.faults.append(f"page error: {error}"))
    page.on("request", lambda request: watch.on_request(request.url, site.address))
    page.goto(f"{site.address}/{path}")
    page.evaluate(LAZY)
    page.wait_for_function(ALL_LOADED)
    page.wait_for_timeout(150)
    return page


def _faults_of(context: BrowserContext, site: ServedSite, path: str) -> list[str]:
    watch = Watch()
    page = _open(context, site, path, watch)
    watch.faults += [f"no picture: {source}" for source in page.evaluate(BROKEN)]
    found = Axe().run(page).response
    for fault in (*found["violations"], *found["incomplete"]):
        targets = [node["target"] for node in fault["nodes"]]
        watch.faults.append(f"axe {fault['id']}: {targets}")
    page.close()
    return [f"{path}: {fault}" for fault in watch.faults]


def test_the_watch_notices_what_leaves_the_site_and_what_the_console_says(
    browser: Browser, sample: ServedSite
) -> None:
    watch = Watch()
    context = browser.new_context()
    page = _open(context, sample, "404.html", watch)
    page.evaluate("fetch('http://127.0.0.1:9/x').catch(() => console.warn('lost'))")
    page.wait_for_timeout(300)
    context.close()

    assert "outside request: http://127.0.0.1:9/x" in watch.faults
    assert "console warning: lost" in watch.faults


def _kind(path: str) -> str:
    """Return what pages made alike have in common: the path without plan or letter of problems."""
    return re.sub(
        r"^plans/[^/]+/", "plans/*/", re.sub(r"problems-[a-z]\.html$", "problems-*", path)
    )


def _largest_of_each_kind(site: ServedSite) -> tuple[str, ...]:
    largest: dict[str, str] = {}
    for path in sorted(site.pages(), key=lambda path: (site.folder / path).stat().st_size):
        largest[_kind(path)] = path
    return tuple(sorted(largest.values()))


def _contexts(browser: Browser) -> list[BrowserContext]:
    return [
        browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)
        for width, scheme in WAYS
    ]


def test_every_page_is_quiet_complete_and_accessible(browser: Browser, demo: ServedSite) -> None:
    contexts = _contexts(browser)
    ways = itertools.cycle(contexts)
    faults = [fault for path in demo.pages() for fault in _faults_of(next(ways), demo, path)]
    for context in contexts:
        context.close()

    assert faults == []


@pytest.mark.parametrize("way", range(len(WAYS)), ids=lambda way: "-".join(map(str, WAYS[way])))
def test_a_page_of_every_kind_is_quiet_complete_and_accessible_in_every_way(
    browser: Browser, demo: ServedSite, way: int
) -> None:
    paths = _largest_of_each_kind(demo)
    width, scheme = WAYS[way]
    context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)
    faults = [fault for path in paths for fault in _faults_of(context, demo, path)]
    context.close()

    assert faults == []
    assert {_kind(path) for path in paths} == {_kind(path) for path in demo.pages()}
    assert {"index.html", "plans/*/index.html", "plans/*/imperial.html", "plans/*/metric.html"} < {
        _kind(path) for path in paths
    }


def test_pages_of_a_maker_full_of_signs_are_quiet_complete_and_accessible(
    browser: Browser, sample: ServedSite
) -> None:
    context = browser.new_context(viewport={"width": PHONE, "height": 900}, color_scheme="dark")
    faults = [fault for path in sample.pages() for fault in _faults_of(context, sample, path)]
    context.close()

    assert faults == []


def test_no_page_scrolls_sideways_on_the_narrowest_screen(
    browser: Browser, demo: ServedSite
) -> None:
    context = browser.new_context(viewport={"width": NARROWEST, "height": 800})
    wide = []
    for path in demo.pages():
        page = _open(context, demo, path, Watch())
        if page.evaluate("document.documentElement.scrollWidth") > NARROWEST:
            wide.append(path)
        page.close()
    context.close()

    assert wide == []


def test_the_units_chosen_once_are_kept_with_the_section_and_in_the_library(
    browser: Browser, sample: ServedSite
) -> None:
    context = browser.new_context(viewport={"width": DESK, "height": 900})
    page = context.new_page()
    page.goto(f"{sample.address}/plans/leaning-shelf/imperial.html#cut-list")
    page.get_by_role("link", name="Millimetres", exact=True).click()
    switched = page.url
    page.goto(f"{sample.address}/index.html")
    library = page.locator("a.plan-link").first.get_attribute("href")
    page.goto(f"{sample.address}/plans/leaning-shelf/index.html")
    marked = page.locator(".unit.is-yours").all_inner_texts()
    context.close()

    assert switched == f"{sample.address}/plans/leaning-shelf/metric.html#cut-list"
    assert library == "plans/leaning-shelf/metric.html"
    assert marked == ["Millimetres"]


def test_a_reader_who_has_chosen_nothing_is_led_to_the_choice(
    browser: Browser, sample: ServedSite
) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{sample.address}/index.html")
    library = page.locator("a.plan-link").first.get_attribute("href")
    context.close()

    assert library == "plans/leaning-shelf/index.html"


def test_a_title_in_the_search_leads_to_its_plan(browser: Browser, sample: ServedSite) -> None:
    context = browser.new_context(viewport={"width": DESK, "height": 900})
    page = context.new_page()
    page.goto(f"{sample.address}/index.html")
    page.keyboard.press("/")
    page.keyboard.type("leaning")
    found = page.locator(".find a").first
    found.wait_for(timeout=10_000)
    link = found.get_attribute("href")
    context.close()

    assert link is not None
    assert "plans/leaning-shelf/" in link
