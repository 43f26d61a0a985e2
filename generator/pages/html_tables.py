"""Tables as HTML in few bytes, and labels of parts as links to their drawings.

End tags of cells and rows are left out, as HTML allows: what follows ends them.
"""

import re
from collections.abc import Collection, Sequence

from markupsafe import Markup, escape

from generator.telling.cutting_tables import CutGroup
from generator.telling.tables import Table

LABEL = re.compile(r"\b[A-Z]{1,2}\b")
LABELS_IN_LINES = re.compile(
    r"(?<=× )[A-Z]{1,2}(?= )|(?<=\()[A-Z]{1,2}(?:, [A-Z]{1,2})*(?=\))"
    r"|\b[A-Z]{1,2}(?= goes )|(?<=each )[A-Z]{1,2}(?= )"
)
"""Where a sentence names parts: ``2 × A Side``, ``side left (A)``, ``B goes between``."""

NARROW_COLUMNS = 3
"""So many columns stand side by side on a phone; the rows of wider tables become slips."""


def format_table(
    table: Table, labels: Collection[str] = (), *, tick: str = "", ids: str = ""
) -> Markup:
    """Return a table as HTML.

    Args:
        table: In words.
        labels: Of the parts of the plan; those in columns of labels become links.
        tick: The name of the list, where its rows are ticked off.
        ids: What the ids of rows begin with; their first cell follows.
    """
    head = "".join(_head_cell(column.title) for column in table.columns)
    rows = "\n".join(_row(table, cells, labels, ids) for cells in table.rows)
    return Markup(
        f'<div class="scroll">\n<table{_attributes(table, tick)}>\n'
        f"<caption>{escape(table.caption)}</caption>\n<thead><tr>{head}</thead>\n"
        f"<tbody>\n{rows}\n</tbody>\n</table>\n</div>\n"
    )


def link_cell(text: str, labels: Collection[str]) -> Markup:
    """Return a cell that names parts, every label a link."""
    return _linked(text, labels, LABEL)


def link_line(text: str, labels: Collection[str]) -> Markup:
    """Return a line of words, the labels of parts in it as links."""
    return _linked(text, labels, LABELS_IN_LINES)


def _linked(text: str, labels: Collection[str], where: re.Pattern[str]) -> Markup:
    def links(match: re.Match[str]) -> str:
        return LABEL.sub(lambda one: part_link(one[0]) if one[0] in labels else one[0], match[0])

    return Markup(where.sub(links, str(escape(text))))


def part_link(label: str) -> Markup:
    """Return a label that leads to the drawing of its part."""
    return Markup('<a href="#part-{}">{}</a>').format(label.lower(), label)


def _attributes(table: Table, tick: str) -> str:
    """Return class and list; which columns hold numbers is said once, not in every cell."""
    words = [f"n{i}" for i, column in enumerate(table.columns, start=1) if column.is_number]
    words += ["slips"] if len(table.columns) > NARROW_COLUMNS else []
    words += ["tick"] if tick else []
    named = f' class="{" ".join(words)}"' if words else ""
    return f'{named} data-tick="{escape(tick)}"' if tick else named


def _head_cell(title: str) -> str:
    return f'<th scope="col">{escape(title)}'


def _row(table: Table, cells: Sequence[str], labels: Collection[str], ids: str) -> str:
    texts = [
        link_cell(cell, labels) if column.holds_labels else escape(cell)
        for column, cell in zip(table.columns, cells, strict=True)
    ]
    id_of = f' id="{escape(ids)}{escape(cells[0].lower())}"' if ids else ""
    rest = "".join(f"<td>{text}" for text in texts[1:])
    return f'<tr{id_of}><th scope="row">{texts[0]}{rest}'


def format_cut_groups(groups: Sequence[CutGroup], labels: Collection[str]) -> Markup:
    """Return the saw cuts as one table, the cuts of each setting below a row that names it."""
    head = "".join(_head_cell(title) for title in ("Cut", "Cut from", "Gives"))
    bodies = "\n".join(_cut_group(group, labels) for group in groups)
    return Markup(
        '<div class="scroll">\n<table class="tick" data-tick="order">\n'
        "<caption>Cuts in order, numbered as on the layouts</caption>\n"
        f"<thead><tr>{head}</thead>\n{bodies}\n</table>\n</div>\n"
    )


def _cut_group(group: CutGroup, labels: Collection[str]) -> str:
    rows = "\n".join(
        f'<tr><th scope="row">{escape(cuts)}<td>{escape(of)}<td>{link_cell(gives, labels)}'
        for cuts, of, gives in group.rows
    )
    title = escape(group.title)
    return f'<tbody>\n<tr><td colspan="3">{title}\n{rows}\n</tbody>'
