"""The pages of the library itself: the index, how plans are checked, assets and mkdocs.yml."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from generator.files import write_file, write_files
from generator.pages.entries import Card, Entry, make_cards
from generator.pages.feed import make_feed
from generator.pages.filters import make_filters
from generator.pages.guide import write_guide
from generator.pages.neighbours import write_neighbours
from generator.pages.search_index import search_index
from generator.pages.templates import TEMPLATES, render
from generator.telling.advice import USUAL_CAUTIONS

THEME = "theme"
"""Folder of the frame of the pages, in site_templates and beside mkdocs.yml."""

DESCRIPTION = "Plans for furniture, computed piece by piece, in inches and in millimetres."
"""Of pages that say nothing of their own, where the library says nothing of itself."""


def write_library(
    docs: Path,
    entries: Sequence[Entry],
    *,
    title: str,
    says: str = "",
    address: str = "",
    published: Mapping[str, bytes],
) -> None:
    """Write everything that is not of one plan; pages of the plans must be there already.

    Args:
        docs: The Markdown source of the site; mkdocs.yml and the frame are written beside it.
        entries: Of all plans that have pages, built this time or before; sizes in their order.
        title: Name of the library.
        says: A sentence about it.
        address: Where the site is published, ending in ``/``; empty where that is not known.
        published: Further files by their path below ``docs``, such as the schema of plan.json.
    """
    cards = make_cards(entries)
    described = says or DESCRIPTION
    checking = render("checking.md.j2", published=tuple(sorted(published)), cautions=USUAL_CAUTIONS)
    config = render("mkdocs.yml.j2", title=title, says=described, address=address)
    files = {
        "index.md": _index_page(cards, title=title, says=says, description=described),
        "checking.md": checking,
        "feed.xml": make_feed(entries, title=title, says=says, address=address),
        "assets/search-index.js": search_index(entries),
        **_read_all(TEMPLATES / "assets", "assets/"),
        **published,
    }
    write_files(docs, files)
    write_files(docs.parent, {"mkdocs.yml": config, **_read_all(TEMPLATES / THEME, f"{THEME}/")})
    write_guide(docs)
    write_neighbours(docs, cards)
    if address:
        robots = f"User-agent: *\nAllow: /\nSitemap: {address}sitemap.xml\n"
        write_file(docs / "robots.txt", robots.encode("utf-8"))
    else:
        (docs / "robots.txt").unlink(missing_ok=True)


def _index_page(cards: Sequence[Card], **words: str) -> bytes:
    return render("library.md.j2", cards=cards, filters=make_filters(cards), **words)


def _read_all(folder: Path, prefix: str) -> dict[str, bytes]:
    """Return every file below a folder by its path, with a prefix before it."""
    found = sorted(path for path in folder.rglob("*") if path.is_file())
    return {prefix + path.relative_to(folder).as_posix(): path.read_bytes() for path in found}
