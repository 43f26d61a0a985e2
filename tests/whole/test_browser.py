"""Every page in a real Chromium, on a phone and a desk, in light and dark.

Every page is opened once, the four ways by turns: nothing is asked of others, nothing is said to
the console, no picture is missing, nothing is wider than the narrowest screen. What costs most,
axe, looks at the largest page of every kind in all four ways and from a folder in two: the pages of
a kind come from one template and differ in their contents only.
"""

import itertools
from dataclasses import dataclass, field
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page

from tests.page_kinds import KINDS, pages_by_kind
from tests.whole.conftest import ServedSite

pytestmark = pytest.mark.whole

PHONE, DESK = 390, 1280
Scheme = Literal["light", "dark"]
SCHEMES: tuple[Scheme, ...] = ("light", "dark")
NARROWEST = 320
"""WCAG 2.2, criterion 1.4.10: no scrolling sideways at 320 CSS pixels."""
SETTLE = """async () => {
    document.querySelectorAll('img').forEach(image => { image.loading = 'eager'; });
    await new Promise(done => planLater(done));
}"""
"""What waits for the reader to come near is loaded, and the page is set up to its end."""
ALL_LOADED = "[...document.images].every(image => image.complete)"
BROKEN = "[...document.images].filter(image => !image.naturalWidth).map(image => image.src)"
WIDTH = "document.documentElement.scrollWidth"
LIGHT = "document.documentElement.dataset.light"

AXE_OPTIONS = {"resultTypes": ["violations", "incomplete"], "preload": False}
"""Else axe asks for the style sheets once more, which a page opened from a folder may not."""


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


def _open(context: BrowserContext, home: str, path: str, watch: Watch) -> Page:
    page = context.new_page()
    page.on("console", watch.on_console)
    page.on("pageerror", lambda error: watch.faults.append(f"page error: {error}"))
    page.on("request", lambda request: watch.on_request(request.url, home))
    page.goto(f"{home}/{path}")
    page.evaluate(SETTLE)
    page.wait_for_function(ALL_LOADED)
    page.wait_for_timeout(100)
    watch.faults += [f"no picture: {source}" for source in page.evaluate(BROKEN)]
    return page


def _axe_faults(page: Page) -> list[str]:
    found = Axe().run(page, options=AXE_OPTIONS).response
    return [
        f"axe {fault['id']}: {[node['target'] for node in fault['nodes']][:5]}"
        for fault in (*found["violations"], *found["incomplete"])
    ]


def _faults_in_both_lights(context: BrowserContext, home: str, path: str) -> list[str]:
    """Return what is wrong with a page in light, and after the reader's system has gone dark."""
    watch = Watch()
    page = _open(context, home, path, watch)
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        page.wait_for_function(f"{LIGHT} === '{scheme}'")
        watch.faults += [f"{scheme}: {fault}" for fault in _axe_faults(page)]
    page.close()
    return [f"{path}: {fault}" for fault in watch.faults]


def _faults_at_a_glance(context: BrowserContext, home: str, path: str) -> list[str]:
    """Return what is wrong with a page but for what axe finds."""
    watch = Watch()
    page = _open(context, home, path, watch)
    page.set_viewport_size({"width": NARROWEST, "height": 800})
    if page.evaluate(WIDTH) > NARROWEST:
        watch.faults.append("scrolls sideways")
    page.close()
    return [f"{path}: {fault}" for fault in watch.faults]


def test_the_watch_notices_what_leaves_the_site_and_what_the_console_says(
    browser: Browser, sample: ServedSite
) -> None:
    watch = Watch()
    context = browser.new_context()
    page = _open(context, sample.address, "404.html", watch)
    page.evaluate("fetch('http://127.0.0.1:9/x').catch(() => console.warn('lost'))")
    page.wait_for_timeout(300)
    context.close()

    assert "outside request: http://127.0.0.1:9/x" in watch.faults
    assert "console warning: lost" in watch.faults


@pytest.mark.parametrize("name", ["demo", "sample"])
def test_every_page_is_quiet_and_complete_and_fits_the_narrowest_screen(
    browser: Browser, request: pytest.FixtureRequest, name: str
) -> None:
    site: ServedSite = request.getfixturevalue(name)
    contexts = [
        browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)
        for width in (PHONE, DESK)
        for scheme in SCHEMES
    ]
    ways = itertools.cycle(contexts)
    faults = [
        fault
        for path in site.pages()
        for fault in _faults_at_a_glance(next(ways), site.address, path)
    ]
    for context in contexts:
        context.close()

    assert faults == []


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_the_largest_page_of_every_kind_is_accessible_in_light_and_dark(
    browser: Browser, demo: ServedSite, width: int
) -> None:
    pages = pages_by_kind(demo.folder)
    context = browser.new_context(viewport={"width": width, "height": 900})
    faults = [
        fault
        for paths in pages.values()
        for fault in _faults_in_both_lights(context, demo.address, paths[-1])
    ]
    context.close()

    assert faults == []
    assert set(pages) == {kind for _, kind in KINDS}


def test_from_a_folder_a_page_of_every_kind_is_accessible_and_asks_for_nothing_outside(
    browser: Browser, demo: ServedSite
) -> None:
    """The page for what is not there is for servers alone: the zip of the site leaves it out."""
    pages = pages_by_kind(demo.folder)
    del pages["no such page"]
    context = browser.new_context(viewport={"width": PHONE, "height": 900})
    faults = [
        fault
        for paths in pages.values()
        for fault in _faults_in_both_lights(context, demo.folder.as_uri(), paths[0])
    ]
    context.close()

    assert faults == []


def test_pages_of_a_maker_full_of_signs_are_accessible(
    browser: Browser, sample: ServedSite
) -> None:
    context = browser.new_context(viewport={"width": PHONE, "height": 900}, color_scheme="dark")
    faults = []
    for path in ("index.html", "plans/second-shelf/index.html", "plans/second-shelf/metric.html"):
        faults += _axe_faults(_open(context, sample.address, path, Watch()))
    context.close()

    assert faults == []


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
