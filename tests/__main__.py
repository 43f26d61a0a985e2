"""``python -m tests``: install the programs the tests drive where they are missing, then run all.

The tests drive a real Chromium and read DXF files back with GDAL's ogrinfo. Where a program is
missing and Debian's package tool is there, it is installed; elsewhere its name is said. Nothing is
skipped: without them those tests fail.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROGRAMS = {"chromium": "chromium", "ogrinfo": "gdal-bin"}
"""Program → the Debian package it comes in."""

CHECKS = (
    ("ruff", "format", "--check", "."),
    ("ruff", "check", "."),
    ("mypy",),
    ("pytest",),
)


def main() -> int:
    """Run every check and return the worst exit code."""
    install_programs([package for name, package in PROGRAMS.items() if not has_program(name)])
    worst = 0
    for check in CHECKS:
        print(f"== {' '.join(check)}", flush=True)
        command = [sys.executable, "-m", *check, *(sys.argv[1:] if check == ("pytest",) else ())]
        worst = max(worst, subprocess.run(command, cwd=ROOT, check=False).returncode)
    return worst


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
