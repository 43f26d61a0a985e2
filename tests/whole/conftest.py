"""The demo library, built once by the command line, and a browser to look at it with."""

import fcntl
import functools
import http.server
import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright, sync_playwright

from generator.pages.site import run_mkdocs
from tests.sample_site import write_sample_docs

ROOT = Path(__file__).resolve().parents[2]
CHROMIUM = Path(os.environ.get("CHROMIUM", "/usr/bin/chromium"))
BROWSER_ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SOFTWARE_3D = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]


@dataclass(frozen=True, slots=True)
class ServedSite:
    """A finished site on disk and where it is served."""

    folder: Path
    address: str

    def pages(self) -> tuple[str, ...]:
        """Return the paths of all pages."""
        found = self.folder.rglob("*.html")
        return tuple(sorted(path.relative_to(self.folder).as_posix() for path in found))


@pytest.fixture(scope="session")
def demo_build(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build every design of the repository in both editions; return the output folder.

    Where tests run in several processes, the first that asks builds it and the others wait.
    """
    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent
    output = folder / "demo" / "build"
    finished = folder / "demo" / "finished"
    with (folder / "demo.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not finished.exists():
            _build_demo(output)
            finished.touch()
    return output


@pytest.fixture(scope="session")
def demo(demo_build: Path) -> Iterator[ServedSite]:
    """Serve the site of the demo library."""
    yield from _serve(demo_build / "site")


@pytest.fixture(scope="session")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServedSite]:
    """Serve a site of two sample plans, one of them with a title full of signs."""
    root = tmp_path_factory.mktemp("sample")
    write_sample_docs(root / "docs")
    yield from _serve(run_mkdocs(root, "2026-03-14"))


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """Start what drives browsers; a process may have one of it only."""
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """Start Chromium; its absence is a failure, because nothing else sees what a reader sees."""
    yield from _launch(playwright, BROWSER_ARGUMENTS)


@pytest.fixture(scope="session")
def browser_3d(playwright: Playwright) -> Iterator[Browser]:
    """Start a Chromium that draws solids without a graphics card."""
    arguments = [one for one in BROWSER_ARGUMENTS if one != "--disable-gpu"]
    yield from _launch(playwright, [*arguments, *SOFTWARE_3D])


def _launch(playwright: Playwright, arguments: list[str]) -> Iterator[Browser]:
    if not CHROMIUM.exists():
        pytest.fail(f"no Chromium at {CHROMIUM}; install it or set CHROMIUM to its path")
    started = playwright.chromium.launch(executable_path=str(CHROMIUM), args=arguments)
    yield started
    started.close()


def _build_demo(output: Path) -> None:
    command = [sys.executable, "-m", "generator", "build", "--output", str(output)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        pytest.fail(f"the demo library does not build:\n{done.stdout}\n{done.stderr}")


class _QuietHandler(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


def _serve(folder: Path) -> Iterator[ServedSite]:
    handler = functools.partial(_QuietHandler, directory=str(folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield ServedSite(folder, f"http://127.0.0.1:{server.server_port}")
        server.shutdown()
        thread.join()
