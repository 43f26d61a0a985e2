"""One sheet of a template, drawn at full size: outlines, centre lines, marks to join sheets by."""

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
from shapely import box, maximum_inscribed_circle
from shapely.geometry import Polygon

from generator.geometry.outlines import Outline
from generator.geometry.tolerance import TEMPLATE_CHORD_MM
from generator.geometry.vectors import Vec2
from generator.outputs.booklet.paper import Paper
from generator.outputs.full_size.alignment import Reference
from generator.outputs.full_size.shapes import Shape
from generator.outputs.full_size.tiles import (
    FOOT_MM,
    MARGIN_MM,
    OVERLAP_MM,
    Tile,
    paper_size,
)
from generator.outputs.part_view import has_grain
from generator.units import System, inches

INK: Final = "#202428"
QUIET: Final = "#54595e"
WOOD: Final = "#f1f1ef"
BAR_MM: Final[dict[System, float]] = {"metric": 100.0, "imperial": 101.6}
BAR_WORDS: Final[dict[System, str]] = {"metric": "100 mm", "imperial": "4 in"}
LABEL_ROOM_MM: Final = 14.0
"""A circle of that radius holds the label of a part, its face and the arrow of the grain."""
SEAM_WORDS_MM: Final = (32.0, 6.0)
SEAM_SPOTS: Final = (0.5, 0.38, 0.62, 0.1, 0.9)
"""Where the words of a seam may stand along it, beside its crosses."""
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
    shape: Shape, tile: Tile, tiles: Sequence[Tile], paper: Paper, texts: Texts, system: System
) -> bytes:
    """Return one sheet as SVG, as large as the paper.

    Args:
        shape: The part.
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
        _draw_window(axes, shape, tile, tiles)
        _draw_references(axes, tile, texts.references)
        _draw_head(axes, height, texts.heads)
        _draw_bars(axes, width, system)
        written = io.BytesIO()
        figure.savefig(written, format="svg", metadata={"Date": None, "Creator": None})
    return written.getvalue()


def window_corner(tile: Tile) -> Vec2:
    """Return how far what the window shows is moved on paper: add it to a point of the part."""
    return (MARGIN_MM - tile.window[0], MARGIN_MM + FOOT_MM - tile.window[1])


def _draw_window(axes: Axes, shape: Shape, tile: Tile, tiles: Sequence[Tile]) -> None:
    dx, dy = window_corner(tile)
    left, bottom, right, top = tile.window
    frame = Rectangle(
        (left + dx, bottom + dy), right - left, top - bottom, transform=axes.transData
    )
    border = (right - left, top - bottom)
    axes.add_patch(Rectangle(frame.get_xy(), *border, fill=False, ec=QUIET, lw=0.5, zorder=2))
    outline = shape.outline.moved(dx, dy)
    openings = [one.moved(dx, dy) for one in shape.openings]
    wood = PathPatch(_path([outline, *openings]), fc=WOOD, ec=INK, lw=1.0)
    patches = [wood]
    if shape.other is not None:
        other = _path([shape.other.moved(dx, dy)])
        patches.append(PathPatch(other, fill=False, ec=QUIET, lw=0.6, ls=(0, (6, 3))))
    for patch in patches:
        axes.add_patch(patch)
        patch.set_clip_path(frame)
    for line in _centre_lines(openings):
        (drawn,) = axes.plot(*zip(*line, strict=True), color=QUIET, lw=0.5, ls=(0, (12, 3, 2, 3)))
        drawn.set_clip_path(frame)
    _draw_label(axes, shape, tile)
    for other_tile in tiles:
        _draw_seam(axes, shape, tile, other_tile)


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


def _draw_label(axes: Axes, shape: Shape, tile: Tile) -> None:
    """Write the label of the part where most of its wood is, so that it is there when cut out."""
    wood = shape.wood.intersection(box(*tile.window).buffer(-OVERLAP_MM))
    pieces = [one for one in getattr(wood, "geoms", [wood]) if isinstance(one, Polygon)]
    circles = [maximum_inscribed_circle(one) for one in pieces if not one.is_empty]
    if not circles:
        return
    widest = max(circles, key=lambda one: one.length)
    dx, dy = window_corner(tile)
    x, y = widest.coords[0][0] + dx, widest.coords[0][1] + dy
    part = shape.part
    if widest.length < LABEL_ROOM_MM:
        _write(axes, (x, y - 2.0), part.label, size=12, weight="bold", ha="center")
        return
    _write(axes, (x, y + 3.0), part.label, size=20, weight="bold", ha="center")
    _write(axes, (x, y - 3.0), f"{part.face_words[0]} face", size=8, ha="center")
    if has_grain(part):
        arrow = {"arrowstyle": "<->", "color": QUIET, "lw": 0.7}
        axes.annotate("", (x - 11.0, y - 6.5), (x + 11.0, y - 6.5), arrowprops=arrow)
        _write(axes, (x, y - 10.5), "grain", size=8, ha="center")


def _draw_seam(axes: Axes, shape: Shape, tile: Tile, other: Tile) -> None:
    """Draw where a neighbour begins on a sheet, and two crosses that both sheets have."""
    if other.region != tile.region:
        return
    step = (other.column - tile.column, other.row - tile.row)
    if step not in {(1, 0), (-1, 0), (0, 1), (0, -1)}:
        return
    dx, dy = window_corner(tile)
    left, bottom, right, top = tile.window
    along = 0 if step[0] else 1
    edge = {(1, 0): right, (-1, 0): left, (0, 1): top, (0, -1): bottom}[step]
    inner = edge - sum(step) * OVERLAP_MM
    low, high = ((bottom, top), (left, right))[along]
    ends: tuple[Vec2, Vec2] = (
        ((inner, low), (inner, high)) if along == 0 else ((low, inner), (high, inner))
    )
    axes.plot(
        [x + dx for x, _ in ends], [y + dy for _, y in ends], color=QUIET, lw=0.5, ls=(0, (2, 3))
    )
    middle = edge - sum(step) * OVERLAP_MM / 2
    for share in (0.25, 0.75):
        across = low + share * (high - low)
        x, y = (middle, across) if along == 0 else (across, middle)
        _cross(axes, (x + dx, y + dy))
    turned = 90.0 if along == 0 else 0.0
    spots = [low + share * (high - low) for share in SEAM_SPOTS]
    places = [(middle, spot) if along == 0 else (spot, middle) for spot in spots]
    x, y = next((at for at in places if _is_free(shape, at, along)), places[0])
    words = f"tile {other.number} goes on"
    _write(axes, (x + dx, y + dy), words, size=8, ha="center", va="center", rotation=turned)


def _is_free(shape: Shape, at: Vec2, along: int) -> bool:
    """Whether the words of a seam stand on no line of the part there."""
    half = (SEAM_WORDS_MM[1] / 2, SEAM_WORDS_MM[0] / 2)
    half = half if along == 0 else (half[1], half[0])
    words = box(at[0] - half[0], at[1] - half[1], at[0] + half[0], at[1] + half[1])
    return not words.intersects(shape.wood.boundary)


def _draw_references(axes: Axes, tile: Tile, references: Sequence[Reference]) -> None:
    """Draw the lines a template is laid on, right across the window where they pass it."""
    dx, dy = window_corner(tile)
    left, bottom, right, top = tile.window
    for one in references:
        low, high = ((left, right), (bottom, top))[one.axis]
        if not low < one.at_mm < high:
            continue
        x, y = one.at_mm + dx, one.at_mm + dy
        xs, ys = ([x, x], [bottom + dy, top + dy]), ([left + dx, right + dx], [y, y])
        axes.plot(*(xs, ys)[one.axis], color=INK, lw=0.6, ls=(0, (12, 3, 2, 3)))
        at = (x - 1.5, bottom + dy + 4.0) if one.axis == 0 else (left + dx + 4.0, y + 1.5)
        turned = 90.0 if one.axis == 0 else 0.0
        look = {"ha": "right" if one.axis == 0 else "left", "va": "bottom"}
        _write(axes, at, one.words, size=8, rotation=turned, **look)


def _cross(axes: Axes, at: Vec2) -> None:
    x, y = at
    axes.plot([x - 3.0, x + 3.0], [y, y], color=INK, lw=0.5)
    axes.plot([x, x], [y - 3.0, y + 3.0], color=INK, lw=0.5)


def _draw_head(axes: Axes, height: float, heads: Sequence[str]) -> None:
    y = height - MARGIN_MM - 3.5
    for index, words in enumerate(heads):
        first = index == 0
        size, weight = (12, "bold") if first else (8.5, "normal")
        _write(axes, (MARGIN_MM, y), words, size=size, weight=weight)
        y -= 5.5 if first else 4.4


def _draw_bars(axes: Axes, width: float, system: System) -> None:
    """Draw the bars to measure: one level, one upright, for paper is fed and scanned in turn."""
    long, words = BAR_MM[system], BAR_WORDS[system]
    y, x = MARGIN_MM + 3.0, width - MARGIN_MM / 2
    bottom = MARGIN_MM + FOOT_MM
    for share in (0.0, 0.5, 1.0):
        tick = MARGIN_MM + share * long
        axes.plot([tick, tick], [y - 1.5, y + 1.5], color=INK, lw=0.6)
        level = bottom + share * long
        axes.plot([x - 1.5, x + 1.5], [level, level], color=INK, lw=0.6)
    axes.plot([MARGIN_MM, MARGIN_MM + long], [y, y], color=INK, lw=0.6)
    axes.plot([x, x], [bottom, bottom + long], color=INK, lw=0.6)
    told = f"{words}: measure this bar and the upright one"
    _write(axes, (MARGIN_MM + long + 4.0, y), told, size=8.5, va="center")
    _write(axes, (MARGIN_MM + 2.0, y + 1.0), words, size=8)


def _write(axes: Axes, at: Vec2, words: str, *, size: float, **look: Any) -> None:
    axes.text(*at, words, fontsize=size, color=INK, parse_math=False, **look)
