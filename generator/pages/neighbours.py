"""Links between plans: to the other sizes of a design, and at the foot to the plans beside it.

They stand between and after markers, so that they can be renewed on pages of plans that were not
built this time.
"""

import re
from collections.abc import Sequence
from pathlib import Path

from generator.files import write_file
from generator.pages.entries import Card, Entry, plan_folder
from generator.pages.templates import render

MARKER = b"<!-- neighbours -->\n"
SIZES = re.compile(rb"(?<=<!-- sizes -->\n).*?(?=<!-- end of sizes -->\n)", re.DOTALL)


def keep_links(path: Path, body: bytes) -> bytes:
    """Return a page with the links its file has now; without any where there is no file yet."""
    old = path.read_bytes() if path.is_file() else b""
    sizes = SIZES.search(old)
    return _with_links(body, b"" if sizes is None else sizes[0], old.partition(MARKER)[2])


def write_neighbours(docs: Path, cards: Sequence[Card]) -> None:
    """Renew the links on every page of every plan."""
    for i, card in enumerate(cards):
        before = cards[i - 1].entry if i else None
        after = cards[i + 1].entry if i + 1 < len(cards) else None
        foot = render("neighbours.md.j2", before=before, after=after)
        for entry in card.plans:
            others = tuple(one for one in card.sizes if one != entry)
            sizes = render("sizes.md.j2", others=others) if others else b""
            _renew(docs, entry, sizes, foot)


def _renew(docs: Path, entry: Entry, sizes: bytes, foot: bytes) -> None:
    folder = plan_folder(docs, entry.slug)
    for name in ("index.md", *(f"{one.system}.md" for one in entry.editions)):
        page = folder / name
        body = page.read_bytes().partition(MARKER)[0]
        write_file(page, _with_links(body, sizes, foot))


def _with_links(body: bytes, sizes: bytes, foot: bytes) -> bytes:
    return SIZES.sub(lambda _: sizes, body) + MARKER + foot
