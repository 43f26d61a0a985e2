"""``python -m tests``: install the programs the tests drive where they are missing, then run all.

The tests drive a real Chromium, read DXF files back with GDAL's ogrinfo and booklets with poppler.
Where a program is missing and Debian's package tool is there, it is installed; elsewhere its name
is said. Nothing is skipped: without them those tests fail.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROGRAMS = {"chromium": "chromium", "ogrinfo": "gdal-bin", "pdftotext": "poppler-utils"}
"""Program → the Debian package it comes in."""

QUICK = (("ruff", "format", "--check", "."), ("ruff", "check", "."))
TYPES = ("mypy",)
TESTS = ("pytest", "--numprocesses", "auto", "--dist", "loadfile", "--no-loadscope-reorder")
"""A process for each core; the tests of one file stay in one, for they share what they build."""


def main() -> int:
    """Run every check and return the worst exit code; the types are checked beside the tests."""
    install_programs([package for name, package in PROGRAMS.items() if not has_program(name)])
    worst = max(_run(*check) for check in QUICK)
    with tempfile.TemporaryFile() as told:
        types = subprocess.Popen(
            [sys.executable, "-m", *TYPES], cwd=ROOT, stdout=told, stderr=subprocess.STDOUT
        )
        worst = max(worst, _run(*TESTS, *sys.argv[1:]), types.wait())
        told.seek(0)
        print(f"== {' '.join(TYPES)}\n{told.read().decode()}", end="", flush=True)
    return worst


def _run(*check: str) -> int:
    print(f"== {' '.join(check)}", flush=True)
    return subprocess.run([sys.executable, "-m", *check], cwd=ROOT, check=False).returncode


def has_program(name: str) -> bool:
    """Whether a program is on the path; Chromium may also be named by the variable CHROMIUM."""
    if name == "chromium" and os.environ.get("CHROMIUM"):
        return True
    return shutil.which(name) is not None


def install_programs(packages: list[str]) -> None:
    """Install Debian packages, as root or through sudo; say what is missing where that fails."""
    if not packages:
        return
    apt = shutil.which("apt-get")
    sudo = [] if os.geteuid() == 0 else ["sudo", "-n"]
    if apt is not None:
        print(f"== installing {', '.join(packages)}", flush=True)
        subprocess.run([*sudo, apt, "update"], check=False, stdout=subprocess.DEVNULL)
        done = subprocess.run(
            [*sudo, apt, "install", "-y", *packages], check=False, stdout=subprocess.DEVNULL
        )
        if done.returncode == 0:
            return
    print(f"Please install {', '.join(packages)}: the tests that need them will fail.", flush=True)


if __name__ == "__main__":
    sys.exit(main())
