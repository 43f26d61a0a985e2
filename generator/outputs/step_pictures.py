"""The picture of one step: what is there is quiet, what goes on is green, screws show their way."""

from collections.abc import Iterable, Mapping, Sequence

import shapely
from shapely.geometry import LineString, Polygon

from generator.geometry.hidden_line import Edges, find_edges
from generator.geometry.lines import Segment, subtract_segments
from generator.geometry.projection import View, build_mesh
from generator.geometry.vectors import Vec3
from generator.model.assembly import Step
from generator.model.joinery import BoredHole, Fastener
from generator.model.parts import Piece
from generator.model.plan import Plan
from generator.model.words import count_fasteners, join_words
from generator.outputs.bodies import (
    Look,
    Sheet,
    bounds_of,
    draw_edges,
    draw_faces,
    look_at_mesh,
    regions_on_paper,
    shadows_on_paper,
    solids_of,
)
from generator.outputs.hardware_marks import draw_fitted
from generator.outputs.labels import Target, draw_labels, place_labels
from generator.outputs.scene import SMALLEST_TEXT_MM, Disc, Item, Scene, Stroke, Words
from generator.outputs.viewpoints import Viewpoint, choose_view
from generator.outputs.views import MARGIN_MM, WIDTH_MM, fit_picture

HEAD_MM = 0.9
"""Radius of the disc that stands for a screw's head on paper."""


FOOT_MM = 6.0
"""Room for a line of words under the picture."""

UNSEEN_MM2 = 6.0
"""A piece that shows less than this on paper is drawn dashed as well."""


def look_at_step(plan: Plan, step: Step) -> tuple[Viewpoint, Look]:
    """Return all pieces of a step, new ones first, seen from where the work is; and from where."""
    pieces = {piece.name: piece for piece in plan.parts.pieces()}
    new = find_new(plan, step)
    names = [*new, *(name for name in step.present if name not in new)]
    mesh = build_mesh(solids_of(plan, names or list(pieces)))
    screws = [plan.joinery.fastener(name) for name in step.fasteners]
    driven = [_entry(plan, pieces, screw) for screw in screws if not _is_inside(screw)]
    best = choose_view(mesh, new, driven)
    return best, look_at_mesh(mesh, best.view)


def draw_step(plan: Plan, step: Step) -> Scene:
    """Return the picture of a step, turned to the side where the work is."""
    pieces = {piece.name: piece for piece in plan.parts.pieces()}
    new = find_new(plan, step)
    screws = [plan.joinery.fastener(name) for name in step.fasteners]
    entries = [_entry(plan, pieces, screw) for screw in screws]
    best, looked = look_at_step(plan, step)
    mesh = looked.mesh
    note = [] if best.is_usual else _note(best)
    fitted = fit_picture(bounds_of(mesh, looked.view), len(new), FOOT_MM if note else 0.0)
    sheet = fitted.sheet
    alone = find_edges(build_mesh(solids_of(plan, new)), best.view)
    driven = _draw_screws(best.view, sheet, entries, screws)
    shown = regions_on_paper(looked, sheet)
    unseen = tuple(name for name in new if _is_unseen(shown.get(name, ())))
    faces = _keep_free(shown | shadows_on_paper(looked, sheet, unseen), driven)
    targets = [Target(pieces[name].label, faces.get(name, ())) for name in new]
    return Scene(
        width_mm=WIDTH_MM,
        height_mm=fitted.height_mm,
        title=f"Step {step.order}: {step.title}",
        description=f"Seen {best.words}. {_describe(plan, new, screws)}",
        items=(
            *draw_faces(looked, sheet, new),
            *_draw_lines(looked, alone, sheet, new),
            *draw_edges(_hidden_of(looked, unseen), sheet, "hidden"),
            *driven,
            *draw_fitted(plan, step, best.view, sheet),
            *draw_labels(place_labels(targets, fitted.room)),
            *note,
        ),
    )


def find_new(plan: Plan, step: Step) -> tuple[str, ...]:
    """Return the pieces that go on in a step, those of the sub-assemblies it joins included."""
    joined = [
        name
        for other in plan.assembly.steps
        if other.apart and other.apart in step.joins
        for name in (*other.pieces, *other.present)
    ]
    return tuple(dict.fromkeys((*step.pieces, *joined)))


