"""The static site: mkdocs runs on the finished docs folder, strictly, and quietly."""

import os
import shutil
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

from generator.files import replace_folder
from generator.pages.whole_site import add_zip

EARLIEST = datetime(2000, 1, 1, tzinfo=UTC)
"""mkdocs does not take a time of 0; a library without dates is given this one."""

THEME_FILES = ("assets/javascripts", "assets/stylesheets", "assets/images")
"""Folders mkdocs copies for a theme of which we take the skeleton only: no page loads a file."""


class SiteError(Exception):
    """mkdocs refused the pages; they are written by us, so it is a fault of ours."""


def run_mkdocs(root: Path, newest: str) -> Path:
    """Build the site from ``root/mkdocs.yml`` aside and put it in place when it is complete.

    A zip of it all is part of it.

    Args:
        root: Holds mkdocs.yml and docs; the site goes to ``root/site``.
        newest: Date of the newest plan, such as ``2026-03-14``; the only date in the site.

    Returns:
        The folder of the site.

    Raises:
        SiteError: mkdocs failed or warned; the site of before is still in place.
    """
    root = root.resolve()
    aside = root / ".site.new"
    environment = {
        **os.environ,
        "SOURCE_DATE_EPOCH": str(int(_date_of(newest).timestamp())),
        "NO_MKDOCS_2_WARNING": "1",
    }
    # Not --quiet: it would hide warnings from --strict as well.
    command = [sys.executable, "-m", "mkdocs", "build", "--strict"]
    done = subprocess.run(
        [*command, "--config-file", str(root / "mkdocs.yml"), "--site-dir", str(aside)],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode != 0:
        shutil.rmtree(aside, ignore_errors=True)
        raise SiteError((done.stderr + done.stdout).strip())
    for unused in THEME_FILES:
        shutil.rmtree(aside / unused)
    add_zip(aside)
    replace_folder(root / "site", aside)
    return root / "site"


def _date_of(newest: str) -> datetime:
    try:
        found = datetime.fromisoformat(newest).replace(tzinfo=UTC)
    except ValueError:
        return EARLIEST
    return max(found, EARLIEST)
