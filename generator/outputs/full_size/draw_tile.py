"""One sheet of a template, drawn at full size: outlines, centre lines, holes, bars to measure."""

import io
import warnings
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.path import Path
from shapely import box, maximum_inscribed_circle, unary_union
from shapely.affinity import translate
from shapely.geometry import Polygon

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import TEMPLATE_CHORD_MM
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
from generator.outputs.full_size.pen import (
    CHAIN,
    DASHES,
    INK,
    QUIET,
    WOOD,
    Ground,
    draw_line,
    write,
)
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
from generator.outputs.scene import SMALLEST_TEXT_MM, Words
from generator.units import System, inches

BAR_MM: Final[dict[System, float]] = {"metric": 100.0, "imperial": 101.6}
BAR_WORDS: Final[dict[System, str]] = {"metric": "100 mm", "imperial": "4 in"}
OUTLINE_LEVEL: Final = 3
LABEL_ROOM_MM: Final = 14.0
"""A circle of that radius holds the label of a part, its face and the arrow of the grain."""
CLEAR_MM: Final = 0.5
"""Between the label and a line."""
SMALL_LABEL_MM: Final = 4.0
"""A circle of that radius holds the label alone."""
SETTINGS: Final[dict[Any, Any]] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "template",
    "font.family": "DejaVu Sans",
    "lines.solid_capstyle": "butt",
    "path.simplify": False,
}


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
) -> bytes:
    """Return one sheet as SVG, as large as the paper.

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
    with mpl.rc_context(SETTINGS), warnings.catch_warnings():
        # The typesetter has a typeface for signs that this one lacks.
        warnings.filterwarnings("ignore", message="Glyph .* missing from font")
        figure = Figure(figsize=(inches(width), inches(height)))
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_xlim(0.0, width)
        axes.set_ylim(0.0, height)
        axes.set_axis_off()
        ground = _ground(axes, tile)
        _draw_wood(ground, shape, face_work)
        _draw_references(ground, tile, texts.references)
        _draw_words(ground, shape, face_work, tile, tiles)
        _draw_head(axes, height, texts.heads)
        _draw_bars(axes, width, system)
        written = io.BytesIO()
        figure.savefig(written, format="svg", metadata={"Date": None, "Creator": None})
    return written.getvalue()


def window_corner(tile: Tile) -> Vec2:
    """Return how far what the window shows is moved on paper: add it to a point of the part."""
    return (MARGIN_MM - tile.window[0], MARGIN_MM + FOOT_MM - tile.window[1])


def _ground(axes: Axes, tile: Tile) -> Ground:
    """Return the window of a sheet, with the thin line around it."""
    corner = window_corner(tile)
    left, bottom, right, top = tile.window
    window = (left + corner[0], bottom + corner[1], right + corner[0], top + corner[1])
    size = (right - left, top - bottom)
    frame = Rectangle(window[:2], *size, transform=axes.transData)
    axes.add_patch(Rectangle(window[:2], *size, fill=False, ec=QUIET, lw=0.5, zorder=2))
    return Ground(axes=axes, corner=corner, window=window, frame=frame)


def _draw_wood(ground: Ground, shape: Shape, face_work: FaceWork) -> None:
    """Draw outlines, openings with their middles, channels and layout lines."""
    outline = shape.outline.moved(*ground.corner)
    openings = [one.moved(*ground.corner) for one in shape.openings]
    wood = _path([outline, *openings])
    patches = [PathPatch(wood, fc=WOOD, ec="none"), PathPatch(wood, fill=False, ec=INK, lw=1.0)]
    # Above layout lines and channels: no pale line runs along the middle of an edge.
    patches[1].set_zorder(OUTLINE_LEVEL)
    lines = [outline, *openings]
    if shape.other is not None:
        lines.append(shape.other.moved(*ground.corner))
        other = _path(lines[-1:])
        patches.append(PathPatch(other, fill=False, ec=QUIET, lw=0.6, ls=DASHES))
    for patch in patches:
        ground.axes.add_patch(patch)
        patch.set_clip_path(ground.frame)
    draw_markings(ground, face_work.markings)
    for line in _centre_lines(openings):
        (drawn,) = ground.axes.plot(*zip(*line, strict=True), color=QUIET, lw=0.5, ls=CHAIN)
        drawn.set_clip_path(ground.frame)
        ground.keep_off(line)
    for one in lines:
        ring = one.flattened()
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


def _path(outlines: Iterable[Outline]) -> Path:
    parts = [
        Path([*outline.flattened(TEMPLATE_CHORD_MM), (0.0, 0.0)], closed=True)
        for outline in outlines
    ]
    return Path.make_compound_path(*parts)


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
        write(ground.axes, (x, y - 2.0), part.label, size=12, weight="bold", ha="center")
        return
    write(ground.axes, (x, y + 3.0), part.label, size=20, weight="bold", ha="center")
    face = face_word(part, shape.piece, shape.view.face)
    write(ground.axes, (x, y - 3.0), f"{face} face", ha="center")
    if has_grain(part):
        arrow = {"arrowstyle": "<->", "color": QUIET, "lw": 0.7}
        ground.axes.annotate("", (x - 11.0, y - 6.5), (x + 11.0, y - 6.5), arrowprops=arrow)
        write(ground.axes, (x, y - 10.5), "grain", ha="center")


def _draw_references(ground: Ground, tile: Tile, references: Sequence[Reference]) -> None:
    """Draw the lines a template is laid on, right across the window where they pass it."""
    left, bottom, right, top = ground.window
    for one in references:
        low, high = (tile.window[one.axis], tile.window[one.axis + 2])
        if not low < one.at_mm < high:
            continue
        x, y = ground.place((one.at_mm, one.at_mm))
        ends = (((x, bottom), (x, top)), ((left, y), (right, y)))[one.axis]
        draw_line(ground.axes, *ends, color=INK, lw=0.6, ls=CHAIN)
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


def _draw_head(axes: Axes, height: float, heads: Sequence[str]) -> None:
    y = height - MARGIN_MM - 3.5
    for index, words in enumerate(heads):
        first = index == 0
        size, weight = (12, "bold") if first else (8.5, "normal")
        write(axes, (MARGIN_MM, y), words, size=size, weight=weight)
        y -= 5.5 if first else 4.4


def _draw_bars(axes: Axes, width: float, system: System) -> None:
    """Draw the bars to measure: one level, one upright, for paper is fed and scanned in turn."""
    long, words = BAR_MM[system], BAR_WORDS[system]
    y, x = MARGIN_MM + 3.0, width - MARGIN_MM / 2
    bottom = MARGIN_MM + FOOT_MM
    for share in (0.0, 0.5, 1.0):
        tick = MARGIN_MM + share * long
        draw_line(axes, (tick, y - 1.5), (tick, y + 1.5), color=INK, lw=0.6)
        level = bottom + share * long
        draw_line(axes, (x - 1.5, level), (x + 1.5, level), color=INK, lw=0.6)
    draw_line(axes, (MARGIN_MM, y), (MARGIN_MM + long, y), color=INK, lw=0.6)
    draw_line(axes, (x, bottom), (x, bottom + long), color=INK, lw=0.6)
    told = f"{words}: measure this bar and the upright one"
    write(axes, (MARGIN_MM + long + 4.0, y), told, size=8.5, va="center")
    write(axes, (MARGIN_MM + 2.0, y + 1.0), words)
