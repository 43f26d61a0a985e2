"""Router sheets of a plan for programs: every outline as it lies on its sheet, and the schema."""

from typing import Any

from generator.geometry.outlines import Outline
from generator.model.cutting import Cutting, RouterHole, RouterLayout, RouterPlacement
from generator.outputs.rounding import deg, fine, mm, points
from generator.outputs.schema_rows import (
    LABEL,
    NUMBER,
    ORDER,
    SIZE,
    TEXT,
    Json,
    list_of,
    record,
    tuple_of,
)


def router_to_dict(cutting: Cutting) -> dict[str, Any]:
    """Return the router sheets, and the labels of the parts that are not on them."""
    return {
        "router": [_layout(layout) for layout in cutting.router],
        "not_routed": list(cutting.not_routed),
    }


def router_schema() -> dict[str, Json]:
    """Return the schemas of what `router_to_dict` returns, by key."""
    hole = record(
        center_mm=tuple_of(NUMBER, 2),
        diameter_mm=SIZE,
        depth_mm={"type": ["number", "null"], "minimum": 0},
    )
    outline = record(points_mm=list_of(tuple_of(NUMBER, 2)), bulges=list_of(NUMBER))
    placement = record(
        label=LABEL,
        copy=ORDER,
        turn_deg={"enum": [0, 90, 180, 270]},
        outline=outline,
        openings=list_of(outline),
        holes=list_of(hole),
        pin_holes=list_of(hole),
    )
    layout = record(
        number=ORDER,
        stock=TEXT,
        material=TEXT,
        size=TEXT,
        size_mm=tuple_of(SIZE, 2),
        thickness_mm=SIZE,
        bit_mm=SIZE,
        apart_mm=SIZE,
        border_mm=SIZE,
        placements=list_of(placement),
        bevels_afterwards=list_of(LABEL),
        used={"type": "number", "minimum": 0, "maximum": 1},
    )
    return {
        "router": {
            **list_of(layout),
            "description": "Sheets for a router, instead of `sheets`: parts lie with face A up, "
            "outlines stand where they are on the sheet. bulges: tan(angle / 4) of the arc that "
            "begins at the point, 0 for a straight line.",
        },
        "not_routed": {
            **list_of(LABEL),
            "description": "Parts on no router sheet: from boards, or too large for a bit to go "
            "round.",
        },
    }


def _layout(layout: RouterLayout) -> dict[str, Any]:
    return {
        "number": layout.number,
        "stock": layout.stock.name,
        "material": layout.stock.title,
        "size": layout.size.name,
        "size_mm": [mm(layout.size.length_mm), mm(layout.size.width_mm)],
        "thickness_mm": mm(layout.stock.thickness_mm),
        "bit_mm": mm(layout.bit_mm),
        "apart_mm": mm(layout.apart_mm),
        "border_mm": mm(layout.border_mm),
        "placements": [_placement(one) for one in layout.placements],
        "bevels_afterwards": list(layout.bevels),
        "used": round(layout.used, 4),
    }


def _placement(one: RouterPlacement) -> dict[str, Any]:
    return {
        "label": one.label,
        "copy": one.copy,
        "turn_deg": deg(one.turn_deg),
        "outline": _outline(one.outline),
        "openings": [_outline(opening) for opening in one.openings],
        "holes": [_hole(hole) for hole in one.holes],
        "pin_holes": [_hole(hole) for hole in one.pin_holes],
    }


def _outline(outline: Outline) -> dict[str, Any]:
    return {"points_mm": points(outline), "bulges": [fine(bulge) for bulge in outline.bulges]}


def _hole(hole: RouterHole) -> dict[str, Any]:
    return {
        "center_mm": [mm(value) for value in hole.center],
        "diameter_mm": mm(hole.diameter_mm),
        "depth_mm": None if hole.depth_mm is None else mm(hole.depth_mm),
    }
