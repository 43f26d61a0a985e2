"""The files of an edition, in groups, with their sizes; and the few that most readers want."""

from dataclasses import dataclass, replace

from generator.model.artifacts import Artifacts, Download

GROUPS: tuple[tuple[str, str | tuple[str, ...]], ...] = (
    ("To print", ".pdf"),
    ("Everything in one file, and the whole piece in 3D", (".zip", ".glb")),
    ("Tables for a spreadsheet", ".csv"),
    ("Layouts for another saw", ".svg"),
    ("Drawings for a router or a drawing program", ".dxf"),
    ("For programs", ".json"),
)
TAKEN_AWAY = {
    ".pdf": "",
    ".zip": "Everything in one zip",
    ".glb": "3D model",
    "shopping-list.csv": "Shopping list",
    "cut-list.csv": "Cut list",
}
"""Endings of the files named at the top of the page, in order → what they are called there.

Where nothing is said they have the name they have among all files.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class FileRow:
    """One file: where it is, what it is, how large.

    Attributes:
        name: As listed, such as ``sheets/1.dxf``.
    """

    path: str
    name: str
    title: str
    size: str


def make_files(artifacts: Artifacts) -> tuple[tuple[str, tuple[FileRow, ...]], ...]:
    """Return the files group by group; empty groups are left out."""
    groups = ((title, _ending(artifacts, ending)) for title, ending in GROUPS)
    return tuple((title, rows) for title, rows in groups if rows)


def make_take_away(artifacts: Artifacts) -> tuple[FileRow, ...]:
    """Return the files that most readers take with them."""
    return tuple(
        replace(row, title=words or row.title)
        for ending, words in TAKEN_AWAY.items()
        for row in _ending(artifacts, ending)
    )


def format_bytes(size: int) -> str:
    """Return a file size: ``640 bytes``, ``12 KB``, ``1.4 MB``; 1 KB is 1000 bytes."""
    if size < 1000:
        return f"{size} bytes"
    if size < 1_000_000:
        return f"{max(1, round(size / 1000))} KB"
    return f"{size / 1_000_000:.1f} MB"


def _ending(artifacts: Artifacts, ending: str | tuple[str, ...]) -> tuple[FileRow, ...]:
    start = f"files/{artifacts.system}/"
    return tuple(_row(one, start) for one in artifacts.downloads if one.path.endswith(ending))


def _row(download: Download, start: str) -> FileRow:
    return FileRow(
        path=download.path,
        name=download.path.removeprefix(start),
        title=download.title,
        size=format_bytes(download.size_bytes),
    )
