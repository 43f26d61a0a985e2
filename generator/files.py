"""Writing into place: a file is complete or it is not there, and unchanged files are left alone."""

import os
import shutil
from collections.abc import Iterable, Mapping
from pathlib import Path


def write_file(path: Path, data: bytes) -> bool:
    """Write a file aside and move it into place; return whether anything changed."""
    if path.is_file() and path.read_bytes() == data:
        return False
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_name(f".{path.name}.aside")
    try:
        aside.write_bytes(data)
        os.replace(aside, path)  # noqa: PTH105 - replaces a file on every system, in one act
    finally:
        aside.unlink(missing_ok=True)
    return True


def write_files(folder: Path, files: Mapping[str, bytes]) -> int:
    """Write files by their path below a folder; return how many changed."""
    return sum(write_file(folder / path, data) for path, data in sorted(files.items()))


def remove_others(folder: Path, keep: Iterable[str]) -> tuple[str, ...]:
    """Delete the files below a folder that are not to be kept, and folders left empty.

    Args:
        folder: May be missing.
        keep: Paths below the folder.

    Returns:
        The paths deleted, sorted.
    """
    wanted = {folder / path for path in keep}
    found = sorted(path for path in folder.rglob("*") if path.is_file() or path.is_symlink())
    gone = [path for path in found if path not in wanted]
    for path in gone:
        path.unlink()
    for path in sorted(folder.rglob("*"), reverse=True):
        if path.is_dir() and not any(path.iterdir()):
            path.rmdir()
    return tuple(path.relative_to(folder).as_posix() for path in gone)


def replace_folder(folder: Path, new: Path) -> None:
    """Put a finished folder in the place of an old one, which stays until the new one is there."""
    old = folder.with_name(f".{folder.name}.old")
    shutil.rmtree(old, ignore_errors=True)
    if folder.exists():
        folder.rename(old)
    new.rename(folder)
    shutil.rmtree(old, ignore_errors=True)
