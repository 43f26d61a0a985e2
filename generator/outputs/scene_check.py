"""Finds text that a reader could not read: on other text, off the sheet, or too small."""

import math

from shapely import STRtree
from shapely.geometry import Polygon

from generator.geometry.vectors import Vec2
from generator.outputs.scene import Scene, Words
from generator.outputs.text_width import ASCENT_EM, DESCENT_EM, text_width_mm
from generator.units import inches

SMALLEST_PT = 8.0
POINTS_PER_INCH = 72

INK_EM = 0.73
"""Height of figures and capitals."""
HANGING = frozenset("gjpqyQ,;()|")
"""Signs that reach below the base line."""

OVERLAP_MM2 = 0.05
"""Text boxes that share less than this only touch."""


def find_text_faults(scene: Scene, *, printed: float = 1.0) -> list[str]:
    """Return what is wrong with the texts of a drawing, in words; nothing where all is well.

    Args:
        scene: The drawing.
        printed: How large it is printed: 1 is as drawn, less where paper has no room for it.
    """
    words = [item for item in scene.items if isinstance(item, Words) and item.text.strip()]
    boxes = [Polygon(text_corners(item)) for item in words]
    faults = []
    for item, box in zip(words, boxes, strict=True):
        low_x, low_y, high_x, high_y = box.bounds
        is_left_out = low_x < 0 or low_y < 0
        if is_left_out or high_x > scene.width_mm or high_y > scene.height_mm:
            faults.append(f"text `{item.text}` leaves the sheet")
        if inches(item.size_mm * printed) * POINTS_PER_INCH < SMALLEST_PT - 1e-6:
            faults.append(f"text `{item.text}` is smaller than {SMALLEST_PT:g} pt")
    if len(boxes) > 1:
        pairs = STRtree(boxes).query(boxes, predicate="intersects").T.tolist()
        for i, j in sorted((i, j) for i, j in pairs if i < j):
            if boxes[i].intersection(boxes[j]).area > OVERLAP_MM2:
                faults.append(f"texts `{words[i].text}` and `{words[j].text}` overlap")
    return faults


def text_corners(words: Words) -> tuple[Vec2, Vec2, Vec2, Vec2]:
    """Return the corners of the box around a text on paper, turned with it."""
    return _corners(words, -DESCENT_EM, ASCENT_EM)


def ink_corners(words: Words) -> tuple[Vec2, Vec2, Vec2, Vec2]:
    """Return the corners of the box around what is black of a text, turned with it."""
    return _corners(words, -DESCENT_EM if set(words.text) & HANGING else 0.0, INK_EM)


def _corners(words: Words, low_em: float, high_em: float) -> tuple[Vec2, Vec2, Vec2, Vec2]:
    width = text_width_mm(words.text, words.size_mm, words.bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[words.anchor]
    low, high = low_em * words.size_mm, high_em * words.size_mm
    angle = math.radians(words.angle_deg)
    cosine, sine = math.cos(angle), math.sin(angle)

    def turned(x: float, y: float) -> Vec2:
        return (words.at[0] + x * cosine - y * sine, words.at[1] + x * sine + y * cosine)

    return (
        turned(left, low),
        turned(left + width, low),
        turned(left + width, high),
        turned(left, high),
    )
