"""The files of an edition, in groups, with their sizes."""

from dataclasses import dataclass

from generator.model.artifacts import Artifacts, Download
from generator.units import System

GROUPS = (
    ("Everything in one file", ".zip"),
    ("Tables for a spreadsheet", ".csv"),
    ("Layouts for another saw", ".svg"),
    ("Drawings for a router or a drawing program", ".dxf"),
    ("The whole piece in 3D", ".glb"),
    ("For programs", ".json"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FileRow:
    """One file: where it is, what it is, how large.

    Attributes:
        name: As listed, such as ``sheets/1.dxf``.
        save_as: What it is called among a reader's own files: plan and edition come first.
    """

    path: str
    name: str
    save_as: str
    title: str
    size: str


def make_files(artifacts: Artifacts, slug: str) -> tuple[tuple[str, tuple[FileRow, ...]], ...]:
    """Return the files group by group; empty groups are left out."""
    groups = []
    for title, ending in GROUPS:
        chosen = tuple(
            _row(one, slug, artifacts.system)
            for one in artifacts.downloads
            if one.path.endswith(ending)
        )
        if chosen:
            groups.append((title, chosen))
    return tuple(groups)


def format_bytes(size: int) -> str:
    """Return a file size: ``640 bytes``, ``12 KB``, ``1.4 MB``; 1 KB is 1000 bytes."""
    if size < 1000:
        return f"{size} bytes"
    if size < 1_000_000:
        return f"{max(1, round(size / 1000))} KB"
    return f"{size / 1_000_000:.1f} MB"


def _row(download: Download, slug: str, system: System) -> FileRow:
    name = download.path.removeprefix(f"files/{system}/")
    return FileRow(
        path=download.path,
        name=name,
        save_as=f"{slug}-{system}-{name.replace('/', '-')}",
        title=download.title,
        size=format_bytes(download.size_bytes),
    )
