"""A sheet or board in DXF: border, trimmed border, blanks with labels, offcuts and cut lines."""

from typing import Final

from generator.geometry.outlines import Outline
from generator.model.cutting import Layout
from generator.model.plan import Plan
from generator.outputs.dxf_pen import Pen
from generator.units import format_length, format_size

SHEET: Final = "sheet"
TRIMMED: Final = "trimmed sheet"
BLANKS: Final = "blanks"
LABELS: Final = "labels"
CUTS: Final = "cuts"
OFFCUTS: Final = "offcuts"
NOTES: Final = "notes"
SHEET_LAYERS: Final = (SHEET, TRIMMED, BLANKS, LABELS, CUTS, OFFCUTS, NOTES)

TEXT_MM: Final = 20.0
"""Height of type on the real sheet: large enough to read with the whole sheet on a screen."""


def draw_sheet_entities(pen: Pen, plan: Plan, layout: Layout) -> None:
    """Draw a sheet or board, x along its length, the origin at a corner of it untrimmed."""
    length, width = layout.size.length_mm, layout.size.width_mm
    left, right, bottom, top = layout.trim_mm
    pen.outline(_rectangle(0, 0, length, width), SHEET)
    pen.outline(_rectangle(left, bottom, length - right, width - top), TRIMMED)
    _draw_blanks(pen, plan, layout)
    for offcut in layout.offcuts:
        x, y = offcut.x_mm, offcut.y_mm
        pen.outline(_rectangle(x, y, x + offcut.length_mm, y + offcut.width_mm), OFFCUTS)
    for cut in layout.cuts:
        pen.line(cut.start, cut.end, CUTS)
        pen.text((cut.end[0] + 4, cut.end[1] + 4), f"cut {cut.order}", TEXT_MM / 2, LABELS)
    kerf = format_length(layout.kerf_mm, plan.edition.system)
    word = "Sheet" if layout.stock.board is None else "Board"
    note = f"{word} {layout.number}: {layout.stock.title}, {layout.size.name}. "
    note += f"Cut lines run in the middle of the kerf ({kerf})."
    pen.text((0, width + TEXT_MM), note, TEXT_MM, NOTES)


def _draw_blanks(pen: Pen, plan: Plan, layout: Layout) -> None:
    system = plan.edition.system
    for blank in layout.placements:
        x, y = blank.x_mm, blank.y_mm
        pen.outline(_rectangle(x, y, x + blank.along_x_mm, y + blank.along_y_mm), BLANKS)
        part = plan.parts.part(blank.label)
        name = f"{blank.label}{blank.copy} {part.title}"
        size = f"{format_size(blank.length_mm, system)} x {format_length(blank.width_mm, system)}"
        room = min(blank.along_x_mm / (0.7 * max(len(name), len(size))), blank.along_y_mm / 4)
        height = min(TEXT_MM, room)
        pen.text((x + height / 2, y + 2 * height), name, height, LABELS)
        pen.text((x + height / 2, y + height / 2), size, height, LABELS)


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> Outline:
    return Outline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
