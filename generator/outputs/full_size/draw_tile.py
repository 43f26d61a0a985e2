"""One sheet of a template, drawn at full size: outlines, centre lines, holes, bars to measure."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from shapely import box, maximum_inscribed_circle, unary_union
from shapely.affinity import translate
from shapely.geometry import Polygon

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import CHORD_MM, TEMPLATE_CHORD_MM
from generator.geometry.vectors import Vec2
from generator.outputs.booklet.paper import Paper
from generator.outputs.full_size.alignment import Reference
from generator.outputs.full_size.draw_names import name_edges
from generator.outputs.full_size.draw_seams import draw_seams
from generator.outputs.full_size.draw_spots import (
    draw_markings,
    draw_spots,
    find_boxes,
    find_shown,
    name_markings,
)
from generator.outputs.full_size.ground import Ground
from generator.outputs.full_size.shapes import Shape
from generator.outputs.full_size.spots import FaceWork
from generator.outputs.full_size.tiles import (
    FOOT_MM,
    MARGIN_MM,
    OVERLAP_MM,
    Tile,
    paper_size,
)
from generator.outputs.panels import Box
from generator.outputs.part_view import face_word, has_grain
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    Arrowhead,
    Item,
    Scene,
    Stroke,
    Words,
)
from generator.units import System

BAR_MM: Final[dict[System, float]] = {"metric": 100.0, "imperial": 101.6}
BAR_WORDS: Final[dict[System, str]] = {"metric": "100 mm", "imperial": "4 in"}
LABEL_ROOM_MM: Final = 14.0
"""A circle of that radius holds the label of a part, its face and the arrow of the grain."""
CLEAR_MM: Final = 0.5
"""Between the label and a line."""
SMALL_LABEL_MM: Final = 4.0
"""A circle of that radius holds the label alone."""
HEAD_MM: Final = 4.2
LABEL_MM: Final = 7.0
"""Sizes of the first line of a sheet, and of a label with room around it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """What is said on a sheet.

    Attributes:
        heads: Lines at its head, the first one bold.
        references: Lines across it.
    """

    heads: Sequence[str]
    references: Sequence[Reference]


def draw_tile(
    shape: Shape,
    face_work: FaceWork,
    tile: Tile,
    tiles: Sequence[Tile],
    paper: Paper,
    texts: Texts,
    system: System,
) -> Scene:
    """Return one sheet, as large as the paper.

    Args:
        shape: The part.
        face_work: What is bored in it and marked on it.
        tile: Which of its sheets.
        tiles: All of them.
        paper: What it is printed on.
        texts: What is said on it.
        system: For the bar to measure.
    """
    width, height = paper_size(paper, is_wide=tile.is_wide)
    ground = _ground(tile)
    _draw_wood(ground, shape, face_work)
    _draw_references(ground, tile, texts.references)
    _draw_words(ground, shape, face_work, tile, tiles)
    # Above layout lines and channels: no pale line runs along the middle of an edge.
    for outline in (shape.outline, *shape.openings):
        ground.draw_ring(_ring(outline, ground, TEMPLATE_CHORD_MM), "outline")
    return Scene(
        width_mm=width,
        height_mm=height,
        title=texts.heads[0],
        description=" ".join(texts.heads[1:]),
        items=(*ground.items, *_draw_head(height, texts.heads), *_draw_bars(width, system)),
    )


def window_corner(tile: Tile) -> Vec2:
    """Return how far what the window shows is moved on paper: add it to a point of the part."""
    return (MARGIN_MM - tile.window[0], MARGIN_MM + FOOT_MM - tile.window[1])


def _ground(tile: Tile) -> Ground:
    """Return the window of a sheet, with the thin line around it."""
    x, y = window_corner(tile)
    left, bottom, right, top = tile.window
    ground = Ground(corner=(x, y), window=(left + x, bottom + y, right + x, top + y))
    left, bottom, right, top = ground.window
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    ground.items.append(Stroke(points=corners, layer="frame", closed=True))
    return ground


def _draw_wood(ground: Ground, shape: Shape, face_work: FaceWork) -> None:
    """Draw the wood, the other face, middles of openings, channels and layout lines."""
    openings = [one.moved(*ground.corner) for one in shape.openings]
    rings = [_ring(one, ground) for one in (shape.outline, *shape.openings)]
    ground.fill(Polygon(rings[0], rings[1:]), "wood")
    draw_markings(ground, face_work.markings)
    if shape.other is not None:
        rings.append(_ring(shape.other, ground, TEMPLATE_CHORD_MM))
        ground.draw_ring(rings[-1], "hidden")
    for line in _centre_lines(openings):
        ground.draw(line, "center")
        ground.keep_off(line)
    for ring in rings:
        ground.keep_off([*ring, ring[0]])


def _draw_words(
    ground: Ground, shape: Shape, face_work: FaceWork, tile: Tile, tiles: Sequence[Tile]
) -> None:
    """Draw holes, the label of the part and seams; words come last, where nothing stands."""
    spots = find_shown(face_work.spots, tile)
    boxes = find_boxes(spots, ground)
    _draw_label(ground, shape, boxes)
    draw_spots(ground, spots)
    ground.taken.extend(boxes)
    draw_seams(ground, tile, tiles)
    name_edges(ground, shape)
    name_markings(ground, face_work.markings)


