"""Writing into place: a file is complete or it is not there, and unchanged files are left alone."""

import io
import os
import shutil
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Final

ZIP_DATE: Final = (2026, 1, 1, 0, 0, 0)
"""Of every file in a zip, so that the same files make the same bytes on every day."""

PACKED_ALREADY: Final = (".zip", ".gz", ".pdf", ".png", ".woff", ".woff2")
"""What packing makes no smaller is put into a zip as it is."""

USUAL_LEVEL: Final = 6
"""How hard a zip is packed: the usual balance of size and time (RFC 1951 leaves it open)."""


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


def pack_zip(files: Mapping[str, bytes], level: int = USUAL_LEVEL) -> bytes:
    """Return a zip of files by their paths in it, sorted, with a fixed date: always the same.

    Args:
        files: Bytes by paths.
        level: How hard to pack, 1 to 9.
    """
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as target:
        for path, data in sorted(files.items()):
            entry = zipfile.ZipInfo(path, ZIP_DATE)
            is_packed = path.endswith(PACKED_ALREADY)
            entry.compress_type = zipfile.ZIP_STORED if is_packed else zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            entry.create_system = 3  # Unix, on every machine
            target.writestr(entry, data, compresslevel=level)
    return packed.getvalue()
