"""DXF files of parts, sheets, boards and router sheets, for a router or a drawing program.

Inches in the imperial edition, millimetres in the metric one; the file's header says which.
"""

from generator.model.cutting import Layout, RouterLayout
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.dxf_parts import draw_part_entities, part_layers
from generator.outputs.dxf_pen import Pen
from generator.outputs.dxf_router import ROUTER_LAYERS, draw_router_entities
from generator.outputs.dxf_sheets import SHEET_LAYERS, draw_sheet_entities


def part_dxf(plan: Plan, part: Part) -> bytes:
    """Return the DXF file of a part, seen square on face A like its drawing."""
    pen = Pen(plan.edition.system, part_layers(part, plan.edition.system))
    draw_part_entities(pen, plan, part)
    return pen.finished()


def layout_dxf(plan: Plan, layout: Layout) -> bytes:
    """Return the DXF file of a sheet or board seen from above, with its blanks and cuts."""
    pen = Pen(plan.edition.system, SHEET_LAYERS)
    draw_sheet_entities(pen, plan, layout)
    return pen.finished()


def router_dxf(plan: Plan, layout: RouterLayout) -> bytes:
    """Return the DXF file of a sheet for a router: outlines beside outlines, a bit apart."""
    pen = Pen(plan.edition.system, ROUTER_LAYERS)
    draw_router_entities(pen, plan, layout)
    return pen.finished()
