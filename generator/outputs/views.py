"""The pictures of the assembled piece, with letters and without, from the front right and above."""

import math
from dataclasses import dataclass
from typing import Final

from generator.geometry.projection import View, view_from
from generator.model.plan import Plan
from generator.outputs.bodies import (
    Box,
    Look,
    Sheet,
    Solids,
    bounds_of,
    draw_edges,
    draw_faces,
    fit_sheet,
    look,
    regions_on_paper,
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


@dataclass(frozen=True, slots=True)
class Fitted:
    """A view on its sheet.

    Attributes:
        height_mm: Of the sheet; all are `WIDTH_MM` wide.
        room: The width of the picture, and the height in which its labels may stand.
    """

    sheet: Sheet
    height_mm: float
    room: Box


def axonometric(turn_deg: float = TURN_DEG, raise_deg: float = RAISE_DEG) -> View:
    """Return the view from a direction ``turn_deg`` right of the front and ``raise_deg`` up."""
    turn, up = math.radians(turn_deg), math.radians(raise_deg)
    return view_from((math.sin(turn) * math.cos(up), -math.cos(turn) * math.cos(up), math.sin(up)))


def look_assembled(solids: Solids) -> Look:
    """Return the whole piece as its picture shows it."""
    return look(solids.whole(), axonometric())


def draw_finished(plan: Plan, looked: Look) -> Scene:
    """Return the whole piece as large as it goes, without letters: small pictures can be read."""
    bounds = bounds_of(looked.mesh, looked.view)
    room = (WIDTH_MM - 2 * MARGIN_MM, TALLEST_MM - 2 * MARGIN_MM)
    height = min(room[0] / bounds.width, room[1] / bounds.height) * bounds.height
    sheet = fit_sheet(bounds, Box(MARGIN_MM, MARGIN_MM, WIDTH_MM - MARGIN_MM, MARGIN_MM + height))
    return Scene(
        width_mm=WIDTH_MM,
        height_mm=height + 2 * MARGIN_MM,
        title=plan.edition.story.title,
        description=_describe(plan),
        items=(*draw_faces(looked, sheet), *draw_edges(looked.visible, sheet, "outline")),
    )


def draw_assembled(plan: Plan, looked: Look) -> Scene:
    """Return the whole piece with one label for every part."""
    fitted = fit_picture(bounds_of(looked.mesh, looked.view), len(plan.parts.parts))
    sheet = fitted.sheet
    targets = _targets(plan, looked, sheet)
    labels = place_labels(targets, fitted.room)
    unseen = ", ".join(target.text for target in targets if not target.faces)
    return Scene(
        width_mm=WIDTH_MM,
        height_mm=fitted.height_mm,
        title=f"{plan.edition.story.title}, assembled",
        description=(
            f"{_describe(plan)} Letters name the parts."
            + (f" Not seen from here: {unseen}." if unseen else "")
        ),
        items=(
            *draw_faces(looked, sheet),
            *draw_edges(looked.visible, sheet, "outline"),
            *draw_labels(labels),
        ),
    )


def fit_picture(bounds: Box, labels: int, foot_mm: float = 0.0) -> Fitted:
    """Return how a view comes on a sheet with a column for labels on both sides.

    Args:
        bounds: Of the view, in mm of the room.
        labels: How many there may be; the sheet grows until they fit.
        foot_mm: Left free under the picture.
    """
    side = MARGIN_MM + COLUMN_MM
    room = WIDTH_MM - 2 * side
    scale = min(room / bounds.width, (TALLEST_MM - 2 * MARGIN_MM - foot_mm) / bounds.height)
    low = MARGIN_MM + foot_mm
    high = low + max(bounds.height * scale, column_height(labels))
    sheet = fit_sheet(bounds, Box(side, low, WIDTH_MM - side, high))
    left, _ = sheet.place((bounds.left, bounds.low))
    right, _ = sheet.place((bounds.right, bounds.high))
    return Fitted(sheet, high + MARGIN_MM, Box(left, low, right, high))


def _describe(plan: Plan) -> str:
    system = plan.edition.system
    size = [
        format_length(high - low, system)
        for low, high in zip(plan.parts.low, plan.parts.high, strict=True)
    ]
    return (
        f"The finished piece from the front right and above: {size[0]} wide, {size[1]} deep, "
        f"{size[2]} high."
    )


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
