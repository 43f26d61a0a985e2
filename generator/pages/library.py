"""The pages of the library itself: the index, how plans are checked, assets and mkdocs.yml."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from generator.files import write_file
from generator.pages.entries import Entry, make_cards
from generator.pages.guide import write_guide
from generator.pages.neighbours import write_neighbours
from generator.pages.templates import TEMPLATES, render
from generator.telling.advice import USUAL_CAUTIONS

ASSETS = ("plan.css", "plan.js")


def write_library(
    docs: Path,
    entries: Sequence[Entry],
    *,
    title: str,
    says: str = "",
    published: Mapping[str, bytes],
) -> None:
    """Write everything that is not of one plan; pages of the plans must be there already.

    Args:
        docs: The Markdown source of the site; mkdocs.yml is written beside it.
        entries: Of all plans that have pages, built this time or before; sizes in their order.
        title: Name of the library.
        says: A sentence about it.
        published: Further files by their path below ``docs``, such as the schema of plan.json.
    """
    cards = make_cards(entries)
    write_file(docs / "index.md", render("library.md.j2", cards=cards, title=title, says=says))
    checking = render("checking.md.j2", published=tuple(sorted(published)), cautions=USUAL_CAUTIONS)
    write_file(docs / "checking.md", checking)
    write_file(docs.parent / "mkdocs.yml", render("mkdocs.yml.j2", title=title))
    for name in ASSETS:
        write_file(docs / "assets" / name, (TEMPLATES / "assets" / name).read_bytes())
    for path, data in sorted(published.items()):
        write_file(docs / path, data)
    write_guide(docs)
    write_neighbours(docs, cards)
