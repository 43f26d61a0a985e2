"""A sheet for a router in DXF: border, outlines, openings, holes, grain and labels, by layers."""

from typing import Final

from generator.geometry.outlines import Outline
from generator.model.cutting import RouterHole, RouterLayout, RouterPlacement
from generator.model.plan import Plan
from generator.outputs.dxf_pen import Pen
from generator.units import format_length

SHEET: Final = "sheet"
BORDER: Final = "border"
OUTLINES: Final = "outlines outside"
OPENINGS: Final = "openings inside"
HOLES: Final = "holes inside"
DRILLED: Final = "holes narrower than the bit"
PIN_HOLES: Final = "pin holes face A"
GRAIN: Final = "grain"
LABELS: Final = "labels"
NOTES: Final = "notes"
ROUTER_LAYERS: Final = (
    SHEET,
    BORDER,
    OUTLINES,
    OPENINGS,
    HOLES,
    DRILLED,
    PIN_HOLES,
    GRAIN,
    LABELS,
    NOTES,
)

TEXT_MM: Final = 20.0
"""Height of type on the real sheet, and half of it on parts too small for that."""


def draw_router_entities(pen: Pen, plan: Plan, layout: RouterLayout) -> None:
    """Draw a sheet for a router, x along its length, the origin at a corner of it."""
    length, width, border = layout.size.length_mm, layout.size.width_mm, layout.border_mm
    pen.outline(_rectangle(0, 0, length, width), SHEET)
    pen.outline(_rectangle(border, border, length - border, width - border), BORDER)
    for one in layout.placements:
        _draw_placement(pen, plan, layout, one)
    for row, note in enumerate(reversed(_notes(plan, layout))):
        pen.text((0, width + TEXT_MM * (1 + 1.8 * row)), note, TEXT_MM, NOTES)


def _draw_placement(pen: Pen, plan: Plan, layout: RouterLayout, one: RouterPlacement) -> None:
    pen.outline(one.outline, OUTLINES)
    for opening in one.openings:
        pen.outline(opening, OPENINGS)
    for hole in one.holes:
        _draw_hole(pen, hole, HOLES if hole.diameter_mm >= layout.bit_mm else DRILLED)
    for hole in one.pin_holes:
        _draw_hole(pen, hole, PIN_HOLES)
    part = plan.parts.part(one.label)
    if part.grain != "any" and part.stock.has_grain:
        pen.line(*one.grain, GRAIN)
    low_x, low_y, high_x, high_y = one.outline.bounds
    name = f"{one.label}{one.copy} {part.title}"
    if one.label in layout.bevels:
        name += ", bevel afterwards"
    height = min(TEXT_MM, (high_x - low_x) / (0.7 * len(name) + 1), (high_y - low_y) / 4)
    middle = one.outline.polygon().representative_point()
    start = max(low_x, middle.x - 0.35 * len(name) * height)
    pen.text((start, middle.y + height / 2), name, height, LABELS)


def _draw_hole(pen: Pen, hole: RouterHole, layer: str) -> None:
    pen.circle(hole.center, hole.diameter_mm, layer)


def _notes(plan: Plan, layout: RouterLayout) -> tuple[str, ...]:
    system = plan.edition.system
    bit = format_length(layout.bit_mm, system)
    apart = (
        "the bit" if layout.apart_mm == layout.bit_mm else format_length(layout.apart_mm, system)
    )
    notes = [
        f"Router sheet {layout.number}: {layout.stock.title}, {layout.size.name}. All parts lie "
        "with face A up, as on their drawings.",
        f"Laid for a {bit} bit that runs outside the outlines; no two are nearer than {apart}. "
        "Tabs or hold-down, feed, speed and depth are the operator's.",
        "Not in this file: bevels, channels, pockets, blind holes of joints, holes in edges. "
        "Corners that turn inward keep the radius of the bit.",
    ]
    if layout.bevels:
        notes.append(
            f"Cut square here, bevel afterwards: {', '.join(layout.bevels)}. "
            "The outline is the greatest one, long point to long point."
        )
    deep = sorted({hole.depth_mm or 0.0 for one in layout.placements for hole in one.pin_holes})
    if deep:
        words = ", ".join(format_length(each, system) for each in deep)
        notes.append(f"Pin holes in face A, deep: {words}. Those in face B come afterwards.")
    return tuple(notes)


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> Outline:
    return Outline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