def _note(best: Viewpoint) -> list[Item]:
    """Return words under a picture that is not seen from the usual side."""
    text = f"Seen {best.words}"
    at = (WIDTH_MM / 2, MARGIN_MM + 1.0)
    return [Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor="middle")]


def _is_unseen(faces: Sequence[Polygon]) -> bool:
    return sum(face.area for face in faces) < UNSEEN_MM2


def _hidden_of(looked: Look, names: Sequence[str]) -> list[Segment]:
    return [s for s in looked.edges.hidden if looked.names[s.owner] in names]


def _draw_lines(looked: Look, alone: Edges, sheet: Sheet, new: Sequence[str]) -> list[Item]:
    """Return quiet edges, then those of new pieces, dashed behind what was there before.

    Args:
        looked: Everything in the picture.
        alone: The edges of the new pieces with nothing else there.
        sheet: Where they come on paper.
        new: Names of the new pieces.
    """
    visible = looked.edges.visible
    fresh = [segment for segment in visible if looked.names[segment.owner] in new]
    quiet = [segment for segment in visible if looked.names[segment.owner] not in new]
    return [
        *draw_edges(quiet, sheet, "quiet"),
        *draw_edges(subtract_segments(alone.visible, visible), sheet, "hidden"),
        *draw_edges(fresh, sheet, "outline"),
    ]


def _entry(plan: Plan, pieces: dict[str, Piece], screw: Fastener) -> tuple[Vec3, Vec3]:
    """Return where a screw goes into the wood and its direction; of a dowel, where it begins."""
    hole = None if _is_inside(screw) else _first_hole(plan.joinery.holes, screw)
    at = screw.head if hole is None else pieces[hole.piece].frame.to_world(hole.at)
    return at, screw.direction


def _is_inside(screw: Fastener) -> bool:
    """Whether it is set between two pieces and not driven from outside, as a dowel is."""
    return screw.goods.kind == "dowel"


def _first_hole(holes: Iterable[BoredHole], screw: Fastener) -> BoredHole | None:
    """Return the pocket or clearance hole the driver goes into."""
    return next(
        (
            hole
            for hole in holes
            if hole.fastener == screw.id and hole.piece == screw.through[0] and hole.kind != "pilot"
        ),
        None,
    )


def _draw_screws(
    view: View,
    sheet: Sheet,
    entries: Sequence[tuple[Vec3, Vec3]],
    screws: Sequence[Fastener],
) -> list[Item]:
    """Return a line from head to tip for every fastener, with a disc where a screw goes in."""
    lines: list[Item] = []
    heads: list[Item] = []
    for (at, _), screw in zip(entries, screws, strict=True):
        start, tip = (sheet.place(view.project(point)) for point in (at, screw.tip))
        lines.append(Stroke(points=(start, tip), layer="screw"))
        if not _is_inside(screw):
            heads.append(Disc(center=start, radius_mm=HEAD_MM, tone="screw"))
    return [*lines, *heads]


def _keep_free(
    shown: Mapping[str, Sequence[Polygon]], driven: Sequence[Item]
) -> dict[str, tuple[Polygon, ...]]:
    """Return faces without what screws take up, so that no label stands on one."""
    lines = [LineString(item.points) for item in driven if isinstance(item, Stroke)]
    taken = shapely.union_all([line.buffer(HEAD_MM + 0.6) for line in lines])
    return {
        name: tuple(
            part
            for face in faces
            for part in shapely.get_parts(face.difference(taken))
            if isinstance(part, Polygon)
        )
        for name, faces in shown.items()
    }


def _describe(plan: Plan, new: Sequence[str], screws: Sequence[Fastener]) -> str:
    counts = [
        f"{count} × {part.label} {part.title}"
        for part in plan.parts.parts
        if (count := sum(1 for piece in part.pieces if piece.name in new))
    ]
    counts_words = join_words(count_fasteners(screws))
    verb = "go" if len(screws) > 1 else "goes"
    driven = f" {counts_words} {verb} in." if screws else ""
    return f"In green: {', '.join(counts)}.{driven}" if counts else f"No new pieces.{driven}"
