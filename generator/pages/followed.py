"""The texts of a page, with the sizes they carry, and what its script needs to follow a panel.

A text is what stands between two tags, or in one line. Pages are written once with a carrying
system (see `units`); what is published has the same words without the values.
"""

import json
import re
from html import unescape

from generator.model.measured import Change, FollowedText, Measured, MeasuredStock
from generator.pages.entries import Entry
from generator.pages.templates import render
from generator.units import (
    BARE,
    CARRIED_PER_MM,
    CARRY_SIGNS,
    FULL,
    System,
    format_length,
    format_size,
    inches,
)

TEXT_BORDERS = re.compile(r"(<[^>]*>|\n)")
CARRIED = re.compile("{0}([slk])(-?[0-9]+){1}([^{2}]*){2}".format(*CARRY_SIGNS))
PANEL_SIGN = "\ue003"
"""Stands in a page where its reader enters what was measured, until that is written."""
KEPT = "\ue004"
"""Stands in the words of a text for what the page keeps as planned."""
SECTION = re.compile(r"## (.+?) \{")


def read_texts(page: str) -> list[str]:
    """Return texts and what stands between them, in turn; only texts carry values."""
    found = TEXT_BORDERS.split(page)
    for index in range(1, len(found), 2):
        found[index] = drop_values(found[index])
    return found


def drop_values(text: str) -> str:
    """Return a text without the values it carries."""
    return CARRIED.sub(lambda match: match[3], text)


def split_text(text: str) -> tuple[tuple[str, ...], str, tuple[float, ...]]:
    """Return the parts of a text between its sizes, the kinds of the sizes, and their values in mm.

    `KEPT` stands for what no straight line tells, such as a mass: the page keeps it as planned.
    """
    parts, kinds, values = [""], "", []
    end = 0
    for match in CARRIED.finditer(text):
        parts[-1] += text[end : match.start()]
        end = match.end()
        if match[1] == "k":
            parts[-1] += KEPT
            continue
        parts.append("")
        kinds += match[1]
        values.append(int(match[2]) / CARRIED_PER_MM)
    parts[-1] += text[end:]
    return tuple(parts), kinds, tuple(values)


def find_kept(text: str) -> tuple[str, ...]:
    """Return what a text says where `split_text` puts `KEPT`."""
    return tuple(match[3] for match in CARRIED.finditer(text) if match[1] == "k")


def find_section(texts: list[str], number: int) -> str:
    """Return the title of the section a text stands in; "" before the first."""
    for index in range(number, -1, -1):
        match = SECTION.match(texts[index])
        if match is not None:
            return match[1]
    return ""


def publish_pages(
    page: bytes, measured: Measured, entry: Entry, system: System
) -> dict[str, bytes]:
    """Return the page of an edition as it is published, and what its script reads, by file name.

    Args:
        page: With `PANEL_SIGN`.
        measured: What it says for other panels.
        entry: What the library says of the plan.
        system: The edition.
    """
    name = f"{system}-panel.js"
    text = page.decode("utf-8")
    box = render(
        "panel.html.j2",
        measured=measured,
        system=system,
        slug=entry.slug,
        data=name,
        stocks=tuple(format_length(one.planned_mm, system) for one in measured.stocks),
    ).decode("utf-8")
    files = {f"{system}.md": text.replace(PANEL_SIGN, box, 1).encode("utf-8")}
    if measured.texts:
        files[name] = _script_data(measured, system, read_texts(text))
    return files


def _entered(stock: MeasuredStock, system: System) -> str:
    """Return the planned thickness as a reader would write it."""
    text = format_size(stock.planned_mm, system)
    on_a_mark = not any(word in text for word in (FULL, BARE, "."))
    return text if on_a_mark or system == "metric" else f"{stock.planned_mm:g} mm"


def _range_words(stock: MeasuredStock, system: System) -> str:
    if system == "metric":
        return f"{stock.least_mm:.1f} to {stock.most_mm:.1f} mm"
    return f"{inches(stock.least_mm):.3f} to {inches(stock.most_mm):.3f} in"


def _script_data(measured: Measured, system: System, page: list[str]) -> bytes:
    """Return what the page's script reads, as a script: a page opened as a file reads no data.

    Wordings stand in one list. A text is [wording, sizes, changes of each stock, what the page
    says, how many texts before it say the same]; a change is [wording, sizes where the piece
    begins, slopes], or nothing. The page itself has no marks: it is to be small.
    """
    said = [unescape(text).strip() for text in page]

    wordings: dict[tuple[tuple[str, ...], str], int] = {}

    def number(one: FollowedText | Change, text: FollowedText) -> int:
        key = (_fill_in(one.wording.parts, text.kept), one.wording.kinds)
        return wordings.setdefault(key, len(wordings))

    texts = [
        [
            number(text, text),
            [round(value, 3) for value in text.values_mm],
            [
                [None if one is None else _change(one, number(one, text)) for one in changes]
                for changes in text.along
            ],
            said[text.number],
            said[: text.number].count(said[text.number]),
        ]
        for text in measured.texts
    ]
    data = {
        "system": system,
        "alone": measured.alone,
        "stocks": [_stock_data(one, system) for one in measured.stocks],
        "wordings": [[list(map(unescape, parts)), kinds] for parts, kinds in wordings],
        "texts": texts,
    }
    told = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return f"window.planPanel={told};\n".encode()


def _stock_data(stock: MeasuredStock, system: System) -> dict[str, object]:
    return {
        "title": stock.title,
        "planned": stock.planned_mm,
        "entered": _entered(stock, system),
        "range": _range_words(stock, system),
        "pieces": stock.pieces,
        "below": unescape(stock.below),
        "above": unescape(stock.above),
    }


def _fill_in(parts: tuple[str, ...], kept: tuple[str, ...]) -> tuple[str, ...]:
    """Return parts of a text with what is kept in its places."""
    words = iter(kept)
    return tuple(re.sub(KEPT, lambda _: next(words), part) for part in parts)


def _change(change: Change, wording: int) -> list[object]:
    starts = [round(value, 3) for value in change.start_mm]
    return [wording, starts, [round(slope, 5) for slope in change.slopes]]
