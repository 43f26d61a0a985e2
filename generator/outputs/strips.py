"""Strips: what stands across all of a sheet, and sheets as strips below each other."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from generator.outputs.panels import bounds_of, moved_items
from generator.outputs.scene import Item, Scene

PAGE_MM: Final = 170.0
MARGIN_MM: Final = 6.0
APART_MM: Final = 5.0
"""From one strip to the next."""


@dataclass(frozen=True, slots=True)
class Strip:
    """What stands across all of a sheet.

    Attributes:
        blocks: Drawings, and how far each is moved to the right.
        low_mm: How far down all of them reach.
        high_mm: How far up.
    """

    blocks: tuple[tuple[float, tuple[Item, ...]], ...]
    low_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Panels:
    """A sheet as strips across all of it, before they are stacked.

    Attributes:
        title: Of the drawing.
        description: The drawing in words.
        scale: As it is written on it.
        strips: From the top.
    """

    title: str
    description: str
    scale: str
    strips: tuple[Strip, ...]


def make_strip(*blocks: tuple[float, tuple[Item, ...]]) -> Strip:
    """Return drawings as a strip, each with how far it is moved to the right."""
    boxes = [bounds_of(items) for _, items in blocks]
    return Strip(blocks, min(box[1] for box in boxes), max(box[3] for box in boxes))


def height_of(strips: Sequence[Strip]) -> float:
    """Return the height in mm of a sheet that holds strips below each other."""
    high = sum(strip.high_mm - strip.low_mm for strip in strips)
    return round(high + APART_MM * (len(strips) - 1) + 2 * MARGIN_MM, 2)


def stack_strips(sheet: Panels, title: str, strips: Sequence[Strip]) -> Scene:
    """Return strips of a sheet below each other, under a title of their own."""
    height = height_of(strips)
    items: list[Item] = []
    y = height - MARGIN_MM
    for strip in strips:
        for shift, block in strip.blocks:
            items += moved_items(block, MARGIN_MM + shift, y - strip.high_mm)
        y -= strip.high_mm - strip.low_mm + APART_MM
    return Scene(
        width_mm=PAGE_MM,
        height_mm=height,
        title=title,
        description=sheet.description,
        items=tuple(items),
    )
