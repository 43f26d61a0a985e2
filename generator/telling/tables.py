"""A table in words: text only, ready to be escaped and set."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column; sizes and counts stand flush right in figures of one width."""

    title: str
    is_number: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table whose first column names the rows."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


def make_table(caption: str, head: Sequence[str], rows: Iterable[Sequence[object]]) -> Table:
    """Return a table; a title that ends in ``#`` makes its column one of numbers."""
    columns = tuple(
        Column(title=title.rstrip("#"), is_number=title.endswith("#")) for title in head
    )
    return Table(
        caption=caption,
        columns=columns,
        rows=tuple(tuple(str(cell) for cell in row) for row in rows),
    )
