"""The feed of a library: every plan with the date of its revision, the newest first (RFC 4287)."""

from collections.abc import Sequence
from datetime import date
from uuid import NAMESPACE_URL, uuid5
from xml.sax.saxutils import escape, quoteattr

from generator.pages.entries import Entry

EARLIEST = date(2000, 1, 1)
"""A plan whose date cannot be read is given this one; the standard asks for a time of each."""


def make_feed(entries: Sequence[Entry], *, title: str, says: str, address: str) -> bytes:
    """Return the feed as Atom.

    Args:
        entries: Of all plans that have pages.
        title: Name of the library.
        says: A sentence about it; may be empty.
        address: Where the site is published; without one the links are from the feed itself.
    """
    newest = max((_date_of(entry) for entry in entries), default=EARLIEST)
    ordered = sorted(entries, key=lambda one: (-_date_of(one).toordinal(), one.title, one.slug))
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        '<feed xmlns="http://www.w3.org/2005/Atom">',
        f"<title>{escape(title)}</title>",
        *([f"<subtitle>{escape(says)}</subtitle>"] if says else []),
        f"<id>{_name_of(address or title)}</id>",
        f"<updated>{_moment(newest)}</updated>",
        f"<author><name>{escape(title)}</name></author>",
        f'<link rel="self" href={quoteattr(f"{address}feed.xml")}/>',
        f'<link rel="alternate" type="text/html" href={quoteattr(f"{address}index.html")}/>',
        *(_entry(entry, address or title, address) for entry in ordered),
        "</feed>",
    ]
    return ("\n".join(lines) + "\n").encode("utf-8")


def _entry(entry: Entry, library: str, address: str) -> str:
    link = f"{address}plans/{entry.slug}/index.html"
    label = f"Revision {entry.revision}. {entry.summary}"
    return "\n".join(
        (
            "<entry>",
            f"<title>{escape(entry.title)}</title>",
            f"<id>{_name_of(f'{library}#{entry.slug}')}</id>",
            f"<updated>{_moment(_date_of(entry))}</updated>",
            f'<link rel="alternate" type="text/html" href={quoteattr(link)}/>',
            f"<summary>{escape(label)}</summary>",
            *(f"<category term={quoteattr(tag)}/>" for tag in entry.tags),
            "</entry>",
        )
    )


def _name_of(text: str) -> str:
    """Return a name that stays the same wherever the site is copied to."""
    return f"urn:uuid:{uuid5(NAMESPACE_URL, text)}"


def _date_of(entry: Entry) -> date:
    try:
        return date.fromisoformat(entry.date)
    except ValueError:
        return EARLIEST


def _moment(day: date) -> str:
    return f"{day.isoformat()}T00:00:00Z"
