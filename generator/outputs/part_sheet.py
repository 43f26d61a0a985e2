"""The drawing of a part: what a builder with a saw in hand needs, on one sheet.

From the top: what it is; the part seen on face A with its sizes; turned over, where work is done
on face B too; sections of bevelled edges; the table of holes. Copies that are bored or marked
differently get a sheet each.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from generator.model.hardware_words import hardware_sentences
from generator.model.housing_words import (
    housing_ends,
    housing_face,
    housing_name,
    housing_place,
    housing_size,
)
from generator.model.parts import FACE_A, FACE_B, FaceName, Part, Piece
from generator.model.plan import Plan
from generator.model.words import capital
from generator.model.work import Work, find_work, format_hands, format_names
from generator.outputs.edge_names import draw_edge_names
from generator.outputs.edge_sections import draw_section, edge_sentence, find_sections
from generator.outputs.face_boxes import FaceBoxes, find_face_boxes
from generator.outputs.face_labels import draw_face_labels, draw_grain
from generator.outputs.face_paper import FacePaper, draw_breaks, find_paper
from generator.outputs.hardware_marks import draw_hardware
from generator.outputs.hole_table import HoleRow, draw_hole_table, find_hole_rows, format_bit
from generator.outputs.outline_points import draw_point_numbers, find_outline_rows
from generator.outputs.panels import around_all, as_array, box_of, dots_along, grown, words_box
from generator.outputs.part_bores import draw_holes
from generator.outputs.part_channels import (
    channel_notes,
    draw_channel_section,
    draw_channels,
    find_channel_sections,
    find_landings,
)
from generator.outputs.part_face import (
    draw_edging,
    draw_marks,
    draw_openings,
    draw_wood,
)
from generator.outputs.part_labels import Obstacles, draw_size_labels, find_size_labels
from generator.outputs.part_sizes import draw_sizes, find_datum
from generator.outputs.part_view import edge_word, face_number, face_word, find_view
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
    Anchor,
    Disc,
    Item,
    Stroke,
    Words,
)
from generator.outputs.strips import MARGIN_MM, PAGE_MM, Panels, Strip, make_strip
from generator.units import format_angle, format_length, format_size

TITLE_MM: Final = 5.0
FACE_UP: Final = (
    "Saw each bevel with its long point up: the blade leans under the part, the offcut falls clear."
)
"""So the size is set on the face that is seen: common practice, no source."""


def draw_panels(plan: Plan, part: Part) -> tuple[Panels, ...]:
    """Return the sheets of a part before their strips are stacked."""
    works = find_work(plan, part)
    return tuple(_draw_panels(plan, part, work, works) for work in works)


def _draw_panels(plan: Plan, part: Part, work: Work, works: tuple[Work, ...]) -> Panels:
    view_a = find_paper(part, find_view(part, "A"), work)
    view_b = replace(view_a, view=find_view(part, "B"))
    papers = (view_a, view_b)
    holes = find_hole_rows(plan, papers, work)
    rows = (*find_outline_rows(view_a, work, plan.edition.system), *holes)
    panels = [make_strip((0.0, _title(plan, view_a, work, works)))]
    panels.append(_face_panel(plan, work, view_a, rows, is_first=True))
    if _has_work(part, work, FACE_B):
        panels.append(_face_panel(plan, work, view_b, rows, is_first=False))
    sections = find_sections(part, view_a.view)
    name = part.section if len(sections) == 1 else ""
    drawn = [draw_section(part, work, one, plan.edition.system, name) for one in sections]
    channels = find_channel_sections(part, plan.edition.system)
    drawn += [draw_channel_section(plan, part, work, one) for one in channels]
    panels += [_beside(drawn[i : i + 2]) for i in range(0, len(drawn), 2)]
    heads = _heads(view_a, work)
    notes = _notes(plan, part, work)
    if rows or notes:
        panels.append(make_strip((0.0, draw_hole_table(rows, heads, notes))))
    return Panels(
        title=f"Part {part.label}, {part.title}" + (f": {work.names}" if len(works) > 1 else ""),
        description=_description(plan, part, work, rows, heads),
        scale=_scale(view_a),
        strips=tuple(panels),
    )


def _scale(paper: FacePaper) -> str:
    return f"scale 1:{paper.ratio}" + (", shortened" if paper.breaks else "")


def _has_work(part: Part, work: Work, side: int) -> bool:
    sides = {hole.side for hole in work.holes} | {mark.side for mark in work.marks}
    sides |= {one.side for one in work.hardware}
    return side in sides | {housing.side for housing in part.housings}


def _title(plan: Plan, paper: FacePaper, work: Work, works: tuple[Work, ...]) -> tuple[Item, ...]:
    """Return the strip that names the part, its top left corner at 0."""
    part = paper.part
    system = plan.edition.system
    right = PAGE_MM - 2 * MARGIN_MM
    size = f"{format_size(part.length_mm, system)} × {format_length(part.width_mm, system)}"
    is_bevelled = any(edge.tilt_deg for edge in part.edges)
    size += ", long point to long point" if is_bevelled else ""
    thick = f"{format_length(part.thickness_mm, system)} thick"
    if part.stock.is_round:
        size = f"{format_length(part.length_mm, system)} long"
        thick = f"Ø {format_length(part.thickness_mm, system)}"
    unit = "inches" if system == "imperial" else "mm"
    notes = _copy_notes(part, work) if len(works) > 1 else ()
    hands = format_hands(works)
    count = f"make {part.count}: {hands}" if hands else f"make {part.count}"
    low = -22.0 - 5.2 * len(notes)
    return (
        Disc(center=(4.5, -4.8), radius_mm=4.5, tone="bubble", layer="leader"),
        Words(at=(4.5, -6.5), text=part.label, size_mm=TITLE_MM, anchor="middle", bold=True),
        Words(at=(12.0, -6.5), text=part.title, size_mm=TITLE_MM, bold=True),
        _line((right, -6.5), count, "end", TEXT_MM),
        _line((0.0, -14.5), f"Finished {size}", "start", TEXT_MM),
        _line((right, -14.5), _scale(paper), "end", SMALLEST_TEXT_MM),
        _line((0.0, -19.6), f"{part.stock.title}, {thick}", "start", SMALLEST_TEXT_MM),
        _line((right, -19.6), f"sizes in {unit}", "end", SMALLEST_TEXT_MM),
        *(
            Words(at=(0.0, -25.5 - 5.2 * i), text=note, size_mm=TEXT_MM, bold=True)
            for i, note in enumerate(notes)
        ),
        Stroke(points=((0.0, low), (right, low)), layer="frame"),
    )


def _copy_notes(part: Part, work: Work) -> tuple[str, ...]:
    """Return which copies the sheet is for, and which have a sheet of their own."""
    others = tuple(piece.name for piece in part.pieces if piece not in work.pieces)
    count = f"{len(work.pieces)} of {part.count}"
    first = f"Mark and bore as drawn: {work.names} ({count})"
    second = f"Not for {format_names(others)}: see the other sheet of part {part.label}"
    mirror = (f"Mirror image of {work.mirror_of}",) if work.mirror_of else ()
    return (first, *mirror, second)


def _face_panel(
    plan: Plan, work: Work, paper: FacePaper, rows: Sequence[HoleRow], *, is_first: bool
) -> Strip:
    """Return a view of a face with a heading that says which face it is."""
    system = plan.edition.system
    sizes = draw_sizes(paper, work, system, is_first=is_first)
    tags = tuple((line, row.letter) for row in rows for line in row.tagged)
    boxes = find_face_boxes(paper, work)
    labels = draw_face_labels(paper, work, boxes, tags, find_landings(paper, plan))
    openings = draw_openings(paper)
    told = find_size_labels(paper, system) if is_first else ()
    if told:
        taken = _find_obstacles(paper, boxes, labels, (*sizes.items, *openings))
        labels += draw_size_labels(paper, told, taken)
    labels += draw_grain(paper, boxes, [*labels, *sizes.items, *openings])
    items: list[Item] = [
        *draw_wood(paper),
        *draw_edging(paper),
        *draw_channels(paper),
        *openings,
        *draw_marks(paper, work),
        *draw_breaks(paper),
        *draw_holes(paper, work),
        *draw_hardware(paper, work),
        *sizes.items,
        *(draw_point_numbers(paper) if is_first else ()),
        *labels,
    ]
    places = [box_of(item) for item in items]
    names = draw_edge_names(paper, work, sizes.crossings, list(zip(items, places, strict=True)))
    left, low, right, top = around_all([*places, *map(words_box, names)])
    shift = (PAGE_MM - 2 * MARGIN_MM - (right - left)) / 2 - left
    word = face_word(paper.part, work.pieces[0], paper.view.face)
    text = f"Seen on the {word} face" if is_first else f"Turned over: seen on the {word} face"
    text = "Seen from the side" if paper.part.stock.is_round else text
    heading = Words(at=(0.0, top + 4.0), text=text, size_mm=TEXT_MM, bold=True)
    return Strip(((0.0, (heading,)), (shift, (*items, *names))), low, words_box(heading)[3])


def _find_obstacles(
    paper: FacePaper, boxes: FaceBoxes, labels: Sequence[Item], drawn: Sequence[Item]
) -> Obstacles:
    """Return what the sizes on leaders keep off: labels, holes, openings, and all lines."""
    things = [grown(box_of(item), 0.5) for item in labels]
    things += boxes.holes.values()
    things += [paper.outline(opening.outline).bounds for opening in paper.part.openings]
    dots = dots_along(item.points for item in drawn if isinstance(item, Stroke))
    return Obstacles(as_array(things), np.concatenate((boxes.lines, dots)))


def _heads(paper: FacePaper, work: Work) -> tuple[str, str]:
    piece = work.pieces[0]
    end, edge = (find_datum(paper, work, axis).edge for axis in (0, 1))
    return (
        f"from {edge_word(paper.part, piece, end)} end",
        f"from {edge_word(paper.part, piece, edge)} edge",
    )


def _notes(plan: Plan, part: Part, work: Work) -> list[str]:
    notes = [*_show_notes(part, work), *_name_notes(work)]
    notes += [FACE_UP] if any(edge.tilt_deg for edge in part.edges) else []
    notes += _mitre_notes(part, work)
    notes += _edging_notes(part, work)
    notes += channel_notes(plan, part, work)
    notes += _hardware_notes(plan, part, work)
    mates = _mates(plan, part, work)
    if mates:
        notes.append(f"Dashed outlines are layout lines: {mates}.")
    notes += _pilot_notes(plan, work)
    return notes


def _name_notes(work: Work) -> list[str]:
    """Return whose faces and edges are named, where another copy stands turned round."""
    if not work.turned:
        return []
    named = format_names(tuple(one.name for one in work.pieces if one.name not in work.turned))
    return [f"Named as on {named}; made alike, but turned: {format_names(work.turned)}."]


def _show_notes(part: Part, work: Work) -> list[str]:
    """Return which face is looked at when the piece is finished, if the design says so."""
    faces: tuple[FaceName, ...] = ("A", "B")
    words = [
        face_word(part, work.pieces[0], face)
        for face in faces
        if all(face_number(face) in piece.show for piece in work.pieces)
    ]
    return (
        [f"Show face: {' and '.join(words)}. The better side of the wood goes there."]
        if words
        else []
    )


def _mitre_notes(part: Part, work: Work) -> list[str]:
    """Return how far an end or edge is off square in the face, where it is not bevelled as well."""
    return [
        f"The {edge_word(part, work.pieces[0], index)} {edge.kind} is "
        f"{format_angle(edge.mitre_deg)} off {'square' if edge.kind == 'end' else 'parallel'}."
        for index, edge in enumerate(part.edges)
        if edge.is_plain and edge.mitre_deg and not edge.tilt_deg
    ]


def _edging_notes(part: Part, work: Work) -> list[str]:
    """Return which edges get which edging; its thickness is not in the sizes."""
    covered: dict[str, list[str]] = {}
    for index, edge in enumerate(part.edges):
        if edge.edging is not None and edge.is_plain:
            word = f"{edge_word(part, work.pieces[0], index)} {edge.kind}"
            names = covered.setdefault(edge.edging.name, [])
            names += [] if word in names else [word]
    return [f"{capital(name)}: {', '.join(edges)}." for name, edges in covered.items()]


def _hardware_notes(plan: Plan, part: Part, work: Work) -> list[str]:
    system = plan.edition.system
    sentences = hardware_sentences(work.hardware, part, work.pieces[0], system)
    return [f"{capital(sentence)}." for sentence in sentences]


def _mates(plan: Plan, part: Part, work: Work) -> str:
    """Return ``B lands there: Bottom`` for each mate, in the order of labels."""
    labels = sorted({mark.mate for mark in work.marks if mark.mate != part.label})
    return ", ".join(f"{label} = {plan.parts.part(label).title}" for label in labels)


def _pilot_notes(plan: Plan, work: Work) -> list[str]:
    """Return what is drilled in place: it needs no sizes, the first part guides the bit."""
    system = plan.edition.system
    counts: dict[tuple[str, str], int] = {}
    mine = [hole for hole in work.pilots if hole.piece == work.pieces[0].name]
    for hole in mine:
        depth = (
            "through" if hole.depth_mm is None else f"{format_length(hole.depth_mm, system)} deep"
        )
        key = (format_bit(hole.diameter_mm, system), depth)
        counts[key] = counts.get(key, 0) + 1
    return [
        f"{count} pilot holes, {bit} bit, {depth}: drill in place, through the holes of the mate."
        for (bit, depth), count in counts.items()
    ]


def _description(
    plan: Plan, part: Part, work: Work, rows: Sequence[HoleRow], heads: tuple[str, str]
) -> str:
    """Return the drawing in words, with its numbers."""
    system = plan.edition.system
    piece = work.pieces[0]
    sentences = [
        f"Part {part.label}, {part.title}, {work.names}: "
        f"{format_length(part.length_mm, system)} long with the grain, "
        f"{format_length(part.width_mm, system)} wide, "
        f"{format_length(part.thickness_mm, system)} thick.",
        f"Seen on the {face_word(part, piece, 'A')} face. Section: {part.section}.",
    ]
    sentences += _edging_notes(part, work)
    sentences += _hardware_notes(plan, part, work)
    sentences += [
        f"{edge_sentence(part, work, i)}." for i, e in enumerate(part.edges) if e.tilt_deg
    ]
    for mark in work.marks:
        side: FaceName = "A" if mark.side == FACE_A else "B"
        sentences.append(
            f"Layout lines for {mark.mate} on the {face_word(part, piece, side)} face, "
            f"{format_size(mark.from_mm, system)} to {format_length(mark.to_mm, system)} "
            f"from the {_own_edge(part, piece, mark.edge)}."
        )
    sentences += [
        f"{housing_name(one).capitalize()} {housing_size(one, system)} in the "
        f"{housing_face(part, one, piece)} face, {housing_place(part, one, system, piece)}, "
        f"{housing_ends(part, one, system, piece)}."
        for one in part.housings
    ]
    for row in rows:
        what, from_end, from_edge = row.cells
        sentences.append(f"{row.bore}: {what}, {heads[0]}: {from_end}, {heads[1]}: {from_edge}.")
    return " ".join(sentences)


def _own_edge(part: Part, piece: Piece, name: str) -> str:
    """Return what an edge of the part is called on a copy, which may lie turned."""
    edges = (i for i, edge in enumerate(part.edges) if edge.name == name)
    index = next(edges, None)
    return name if index is None else edge_word(part, piece, index)


def _beside(drawings: Sequence[tuple[Item, ...]]) -> Strip:
    """Return drawings side by side, at half the page's width from each other."""
    step = (PAGE_MM - 2 * MARGIN_MM + 12.0) / 2
    return make_strip(*((i * step, drawing) for i, drawing in enumerate(drawings)))


def _line(at: tuple[float, float], text: str, anchor: Anchor, size_mm: float) -> Words:
    return Words(at=at, text=text, size_mm=size_mm, anchor=anchor)
