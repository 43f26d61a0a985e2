"""Building twice gives the same bytes, whatever the hash seed."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("seed", range(8))
def test_the_written_library_is_the_same_under_every_hash_seed(
    demo_build: Path, tmp_path: Path, seed: int
) -> None:
    """The site itself is built for seeds 0 and 7, the pages and files for all."""
    whole = seed in {0, 7}
    output = tmp_path / "again"
    command = [sys.executable, "-m", "generator", "build", "--output", str(output)]
    environment = {**os.environ, "PYTHONHASHSEED": str(seed)}
    subprocess.run(
        [*command, *([] if whole else ["--no-site"])],
        cwd=ROOT,
        env=environment,
        check=True,
        capture_output=True,
    )

    for folder in ("docs", "site") if whole else ("docs",):
        expected = _digests(demo_build / folder)
        assert len(expected) > 50
        assert expected == _digests(output / folder)


def _digests(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
