"""Front, side and top of the finished piece with hidden edges and overall sizes, to scale.

    imperial, third angle          metric, first angle

      top                            front | seen from the left
      front | seen from the right    top

Arrangement and the symbol of a truncated cone: ISO 5456-2:1996; scales: ISO 5455:1979 (both from
memory). Sizes stand on the outer side of a view, its name on the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from generator.geometry.hidden_line import find_edges
from generator.geometry.projection import Mesh, View, build_mesh, view_from
from generator.geometry.vectors import Vec2
from generator.model.plan import Plan
from generator.outputs.bodies import Box, Sheet, bounds_of, draw_edges, solids_of
from generator.outputs.dimensions import draw_dimension
from generator.outputs.projection_symbol import SYMBOL_HEIGHT_MM, SYMBOL_WIDTH_MM, draw_symbol
from generator.outputs.scene import SMALLEST_TEXT_MM, Item, Scene, Words
from generator.outputs.text_width import text_width_mm
from generator.units import format_length

SCALES: Final = (1, 2, 5, 10, 20, 50, 100)
"""ISO 5455: reductions; 1 is full size."""

WIDEST_MM: Final = 180.0
TALLEST_MM: Final = 200.0
MARGIN_MM: Final = 3.0
SIZES_MM: Final = 16.0
"""Beside a view: room for one dimension."""
OFFSET_MM: Final = 9.0
"""From a view to its dimension line."""
NAME_MM: Final = 8.0
"""Room for the name of a view."""
APART_MM: Final = 12.0
"""Between views side by side."""
FOOT_MM: Final = 12.0
"""Room for scale and symbol."""

FRONT: Final = view_from((0.0, -1.0, 0.0))
RIGHT: Final = view_from((1.0, 0.0, 0.0))
LEFT: Final = view_from((-1.0, 0.0, 0.0))
TOP: Final = view_from((0.0, 0.0, 1.0), (0.0, 1.0, 0.0))


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where the views stand on paper: lower left corners, in mm.

    Attributes:
        size: Width, depth and height of the piece on paper.
    """

    scale: int
    size: tuple[float, float, float]
    front: Vec2
    side: Vec2
    top: Vec2
    paper: Vec2


def draw_three_views(plan: Plan) -> Scene:
    """Return three views of the finished piece in the arrangement of the edition."""
    third = plan.edition.system == "imperial"
    low, high = plan.parts.low, plan.parts.high
    layout = _lay_out((high[0] - low[0], high[1] - low[1], high[2] - low[2]), third)
    mesh = build_mesh(solids_of(plan, [piece.name for piece in plan.parts.pieces()]))
    side = ("Right side", RIGHT) if third else ("Left side", LEFT)
    views = (
        ("Front", FRONT, layout.front),
        (*side, layout.side),
        ("Top", TOP, layout.top),
    )
    items: list[Item] = []
    for _, view, at in views:
        items += _draw_view(mesh, view, at, layout.scale)
    items += _draw_sizes(plan, layout, third)
    items += _draw_names(tuple((name, at) for name, _, at in views), layout, third)
    items += _draw_foot(layout, third)
    sizes = [format_length(b - a, plan.edition.system) for a, b in zip(low, high, strict=True)]
    return Scene(
        width_mm=layout.paper[0],
        height_mm=layout.paper[1],
        title=f"{plan.edition.story.title}, three views",
        description=(
            f"Front, {side[0].lower()} and top at scale 1:{layout.scale}, "
            f"{'third' if third else 'first'}-angle projection. Width {sizes[0]}, "
            f"depth {sizes[1]}, height {sizes[2]}. Hidden edges are dashed."
        ),
        items=tuple(items),
    )


