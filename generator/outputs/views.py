"""The picture of the assembled piece, seen from the front right and above."""

import math
from typing import Final

from generator.geometry.projection import View, view_from
from generator.model.plan import Plan
from generator.outputs.bodies import (
    Box,
    Look,
    Sheet,
    bounds_of,
    draw_edges,
    draw_faces,
    fit_sheet,
    look,
    regions_on_paper,
    solids_of,
)
from generator.outputs.labels import COLUMN_MM, Target, column_height, draw_labels, place_labels
from generator.outputs.scene import Scene
from generator.units import format_length

WIDTH_MM: Final = 160.0
"""Of a picture on paper."""
TALLEST_MM: Final = 150.0
MARGIN_MM: Final = 2.0
TURN_DEG: Final = 32.0
"""How far the eye stands to the side: fronts stay wider than sides."""
RAISE_DEG: Final = 27.0
"""How far the eye stands above: tops are seen, shelves do not hide each other."""


def axonometric(turn_deg: float = TURN_DEG, raise_deg: float = RAISE_DEG) -> View:
    """Return the view from a direction ``turn_deg`` right of the front and ``raise_deg`` up."""
    turn, up = math.radians(turn_deg), math.radians(raise_deg)
    return view_from((math.sin(turn) * math.cos(up), -math.cos(turn) * math.cos(up), math.sin(up)))


def draw_assembled(plan: Plan) -> Scene:
    """Return the whole piece with one label for every part."""
    names = [piece.name for piece in plan.parts.pieces()]
    looked = look(solids_of(plan, names), axonometric())
    sheet, paper = fit_picture(bounds_of(looked.mesh, looked.view), len(plan.parts.parts))
    targets = _targets(plan, looked, sheet)
    labels = place_labels(targets, label_box(looked, sheet, paper))
    unseen = ", ".join(target.text for target in targets if not target.faces)
    system = plan.edition.system
    size = [
        format_length(high - low, system)
        for low, high in zip(plan.parts.low, plan.parts.high, strict=True)
    ]
    return Scene(
        width_mm=paper.width,
        height_mm=paper.height,
        title=f"{plan.edition.story.title}, assembled",
        description=(
            f"The finished piece from the front right and above: {size[0]} wide, {size[1]} deep, "
            f"{size[2]} high. Letters name the parts."
            + (f" Not seen from here: {unseen}." if unseen else "")
        ),
        items=(
            *draw_faces(looked, sheet),
            *draw_edges(looked.edges.visible, sheet, "outline"),
            *draw_labels(labels),
        ),
    )


def fit_picture(bounds: Box, labels: int) -> tuple[Sheet, Box]:
    """Return how a view comes on a sheet with a column for labels on both sides, and the sheet."""
    side = MARGIN_MM + COLUMN_MM
    room = WIDTH_MM - 2 * side
    scale = min(room / bounds.width, (TALLEST_MM - 2 * MARGIN_MM) / bounds.height)
    height = max(bounds.height * scale, column_height(labels)) + 2 * MARGIN_MM
    inside = Box(side, MARGIN_MM, WIDTH_MM - side, height - MARGIN_MM)
    return fit_sheet(bounds, inside), Box(0.0, 0.0, WIDTH_MM, height)


def label_box(looked: Look, sheet: Sheet, paper: Box) -> Box:
    """Return the width of a view on paper and the height in which its labels may stand."""
    bounds = bounds_of(looked.mesh, looked.view)
    left, _ = sheet.place((bounds.left, bounds.low))
    right, _ = sheet.place((bounds.right, bounds.high))
    return Box(left, MARGIN_MM, right, paper.high - MARGIN_MM)


def _targets(plan: Plan, looked: Look, sheet: Sheet) -> list[Target]:
    """Return one target for every part: the visible faces of all its pieces."""
    shown = regions_on_paper(looked, sheet)
    return [
        Target(
            part.label,
            tuple(face for piece in part.pieces for face in shown.get(piece.name, ())),
        )
        for part in plan.parts.parts
    ]
