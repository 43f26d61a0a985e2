"""The exploded view: pieces pulled apart the way they come off, dashed lines to their places."""

from collections.abc import Mapping

from generator.geometry.hidden_line import find_lines
from generator.geometry.vectors import Vec3
from generator.model.plan import Plan
from generator.outputs.bodies import (
    Look,
    Solids,
    bounds_of,
    draw_edges,
    draw_faces,
    look,
    regions_on_paper,
    solids_of,
)
from generator.outputs.exploding import explode
from generator.outputs.labels import Target, draw_labels, place_labels
from generator.outputs.scene import Scene
from generator.outputs.views import WIDTH_MM, axonometric, fit_picture


def look_exploded(solids: Solids, moves: Mapping[str, Vec3]) -> Look:
    """Return the pieces as the exploded view shows them."""
    return look(solids.mesh(solids.meshes, moves), axonometric())


def draw_exploded(plan: Plan, solids: Solids | None = None) -> Scene:
    """Return all pieces apart, each with its label, and where they go."""
    pieces = plan.parts.pieces()
    bodies = solids or solids_of(plan)
    exploded = explode(plan, bodies)
    looked = look_exploded(bodies, exploded.moves)
    fitted = fit_picture(bounds_of(looked.mesh, looked.view), len(pieces))
    sheet = fitted.sheet
    shown = regions_on_paper(looked, sheet)
    targets = [Target(p.label, tuple(shown.get(p.name, ()))) for p in pieces]
    trails = find_lines(looked.mesh, looked.view, exploded.lines()).visible
    counts = ", ".join(f"{part.label}: {part.count} × {part.title}" for part in plan.parts.parts)
    return Scene(
        width_mm=WIDTH_MM,
        height_mm=fitted.height_mm,
        title=f"{plan.edition.story.title}, exploded",
        description=f"All {len(pieces)} pieces apart, dashed lines show where they go. {counts}.",
        items=(
            *draw_faces(looked, sheet),
            *draw_edges(trails, sheet, "hidden"),
            *draw_edges(looked.visible, sheet, "outline"),
            *draw_labels(place_labels(targets, fitted.room)),
        ),
    )
