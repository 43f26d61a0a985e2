"""The picture of one step: what is there is quiet, what goes on is green, screws show their way."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from shapely.geometry import Polygon

from generator.geometry.capsules import Capsules, make_capsules
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
from generator.outputs.driven import GAP_MM, Driven, count_driven, cover_driven, draw_driven
from generator.outputs.enlarged import RADIUS_MM, ROOM_MM, draw_enlarged, find_place, has_place
from generator.outputs.hardware_marks import cover_fitted, draw_fitted, find_fitted
from generator.outputs.labels import Label, Target, draw_labels, place_labels
from generator.outputs.panels import moved_items
from generator.outputs.scene import SMALLEST_TEXT_MM, Arrowhead, Disc, Item, Scene, Stroke, Words
from generator.outputs.seams import glue_beads, glue_lines, lines_behind
from generator.outputs.shelf_pins import cover_pins, draw_pins
from generator.outputs.step_room import Taken, capsules_of, find_taken, keep_free, rooms_around
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

LEADER_MM: Final = 0.5
"""Leaders of words keep so far from bubbles, their leaders and the enlarged part."""


@dataclass(frozen=True, slots=True)
class _Placed:
    """Where wood, fasteners and labels come on the sheet of a step.

    Attributes:
        shown: Visible faces of the new pieces.
        places: Of hardware, by what it is called.
        rooms: What fasteners, pins and hardware take up.
        labels: None before they have their places.
        taken: By all of this.
    """

    fitted: Fitted
    shown: Mapping[str, Sequence[Polygon]]
    places: Mapping[str, Sequence[Vec2]]
    rooms: Sequence[Polygon]
    labels: tuple[Label, ...]
    taken: Taken


@dataclass(frozen=True, slots=True)
class _Enlarged:
    """A fastener that is shown enlarged as well, and where on paper."""

    small: Driven
    at: Vec2


def draw_step(plan: Plan, step: Step, solids: Solids | None = None) -> Scene:
    """Return the picture of a step, turned to the side where the work is."""
    work = find_work(plan, step, solids)
    note = [] if work.best.is_usual else _note(work.best)
    base = MARGIN_MM + 1.0 + (NOTE_MM if note else 0.0)
    foot = (NOTE_MM if note else 0.0) + (ROW_MM if _has_callouts(work) else 0.0)
    placed, enlarged = _settle(work, foot)
    wood = _draw_wood(work, placed)
    marks, seams = _draw_marks(work, placed.fitted.sheet)
    inset = _draw_inset(work, placed, enlarged, [*wood, *marks]) if enlarged else []
    items = [*wood, *marks, *_draw_solid(work, placed), *draw_labels(placed.labels), *inset]
    free = _in_the_way(placed, inset)
    if work.best.is_turned:
        items += _draw_arrow(work, placed, free, foot)
    height = placed.fitted.height_mm
    low, high = _split([*_count(work, placed), *seams], base, height)
    words = draw_callouts(low, WIDTH_MM, base, free)
    if high:
        above = height + CALLOUT_MM
        items += draw_callouts(high, WIDTH_MM, above, free, from_above=True)
        height += ROW_MM
    if high and not low:
        # Nothing is said below the picture: what was kept free for it is taken away.
        items = [*moved_items(items, 0.0, -ROW_MM)]
        height -= ROW_MM
    driven = frozenset(step.fasteners)
    screws = [one for one in plan.joinery.fasteners if one.id in driven]
    return Scene(
        width_mm=WIDTH_MM,
        height_mm=height,
        title=f"Step {step.order}: {step.title}",
        description=f"{capital(work.best.words)}. {_describe(plan, work.new, screws)}",
        items=(*items, *words, *note),
    )


def _settle(work: StepWork, foot: float) -> tuple[_Placed, _Enlarged | None]:
    """Return where everything comes on a sheet; it grows where an enlarged part has no room."""
    bounds = bounds_of_work(work)
    placed = _place(work, fit_picture(bounds, len(work.new), foot))
    small = _smallest(work, placed.fitted.sheet)
    if small is None:
        return _label(work, placed), None
    at = _find_inset(work, placed, small, foot)
    if at is not None:
        placed = _label(work, placed)
        if not has_place(placed.taken.away, at):
            at = _find_inset(work, placed, small, foot)
        if at is not None:
            return placed, _Enlarged(small, at)
    higher = foot + 2 * (RADIUS_MM + ROOM_MM)
    placed = _label(work, _place(work, fit_picture(bounds, len(work.new), higher)))
    focus = _focus(work, placed.fitted.sheet, small)[0]
    reach = RADIUS_MM + MARGIN_MM
    x = min(max(focus[0], reach), WIDTH_MM - reach)
    return placed, _Enlarged(small, (x, MARGIN_MM + foot + RADIUS_MM + ROOM_MM))


def _split(
    callouts: Sequence[Callout], base: float, height: float
) -> tuple[list[Callout], list[Callout]]:
    """Return what is said below a picture, and what above it."""
    low = [one for one in callouts if not is_nearer_above(one, base, height)]
    return low, [one for one in callouts if one not in low]


def _has_callouts(work: StepWork) -> bool:
    return bool(work.driven or work.pins or work.step.hardware or work.step.glued)


def _place(work: StepWork, fitted: Fitted) -> _Placed:
    """Return where wood and fasteners come on a sheet."""
    sheet, view, looked = fitted.sheet, work.best.view, work.looked
    shown = regions_on_paper(looked, sheet)
    places = find_fitted(work.plan, work.step, view, sheet)
    wedges = [
        *cover_driven(work.driven, view, sheet),
        *cover_pins(work.pins, view, sheet),
        *cover_fitted(at for spots in places.values() for at in spots),
    ]
    rooms = rooms_around(wedges)
    faces = [face for faces in shown.values() for face in faces]
    taken = find_taken([*quiet_on_paper(looked, sheet), *faces, *rooms])
    return _Placed(fitted, shown, places, rooms, (), taken)


def _label(work: StepWork, placed: _Placed) -> _Placed:
    """Return a picture with the labels of its new pieces."""
    hidden = shadows_on_paper(work.looked, placed.fitted.sheet, _unseen(work, placed))
    faces = keep_free({**placed.shown, **hidden}, placed.rooms)
    letters = {piece.name: piece.label for piece in work.plan.parts.pieces()}
    targets = [Target(letters[name], faces.get(name, ())) for name in work.new]
    labels = place_labels(targets, placed.fitted.room)
    return replace(placed, labels=labels, taken=placed.taken.with_labels(labels))


def _unseen(work: StepWork, placed: _Placed) -> tuple[str, ...]:
    """Return the new pieces that show next to nothing."""
    return tuple(
        name
        for name in work.new
        if sum(face.area for face in placed.shown.get(name, ())) < UNSEEN_MM2
    )


def _draw_solid(work: StepWork, placed: _Placed) -> list[Item]:
    """Return fasteners, pins and hardware."""
    view, sheet = work.best.view, placed.fitted.sheet
    return [
        *draw_driven(work.driven, work.seen, view, sheet, is_true=False),
        *draw_pins(work.pins, view, sheet),
        *draw_fitted(at for spots in placed.places.values() for at in spots),
    ]


def _draw_wood(work: StepWork, placed: _Placed) -> list[Item]:
    """Return faces, quiet edges, then those of new pieces, dashed behind what was there before."""
    looked, sheet, unseen = work.looked, placed.fitted.sheet, _unseen(work, placed)
    visible = looked.visible
    fresh = [segment for segment in visible if looked.names[segment.owner] in work.new]
    quiet = [segment for segment in visible if looked.names[segment.owner] not in work.new]
    edges = find_edges(looked.mesh, looked.view).hidden if unseen else ()
    hidden = [segment for segment in edges if looked.names[segment.owner] in unseen]
    return [
        *draw_faces(looked, sheet),
        *draw_edges([*quiet, *work.outlines], sheet, "quiet"),
        *draw_edges(subtract_segments(work.alone, visible), sheet, "hidden"),
        *draw_edges(fresh, sheet, "outline"),
        *draw_edges(hidden, sheet, "hidden"),
    ]


def _draw_marks(work: StepWork, sheet: Sheet) -> tuple[list[Item], list[Callout]]:
    """Return layout lines for screws and seams with glue, and what is said of them."""
    mesh, view = work.looked.mesh, work.best.view
    edges = work.looked.visible
    behind = lines_behind(work.plan, work.step, work.driven)
    seen = find_lines(mesh, view, [*behind, *glue_lines(work.plan, work.step)]).visible
    pencil = subtract_segments([s for s in seen if s.owner < len(behind)], edges)
    glue = [
        segment
        for segment in seen
        if segment.owner >= len(behind)
        and math.dist(segment.start, segment.end) * sheet.scale > SHOWN_SEAM_MM
    ]
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


def _count(work: StepWork, placed: _Placed) -> list[Callout]:
    """Return how many there are of each fastener, of pins, and of each piece of hardware."""
    view, sheet = work.best.view, placed.fitted.sheet
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
    found += [Callout(f"{len(at)} × {name}", tuple(at)) for name, at in placed.places.items()]
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


def _find_inset(work: StepWork, placed: _Placed, small: Driven, foot: float) -> Vec2 | None:
    """Return a free place for the enlarged part, above the words."""
    focus, _ = _focus(work, placed.fitted.sheet, small)
    within = Box(0.0, MARGIN_MM + foot, WIDTH_MM, placed.fitted.height_mm)
    return find_place(placed.taken.away, within, focus)


def _draw_inset(
    work: StepWork, placed: _Placed, enlarged: _Enlarged, items: Sequence[Item]
) -> list[Item]:
    sheet, at = placed.fitted.sheet, enlarged.at
    focus, times = _focus(work, sheet, enlarged.small)
    large = Sheet(
        sheet.scale * times,
        (
            at[0] + (sheet.at[0] - focus[0]) * times,
            at[1] + (sheet.at[1] - focus[1]) * times,
        ),
    )
    driven = draw_driven(work.driven, work.seen, work.best.view, large, is_true=True)
    return draw_enlarged(items, focus, times, at, driven)


def _in_the_way(placed: _Placed, inset: Sequence[Item]) -> Capsules:
    """Return what leaders of words must not meet: letters, their leaders, the enlarged part."""
    found = capsules_of(placed.labels, LEADER_MM)
    for item in inset:
        if isinstance(item, Stroke) and item.layer == "leader":
            found.append((item.points[0], item.points[-1], LEADER_MM))
        if isinstance(item, Disc) and item.radius_mm >= RADIUS_MM:
            found.append((item.center, item.center, item.radius_mm + LEADER_MM))
    return make_capsules(found)


def _note(best: Viewpoint) -> list[Item]:
    """Return words under a picture that is not seen from the usual side."""
    text = best.words
    at = (WIDTH_MM / 2, MARGIN_MM + 1.0)
    return [Words(at=at, text=capital(text), size_mm=SMALLEST_TEXT_MM, anchor="middle")]


def _draw_arrow(work: StepWork, placed: _Placed, free: Capsules, foot: float) -> list[Item]:
    """Return an arrow to where the top of the finished piece is, in the freest corner."""
    x, y, _ = work.best.view.project(UP)
    length = math.hypot(x, y)
    way = (x / length, y / length)
    half = ARROW_MM / 2 + 7.5
    low, high = MARGIN_MM + foot + half, placed.fitted.height_mm - MARGIN_MM - half
    heights = (low, high, (low + high) / 2)
    places = [(at_x, at_y) for at_y in heights for at_x in (half, WIDTH_MM - half)]
    at = np.array(places)
    away = np.minimum(placed.taken.away(at), free.away(at))
    middle = places[int(np.argmax(np.minimum(away, half).round(1)))]
    start = (middle[0] - way[0] * ARROW_MM / 2, middle[1] - way[1] * ARROW_MM / 2)
    tip = (middle[0] + way[0] * ARROW_MM / 2, middle[1] + way[1] * ARROW_MM / 2)
    word = (tip[0] + way[0] * 3.0, tip[1] + way[1] * 3.0 - SMALLEST_TEXT_MM * 0.36)
    return [
        Stroke(points=(start, tip), layer="dimension"),
        Arrowhead(at=tip, direction=way),
        Words(at=word, text="top", size_mm=SMALLEST_TEXT_MM, anchor="middle", halo=True),
    ]


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
