"""A reader's own panel, in a real Chromium: sizes follow, are marked, printed and remembered."""

import json
import math
import random

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from generator.units import SYSTEMS, System, format_length, format_size
from tests.followed_plans import DESIGNS
from tests.whole.conftest import ServedSite

pytestmark = pytest.mark.whole

MM_PER_INCH = 25.4
FORMATTED = "values => values.map(([value, kind, system]) => planSizes.size(value, kind, system))"
TYPED = "texts => texts.map(([text, system]) => planSizes.typed(text, system))"


def _open(browser: Browser, address: str, path: str) -> Page:
    page = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
    page.goto(f"{address}/plans/{path}.html")
    return page


def _follow(page: Page, *values: str) -> None:
    opener = page.get_by_role("button", name="Follow my own panel")
    if opener.count():
        opener.click()
    for number, value in enumerate(values, start=1):
        page.fill(f"#panel-{number}", value)
    page.get_by_role("button", name="Follow my panel").click()
    page.wait_for_timeout(300)


def _row(page: Page, label: str) -> list[str]:
    return [text.strip() for text in page.locator(f"#cut-{label} td").all_inner_texts()]


def test_the_page_prints_sizes_as_the_generator_does(browser: Browser, demo: ServedSite) -> None:
    chance = random.Random(11)
    values = [round(chance.uniform(-20, 2500), 4) for _ in range(1500)]
    values += [count / 64 * MM_PER_INCH + off for count in range(200) for off in (0, 0.1, -0.1)]
    values += [count / 20 for count in range(-20, 400)]
    values += [count / 16 * MM_PER_INCH + 0.39688 for count in range(60)]
    rows = [(value, kind, system) for value in values for kind in "sl" for system in SYSTEMS]
    page = _open(browser, demo.address, "step-stool/metric")
    printed = page.evaluate(FORMATTED, rows)
    page.context.close()

    assert len(rows) > 10_000
    assert [_expected(*row) for row in rows] == printed


def _expected(value: float, kind: str, system: System) -> str:
    return format_size(value, system) if kind == "s" else format_length(value, system)


def test_thicknesses_are_read_as_readers_write_them(browser: Browser, demo: ServedSite) -> None:
    rows: list[tuple[str, System, float | None]] = [
        ("17.6", "metric", 17.6),
        (" 17,6 mm", "metric", 17.6),
        ("0.703", "imperial", 0.703 * MM_PER_INCH),
        (".703 in", "imperial", 0.703 * MM_PER_INCH),
        ("45/64", "imperial", 45 / 64 * MM_PER_INCH),
        ('23/32"', "imperial", 23 / 32 * MM_PER_INCH),
        ("1 1/8 in", "imperial", 1.125 * MM_PER_INCH),
        ("1-1/8", "imperial", 1.125 * MM_PER_INCH),
        ("17.9 mm", "imperial", 17.9),
        ("23/32 in", "metric", 23 / 32 * MM_PER_INCH),
        ("45/64", "metric", None),
        ("thick", "metric", None),
        ("", "imperial", None),
        ("1/0", "imperial", None),
        ("-3", "metric", None),
    ]
    page = _open(browser, demo.address, "step-stool/metric")
    read = page.evaluate(TYPED, [[text, system] for text, system, _ in rows])
    page.context.close()

    for (text, system, expected), value in zip(rows, read, strict=True):
        if expected is None:
            assert value is None or math.isnan(value), (text, system, value)
        else:
            assert value == pytest.approx(expected), (text, system)


def test_sizes_follow_the_panel_and_go_back(browser: Browser, demo: ServedSite) -> None:
    page = _open(browser, demo.address, "pantry-shelf/metric")
    before = _row(page, "b")
    _follow(page, "17.6", "11.5")
    after, told = _row(page, "b"), page.inner_text(".panel-told")
    marked = page.locator("#cut-b ins").all_inner_texts()
    struck = page.locator("#cut-b del").all_inner_texts()
    noted = page.locator("#part-b + .panel-note").inner_text()
    page.get_by_role("button", name="As drawn").click()
    restored = _row(page, "b")
    left = page.locator("ins, del, .panel-note").count()
    page.context.close()

    # 760 less two sides of 17.6 mm; 300 less a back of 11.5 mm
    assert before[2:4] == ["724", "288"]
    assert after[2:4] == ["724.8 724", "288.5 288"]
    assert marked == ["724.8", "288.5"]
    assert struck == ["724", "288"]
    assert "sizes change for 17.6 mm and 11.5 mm" in told
    assert "length 724.8 instead of 724" in noted
    assert restored == before
    assert left == 0


def test_inches_follow_in_sixteenths_and_thirty_seconds(browser: Browser, demo: ServedSite) -> None:
    page = _open(browser, demo.address, "pantry-shelf/imperial")
    _follow(page, "0.7", "15/32")
    length = page.locator("#cut-b ins").first.inner_text()
    page.context.close()

    # 30 less 1.4 in is 28.6 in: between 28 19/32 (28.594) and 28 5/8, 0.16 mm over the first
    assert length == "28 19/32 full"


