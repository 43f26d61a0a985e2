"""The zip of the whole site: unpacked on a disk it is the site, with nothing lost and no server."""

import zipfile
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser, expect

from generator.pages.file_list import format_bytes
from tests.whole.conftest import ServedSite
from tests.whole.test_site import read_links

pytestmark = pytest.mark.whole

ZIP = "all-plans.zip"
PLAN = "seed-tray-stand"


@pytest.fixture(scope="module")
def unpacked(demo: ServedSite, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Unpack the zip as a reader does and return the folder that comes out."""
    folder = tmp_path_factory.mktemp("disk")
    with zipfile.ZipFile(demo.folder / ZIP) as packed:
        assert packed.testzip() is None
        packed.extractall(folder)
    (found,) = folder.iterdir()
    return found


def test_the_index_links_to_it_with_its_size(demo: ServedSite) -> None:
    index = (demo.folder / "index.html").read_text(encoding="utf-8")
    size = format_bytes((demo.folder / ZIP).stat().st_size)

    assert f'<a href="{ZIP}" download>All plans in one zip</a>, {size},' in index


def test_it_holds_every_page_and_every_file_that_a_page_leads_to(
    demo: ServedSite, unpacked: Path
) -> None:
    pages = read_links(unpacked)
    lost = [
        f"{page.relative_to(unpacked)}: {link}"
        for page, found in pages.items()
        for link in (*found.links, *found.loads)
        if not urlsplit(link).scheme
        and urlsplit(link).path
        and not (page.parent / unquote(urlsplit(link).path)).is_file()
    ]

    assert lost == []
    assert {page.relative_to(unpacked).as_posix() for page in pages} == {*demo.pages()} - {
        "404.html"
    }


def test_it_holds_nothing_that_a_disk_has_no_use_for(demo: ServedSite, unpacked: Path) -> None:
    files = {path.relative_to(unpacked).as_posix() for path in unpacked.rglob("*.*")}

    assert [name for name in files if name.endswith((".map", ".zip", "sitemap.xml"))] == []
    assert [name for name in files if "lunr" in name] == []
    for name in files:
        if not name.endswith(".html"):
            assert (demo.folder / name).read_bytes() == (unpacked / name).read_bytes()


def test_opened_by_a_double_click_it_has_its_pictures_search_and_solids(
    browser_3d: Browser, unpacked: Path
) -> None:
    context = browser_3d.new_context(viewport={"width": 1000, "height": 700})
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on(
        "console",
        lambda said: faults.append(said.text) if said.type in {"error", "warning"} else None,
    )
    page.goto((unpacked / "index.html").as_uri())
    broken = page.evaluate("[...document.images].filter(one => one.complete && !one.naturalWidth)")
    page.get_by_role("button", name="Search").click()
    page.get_by_role("searchbox").fill("seed tray")
    page.locator("dialog a").first.click()
    page.wait_for_url(f"**/plans/{PLAN}/**")
    page.goto((unpacked / "plans" / PLAN / "imperial.html").as_uri())
    page.get_by_role("button", name="Turn it in 3D", exact=True).click()
    expect(page.locator(".solid-stage canvas")).to_be_focused()
    context.close()

    assert broken == []
    assert faults == []
