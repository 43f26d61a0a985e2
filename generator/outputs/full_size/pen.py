"""The pens a template is drawn with: lines, rings and texts on one sheet, in mm of paper."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Ellipse, Polygon, Rectangle
from shapely.geometry import LineString

from generator.geometry.vectors import Vec2
from generator.outputs.panels import (
    Box,
    Boxes,
    as_array,
    dots_along,
    outside_of,
    overlaps_mm2,
    words_box,
)
from generator.outputs.scene import Words

INK: Final = "#202428"
QUIET: Final = "#54595e"
"""Outlines, crosses and bars are in ink; other lines, and names of edges, are paler."""
WOOD: Final = "#f1f1ef"
RECESS: Final = "#dcdcd8"
DASHES: Final = (0, (6, 3))
SHORT_DASHES: Final = (0, (3.2, 2))
CHAIN: Final = (0, (12, 3, 2, 3))
STEP_MM: Final = 1.5
"""Boxes that stand for a line are that far apart: no text slips between two of them."""
SMALL_PT: Final = 8.2
"""As large as the smallest text of other drawings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """The window of a sheet, where the part is drawn.

    Attributes:
        axes: The whole sheet.
        corner: How far a point of the part is moved on paper.
        window: What is seen of the part, on paper.
        frame: The same, for what must not leave it.
        lines: What words must not cross.
        dots: Boxes along those lines.
        taken: Boxes of what else words must keep off; it grows with every word.
    """

    axes: Axes
    corner: Vec2
    window: Box
    frame: Rectangle
    lines: list[LineString] = field(default_factory=list)
    dots: list[Boxes] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)

    def place(self, point: Vec2) -> Vec2:
        """Return where a point of the part is on paper."""
        return (point[0] + self.corner[0], point[1] + self.corner[1])

    def keep_off(self, points: Sequence[Vec2]) -> None:
        """Remember a line on paper that no word may cross."""
        self.lines.append(LineString(points))
        self.dots.append(dots_along([points], STEP_MM))

    def obstacles(self, more: Sequence[Box] = ()) -> Boxes:
        """Return everything that words must keep off, and more; what is outside belongs to it."""
        boxes = as_array([*self.taken, *more, *outside_of(self.window)])
        return np.vstack([boxes, *self.dots])

    def find_free(self, words: Sequence[Words], more: Sequence[Box] = ()) -> Words | None:
        """Return the first of some texts that covers nothing, or None."""
        covered = overlaps_mm2(as_array(words_box(one) for one in words), self.obstacles(more))
        return next((one for one, much in zip(words, covered, strict=True) if not much), None)

    def write(self, word: Words, colour: str = INK) -> None:
        """Write a text in its place, which then is taken."""
        align = {"start": "left", "middle": "center", "end": "right"}[word.anchor]
        self.axes.text(
            *word.at,
            word.text,
            fontsize=SMALL_PT,
            color=colour,
            parse_math=False,
            ha=align,
            va="baseline",
            rotation=word.angle_deg,
            rotation_mode="anchor",
        )
        self.taken.append(words_box(word))


def write(axes: Axes, at: Vec2, words: str, *, size: float = SMALL_PT, **look: Any) -> None:
    """Write a line of text, its signs as they are; ``look`` as matplotlib has it."""
    axes.text(*at, words, fontsize=size, color=INK, parse_math=False, **look)


def draw_line(axes: Axes, start: Vec2, end: Vec2, **look: Any) -> None:
    """Draw a line from one point to another."""
    axes.plot([start[0], end[0]], [start[1], end[1]], **look)


def draw_cross(axes: Axes, at: Vec2, reach_mm: float, **look: Any) -> None:
    """Draw four arms out of a point: where they are dashed, a dash begins in the point."""
    x, y = at
    for tip in ((x - reach_mm, y), (x + reach_mm, y), (x, y - reach_mm), (x, y + reach_mm)):
        draw_line(axes, at, tip, **look)


def make_ring(at: Vec2, halves: Vec2, turn_deg: float, **look: Any) -> Ellipse:
    """Return an ellipse by half its length and width, turned to the left; not yet on the sheet."""
    return Ellipse(at, 2 * halves[0], 2 * halves[1], angle=turn_deg, fill=False, **look)


def make_polygon(corners: Sequence[Vec2], **look: Any) -> Polygon:
    """Return a closed shape, not yet on the sheet."""
    return Polygon([*corners], closed=True, **look)
