"""The picture of one step: what is there is quiet, what goes on is green, screws show their way."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.hidden_line import find_edges, find_lines
from generator.geometry.lines import Segment, subtract_segments
from generator.geometry.vectors import UP, Vec2, add, scale
from generator.model.assembly import Step
from generator.model.joinery import Fastener
from generator.model.plan import Plan
from generator.model.words import capital, count_fasteners, join_words
from generator.outputs.bodies import (
    Box,
    Sheet,
    Solids,
    draw_edges,
    draw_faces,
    quiet_on_paper,
    regions_on_paper,
    shadows_on_paper,
)
from generator.outputs.callouts import CALLOUT_MM, ROW_MM, Callout, draw_callouts, is_nearer_above
from generator.outputs.driven import GAP_MM, Driven, count_driven, draw_driven
from generator.outputs.enlarged import RADIUS_MM, ROOM_MM, draw_enlarged, find_place
from generator.outputs.hardware_marks import draw_fitted, find_fitted
from generator.outputs.labels import RADIUS_MM as BUBBLE_MM
from generator.outputs.labels import Label, Target, draw_labels, place_labels
from generator.outputs.panels import moved_items
from generator.outputs.scene import SMALLEST_TEXT_MM, Arrowhead, Disc, Item, Scene, Stroke, Words
from generator.outputs.seams import glue_beads, glue_lines, lines_behind
from generator.outputs.shelf_pins import draw_pins
from generator.outputs.step_work import StepWork, bounds_of_work, find_work
from generator.outputs.viewpoints import Viewpoint
from generator.outputs.views import MARGIN_MM, WIDTH_MM, Fitted, fit_picture

NOTE_MM: Final = 5.0
"""Room for a line of words under the picture."""

UNSEEN_MM2: Final = 6.0
"""A piece that shows less than this on paper is drawn dashed as well."""

SMALL_MM: Final = 4.5
"""A fastener that is shorter on paper is shown enlarged as well."""

SHOWN_MM: Final = 10.0
"""How long it is in the enlarged part."""

MOST_TIMES: Final = 5.0
"""Nothing is enlarged more: the part shown must be found in the picture."""

ARROW_MM: Final = 8.0
"""Length of the arrow that says where the top of a turned piece is."""

LEAST_GLUE_MM: Final = 5.0
"""If less of all seams is seen on paper, the glue is drawn through the wood."""

SHOWN_SEAM_MM: Final = 2.0
"""A stretch that is shorter on paper is not pointed at."""

CLEAR_MM: Final = 0.9
"""Between fasteners and bubbles."""


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A picture without its words and its enlarged part.

    Attributes:
        wood: Faces and edges.
        solid: Fasteners, pins and hardware.
        taken: Faces of wood, fasteners and labels, as shapes on paper.
    """

    fitted: Fitted
    wood: list[Item]
    marks: list[Item]
    solid: list[Item]
    labels: tuple[Label, ...]
    callouts: list[Callout]
    taken: tuple[BaseGeometry, ...]


def draw_step(plan: Plan, step: Step, solids: Solids | None = None) -> Scene:
    """Return the picture of a step, turned to the side where the work is."""
    work = find_work(plan, step, solids)
    note = [] if work.best.is_usual else _note(work.best)
    base = MARGIN_MM + 1.0 + (NOTE_MM if note else 0.0)
    foot = (NOTE_MM if note else 0.0) + (ROW_MM if _has_callouts(work) else 0.0)
    bounds = bounds_of_work(work)
    drawn = _draw(work, fit_picture(bounds, len(work.new), foot))
    small = _smallest(work, drawn.fitted.sheet)
    inset: list[Item] = []
    if small is not None:
        at = _find_inset(work, drawn, small, foot)
        if at is None:
            higher = foot + 2 * (RADIUS_MM + ROOM_MM)
            drawn = _draw(work, fit_picture(bounds, len(work.new), higher))
            focus = _focus(work, drawn.fitted.sheet, small)[0]
            reach = RADIUS_MM + MARGIN_MM
            x = min(max(focus[0], reach), WIDTH_MM - reach)
            at = (x, MARGIN_MM + foot + RADIUS_MM + ROOM_MM)
        inset = _draw_inset(work, drawn, small, at)
    items = [*drawn.wood, *drawn.marks, *drawn.solid, *draw_labels(drawn.labels), *inset]
    if work.best.is_turned:
        items += _draw_arrow(work, drawn, inset, foot)
    low, high = _split(drawn, base)
    free = _in_the_way(drawn, inset)
    words = draw_callouts(low, WIDTH_MM, base, free)
    height = drawn.fitted.height_mm
    if high:
        above = height + CALLOUT_MM
        items += draw_callouts(high, WIDTH_MM, above, free, from_above=True)
        height += ROW_MM
    if high and not low:
        # Nothing is said below the picture: what was kept free for it is taken away.
        items = [*moved_items(items, 0.0, -ROW_MM)]
        height -= ROW_MM
    screws = [one for one in plan.joinery.fasteners if one.id in frozenset(step.fasteners)]
    return Scene(
        width_mm=WIDTH_MM,
        height_mm=height,
        title=f"Step {step.order}: {step.title}",
        description=f"{capital(work.best.words)}. {_describe(plan, work.new, screws)}",
        items=(*items, *words, *note),
    )


