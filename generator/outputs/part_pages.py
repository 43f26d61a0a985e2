"""The sheets of a part for paper: one that is too high for a page goes on with the next."""

from collections.abc import Sequence

from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.part_sheet import draw_panels
from generator.outputs.scene import SMALLEST_TEXT_MM, TEXT_MM, Scene, Stroke, Words
from generator.outputs.strips import (
    MARGIN_MM,
    PAGE_MM,
    Panels,
    Strip,
    height_of,
    make_strip,
    stack_strips,
)


def draw_part_pages(plan: Plan, part: Part, most_mm: float) -> tuple[Scene, ...]:
    """Return the sheets of a part, page by page.

    Args:
        plan: The plan.
        part: One of its parts.
        most_mm: No page is higher, unless one strip alone is.
    """
    return tuple(
        scene for sheet in draw_panels(plan, part) for scene in _draw_pages(sheet, most_mm)
    )


def _draw_pages(sheet: Panels, most_mm: float) -> Sequence[Scene]:
    pages = _split(sheet, most_mm)
    if len(pages) == 1:
        return [stack_strips(sheet, sheet.title, pages[0])]
    return [
        stack_strips(sheet, f"{sheet.title}, page {number} of {len(pages)}", page)
        for number, page in enumerate(pages, start=1)
    ]


def _split(sheet: Panels, most_mm: float) -> Sequence[Sequence[Strip]]:
    """Return the strips page by page; every page but the first says what it goes on with."""
    pages: list[list[Strip]] = [[]]
    for strip in sheet.strips:
        if pages[-1] and height_of((*pages[-1], strip)) > most_mm:
            pages.append([_continued(sheet)])
        pages[-1].append(strip)
    return pages


def _continued(sheet: Panels) -> Strip:
    right = PAGE_MM - 2 * MARGIN_MM
    words = f"{sheet.title}, continued"
    items = (
        Words(at=(0.0, -4.0), text=words, size_mm=TEXT_MM, bold=True),
        Words(at=(right, -4.0), text=sheet.scale, size_mm=SMALLEST_TEXT_MM, anchor="end"),
        Stroke(points=((0.0, -7.0), (right, -7.0)), layer="frame"),
    )
    return make_strip((0.0, items))
