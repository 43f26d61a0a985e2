"""Short names on the wood: letters of holes, names of hardware; each nearest to what it names."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from generator.geometry.vectors import Vec2
from generator.outputs.panels import (
    Box,
    Boxes,
    as_array,
    gaps_mm,
    grown,
    level_box,
    overlaps_mm2,
)
from generator.outputs.scene import SMALLEST_TEXT_MM, Anchor, Words
from generator.outputs.text_width import text_width_mm

FARTHER_MM: Final = 2.2
"""Names stand this much farther off where the next hole is too near."""
WRONG_LOSS: Final = 8.0
"""What it costs to stand as near to something else: as much as a letter upon a letter, in mm²."""
NEARER_MM: Final = 0.3
"""A name must be nearer to its own thing than to another by this."""


def letter_choices(count: int) -> list[int]:
    """Return which holes of a line may carry its letter: its ends, its middle, quarters of it."""
    last = count - 1
    order = (0, last, last // 2, last // 4, last - last // 4, 1, last - 1)
    return list(dict.fromkeys(min(max(i, 0), last) for i in order))


def place_beside(boxes: Sequence[Box], text: str, taken: Boxes, others: Boxes) -> Words:
    """Return a short text beside one of some boxes, where it covers least.

    Args:
        boxes: What it may stand beside, the best first.
        text: A letter or a name.
        taken: What it should not cover.
        others: What it could be taken to name where it stood nearer to them.
    """
    width = text_width_mm(text, SMALLEST_TEXT_MM)
    choices = [
        (box, at, anchor)
        for away in (0.0, FARTHER_MM)
        for box in boxes
        for at, anchor in _spots(grown(box, away))
    ]
    covered = as_array(level_box(at, width, SMALLEST_TEXT_MM, anchor) for _, at, anchor in choices)
    aways = gaps_mm(covered, as_array(own for own, _, _ in choices))
    is_doubtful = gaps_mm(covered[:, np.newaxis], others) < aways[:, np.newaxis] + NEARER_MM
    losses = overlaps_mm2(covered, taken) + aways + WRONG_LOSS * is_doubtful.any(axis=1)
    _, at, anchor = choices[int(losses.argmin())]
    return Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor=anchor, halo=True)


def _spots(box: Box) -> tuple[tuple[Vec2, Anchor], ...]:
    low, high = -0.24 * SMALLEST_TEXT_MM, 0.76 * SMALLEST_TEXT_MM
    middle_x, middle_y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    level = middle_y - 0.36 * SMALLEST_TEXT_MM
    return (
        ((box[2] + 0.8, level), "start"),
        ((box[0] - 0.8, level), "end"),
        ((middle_x, box[3] + 0.4 - low), "middle"),
        ((middle_x, box[1] - 0.4 - high), "middle"),
        ((box[2] + 0.4, box[3] - low), "start"),
        ((box[0] - 0.4, box[3] - low), "end"),
        ((box[2] + 0.4, box[1] - high), "start"),
        ((box[0] - 0.4, box[1] - high), "end"),
    )
