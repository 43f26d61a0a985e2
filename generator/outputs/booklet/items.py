"""What stands on the pages of a booklet, one after the other, as its template reads it."""

import math
import re
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.outputs.text_width import text_width_mm
from generator.telling.maker_words import Node, parse_maker_markdown
from generator.telling.tables import Table

Item = Mapping[str, object]
"""Ready for JSON; its ``kind`` names the function of the template that sets it."""

SHORT_CELL = 16
"""A column whose cells have no more signs than that is as wide as they ask for."""

TABLE_TEXT_MM = 3.0
BESIDE_CELL_MM = 1.4
"""As in the template."""

WIDEST_TABLE_MM = 160.0
"""A table that needs no more is as wide as it needs; beside it there is room for the ticks."""

SHORT_GROUPS = 16
"""Lists of no more lines than that stay on one page."""

SPACES = re.compile(r"\s+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing on the page.

    Attributes:
        file: Its name among the files the template may read.
        alt: What it shows, for who cannot see it.
        width_mm: As drawn.
        height_mm: As drawn.
        states_scale: Whether a scale is written on it, so that it must not be made smaller.
    """

    file: str
    alt: str
    width_mm: float
    height_mm: float
    states_scale: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """How much room one drawing has on a page, beside the headings that stay with it."""

    width_mm: float
    height_mm: float

    def scale_of(self, width_mm: float, height_mm: float) -> float:
        """Return how large a drawing is printed: 1 as drawn, less where it would not fit."""
        return min(1.0, self.width_mm / width_mm, self.height_mm / height_mm)


def heading(words: str, level: int = 1, *, new_page: bool = False) -> Item:
    """Return a heading; one of level 1 or 2 is in the contents."""
    return {"kind": "heading", "words": words, "level": level, "new_page": new_page}


def text(words: str) -> Item:
    """Return a paragraph of plain words."""
    return {"kind": "text", "words": words}


def points(lines: Iterable[str], *, ticked: bool = False) -> Item:
    """Return a list, with boxes to tick where it is worked off."""
    return {"kind": "points", "lines": list(lines), "ticked": ticked}


def cautions(lines: Iterable[str], head: str = "Caution") -> Item:
    """Return words of caution in a frame."""
    return {"kind": "cautions", "lines": list(lines), "head": head}


def groups(
    titled: Iterable[tuple[str, Sequence[str]]], *, ticked: bool = False, columns: int = 2
) -> Item:
    """Return lists side by side, each under its title; empty ones are left out.

    Args:
        titled: Titles with their lines.
        ticked: Whether every line has a box to tick.
        columns: How many stand side by side at most.
    """
    rows = [
        {"title": title, "lines": list(lines), "ticked": ticked} for title, lines in titled if lines
    ]
    together = sum(len(lines) for _, lines in titled) <= SHORT_GROUPS
    return {"kind": "groups", "groups": rows, "together": together, "columns": columns}


def table(data: Table, *, tick_word: str = "") -> Item:
    """Return a table without its empty columns.

    Args:
        data: In words.
        tick_word: With a word such as ``Got`` every row begins with a box to tick below it.
    """
    kept = [i for i in range(len(data.columns)) if i == 0 or any(row[i] for row in data.rows)]
    fits = sum(_width_mm(data, index) for index in kept) <= WIDEST_TABLE_MM
    columns = [
        {
            "title": _lines(data, index),
            "is_number": data.columns[index].is_number,
            "share": 0 if fits else _share(data, index),
        }
        for index in kept
    ]
    return {
        "kind": "table",
        "caption": data.caption,
        "columns": columns,
        "rows": [[row[index] for index in kept] for row in data.rows],
        "ticked": bool(tick_word),
        "tick_word": tick_word,
    }


def picture(figure: Figure, room: Room, caption: str = "", *, stays: bool = False) -> Item:
    """Return a drawing as large as drawn, or as large as the page allows; then it says so.

    Args:
        figure: The drawing.
        room: For it on the page.
        caption: Below it.
        stays: Whether it stays on one page with what follows it.
    """
    factor = room.scale_of(figure.width_mm, figure.height_mm)
    if factor < 1.0 and figure.states_scale:
        note = f"Printed at {100 * factor:.0f} % to fit the page: do not measure from it."
        caption = f"{caption} {note}".strip()
    return {
        "kind": "picture",
        "file": figure.file,
        "alt": figure.alt,
        "caption": caption,
        "width_mm": round(factor * figure.width_mm, 3),
        "stays": stays,
    }


def pictures(figures: Iterable[tuple[Figure, str]], room: Room) -> Item:
    """Return small drawings in rows, as many side by side as fit, each with its caption."""
    rows: list[list[Item]] = []
    left_mm = 0.0
    for figure, words in figures:
        if figure.width_mm > left_mm:
            rows.append([])
            left_mm = room.width_mm
        rows[-1].append(picture(figure, room, words))
        left_mm -= figure.width_mm
    return {"kind": "pictures", "rows": rows}


def prose(markdown: str) -> Item:
    """Return the maker's own words."""
    return {"kind": "prose", "nodes": [_plain(node) for node in parse_maker_markdown(markdown)]}


def _plain(node: Node | str, *, as_written: bool = False) -> object:
    """Return a node ready for JSON; a line end of the maker's file is a space, but in code."""
    if isinstance(node, str):
        return node if as_written else SPACES.sub(" ", node)
    inner = [_plain(one, as_written=node.kind == "code") for one in node.inner]
    return {"kind": node.kind, "inner": inner, "link": node.link}


def _lines(data: Table, index: int) -> list[str]:
    """Return the title of a column; over numbers in as many lines as keep the column narrow."""
    column = data.columns[index]
    if not column.is_number:
        return [column.title]
    texts = (*column.title.split(), *(row[index] for row in data.rows))
    return textwrap.wrap(column.title, max(len(one) for one in texts)) or [""]


def _width_mm(data: Table, index: int) -> float:
    """Return about how wide a column is whose cells are not broken."""
    title = max(text_width_mm(one, TABLE_TEXT_MM, bold=True) for one in _lines(data, index))
    cells = (text_width_mm(row[index], TABLE_TEXT_MM) for row in data.rows)
    return max((title, *cells)) + 2 * BESIDE_CELL_MM


def _share(data: Table, index: int) -> int:
    """Return which share of the left-over width a column gets; 0 where its cells are short.

    It grows with the root of the longest cell, so that one long cell does not take all the room.
    """
    longest = max((len(row[index]) for row in data.rows), default=0)
    if data.columns[index].is_number or longest <= SHORT_CELL:
        return 0
    return round(10 * math.sqrt(longest))
