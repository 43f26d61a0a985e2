"""The foot of a plan's page: the plans before and after it, renewed when the library changes.

It stands after a marker, so that it can be renewed on pages of plans that were not built this
time.
"""

from collections.abc import Sequence
from pathlib import Path

from generator.files import write_file
from generator.pages.entries import Entry, plan_folder
from generator.pages.templates import render

MARKER = b"<!-- neighbours -->\n"


def page_tail(path: Path) -> bytes:
    """Return the marker and the foot that a page has, or the marker alone."""
    if not path.is_file():
        return MARKER
    return MARKER + path.read_bytes().partition(MARKER)[2]


def write_neighbours(docs: Path, entries: Sequence[Entry]) -> None:
    """Renew the foot of every page of every plan."""
    for i, entry in enumerate(entries):
        before = entries[i - 1] if i else None
        after = entries[i + 1] if i + 1 < len(entries) else None
        foot = render("neighbours.md.j2", before=before, after=after)
        folder = plan_folder(docs, entry.slug)
        for name in ("index.md", *(f"{one.system}.md" for one in entry.editions)):
            page = folder / name
            body = page.read_bytes().partition(MARKER)[0]
            write_file(page, body + MARKER + foot)
