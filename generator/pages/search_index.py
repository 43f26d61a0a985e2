"""What the search of the site knows: plans, pages of the guide, keys of the language and codes.

It is a script, not a file of data: a page opened from a folder may load scripts and nothing else.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass

from generator.design.key_tables import RECORDS
from generator.pages.entries import Entry
from generator.pages.guide import FOLDER, list_groups

MOST_WORDS = 300
"""Characters of a plan's words that are kept; a plan takes no more than 500 bytes in all."""


@dataclass(frozen=True, slots=True)
class _Row:
    title: str
    path: str
    words: str
    editions: str = ""


def search_index(entries: Iterable[Entry]) -> bytes:
    """Return the script that holds the index: title, path, words and editions of each row."""
    rows = [*(_plan_row(entry) for entry in entries), *_guide_rows(), *_code_rows()]
    lines = ",\n".join(
        json.dumps([row.title, row.path, row.words, row.editions], ensure_ascii=False)
        for row in rows
    )
    return f"var kerfolioIndex = [\n{lines}\n];\n".encode()


def _plan_row(entry: Entry) -> _Row:
    words = " ".join((entry.summary, entry.difficulty, *entry.tags))
    return _Row(
        title=entry.title,
        path=f"plans/{entry.slug}/index.html",
        words=words[:MOST_WORDS],
        editions=" ".join(one.system for one in entry.editions),
    )


def _guide_rows() -> Iterable[_Row]:
    """Return the records of the language, each with the names of its keys."""
    for record in RECORDS:
        names = ", ".join(key.name for key in record.keys)
        anchor = record.name.replace(" ", "-")
        title = f"Keys: {record.title[0].lower()}{record.title[1:]}"
        yield _Row(title, f"{FOLDER}/keys.html#{anchor}", names)


def _code_rows() -> Iterable[_Row]:
    for group in list_groups():
        page = f"{FOLDER}/problems-{group.letter.lower()}.html"
        for code in group.codes:
            yield _Row(code.title, f"{page}#{code.code.lower()}", "")
