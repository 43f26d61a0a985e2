"""What a reader does with a plan in a real browser: ticks off, switches, sifts, searches, prints.

The pages are opened from a folder, as from a stick in the workshop; only what is said to be of the
demo library needs more than the sample.
"""

import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page

from tests.page_kinds import KINDS, pages_by_kind
from tests.whole.conftest import ServedSite
from tests.whole.test_browser import DESK, PHONE, Watch

pytestmark = pytest.mark.whole

PLAN = "plans/leaning-shelf/metric.html"
MARK_FOCUSED = """() => {
    const one = document.activeElement;
    if (one === document.body) { return null; }
    one.dataset.reached = '';
    const box = one.getClientRects()[0];
    const there = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    const isSeen = Boolean(there) && (one.contains(there) || there.contains(one));
    const hasRing = getComputedStyle(one).outlineStyle !== 'none';
    return [one.outerHTML.slice(0, 120), isSeen, hasRing];
}"""
"""What has the focus; whether something hides it, and whether a ring is drawn around it."""
NOT_REACHED = """
    [...document.querySelectorAll('a[href], button, input, select, summary, [tabindex="0"]')]
    .filter(one => one.checkVisibility() && one.tabIndex >= 0 && !one.disabled)
    .filter(one => !('reached' in one.dataset)).map(one => one.outerHTML.slice(0, 120))
"""


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": DESK, "height": 900})
    page = context.new_page()
    yield page
    context.close()


def _open(page: Page, site: ServedSite, path: str) -> None:
    page.goto((site.folder / path.partition("#")[0]).as_uri() + "".join(path.partition("#")[1:]))
    page.evaluate("window.planLater && new Promise(done => planLater(done))")


def _boxes(page: Page, name: str) -> Locator:
    return page.locator(f"[data-tick={name}] input[type=checkbox]")


def test_the_search_works_from_a_folder_on_a_page_of_every_kind(
    browser: Browser, sample: ServedSite
) -> None:
    watch = Watch()
    context = browser.new_context(viewport={"width": PHONE, "height": 800})
    pages = pages_by_kind(sample.folder)
    del pages["no such page"]
    for path in (paths[-1] for paths in pages.values()):
        page = context.new_page()
        page.on("console", watch.on_console)
        page.on("pageerror", lambda error: watch.faults.append(f"page error: {error}"))
        page.on("request", lambda request: watch.on_request(request.url, "file://"))
        _open(page, sample, path)
        page.locator("#find-open").click()
        page.keyboard.type("shelf")
        page.locator(".find a").first.wait_for()
        page.close()
    context.close()

    assert watch.faults == []


def test_what_is_ticked_off_is_there_again_in_its_edition_and_can_be_cleared(
    page: Page, sample: ServedSite
) -> None:
    _open(page, sample, PLAN)
    _boxes(page, "cut").first.check()
    page.locator(".step-tick input").first.check()
    page.reload()
    kept = (
        _boxes(page, "cut").first.is_checked(),
        page.locator(".step-tick input").first.is_checked(),
    )
    told = page.locator(".tick-bar", has=page.get_by_role("status")).all_inner_texts()
    _open(page, sample, PLAN.replace("metric", "imperial"))
    other = page.locator("input:checked").count()
    _open(page, sample, PLAN)
    clear = page.get_by_role("button", name="Clear ticks").first
    clear.click()
    cleared = _boxes(page, "cut").first.is_checked()
    page.get_by_role("button", name="Put ticks back").click()

    assert kept == (True, True)
    assert any("1 of 2 done" in text for text in told)
    assert other == 0
    assert not cleared
    assert _boxes(page, "cut").first.is_checked()


def test_every_list_of_buying_cutting_and_assembly_can_be_ticked_off(
    page: Page, sample: ServedSite
) -> None:
    _open(page, sample, PLAN)
    rows = {
        name: page.locator(f"[data-tick={name}] > li, [data-tick={name}] tbody th").count()
        for name in ("buy", "tools", "cut", "blanks", "settings", "order")
    }
    boxes = {name: _boxes(page, name).count() for name in rows}

    assert boxes == rows
    assert all(boxes.values())
    assert page.locator(".step-tick input").count() == page.locator(".step-title").count() > 0
    assert _boxes(page, "cut").first.get_attribute("aria-label") == "Done: A, Side"


def test_the_unit_switch_keeps_the_section_one_is_reading(page: Page, sample: ServedSite) -> None:
    _open(page, sample, PLAN)
    page.locator("#part-b").evaluate("one => one.scrollIntoView()")
    page.get_by_role("link", name="Inches", exact=True).click()
    page.wait_for_url("**/imperial.html#part-b")
    _open(page, sample, PLAN + "#step-99")
    page.wait_for_url("**/metric.html#assembly")