def _split(drawn: _Drawn, base: float) -> tuple[list[Callout], list[Callout]]:
    """Return what is said below a picture, and what above it."""
    height = drawn.fitted.height_mm
    low = [one for one in drawn.callouts if not is_nearer_above(one, base, height)]
    return low, [one for one in drawn.callouts if one not in low]


def _has_callouts(work: StepWork) -> bool:
    return bool(work.driven or work.pins or work.step.hardware or work.step.glued)


def _draw(work: StepWork, fitted: Fitted) -> _Drawn:
    """Return everything but words and the enlarged part, as it comes on a sheet."""
    sheet, view, looked = fitted.sheet, work.best.view, work.looked
    shown = regions_on_paper(looked, sheet)
    unseen = tuple(name for name in work.new if _is_unseen(shown.get(name, ())))
    marks, callouts = _draw_marks(work, sheet)
    places = find_fitted(work.plan, work.step, view, sheet)
    solid = [
        *draw_driven(work.driven, work.seen, view, sheet, is_true=False),
        *draw_pins(work.pins, view, sheet),
        *draw_fitted(at for spots in places.values() for at in spots),
    ]
    around = _around(solid)
    body = [*quiet_on_paper(looked, sheet), *(face for faces in shown.values() for face in faces)]
    faces = _keep_free(shown | shadows_on_paper(looked, sheet, unseen), around)
    letters = {piece.name: piece.label for piece in work.plan.parts.pieces()}
    targets = [Target(letters[name], faces.get(name, ())) for name in work.new]
    labels = place_labels(targets, fitted.room)
    return _Drawn(
        fitted=fitted,
        wood=[*draw_faces(looked, sheet), *_draw_wood_lines(work, sheet, unseen)],
        marks=marks,
        solid=solid,
        labels=labels,
        callouts=[*_count(work, sheet, places), *callouts],
        taken=(*body, *around, *_label_shapes(labels)),
    )


def _draw_wood_lines(work: StepWork, sheet: Sheet, unseen: Sequence[str]) -> list[Item]:
    """Return quiet edges, then those of new pieces, dashed behind what was there before."""
    looked = work.looked
    visible = looked.visible
    fresh = [segment for segment in visible if looked.names[segment.owner] in work.new]
    quiet = [segment for segment in visible if looked.names[segment.owner] not in work.new]
    edges = find_edges(looked.mesh, looked.view).hidden if unseen else ()
    hidden = [segment for segment in edges if looked.names[segment.owner] in unseen]
    return [
        *draw_edges([*quiet, *work.outlines], sheet, "quiet"),
        *draw_edges(subtract_segments(work.alone, visible), sheet, "hidden"),
        *draw_edges(fresh, sheet, "outline"),
        *draw_edges(hidden, sheet, "hidden"),
    ]


def _draw_marks(work: StepWork, sheet: Sheet) -> tuple[list[Item], list[Callout]]:
    """Return layout lines for screws and seams with glue, and what is said of them."""
    mesh, view = work.looked.mesh, work.best.view
    edges = work.looked.visible
    behind = find_lines(mesh, view, lines_behind(work.plan, work.step, work.driven)).visible
    pencil = subtract_segments(behind, edges)
    seams = find_lines(mesh, view, glue_lines(work.plan, work.step)).visible
    glue = [s for s in seams if math.dist(s.start, s.end) * sheet.scale > SHOWN_SEAM_MM]
    if _length(glue) * sheet.scale < LEAST_GLUE_MM:
        beads = find_lines(mesh, view, glue_beads(work.plan, work.step))
        glue = [*beads.visible, *beads.hidden]
    callouts = [
        Callout(text, spots)
        for text, segments in (("what lies behind", pencil), ("glue", glue))
        if (spots := _middles(segments, sheet))
    ]
    said = {one.text for one in callouts}
    items = [
        *(draw_edges(pencil, sheet, "mark") if "what lies behind" in said else ()),
        *(draw_edges(glue, sheet, "glue") if "glue" in said else ()),
    ]
    return items, callouts


