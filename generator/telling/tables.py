"""A table in words: text only, ready to be escaped and set."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column.

    Attributes:
        is_number: Sizes and counts stand flush right in figures of one width.
        holds_labels: Its cells name parts by their labels.
    """

    title: str
    is_number: bool = False
    holds_labels: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table whose first column names the rows."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]


def make_table(caption: str, head: Sequence[str], rows: Iterable[Sequence[object]]) -> Table:
    """Return a table; ``#`` after a title makes its column one of numbers, ``@`` of labels."""
    columns = tuple(
        Column(
            title=title.rstrip("#@"),
            is_number=title.endswith("#"),
            holds_labels=title.endswith("@"),
        )
        for title in head
    )
    return Table(
        caption=caption,
        columns=columns,
        rows=tuple(tuple(str(cell) for cell in row) for row in rows),
    )
