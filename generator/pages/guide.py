"""The guide for makers: pages that are written, every key of the language, every problem code."""

import re
from dataclasses import dataclass
from pathlib import Path

from generator.design.key_tables import RECORDS, find_record
from generator.design.keys import (
    Choice,
    Either,
    Inside,
    Key,
    Many,
    Named,
    Phrase,
    Record,
    Shape,
    Text,
    Value,
)
from generator.files import write_file
from generator.pages.explanations import find_explanation, list_codes
from generator.pages.templates import TEMPLATES, render
from generator.problems import CODES

FOLDER = "write-a-design"
WRITTEN = ("index", "sizes", "parts", "joining")
GROUPS = {
    "D": "The text of a design file",
    "E": "Sizes and places",
    "P": "Parts and their edges",
    "J": "Joints and screws",
    "A": "Steps",
    "C": "The finished piece",
    "N": "Sheets and boards",
    "K": "Lists of what can be bought",
}
"""The first letter of a code → what the problems of that letter are about, in the order shown."""


@dataclass(frozen=True, slots=True)
class _KeyRow:
    name: str
    anchor: str
    needed: bool
    takes: str
    says: str
    example: str


@dataclass(frozen=True, slots=True)
class _RecordRows:
    title: str
    anchor: str
    says: str
    keys: tuple[_KeyRow, ...]


@dataclass(frozen=True, slots=True)
class _CodeRow:
    code: str
    title: str
    level: str


@dataclass(frozen=True, slots=True)
class _CodeGroup:
    letter: str
    title: str
    codes: tuple[_CodeRow, ...]


def write_guide(docs: Path) -> None:
    """Write all pages of the guide below ``docs``."""
    folder = docs / FOLDER
    for name in WRITTEN:
        write_file(folder / f"{name}.md", (TEMPLATES / "guide" / f"{name}.md").read_bytes())
    records = [_record_rows(record) for record in RECORDS]
    write_file(folder / "keys.md", render("guide_keys.md.j2", records=records))
    groups = list_groups()
    write_file(folder / "problems.md", render("guide_problems.md.j2", groups=groups))
    for group in groups:
        write_file(folder / f"problems-{group.letter.lower()}.md", _group_page(group))


def list_groups() -> tuple[_CodeGroup, ...]:
    """Return every code in its group, sorted."""
    return tuple(
        _CodeGroup(
            letter,
            title,
            tuple(
                _CodeRow(code, _title_of(code), CODES[code].level)
                for code in list_codes()
                if code[0] == letter
            ),
        )
        for letter, title in GROUPS.items()
    )


def describe_shape(shape: Shape) -> str:
    """Return in a few words what may stand under a key."""
    match shape:
        case Many(of, True):
            return f"{describe_shape(of)}, or a list of them"
        case Many(of, _, _, most):
            return f"a list{f' of {most}' if most else ''}; each: {describe_shape(of)}"
        case Named(of, called, _):
            return f"under the name of each {called}: {describe_shape(of)}"
        case Either(shapes):
            return ", or ".join(describe_shape(one) for one in shapes)
        case Inside(record):
            return f"keys of: {find_record(record).title.lower()}"
        case _:
            return _describe_words(shape)


def _describe_words(shape: Text | Value | Choice | Phrase) -> str:
    match shape:
        case Choice(words):
            return f"one of: {', '.join(words)}"
        case Text(prose):
            return "text, with {formulas}" if prose else "text"
        case Value("value"):
            return "a value"
        case Value(kind):
            return f"{'an' if kind == 'angle' else 'a'} {kind}"
        case Phrase(means, _):
            return means


def _record_rows(record: Record) -> _RecordRows:
    anchor = record.name.replace(" ", "-")
    rows = tuple(_key_row(key, anchor) for key in record.keys)
    return _RecordRows(record.title, anchor, record.says, rows)


def _key_row(key: Key, anchor: str) -> _KeyRow:
    return _KeyRow(
        name=key.name,
        anchor=f"{anchor}-{key.name.replace(' ', '-')}",
        needed=key.needed,
        takes=describe_shape(key.shape),
        says=key.says,
        # A blank line would end the HTML block the example stands in.
        example=re.sub(r"\n\s*\n", "\n", key.example),
    )


def _title_of(code: str) -> str:
    """Return the first heading of a code's page, such as ``J103: a screw that comes out``."""
    return _page_of(code).partition("\n")[0].removeprefix("# ")


def _page_of(code: str) -> str:
    page = find_explanation(code)
    assert page is not None
    return page


def _group_page(group: _CodeGroup) -> bytes:
    """Return one page with the pages of all codes of a group, each a level deeper."""
    title = f"Problems: {group.title[0].lower()}{group.title[1:]}"
    pages = [f'---\ntitle: "{title}"\n---\n\n# {title}\n']
    for row in group.codes:
        body = _page_of(row.code).partition("\n")[2].strip()
        body = re.sub(r"^## (.+)$", r"**\1**", body, flags=re.MULTILINE)
        pages.append(f"## {row.title} {{ #{row.code.lower()} }}\n\n{body}\n")
    return "\n".join(pages).encode("utf-8")
