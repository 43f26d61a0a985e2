"""The live preview: real requests to a real server while a design is changed."""

import re
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.whole.test_command_line import ROOT, kerfolio, spoil


@pytest.fixture
def served(tmp_path: Path) -> Iterator[tuple[Path, "subprocess.Popen[str]", str]]:
    """Give a folder with a design, the running program and the address it names."""
    assert kerfolio(tmp_path, "new", "box").returncode == 0
    command = ("serve", "--jobs", "1", "--port", "0", "--edition", "metric")
    with subprocess.Popen(
        [sys.executable, "-m", "generator", *command],
        cwd=tmp_path,
        env={"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin", "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    ) as program:
        try:
            yield tmp_path, program, next_address(program)
        finally:
            program.kill()


def next_address(program: "subprocess.Popen[str]") -> str:
    """Return the address that is told after the next build."""
    assert program.stdout is not None
    for line in program.stdout:
        found = re.match(r"(http://127\.0\.0\.1:\d+/) follows", line)
        if found:
            return found[1]
    raise AssertionError("the program ended without an address")


def fetch(address: str) -> str:
    with urllib.request.urlopen(address) as answer:
        return str(answer.read().decode("utf-8"))


def test_a_change_of_a_design_reaches_the_page_and_a_fault_leaves_it_as_it_was(
    served: tuple[Path, "subprocess.Popen[str]", str],
) -> None:
    folder, program, address = served
    page = f"{address}plans/box/metric.html"
    first, count = fetch(page), fetch(f"{address}.built")
    spoil(folder, "title: Box", "title: Chest")
    next_address(program)
    second = fetch(page)
    spoil(folder, "from: panel", "from: pannel")
    next_address(program)

    assert "<h1" in first
    assert ("Chest" in first, "Chest" in second, "Chest" in fetch(page)) == (False, True, True)
    assert [count, fetch(f"{address}.built")] == ["1", "3"]
    assert "location.reload" in second
    written = folder / "build" / "site" / "plans" / "box" / "metric.html"
    assert "location.reload" not in written.read_text("utf-8")


def test_a_port_that_another_program_has_is_told(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        done = kerfolio(tmp_path, "serve", "--port", port)

    assert done.returncode == 2
    assert f"port {port}: " in done.stderr
    assert "Traceback" not in done.stderr
