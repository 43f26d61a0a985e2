"""Gathers the items of a drawing into runs that share one element, whatever covers what.

An item joins an earlier run of its kind unless something drawn between them lies under it and
has another colour; so the picture stays the same to the last pixel and the file gets short.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from generator.outputs.palette import DARK, LIGHT
from generator.outputs.panels import Box, box_of, grown
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
    Area,
    Arrowhead,
    Disc,
    Item,
    Layer,
    Stroke,
    Words,
)
from generator.outputs.svg_path import format_mm
from generator.outputs.svg_style import (
    FILL_CLASS,
    HEAD_CLASS,
    HEAD_MM,
    LINE_CLASS,
    SMALL_CLASS,
    WIDE_MM,
)

LOOK_BACK: Final = 24
"""Runs looked through for one to join; more would take longer and save little."""

Key = tuple[str, str, str]
"""Kind of element, its classes, and what else items must share: a turn, a size, a radius."""

LINE_KEYS: Final[dict[Layer, Key]] = {
    layer: ("path", name, "") for layer, name in LINE_CLASS.items()
}
HEAD_KEYS: Final[dict[Layer, Key]] = {
    layer: ("path", name, "") for layer, name in HEAD_CLASS.items()
}
INKS: Final[dict[Layer, str]] = {
    layer: LIGHT.lines[layer] + DARK.lines[layer] for layer in LINE_CLASS
}
"""The colours of a line in light and dark."""


@dataclass(slots=True)
class Run:
    """Items that are written as one element, and where they are."""

    key: Key
    ink: str
    items: list[Item]
    boxes: list[Box]
    box: Box

    def covers(self, box: Box) -> bool:
        """Return whether something in the run may share paper with a box."""
        left, low, right, high = box
        for each in self.boxes:
            if each[0] < right and left < each[2] and each[1] < high and low < each[3]:
                return True
        return False


def gather_runs(items: Iterable[Item]) -> list[Run]:
    """Return the items of a drawing in runs, in drawing order; items without a look are left out.

    Args:
        items: In drawing order, later ones on top.
    """
    runs: list[Run] = []
    for item in items:
        key = _key(item)
        if not key[1] and key[0] != "words":
            continue
        box, ink = _box(item), _ink(item)
        run = _find_run(runs, key, ink, box)
        if run is None:
            runs.append(Run(key, ink, [item], [box], box))
            continue
        run.items.append(item)
        run.boxes.append(box)
        run.box = _around(run.box, box)
    return runs


def _find_run(runs: list[Run], key: Key, ink: str, box: Box) -> Run | None:
    for run in reversed(runs[-LOOK_BACK:]):
        if run.key == key:
            return run
        if (not ink or run.ink != ink) and _meet(run.box, box) and run.covers(box):
            return None
    return None


def _key(item: Item) -> Key:
    match item:
        case Stroke():
            return LINE_KEYS[item.layer]
        case Area():
            return ("path", FILL_CLASS[item.tone] if item.tone else "", "")
        case Arrowhead():
            return HEAD_KEYS[item.layer]
        case Disc():
            classes = [FILL_CLASS[item.tone]] if item.tone else []
            classes += [LINE_CLASS[item.layer]] if item.layer else []
            return ("disc", " ".join(classes), format_mm(item.radius_mm))
        case Words():
            return _words_key(item)


def _words_key(words: Words) -> Key:
    names = [{"start": "", "middle": "m", "end": "e"}[words.anchor]]
    names += ["b" if words.bold else "", "o" if words.halo else ""]
    names.append(SMALL_CLASS if words.size_mm == SMALLEST_TEXT_MM else "")
    more = f' transform="rotate({format_mm(-words.angle_deg)})"' if words.angle_deg else ""
    if words.size_mm not in {TEXT_MM, SMALLEST_TEXT_MM}:
        more += f' font-size="{format_mm(words.size_mm)}"'
    return ("words", " ".join(name for name in names if name), more)


def _ink(item: Item) -> str:
    """Return the colour of what is drawn in one colour only: the order of equal inks is free."""
    match item:
        case Stroke() | Arrowhead():
            return INKS[item.layer]
        case Disc() if item.layer is not None and not item.tone:
            return INKS[item.layer]
        case _:
            return ""


def _box(item: Item) -> Box:
    """Return the paper an item may darken, with the width of its line."""
    margin = HEAD_MM if isinstance(item, Arrowhead) else 0.0
    return grown(box_of(item), margin + WIDE_MM)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _around(one: Box, other: Box) -> Box:
    return (
        min(one[0], other[0]),
        min(one[1], other[1]),
        max(one[2], other[2]),
        max(one[3], other[3]),
    )
