"""Kinds of pages of a site: what is made alike, and differs in its contents only."""

import re
from pathlib import Path

KINDS = (
    (r"plans/[^/]+/index\.html", "a plan"),
    (r"plans/[^/]+/(imperial|metric)\.html", "an edition"),
    (r"write-a-design/(index|sizes|parts|joining)\.html", "the guide"),
    (r"write-a-design/keys\.html", "every key"),
    (r"write-a-design/problems\.html", "every problem"),
    (r"write-a-design/problems-[a-z]\.html", "problems of a kind"),
    (r"index\.html", "the library"),
    (r"checking\.html", "how plans are checked"),
    (r"404\.html", "no such page"),
)
"""The path of a page from the site's folder, and its kind."""


def kind_of(path: str) -> str:
    """Return the kind of a page; one that has none stands for itself."""
    return next((kind for form, kind in KINDS if re.fullmatch(form, path)), path)


def pages_by_kind(folder: Path) -> dict[str, tuple[str, ...]]:
    """Return the paths of all pages of a site by their kinds, the smallest page of each first."""
    found: dict[str, tuple[str, ...]] = {}
    for page in sorted(folder.rglob("*.html"), key=lambda page: (page.stat().st_size, page)):
        path = page.relative_to(folder).as_posix()
        found[kind_of(path)] = (*found.get(kind_of(path), ()), path)
    return found