def test_the_library_is_sifted_and_the_choice_stands_in_the_address(
    page: Page, demo: ServedSite
) -> None:
    _open(page, demo, "index.html")
    count = page.locator("li.card").count()
    page.locator("select[name=level]").select_option("beginner")
    page.locator("select[name=tag]").select_option("kitchen")
    shown = page.locator("li.card:visible h2").all_inner_texts()
    told = page.locator(".sieve-count").inner_text()
    address = page.url.partition("#")[2]
    page.reload()
    again = page.locator("li.card:visible h2").all_inner_texts()
    page.get_by_role("button", name="Show all").click()
    page.wait_for_function("location.hash === ''")

    assert shown == again == ["Step stool"]
    assert told == f"1 of {count} designs"
    assert address == "tag=kitchen&level=beginner"
    assert page.locator("li.card:visible").count() == count


def test_plans_that_need_a_tool_one_lacks_are_left_out(page: Page, demo: ServedSite) -> None:
    _open(page, demo, "index.html#without=Jigsaw")
    hidden = set(
        page.locator("li.card:not(:visible)").evaluate_all(
            "all => all.map(one => one.querySelector('h2').textContent)"
        )
    )
    needing = set(
        page.locator("li.card").evaluate_all(
            "all => all.filter(one => one.dataset.without.split('|').includes('Jigsaw'))"
            ".map(one => one.querySelector('h2').textContent)"
        )
    )

    assert page.get_by_label("Jigsaw").is_checked()
    assert hidden == needing
    assert "Tool tote" in hidden


def test_without_scripts_the_library_shows_all_and_offers_no_empty_controls(
    browser: Browser, demo: ServedSite
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    _open(page, demo, "index.html")
    cards = page.locator("li.card:visible").count()
    controls = page.locator("form:visible, button:visible").count()
    _open(page, demo, "plans/tool-tote/metric.html")
    boxes = page.locator("input:visible").count()
    context.close()

    assert cards == len({path.name for path in demo.folder.glob("plans/*")}) - 1
    assert controls == 0
    assert boxes == 0


def test_on_a_page_of_every_kind_the_keyboard_alone_reaches_everything_and_is_seen_where_it_is(
    page: Page, demo: ServedSite
) -> None:
    pages = pages_by_kind(demo.folder)
    faults = [fault for paths in pages.values() for fault in _keyboard_faults(page, demo, paths[0])]

    assert faults == []
    assert set(pages) == {kind for _, kind in KINDS}


def test_on_a_phone_nothing_that_stays_at_the_top_hides_what_has_the_focus(
    page: Page, demo: ServedSite
) -> None:
    """WCAG 2.2, criterion 2.4.11."""
    page.set_viewport_size({"width": PHONE, "height": 800})

    assert _keyboard_faults(page, demo, pages_by_kind(demo.folder)["an edition"][0]) == []


def _keyboard_faults(page: Page, site: ServedSite, path: str) -> list[str]:
    """Return what pressing Tab from the top of a page to its end does not reach, or not show."""
    page.goto(f"{site.address}/{path}")
    page.evaluate("new Promise(done => planLater(done))")
    page.keyboard.press("Tab")
    first = page.evaluate("document.activeElement.textContent.trim()")
    faults = [] if first == "Skip to content" else [f"{path}: begins with {first}"]
    while (here := page.evaluate(MARK_FOCUSED)) is not None:
        text, is_seen, has_ring = here
        faults += [] if is_seen else [f"{path}: hidden: {text}"]
        faults += [] if has_ring else [f"{path}: no ring: {text}"]
        page.keyboard.press("Tab")
    return faults + [f"{path}: not reached: {text}" for text in page.evaluate(NOT_REACHED)]


def test_the_search_is_opened_used_and_left_by_the_keyboard(page: Page, sample: ServedSite) -> None:
    _open(page, sample, PLAN)
    page.keyboard.press("/")
    page.keyboard.type("J103")
    page.locator(".find a").first.wait_for()
    page.keyboard.press("Escape")
    still_open = page.locator(".find").is_visible()
    page.keyboard.press("/")
    page.keyboard.press("Control+A")
    page.keyboard.type("leaning")
    page.locator(".find a").first.wait_for()
    page.keyboard.press("Enter")
    page.wait_for_url("**/plans/leaning-shelf/*.html")

    assert not still_open


def test_a_printed_plan_is_light_and_complete_and_has_boxes_to_tick(
    browser: Browser, sample: ServedSite, tmp_path: Path
) -> None:
    context = browser.new_context(viewport={"width": DESK, "height": 900}, color_scheme="dark")
    page = context.new_page()
    _open(page, sample, PLAN)
    on_screen = page.evaluate("getComputedStyle(document.body).color")
    page.emulate_media(media="print", color_scheme="dark")
    printed = page.evaluate("getComputedStyle(document.documentElement).colorScheme")
    text = page.evaluate("getComputedStyle(document.body).color")
    hidden = page.locator(".rail:visible, .strip nav:visible, .tick-bar:visible").count()
    boxes = page.locator("[data-tick] input:visible").count()
    page.pdf(path=str(tmp_path / "plan.pdf"), format="A4")
    headings = page.locator("h2").all_inner_texts()
    context.close()
    words = subprocess.run(
        ["pdftotext", "-layout", str(tmp_path / "plan.pdf"), "-"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout

    assert printed == "light only"
    assert text != on_screen
    assert hidden == 0
    assert boxes > 0
    assert [heading for heading in headings if heading not in words] == []