def _length(segments: Iterable[Segment]) -> float:
    return sum(math.dist(segment.start, segment.end) for segment in segments)


def _middles(segments: Iterable[Segment], sheet: Sheet) -> tuple[Vec2, ...]:
    """Return places along segments that are long enough on paper to be pointed at."""
    return tuple(
        sheet.place(
            (
                s.start[0] + (s.end[0] - s.start[0]) * part,
                s.start[1] + (s.end[1] - s.start[1]) * part,
            )
        )
        for s in segments
        for part in (0.5, 0.25, 0.75)
        if math.dist(s.start, s.end) * sheet.scale > SHOWN_SEAM_MM
    )


def _count(work: StepWork, sheet: Sheet, places: Mapping[str, Sequence[Vec2]]) -> list[Callout]:
    """Return how many there are of each fastener, of pins, and of each piece of hardware."""
    view = work.best.view
    found = []
    named = {o.name for o, is_open in zip(work.driven, work.seen, strict=True) if is_open}
    for name, count in count_driven(work.driven).items():
        spots = tuple(
            sheet.place(view.project(add(one.at, scale(one.way, -GAP_MM / sheet.scale))))
            for one, is_open in zip(work.driven, work.seen, strict=True)
            if one.name == name and (is_open or name not in named)
        )
        far = "" if name in named or _is_set_inside(work, name) else ", from the far side"
        found.append(Callout(f"{count} × {name}{far}", spots))
    if work.pins:
        ends = tuple(sheet.place(view.project(end)) for _, end in work.pins)
        found.append(Callout(f"{len(ends)} × shelf pin", ends))
    found += [Callout(f"{len(at)} × {name}", tuple(at)) for name, at in places.items()]
    return found


def _is_set_inside(work: StepWork, name: str) -> bool:
    return any(one.is_inside for one in work.driven if one.name == name)


def _smallest(work: StepWork, sheet: Sheet) -> Driven | None:
    """Return a fastener that is too short on paper to show how it stands, the lowest in sight."""
    view = work.best.view
    small = [
        one
        for one, is_open in zip(work.driven, work.seen, strict=True)
        if is_open and not one.is_inside and one.length_mm * sheet.scale < SMALL_MM
    ]
    return min(
        small,
        key=lambda one: tuple(round(x, 1) for x in (view.project(one.at)[1], one.at[0])),
        default=None,
    )


def _focus(work: StepWork, sheet: Sheet, one: Driven) -> tuple[Vec2, float]:
    """Return the middle of a fastener as drawn enlarged, on the paper, and how often larger."""
    times = min(MOST_TIMES, SHOWN_MM / (one.length_mm * sheet.scale))
    half = (GAP_MM / (sheet.scale * times) + one.length_mm) / 2
    middle = add(one.at, scale(one.way, -half))
    x, y = sheet.place(work.best.view.project(middle))
    return (float(x), float(y)), times


def _find_inset(work: StepWork, drawn: _Drawn, small: Driven, foot: float) -> Vec2 | None:
    """Return a free place for the enlarged part, above the words."""
    focus, _ = _focus(work, drawn.fitted.sheet, small)
    within = Box(0.0, MARGIN_MM + foot, WIDTH_MM, drawn.fitted.height_mm)
    return find_place(drawn.taken, within, focus)


def _draw_inset(work: StepWork, drawn: _Drawn, small: Driven, at: Vec2) -> list[Item]:
    sheet = drawn.fitted.sheet
    focus, times = _focus(work, sheet, small)
    large = Sheet(
        sheet.scale * times,
        (
            at[0] + (sheet.at[0] - focus[0]) * times,
            at[1] + (sheet.at[1] - focus[1]) * times,
        ),
    )
    driven = draw_driven(work.driven, work.seen, work.best.view, large, is_true=True)
    return draw_enlarged([*drawn.wood, *drawn.marks], focus, times, at, driven)