def _lay_out(size_mm: tuple[float, float, float], third: bool) -> _Layout:
    """Return the largest scale at which the views fit, and where they stand."""
    for scale in SCALES:
        width, depth, height = (value / scale for value in size_mm)
        across = 2 * MARGIN_MM + SIZES_MM + width + APART_MM + depth
        up = 2 * MARGIN_MM + FOOT_MM + SIZES_MM + height + 2 * NAME_MM + depth
        if (across <= WIDEST_MM and up <= TALLEST_MM) or scale == SCALES[-1]:
            break
    foot = MARGIN_MM + FOOT_MM
    x = MARGIN_MM + SIZES_MM
    front_y = foot + (SIZES_MM if third else NAME_MM + depth + NAME_MM)
    top_y = foot + (SIZES_MM + height + NAME_MM if third else NAME_MM)
    return _Layout(
        scale,
        (width, depth, height),
        (x, front_y),
        (x + width + APART_MM, front_y),
        (x, top_y),
        (max(across, _foot_width(third)), up),
    )


def _draw_view(mesh: Mesh, view: View, at: Vec2, scale: int) -> list[Item]:
    bounds = bounds_of(mesh, view)
    sheet = Sheet(1 / scale, (at[0] - bounds.left / scale, at[1] - bounds.low / scale))
    edges = find_edges(mesh, view)
    return [
        *draw_edges(edges.hidden, sheet, "hidden"),
        *draw_edges(edges.visible, sheet, "outline"),
    ]


def _draw_sizes(plan: Plan, layout: _Layout, third: bool) -> list[Item]:
    """Return width and depth below (third angle) or above the front row, height to its left."""
    system = plan.edition.system
    low, high = plan.parts.low, plan.parts.high
    texts = [format_length(b - a, system) for a, b in zip(low, high, strict=True)]
    width, depth, height = layout.size
    front = Box(*layout.front, layout.front[0] + width, layout.front[1] + height)
    side = Box(*layout.side, layout.side[0] + depth, layout.side[1] + height)
    items: list[Item] = []
    for box, text in ((front, texts[0]), (side, texts[1])):
        ends = ((box.left, box.high), (box.right, box.high))
        if third:
            ends = ((box.right, box.low), (box.left, box.low))
        items += draw_dimension(*ends, OFFSET_MM, text)
    items += draw_dimension((front.left, front.low), (front.left, front.high), OFFSET_MM, texts[2])
    return items


def _draw_names(views: Sequence[tuple[str, Vec2]], layout: _Layout, third: bool) -> list[Item]:
    """Return the name of every view on the side away from the sizes."""
    _, depth, height = layout.size
    items: list[Item] = []
    for name, (x, y) in views:
        tall = depth if name == "Top" else height
        base = y + tall + 2.2 if third else y - 2.2 - SMALLEST_TEXT_MM * 0.75
        items.append(Words(at=(x, base), text=name, size_mm=SMALLEST_TEXT_MM))
    return items


def _foot_text(third: bool) -> str:
    return "Third-angle projection" if third else "First-angle projection"


def _foot_width(third: bool) -> float:
    texts = text_width_mm("Scale 1:100", SMALLEST_TEXT_MM)
    texts += text_width_mm(_foot_text(third), SMALLEST_TEXT_MM)
    return 2 * MARGIN_MM + texts + 12.0 + SYMBOL_WIDTH_MM


def _draw_foot(layout: _Layout, third: bool) -> list[Item]:
    """Return the scale on the left, the kind of projection and its symbol on the right."""
    right = layout.paper[0] - MARGIN_MM
    middle = MARGIN_MM + SYMBOL_HEIGHT_MM / 2
    base = middle - SMALLEST_TEXT_MM * 0.36
    return [
        Words(at=(MARGIN_MM, base), text=f"Scale 1:{layout.scale}", size_mm=SMALLEST_TEXT_MM),
        Words(
            at=(right - SYMBOL_WIDTH_MM - 3.0, base),
            text=_foot_text(third),
            size_mm=SMALLEST_TEXT_MM,
            anchor="end",
        ),
        *draw_symbol((right - SYMBOL_WIDTH_MM, MARGIN_MM), third),
    ]
