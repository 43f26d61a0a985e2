"""Building twice gives the same bytes, whatever the hash seed."""

import os
import re
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SLUGS = sorted(path.parent.name for path in (ROOT / "designs").glob("*/design.yml"))
NEIGHBOURS = re.compile(rb"[^\n]*\n\{: \.neighbours \}\n")
NOTHING = re.compile(rb"(?!)")


def test_the_library_and_its_site_are_the_same_under_another_hash_seed(
    demo_build: Path, tmp_path: Path
) -> None:
    """The first build has a seed of its own, which is another one every day."""
    _build(tmp_path, seed=0)

    for folder in ("docs", "site"):
        expected = _bytes_of(demo_build / folder)
        assert len(expected) > 50
        assert expected == _bytes_of(tmp_path / folder)


@pytest.mark.parametrize(("seed", "slug"), list(enumerate(SLUGS, 1)))
def test_every_plan_is_the_same_under_a_hash_seed_of_its_own(
    demo_build: Path, tmp_path: Path, seed: int, slug: str
) -> None:
    """Built alone, a plan has no plans beside it, so the links to those are left aside."""
    _build(tmp_path, seed, "--no-site", "--jobs", "1", slug)
    plans = sorted(path.name for path in (tmp_path / "docs" / "plans").iterdir())

    assert slug in plans
    for plan in plans:
        folder = Path("docs", "plans", plan)
        expected = _bytes_of(demo_build / folder, NEIGHBOURS)
        assert len(expected) > 30
        assert expected == _bytes_of(tmp_path / folder, NEIGHBOURS)


def _build(output: Path, seed: int, *arguments: str) -> None:
    command = [sys.executable, "-m", "generator", "build", "--output", str(output), *arguments]
    environment = {**os.environ, "PYTHONHASHSEED": str(seed)}
    subprocess.run(command, cwd=ROOT, env=environment, check=True, capture_output=True)


def _bytes_of(folder: Path, but: re.Pattern[bytes] = NOTHING) -> dict[str, str]:
    """Return a digest of every file of a folder, without what a pattern finds in it."""
    return {
        path.relative_to(folder).as_posix(): sha256(but.sub(b"", path.read_bytes())).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