def _in_the_way(drawn: _Drawn, inset: Sequence[Item]) -> BaseGeometry:
    """Return what leaders of words must not meet: letters, their leaders, the enlarged part."""
    links = [LineString(i.points) for i in inset if isinstance(i, Stroke) and i.layer == "leader"]
    discs = [Point(i.center).buffer(i.radius_mm) for i in inset if isinstance(i, Disc)]
    large = [disc for disc in discs if disc.area > RADIUS_MM * RADIUS_MM]
    return shapely.union_all([*_label_shapes(drawn.labels), *large, *links]).buffer(0.5)


def _label_shapes(labels: Iterable[Label]) -> list[BaseGeometry]:
    shapes: list[BaseGeometry] = []
    for label in labels:
        shapes.append(Point(label.at).buffer(BUBBLE_MM))
        if label.has_leader:
            shapes.append(LineString([label.at, label.on]))
    return shapes


def _note(best: Viewpoint) -> list[Item]:
    """Return words under a picture that is not seen from the usual side."""
    text = best.words
    at = (WIDTH_MM / 2, MARGIN_MM + 1.0)
    return [Words(at=at, text=capital(text), size_mm=SMALLEST_TEXT_MM, anchor="middle")]


def _draw_arrow(work: StepWork, drawn: _Drawn, inset: Sequence[Item], foot: float) -> list[Item]:
    """Return an arrow to where the top of the finished piece is, in the freest corner."""
    x, y, _ = work.best.view.project(UP)
    length = math.hypot(x, y)
    way = (x / length, y / length)
    half = ARROW_MM / 2 + 7.5
    low, high = MARGIN_MM + foot + half, drawn.fitted.height_mm - MARGIN_MM - half
    heights = (low, high, (low + high) / 2)
    places = [(at_x, at_y) for at_y in heights for at_x in (half, WIDTH_MM - half)]
    taken = np.array([*drawn.taken, _in_the_way(drawn, inset)])
    away = shapely.distance(shapely.points(places)[:, None], taken).min(axis=1)
    middle = places[int(np.argmax(np.minimum(away, half).round(1)))]
    start = (middle[0] - way[0] * ARROW_MM / 2, middle[1] - way[1] * ARROW_MM / 2)
    tip = (middle[0] + way[0] * ARROW_MM / 2, middle[1] + way[1] * ARROW_MM / 2)
    word = (tip[0] + way[0] * 3.0, tip[1] + way[1] * 3.0 - SMALLEST_TEXT_MM * 0.36)
    return [
        Stroke(points=(start, tip), layer="dimension"),
        Arrowhead(at=tip, direction=way),
        Words(at=word, text="top", size_mm=SMALLEST_TEXT_MM, anchor="middle", halo=True),
    ]


def _is_unseen(faces: Sequence[Polygon]) -> bool:
    return sum(face.area for face in faces) < UNSEEN_MM2


def _around(solid: Sequence[Item]) -> list[BaseGeometry]:
    """Return what fasteners, pins and hardware take up on paper, with some room around each."""
    lines = [item.points for item in solid if isinstance(item, Stroke)]
    discs = [item for item in solid if isinstance(item, Disc)]
    shapes: list[BaseGeometry] = []
    if lines:
        shapes += shapely.buffer(shapely.linestrings(lines), CLEAR_MM, quad_segs=1).tolist()
    if discs:
        middles = shapely.points([disc.center for disc in discs])
        radii = [disc.radius_mm + CLEAR_MM for disc in discs]
        shapes += shapely.buffer(middles, radii, quad_segs=3).tolist()
    return shapes


def _keep_free(
    shown: Mapping[str, Sequence[Polygon]], around: Sequence[BaseGeometry]
) -> dict[str, tuple[Polygon, ...]]:
    """Return faces without what fasteners take up, so that no label stands on one."""
    tree = STRtree(around)

    def cleared(face: Polygon) -> Sequence[BaseGeometry]:
        met = sorted(tree.query(face, predicate="intersects").tolist())
        if not met:
            return (face,)
        left = face.difference(shapely.union_all([around[i] for i in met]))
        return list(shapely.get_parts(left))

    return {
        name: tuple(part for face in faces for part in cleared(face) if isinstance(part, Polygon))
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
