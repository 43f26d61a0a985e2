"""The solids of a plan in a real Chromium that draws without a graphics card.

Reference for what must be on the screen: the GLB file of the same plan, read by trimesh and looked
at along parallel lines, and the colours of the drawings.
"""

import io
import math
from collections.abc import Callable, Iterator
from typing import Any, Literal

import matplotlib.image
import numpy as np
import pytest
import trimesh
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from generator.outputs.palette import DARK, LIGHT, Scheme
from generator.outputs.views import RAISE_DEG, TURN_DEG
from tests.whole.conftest import ServedSite

pytestmark = pytest.mark.whole

PLAN = "seed-tray-stand"
FIGURE = "figure:has(img[src$='/assembled.svg'])"
STEPS = 5
SETTLED = """async () => {
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  const look = () => [
    window.drawn, ...[...document.querySelectorAll("[role=status]")].map((one) => one.textContent),
  ].join("|");
  for (let quiet = 0, before = look(); quiet < 7; quiet += 1) {
    await frame();
    await frame();
    await new Promise((done) => setTimeout(done, 100));
    if (look() !== before) { quiet = -1; before = look(); }
  }
}"""
"""Waits until for longer than a view glides and the reader is told of it nothing was drawn or said.

It counts frames of the page and not the clock, because the machine may be busy with other tests.
"""

COUNT_DRAWING = """
  window.drawn = 0;
  const draw = WebGLRenderingContext.prototype.drawArrays;
  WebGLRenderingContext.prototype.drawArrays = function (...values) {
    window.drawn += 1;
    return draw.apply(this, values);
  };
"""
WITHOUT_SCREWS = (
    COUNT_DRAWING
    + """
  Object.defineProperty(window, "planSolid", {
    get() { return this.held; },
    set(model) {
      model.steps.forEach((step) => { step.driven = []; });
      this.held = model;
    },
  });
"""
)
NO_WEBGL = "HTMLCanvasElement.prototype.getContext = () => null;"

Pixels = np.ndarray[tuple[int, ...], np.dtype[Any]]