def test_what_is_followed_is_remembered_for_its_plan_alone(
    browser: Browser, demo: ServedSite
) -> None:
    page = _open(browser, demo.address, "pantry-shelf/metric")
    _follow(page, "17.6", "12")
    page.reload()
    page.wait_for_timeout(400)
    kept = page.input_value("#panel-1"), page.locator("#cut-b ins").count()
    page.goto(f"{demo.address}/plans/entry-bench/metric.html")
    page.wait_for_timeout(300)
    other = page.locator("#panel-1, ins").count()
    page.goto(f"{demo.address}/plans/pantry-shelf/metric.html")
    page.wait_for_timeout(300)
    page.get_by_role("button", name="As drawn").click()
    page.reload()
    page.wait_for_timeout(300)
    forgotten = page.locator("#panel-1, ins").count()
    page.context.close()

    assert kept == ("17.6", 1)
    assert other == 0
    assert forgotten == 0


def test_a_panel_beyond_the_range_is_refused_with_the_reason(
    browser: Browser, demo: ServedSite
) -> None:
    page = _open(browser, demo.address, "step-stool/metric")
    _follow(page, "18.3")
    joint = page.inner_text("#panel-fault-1")
    _follow(page, "16")
    thin = page.inner_text("#panel-fault-1")
    _follow(page, "no idea")
    words = page.inner_text("#panel-fault-1")
    invalid, changed = page.get_attribute("#panel-1", "aria-invalid"), page.locator("ins").count()
    page.context.close()

    assert joint.startswith("This page follows no panel above 18 mm: screw 1 of joint")
    assert thin == (
        "This page follows no panel below 17.1 mm: none is sold so thin under this name."
    )
    assert words == "Write a thickness, such as 17.6."
    assert (invalid, changed) == ("true", 0)


def test_another_screw_is_told_where_a_thin_panel_needs_it(
    browser: Browser, demo: ServedSite
) -> None:
    page = _open(browser, demo.address, "step-stool/metric")
    _follow(page, "17.5")
    told = page.inner_text(".panel-told")
    screws = page.locator("ins", has_text="30 mm").count()
    note = page.locator("#what-to-buy + .panel-note").inner_text()
    page.context.close()

    assert "Some screws change too." in told
    assert screws > 0
    assert "take other screws than this list" in note


@pytest.mark.parametrize("path", ["entry-bench/metric", "entry-bench/imperial"])
def test_a_followed_page_is_accessible_quiet_and_prints_what_it_follows(
    browser: Browser, demo: ServedSite, path: str
) -> None:
    faults: list[str] = []
    page = browser.new_context(viewport={"width": 390, "height": 800}).new_page()
    page.on("console", lambda message: faults.append(message.text))
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(f"{demo.address}/plans/{path}.html")
    page.get_by_role("button", name="Follow my own panel").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("#panel-1:focus")
    page.keyboard.press("Control+a")
    page.keyboard.type("17.7 mm")
    page.keyboard.press("Enter")
    page.wait_for_timeout(400)
    wide = page.evaluate("document.documentElement.scrollWidth")
    violations = Axe().run(page).response["violations"]
    page.emulate_media(media="print")
    told, form = page.locator(".panel-told").is_visible(), page.locator(".panel-form").is_visible()
    page.context.close()

    assert faults == []
    assert [violation["id"] for violation in violations] == []
    assert wide <= 390
    assert (told, form) == (True, False)


def test_a_page_opened_as_a_file_follows_too(browser: Browser, demo: ServedSite) -> None:
    page = browser.new_context().new_page()
    page.goto((demo.folder / "plans/pantry-shelf/metric.html").as_uri())
    _follow(page, "17.6", "12")
    length = page.locator("#cut-b ins").first.inner_text()
    page.context.close()

    assert length == "724.8"


def test_without_scripts_the_box_says_what_to_do(browser: Browser, demo: ServedSite) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{demo.address}/plans/pantry-shelf/metric.html")
    buttons, words = page.locator(".panel button").count(), page.inner_text(".panel")
    context.close()

    assert buttons == 0
    assert "to the room you measure" in words


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_text_that_is_followed_is_found_and_reads_as_planned(
    browser: Browser, demo: ServedSite, system: System
) -> None:
    for slug in DESIGNS:
        page = _open(browser, demo.address, f"{slug}/{system}")
        page.get_by_role("button", name="Follow my own panel").click()
        page.wait_for_selector("#panel-1")
        shown = page.locator("[data-t]").all_text_contents()
        page.context.close()
        path = demo.folder / "plans" / slug / f"{system}-panel.js"
        script = path.read_text(encoding="utf-8").removeprefix("window.planPanel=")
        data = json.loads(script.rstrip(";\n"))

        assert len(shown) == len(data["texts"]) > 0, slug
        assert shown == [said for _, _, _, said, _ in data["texts"]], slug
