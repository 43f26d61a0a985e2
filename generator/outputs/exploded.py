"""The exploded view: pieces pulled apart along the normals of their contacts."""

from collections.abc import Mapping
from typing import Final

from generator.geometry.hidden_line import find_lines
from generator.geometry.vectors import Vec3, add, cross, norm, scale, subtract
from generator.model.joinery import Contact
from generator.model.plan import Plan
from generator.outputs.bodies import (
    Look,
    Sheet,
    bounds_of,
    draw_edges,
    draw_faces,
    look,
    regions_on_paper,
    solids_of,
)
from generator.outputs.exploding import Touch, find_moves
from generator.outputs.labels import Target, draw_labels, place_labels
from generator.outputs.scene import Item, Scene
from generator.outputs.views import WIDTH_MM, axonometric, fit_picture

GAP: Final = 0.16
"""How far touching pieces part, as a share of the largest overall size."""


def look_exploded(plan: Plan, moves: Mapping[str, Vec3]) -> Look:
    """Return the pieces as the exploded view shows them."""
    names = [piece.name for piece in plan.parts.pieces()]
    return look(solids_of(plan, names, moves), axonometric())


def draw_exploded(plan: Plan) -> Scene:
    """Return all pieces apart, each with its label, and where they go."""
    pieces = plan.parts.pieces()
    moves = find_exploded_moves(plan)
    looked = look_exploded(plan, moves)
    fitted = fit_picture(bounds_of(looked.mesh, looked.view), len(pieces))
    sheet = fitted.sheet
    shown = regions_on_paper(looked, sheet)
    targets = [Target(p.label, tuple(shown.get(p.name, ()))) for p in pieces]
    counts = ", ".join(f"{part.label}: {part.count} × {part.title}" for part in plan.parts.parts)
    return Scene(
        width_mm=WIDTH_MM,
        height_mm=fitted.height_mm,
        title=f"{plan.edition.story.title}, exploded",
        description=f"All {len(pieces)} pieces apart, dashed lines show where they go. {counts}.",
        items=(
            *draw_faces(looked, sheet),
            *_trails(plan, moves, looked, sheet),
            *draw_edges(looked.edges.visible, sheet, "outline"),
            *draw_labels(place_labels(targets, fitted.room)),
        ),
    )


def find_exploded_moves(plan: Plan) -> dict[str, Vec3]:
    """Return how far every piece of a plan moves where all stand apart."""
    size = max(subtract(plan.parts.high, plan.parts.low))
    touching: tuple[Touch, ...] = (*plan.joinery.contacts, *plan.joinery.sockets)
    return find_moves([p.name for p in plan.parts.pieces()], touching, GAP * size)


def _trails(plan: Plan, moves: Mapping[str, Vec3], looked: Look, sheet: Sheet) -> list[Item]:
    """Return a line for every two pieces that part squarely, where nothing hides it."""
    largest: dict[tuple[str, str], Contact] = {}
    for contact in plan.joinery.contacts:
        parted = subtract(moves[contact.second], moves[contact.first])
        pair = (contact.first, contact.second)
        is_square = norm(cross(parted, contact.normal)) < 0.05 * norm(parted)
        if is_square and (pair not in largest or contact.area_mm2 > largest[pair].area_mm2):
            largest[pair] = contact
    lines = []
    for contact in largest.values():
        middle = _middle(contact)
        lines.append((add(middle, moves[contact.first]), add(middle, moves[contact.second])))
    return draw_edges(find_lines(looked.mesh, looked.view, lines).visible, sheet, "center")


def _middle(contact: Contact) -> Vec3:
    total = (0.0, 0.0, 0.0)
    for point in contact.outline:
        total = add(total, point)
    return scale(total, 1 / len(contact.outline))