class Viewer:
    """A page with the solids of the plan, and what it said that it should not."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.faults: list[str] = []
        self.asked: list[str] = []
        self.page: Page = context.new_page()
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on(
            "console",
            lambda said: (
                self.faults.append(said.text) if said.type in {"error", "warning"} else None
            ),
        )
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.goto(address)

    def open(self) -> Locator:
        """Press the button, wait until all is drawn and said, and return the canvas."""
        self.page.get_by_role("button", name="Turn it in 3D", exact=True).click()
        canvas = self.page.locator(".solid-stage canvas")
        canvas.wait_for()
        self.settle()
        return canvas

    def settle(self) -> None:
        """Wait until nothing moves and what happened has been said."""
        self.page.evaluate(SETTLED)

    def told(self) -> str:
        """Return what screen readers are told."""
        return self.page.locator(".solid-box [role=status]").inner_text()

    def pixels(self) -> Pixels:
        """Return the canvas as it is drawn, rows from the top, red, green and blue to 255.

        What stands above it on the page is taken away, such as the head that stays at the top.
        """
        style = ".rail { display: none !important }"
        data = self.page.locator(".solid-stage canvas").screenshot(style=style)
        return np.asarray(np.round(matplotlib.image.imread(io.BytesIO(data))[..., :3] * 255), int)

    def press(self, *keys: str) -> None:
        """Press keys one after the other."""
        for key in keys:
            self.page.keyboard.press(key)
        self.settle()


def near(pixels: Pixels, colour: str) -> Pixels:
    """Return which pixels have a colour, but for what rounding does to it."""
    wanted = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    return np.asarray(np.abs(pixels - wanted).max(axis=2) <= 2, bool)


def extent(pixels: Pixels, paper: str) -> tuple[int, int]:
    """Return width and height of all that is not paper, the border of the canvas left aside."""
    inside = np.argwhere(~near(pixels, paper)[4:-4, 4:-4])
    down, across = inside.T
    return int(np.ptp(across)) + 1, int(np.ptp(down)) + 1


def is_green(pixels: Pixels, scheme: Scheme = LIGHT) -> bool:
    """Whether some face has one of the greens of what is new."""
    greens = [near(pixels, scheme.tones[tone]) for tone in ("new_top", "new_front", "new_side")]
    return bool(np.any(greens))


@pytest.fixture(scope="module")
def address(demo: ServedSite) -> str:
    return f"{demo.address}/plans/{PLAN}/metric.html"


Opener = Callable[..., Viewer]


@pytest.fixture
def visit(browser_3d: Browser, address: str) -> Iterator[Opener]:
    """Return what opens the page in a window of its own; all windows are closed at the end."""
    contexts = []

    def opened(
        width: int = 720,
        scheme: Literal["light", "dark"] = "light",
        motion: Literal["reduce", "no-preference"] = "no-preference",
        script: str = COUNT_DRAWING,
        at: str = address,
    ) -> Viewer:
        context = browser_3d.new_context(
            viewport={"width": width, "height": 700}, color_scheme=scheme, reduced_motion=motion
        )
        contexts.append(context)
        context.add_init_script(script)
        return Viewer(context, at)

    yield opened
    for context in contexts:
        context.close()


def test_the_piece_is_drawn_as_large_as_its_solids_say_in_the_tones_of_the_drawings(
    visit: Opener, demo: ServedSite
) -> None:
    viewer = visit()
    viewer.open()
    pixels = viewer.pixels()
    scene = trimesh.load_scene(demo.folder / "plans" / PLAN / "files/metric/model.glb")
    x, y, z = scene.to_mesh().vertices.T
    turn, up = math.radians(TURN_DEG), math.radians(RAISE_DEG)
    across = x * math.cos(turn) - z * math.sin(turn)
    high = y * math.cos(up) - (x * math.sin(turn) + z * math.cos(turn)) * math.sin(up)
    wide, tall = extent(pixels, LIGHT.paper)

    assert np.ptp(across) / np.ptp(high) == pytest.approx(wide / tall, rel=0.01)
    assert tall > 0.6 * pixels.shape[0]
    for tone in ("top", "front", "side"):
        assert near(pixels, LIGHT.tones[tone]).mean() > 0.01, tone
    assert near(pixels, LIGHT.lines["outline"]).mean() > 0.001
    assert not is_green(pixels)
    assert viewer.faults == []


def test_nothing_of_it_is_loaded_before_it_is_asked_for(visit: Opener) -> None:
    viewer = visit()
    viewer.settle()
    before = list(viewer.asked)
    viewer.open()
    names = {url.rpartition("/")[2] for url in viewer.asked[len(before) :]}

    assert not any(url.endswith(("solid.js", "plan3d-draw.js")) for url in before)
    assert {"solid.js", "plan3d-draw.js"} <= names


def test_keys_turn_it_move_it_and_bring_it_back(visit: Opener) -> None:
    viewer = visit(motion="reduce")
    viewer.open()
    first = viewer.pixels()
    seen = []
    for keys, words in (
        (("ArrowLeft",) * 9, "Seen from the right and above"),
        (("ArrowUp",) * 9, "Seen from the right and below"),
        (("Shift+ArrowRight",), "Seen from the right and below"),
        (("+", "+"), "Seen from the right and below"),
    ):
        viewer.press(*keys)
        seen.append(viewer.pixels())
        assert words == viewer.told()
    viewer.press("0")

    for before, after in zip([first, *seen], seen, strict=False):
        assert (before != after).any(axis=2).mean() > 0.01
    assert (first == viewer.pixels()).all()


def test_the_slider_of_steps_shows_what_is_there_and_what_is_new(visit: Opener) -> None:
    viewer = visit()
    viewer.open()
    whole = viewer.pixels()
    slider = viewer.page.get_by_role("slider", name="After step")
    slider.focus()
    viewer.press("Home")
    begun = viewer.pixels()
    words = slider.get_attribute("aria-valuetext")
    told = viewer.told()
    viewer.press("End")

    assert words is not None
    assert words.startswith(f"1 of {STEPS}: ")
    assert told.startswith(words)
    assert is_green(begun)
    assert near(begun, LIGHT.paper).sum() > near(whole, LIGHT.paper).sum()
    assert "The finished piece" == slider.get_attribute("aria-valuetext")
    assert (whole == viewer.pixels()).all()


def test_a_step_shows_the_screws_that_go_in_and_the_finished_piece_none(visit: Opener) -> None:
    """What is drawn is held against the same page without any screws."""
    seen = []
    for script in (COUNT_DRAWING, WITHOUT_SCREWS):
        viewer = visit(script=script)
        viewer.open()
        slider = viewer.page.get_by_role("slider", name="After step")
        slider.focus()
        viewer.press("Home", "ArrowRight")
        told = viewer.told()
        viewer.page.get_by_role("button", name="Back", exact=True).click()
        viewer.settle()
        step = viewer.pixels()
        slider.focus()
        viewer.press("End")
        seen.append((told, step, viewer.pixels()))
    (told, step, whole), (_, bare, bare_whole) = seen
    differ = (step != bare).any(axis=2)

    assert "to go in: 12 × pocket screw, 32 mm" in told
    assert 0.0005 < differ.mean() < 0.05
    assert step[differ].mean() < bare[differ].mean()
    assert (whole == bare_whole).all()


def test_the_slider_that_pulls_apart_parts_the_pieces(visit: Opener) -> None:
    viewer = visit()
    viewer.open()
    together = extent(viewer.pixels(), LIGHT.paper)
    slider = viewer.page.get_by_role("slider", name="Pull apart")
    slider.focus()
    viewer.press("End")
    apart = extent(viewer.pixels(), LIGHT.paper)

    assert "Pulled apart, 100 percent" == viewer.told()
    assert apart[0] / apart[1] != pytest.approx(together[0] / together[1], rel=0.05)
    assert viewer.faults == []


def test_a_part_chosen_in_the_list_by_keyboard_is_green_and_leads_to_its_drawing(
    visit: Opener,
) -> None:
    viewer = visit()
    viewer.open()
    choice = viewer.page.get_by_role("combobox", name="Mark a part")
    choice.focus()
    viewer.press("ArrowDown", "ArrowDown")
    link = viewer.page.get_by_role("link", name="Drawing of part B")

    assert viewer.told().startswith("B: ")
    assert is_green(viewer.pixels())
    assert "#part-b" == link.get_attribute("href")
    viewer.press("Home")
    assert not is_green(viewer.pixels())
    expect(link).to_be_hidden()


def test_what_is_pointed_at_has_its_name_and_a_press_marks_its_part(visit: Opener) -> None:
    viewer = visit()
    canvas = viewer.open()
    canvas.scroll_into_view_if_needed()
    box = canvas.bounding_box()
    assert box is not None
    at = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    viewer.page.mouse.move(*at)
    tag = viewer.page.locator(".solid-tag")
    named = tag.inner_text()
    viewer.page.mouse.down()
    viewer.page.mouse.up()
    viewer.settle()
    chosen = viewer.page.get_by_role("combobox", name="Mark a part").input_value()

    assert named[1:3] == ": "
    assert viewer.told().startswith(f"{named[0]}: ")
    assert ord(named[0]) - ord("A") == int(chosen)
    viewer.page.mouse.move(box["x"] + 3, box["y"] + box["height"] - 3)
    expect(tag).to_be_hidden()


def test_dragging_turns_it_and_the_wheel_alone_scrolls_the_page(visit: Opener) -> None:
    viewer = visit()
    canvas = viewer.open()
    canvas.scroll_into_view_if_needed()
    box = canvas.bounding_box()
    assert box is not None
    viewer.page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    first = viewer.pixels()
    viewer.page.mouse.down()
    viewer.page.mouse.move(box["x"] + box["width"] / 2 + 90, box["y"] + box["height"] / 2, steps=5)
    viewer.page.mouse.up()
    viewer.settle()
    turned = viewer.pixels()
    before = viewer.page.evaluate("scrollY")
    viewer.page.keyboard.down("Control")
    viewer.page.mouse.wheel(0, -200)
    viewer.page.keyboard.up("Control")
    viewer.settle()
    larger = extent(viewer.pixels(), LIGHT.paper)
    kept = viewer.page.evaluate("scrollY")
    viewer.page.mouse.wheel(0, 200)
    viewer.settle()

    assert (first != turned).any(axis=2).mean() > 0.01
    assert larger[1] > extent(turned, LIGHT.paper)[1]
    assert before == kept
    assert viewer.page.evaluate("scrollY") > kept


def test_two_fingers_bring_it_nearer(visit: Opener) -> None:
    viewer = visit(width=390)
    canvas = viewer.open()
    small = extent(viewer.pixels(), LIGHT.paper)
    fingers = [("down", 1, 150), ("down", 2, 190), ("move", 2, 210), ("up", 1, 150), ("up", 2, 210)]
    for kind, finger, x in fingers:
        canvas.evaluate(
            """(canvas, [kind, finger, x]) => {
                 canvas.setPointerCapture = () => {};
                 const edge = canvas.getBoundingClientRect();
                 canvas.dispatchEvent(new PointerEvent("pointer" + kind, {
                   pointerId: finger, pointerType: "touch",
                   clientX: edge.left + x, clientY: edge.top + 150,
                 }));
               }""",
            [kind, finger, x],
        )
    viewer.settle()
    larger = extent(viewer.pixels(), LIGHT.paper)

    assert larger[0] > 1.2 * small[0]
    assert viewer.page.evaluate("visualViewport.scale") == 1


def test_it_follows_light_and_dark(visit: Opener) -> None:
    viewer = visit(scheme="dark")
    viewer.open()
    dark = viewer.pixels()
    viewer.page.get_by_role("button", name="Light", exact=True).click()
    viewer.settle()

    assert near(dark, DARK.paper).mean() > 0.1
    assert near(dark, DARK.tones["side"]).mean() > 0.01
    assert near(viewer.pixels(), LIGHT.paper).mean() > 0.1
    assert near(viewer.pixels(), LIGHT.tones["side"]).mean() > 0.01


def test_nothing_is_drawn_while_nothing_changes_and_no_view_glides_where_motion_is_unwanted(
    visit: Opener,
) -> None:
    viewer = visit(motion="reduce")
    viewer.open()
    first = viewer.page.evaluate("window.drawn")
    viewer.settle()
    idle = viewer.page.evaluate("window.drawn")
    viewer.page.get_by_role("button", name="Above").click()
    viewer.settle()
    at_once = viewer.page.evaluate("window.drawn")

    pieces = 12
    assert 0 < first == idle
    assert idle + 2 * pieces == at_once
    assert "Seen from above" == viewer.told()


def test_without_webgl_the_picture_stays(visit: Opener) -> None:
    viewer = visit(script=NO_WEBGL)
    picture = viewer.page.locator(FIGURE + " img")
    viewer.page.get_by_role("button", name="Turn it in 3D", exact=True).click()
    told = viewer.page.locator(FIGURE + " [role=status]")

    expect(told).to_have_text(
        "This browser does not draw in 3D. The pictures of this plan show the same."
    )
    expect(picture).to_be_visible()
    expect(viewer.page.locator("figure canvas")).to_have_count(0)
    assert viewer.faults == []


def test_without_script_there_is_the_picture_and_no_button(
    browser_3d: Browser, address: str
) -> None:
    context = browser_3d.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address)

    expect(page.locator(FIGURE + " img")).to_be_visible()
    expect(page.get_by_role("button", name="Turn it in 3D", exact=True)).to_have_count(0)
    context.close()


def test_it_opens_from_a_disk(visit: Opener, demo: ServedSite) -> None:
    viewer = visit(at=(demo.folder / "plans" / PLAN / "metric.html").as_uri())
    viewer.open()
    pixels = viewer.pixels()

    assert near(pixels, LIGHT.tones["side"]).mean() > 0.01
    assert near(pixels, LIGHT.lines["outline"]).mean() > 0.001


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (390, "dark")])
def test_it_is_accessible_and_never_wider_than_the_page(
    visit: Opener, width: int, scheme: Literal["light", "dark"]
) -> None:
    viewer = visit(width=width, scheme=scheme)
    viewer.open()
    viewer.page.get_by_role("combobox", name="Mark a part").select_option(index=1)
    viewer.settle()
    violations = Axe().run(viewer.page).response["violations"]

    assert [(one["id"], [node["target"] for node in one["nodes"]]) for one in violations] == []
    assert viewer.page.evaluate("document.documentElement.scrollWidth") <= width
    assert viewer.faults == []


def test_the_picture_is_printed_and_comes_back_with_escape(visit: Opener) -> None:
    viewer = visit()
    canvas = viewer.open()
    picture = viewer.page.locator(FIGURE + " img")
    expect(picture).to_be_hidden()
    expect(canvas).to_be_focused()
    viewer.page.emulate_media(media="print")
    expect(picture).to_be_visible()
    expect(canvas).to_be_hidden()
    viewer.page.emulate_media(media="screen")
    canvas.focus()
    viewer.page.keyboard.press("Escape")
    expect(canvas).to_have_count(0)
    expect(picture).to_be_visible()
    expect(viewer.page.get_by_role("button", name="Turn it in 3D", exact=True)).to_be_focused()
    viewer.open()

    assert near(viewer.pixels(), LIGHT.tones["side"]).mean() > 0.01
    assert viewer.faults == []


def test_the_picture_of_a_step_turns_into_that_step_and_only_one_is_shown_at_a_time(
    visit: Opener,
) -> None:
    viewer = visit()
    viewer.open()
    viewer.page.get_by_role("button", name="Turn step 2 in 3D").click()
    viewer.settle()
    step = viewer.page.get_by_role("slider", name="After step").get_attribute("aria-valuetext")
    stages = viewer.page.locator(".solid-stage")
    viewer.page.get_by_role("button", name="Right").click()
    viewer.settle()

    assert viewer.told().lower().endswith("seen from the right")
    assert step is not None
    assert step.startswith(f"2 of {STEPS}: ")
    assert is_green(viewer.pixels())
    expect(stages).to_have_count(1)
    expect(viewer.page.locator(FIGURE + " img")).to_be_visible()
    viewer.page.get_by_role("button", name="Turn it in 3D, pulled apart").click()
    viewer.settle()
    apart = viewer.page.get_by_role("slider", name="Pull apart").get_attribute("aria-valuetext")

    assert "100 %" == apart
    expect(stages).to_have_count(1)
    assert viewer.faults == []