def _ring(outline: Outline, ground: Ground, chord_mm: float = CHORD_MM) -> list[Vec2]:
    """Return the points of an outline on paper."""
    return [ground.place(point) for point in outline.flattened(chord_mm)]


def _centre_lines(openings: Iterable[Outline]) -> list[tuple[Vec2, Vec2]]:
    """Return a level and an upright line through the middle of every opening."""
    lines: list[tuple[Vec2, Vec2]] = []
    for opening in openings:
        left, bottom, right, top = opening.bounds
        x, y = (left + right) / 2, (bottom + top) / 2
        lines += [((left - 5.0, y), (right + 5.0, y)), ((x, bottom - 5.0), (x, top + 5.0))]
    return lines


def _draw_label(ground: Ground, shape: Shape, boxes: Sequence[Box]) -> None:
    """Write the label of the part where most of its wood is, so that it is there when cut out."""
    left, bottom, right, top = ground.window
    seen = box(left, bottom, right, top).buffer(-OVERLAP_MM)
    taken = unary_union(
        [*(box(*one) for one in boxes), *(line.buffer(CLEAR_MM) for line in ground.lines)]
    )
    wood = translate(shape.wood, *ground.corner).intersection(seen).difference(taken)
    pieces = [one for one in getattr(wood, "geoms", [wood]) if isinstance(one, Polygon)]
    circles = [maximum_inscribed_circle(one) for one in pieces if not one.is_empty]
    if not circles:
        return
    widest = max(circles, key=lambda one: one.length)
    if widest.length < SMALL_LABEL_MM:
        return
    x, y = widest.coords[0]
    part = shape.part
    room = min(widest.length, LABEL_ROOM_MM)
    ground.taken.append((x - room, y - room, x + room, y + room))
    if widest.length < LABEL_ROOM_MM:
        ground.items.append(_middle((x, y - 1.6), part.label, HEAD_MM, bold=True))
        return
    face = face_word(part, shape.piece, shape.view.face)
    ground.items.append(_middle((x, y + 3.0), part.label, LABEL_MM, bold=True))
    ground.items.append(_middle((x, y - 3.0), f"{face} face", SMALLEST_TEXT_MM))
    if has_grain(part):
        ground.items.extend(_grain((x, y - 6.5)))


def _grain(middle: Vec2) -> list[Item]:
    """Return a double arrow along the grain, and its word below."""
    x, y = middle
    ends = ((x - 11.0, y), (x + 11.0, y))
    return [
        Stroke(points=ends, layer="grain"),
        Arrowhead(at=ends[0], direction=(-1.0, 0.0), layer="grain"),
        Arrowhead(at=ends[1], direction=(1.0, 0.0), layer="grain"),
        _middle((x, y - 4.0), "grain", SMALLEST_TEXT_MM),
    ]


def _middle(at: Vec2, text: str, size_mm: float, *, bold: bool = False) -> Words:
    return Words(at=at, text=text, size_mm=size_mm, anchor="middle", bold=bold)


def _draw_references(ground: Ground, tile: Tile, references: Sequence[Reference]) -> None:
    """Draw the lines a template is laid on, right across the window where they pass it."""
    left, bottom, right, top = ground.window
    for one in references:
        low, high = (tile.window[one.axis], tile.window[one.axis + 2])
        if not low < one.at_mm < high:
            continue
        x, y = ground.place((one.at_mm, one.at_mm))
        ends = (((x, bottom), (x, top)), ((left, y), (right, y)))[one.axis]
        ground.draw(ends, "center")
        ground.keep_off(ends)
        is_upright = one.axis == 0
        ground.write(
            Words(
                at=(x - 1.5, bottom + 4.0) if is_upright else (left + 4.0, y + 1.5),
                text=one.words,
                size_mm=SMALLEST_TEXT_MM,
                angle_deg=90.0 if is_upright else 0.0,
            )
        )


def _draw_head(height: float, heads: Sequence[str]) -> list[Item]:
    first, *others = heads
    y = height - MARGIN_MM - 3.5
    items: list[Item] = [Words(at=(MARGIN_MM, y), text=first, size_mm=HEAD_MM, bold=True)]
    items += [
        Words(at=(MARGIN_MM, y - 5.5 - 4.4 * index), text=words, size_mm=SMALLEST_TEXT_MM)
        for index, words in enumerate(others)
    ]
    return items


def _draw_bars(width: float, system: System) -> list[Item]:
    """Draw the bars to measure: one level, one upright, for paper is fed and scanned in turn."""
    long, words = BAR_MM[system], BAR_WORDS[system]
    y, x = MARGIN_MM + 3.0, width - MARGIN_MM / 2
    left, bottom = MARGIN_MM, MARGIN_MM + FOOT_MM
    lines: list[tuple[Vec2, Vec2]] = [((left, y), (left + long, y))]
    lines.append(((x, bottom), (x, bottom + long)))
    for share in (0.0, 0.5, 1.0):
        tick, level = left + share * long, bottom + share * long
        lines += [((tick, y - 1.5), (tick, y + 1.5)), ((x - 1.5, level), (x + 1.5, level))]
    told = f"{words}: measure this bar and the upright one"
    items: list[Item] = [Stroke(points=line, layer="outline") for line in lines]
    items += [
        Words(at=(left + long + 4.0, y - 1.1), text=told, size_mm=SMALLEST_TEXT_MM),
        Words(at=(left + 2.0, y + 1.0), text=words, size_mm=SMALLEST_TEXT_MM),
    ]
    return items
