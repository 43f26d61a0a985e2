"""Gathers the items of a drawing into runs that share one element, whatever covers what.

An item joins an earlier run of its kind unless something drawn between them lies under it and
has another colour; so the picture stays the same to the last pixel and the file gets short.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from generator.outputs.palette import DARK, LIGHT
from generator.outputs.panels import Box
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
    Anchor,
    Area,
    Arrowhead,
    Disc,
    Item,
    Layer,
    Stroke,
    Tone,
    Words,
)
from generator.outputs.svg_path import format_mm
from generator.outputs.svg_places import Placed
from generator.outputs.svg_style import (
    FILL_CLASS,
    HEAD_CLASS,
    LINE_CLASS,
    SMALL_CLASS,
)

LOOK_BACK: Final = 24
"""Runs looked through for one to join; more would take longer and save little."""

Key = tuple[str, str, str]
"""Kind of element, its classes, and what else items must share: a turn, a size, a radius."""

Look = tuple[Key, str]
"""With the colour of what is drawn in one colour only: the order of equal inks is free."""

LOOKS_KEPT: Final = 1024
"""So many looks of texts and circles are remembered: most drawings share a few."""

INKS: Final[dict[Layer, str]] = {
    layer: LIGHT.lines[layer] + DARK.lines[layer] for layer in LINE_CLASS
}
"""The colours of a line in light and dark."""

LINE_LOOKS: Final[dict[Layer, Look]] = {
    layer: (("path", name, ""), INKS[layer]) for layer, name in LINE_CLASS.items()
}
HEAD_LOOKS: Final[dict[Layer, Look]] = {
    layer: (("path", name, ""), INKS[layer]) for layer, name in HEAD_CLASS.items()
}
AREA_LOOKS: Final[dict[Tone, Look]] = {
    "": (("path", "", ""), ""),
    **{tone: (("path", name, ""), "") for tone, name in FILL_CLASS.items()},
}


@dataclass(slots=True)
class Run:
    """Items that are written as one element, by their number, and where they are."""

    key: Key
    ink: str
    numbers: list[int]
    boxes: list[Box]
    box: Box

    def add(self, number: int, box: Box) -> None:
        """Let one more item into the run."""
        self.numbers.append(number)
        self.boxes.append(box)
        left, low, right, high = box
        x0, y0, x1, y1 = self.box
        # Comparing is several times faster than min and max here, and this is asked most.
        self.box = (
            left if left < x0 else x0,
            low if low < y0 else y0,
            right if right > x1 else x1,
            high if high > y1 else y1,
        )

    def covers(self, box: Box) -> bool:
        """Return whether something in the run may share paper with a box."""
        left, low, right, high = box
        for each in self.boxes:
            if each[0] < right and left < each[2] and each[1] < high and low < each[3]:
                return True
        return False


def gather_runs(placed: Placed) -> list[Run]:
    """Return the items of a drawing in runs, in drawing order; items without a look are left out.

    Args:
        placed: In drawing order, later ones on top.
    """
    runs: list[Run] = []
    latest: dict[Key, int] = {}
    for number, (item, box) in enumerate(zip(placed.items, placed.boxes, strict=True)):
        key, ink = _look(item)
        if not key[1] and key[0] != "words":
            continue
        index = latest.get(key, -1)
        later = runs[index + 1 :]
        if index >= 0 and len(later) < LOOK_BACK and not (later and _covers(later, ink, box)):
            runs[index].add(number, box)
        else:
            latest[key] = len(runs)
            runs.append(Run(key, ink, [number], [box], box))
    return runs


def _covers(runs: list[Run], ink: str, box: Box) -> bool:
    """Return whether something of another ink may share paper with a box."""
    left, low, right, high = box
    for run in runs:
        if ink and run.ink == ink:
            continue
        all_of_it = run.box
        if (
            all_of_it[0] < right
            and left < all_of_it[2]
            and all_of_it[1] < high
            and low < all_of_it[3]
            and run.covers(box)
        ):
            return True
    return False


def _look(item: Item) -> Look:
    match item:
        case Stroke():
            return LINE_LOOKS[item.layer]
        case Words():
            return _words_look(item.anchor, item.bold, item.halo, item.size_mm, item.angle_deg)
        case Disc():
            return _disc_look(item.tone, item.layer, item.radius_mm)
        case Arrowhead():
            return HEAD_LOOKS[item.layer]
        case Area():
            return AREA_LOOKS[item.tone]


@lru_cache(maxsize=LOOKS_KEPT)
def _disc_look(tone: Tone, layer: Layer | None, radius_mm: float) -> Look:
    classes = [FILL_CLASS[tone]] if tone else []
    classes += [LINE_CLASS[layer]] if layer else []
    ink = INKS[layer] if layer is not None and not tone else ""
    return (("disc", " ".join(classes), format_mm(radius_mm)), ink)


@lru_cache(maxsize=LOOKS_KEPT)
def _words_look(anchor: Anchor, bold: bool, halo: bool, size_mm: float, angle_deg: float) -> Look:
    names = [{"start": "", "middle": "m", "end": "e"}[anchor]]
    names += ["b" if bold else "", "o" if halo else ""]
    names.append(SMALL_CLASS if size_mm == SMALLEST_TEXT_MM else "")
    more = f' transform="rotate({format_mm(-angle_deg)})"' if angle_deg else ""
    if size_mm not in {TEXT_MM, SMALLEST_TEXT_MM}:
        more += f' font-size="{format_mm(size_mm)}"'
    return (("words", " ".join(name for name in names if name), more), "")
