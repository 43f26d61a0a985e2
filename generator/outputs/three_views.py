"""Front, side and top of the finished piece, and a section through it, to scale.

    imperial, third angle                    metric, first angle

      top                                      front | seen from the left | section
      front | seen from the right | section    top

The section stands beside the top view where it has more room there. Hidden edges are dashed.
Arrangement and the symbol of a truncated cone: ISO 5456-2:1996; scales: ISO 5455:1979 (both from
memory). Sizes stand on the outer side of a view, its name on the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import shapely
from shapely.geometry import Polygon

from generator.geometry.hidden_line import find_edges
from generator.geometry.projection import Mesh, View, view_from
from generator.geometry.vectors import Vec2
from generator.model.plan import Plan
from generator.outputs.bodies import Box, Sheet, Solids, bounds_of, draw_edges, solids_of
from generator.outputs.dimensions import End, draw_dimension
from generator.outputs.projection_symbol import SYMBOL_HEIGHT_MM, SYMBOL_WIDTH_MM, draw_symbol
from generator.outputs.scene import SMALLEST_TEXT_MM, Item, Scene, Words
from generator.outputs.scene_check import text_corners
from generator.outputs.section_cut import Section, find_levels, find_section
from generator.outputs.section_drawing import (
    NAME,
    Link,
    chain_width,
    draw_chain,
    draw_cutting_line,
    draw_section,
    make_chain,
)
from generator.outputs.text_width import text_width_mm
from generator.units import format_length

Beside = Literal["side", "top"]

SCALES: Final = (1, 2, 5, 10, 20, 50, 100)
"""ISO 5455: reductions; 1 is full size."""

WIDEST_MM: Final = 180.0
TALLEST_MM: Final = 200.0
MARGIN_MM: Final = 3.0
SIZES_MM: Final = 13.5
"""Beside a view: room for one dimension."""
OFFSET_MM: Final = 9.0
"""From a view to its dimension line."""
LABELS_MM: Final = 1.0
"""Right of the section."""
ASIDE_MM: Final = 0.5
"""Between labels of the section and what stands left of it, or the rim of the paper."""
ABOVE_MM: Final = 5.0
"""Above and below the section, for labels."""
NAME_MM: Final = 8.0
"""Room for the name of a view."""
APART_MM: Final = 10.0
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
        section: Of the section; None where there is none.
        chain: Of heights, left of the section.
    """

    scale: int
    size: tuple[float, float, float]
    front: Vec2
    side: Vec2
    top: Vec2
    paper: Vec2
    section: Vec2 | None
    chain: tuple[Link, ...]


def draw_three_views(plan: Plan, solids: Solids | None = None) -> Scene:
    """Return three views of the finished piece in the arrangement of the edition, and a section.

    A piece of which the section would meet a single piece of wood, or none, has no section.
    """
    third = plan.edition.system == "imperial"
    side = ("Right side", RIGHT) if third else ("Left side", LEFT)
    bodies = solids or solids_of(plan)
    section = find_section(plan, side[1], bodies)
    layout = _lay_out(plan, section, third)
    mesh = bodies.whole()
    views = (
        ("Front", FRONT, layout.front),
        (*side, layout.side),
        ("Top", TOP, layout.top),
    )
    items: list[Item] = []
    for _, view, at in views:
        items += _draw_view(mesh, view, at, layout.scale)
    named = [(name, at) for name, _, at in views]
    if layout.section is not None:
        named.append((NAME, layout.section))
    names = _draw_names(named, layout, third)
    items += _draw_sizes(plan, layout, third)
    if section is not None and layout.section is not None:
        behind = bodies.mesh(section.behind)
        items += _draw_section(plan, section, behind, side[1], layout, names)
    items += names
    items += _draw_foot(layout, third)
    return Scene(
        width_mm=layout.paper[0],
        height_mm=layout.paper[1],
        title=f"{plan.edition.story.title}, three views",
        description=_describe(plan, section, layout.scale),
        items=tuple(items),
    )


def _describe(plan: Plan, section: Section | None, scale: int) -> str:
    system = plan.edition.system
    third = system == "imperial"
    sizes = [
        format_length(b - a, system) for a, b in zip(plan.parts.low, plan.parts.high, strict=True)
    ]
    told = (
        f"Front, {'right' if third else 'left'} side and top at scale 1:{scale}, "
        f"{'third' if third else 'first'}-angle projection. Width {sizes[0]}, "
        f"depth {sizes[1]}, height {sizes[2]}. Hidden edges are dashed."
    )
    if section is None:
        return told
    labels = ", ".join(dict.fromkeys(cut.piece.label for cut in section.cuts))
    at = format_length(section.x_mm - plan.parts.low[0], system)
    return f"{told} {NAME}, {at} from the left, cuts through {labels}."


def _lay_out(plan: Plan, section: Section | None, third: bool) -> _Layout:
    """Return the largest scale at which the views fit, and where they stand."""
    low, high = plan.parts.low, plan.parts.high
    levels = find_levels(section, low[2], high[2]) if section is not None else ()
    layouts: list[_Layout] = []
    for scale in SCALES:
        size = ((high[0] - low[0]) / scale, (high[1] - low[1]) / scale, (high[2] - low[2]) / scale)
        if section is None:
            layouts = [_place(scale, size, third, (), None)]
        else:
            chain = make_chain(levels, scale, plan.edition.system) if levels else ()
            layouts = [
                _place(scale, size, third, links, beside)
                for links in dict.fromkeys((chain, ()))
                for beside in ("side", "top")
            ]
        fitting = [one for one in layouts if _fits(one)]
        if fitting:
            return fitting[0]
    return layouts[-1]


def _fits(layout: _Layout) -> bool:
    return layout.paper[0] <= WIDEST_MM and layout.paper[1] <= TALLEST_MM


def _place(
    scale: int,
    size: tuple[float, float, float],
    third: bool,
    chain: tuple[Link, ...],
    beside: Beside | None,
) -> _Layout:
    """Return where the views stand at a scale with a section beside the side or the top view."""
    width, depth, height = size
    gap = max(APART_MM, chain_width(chain))
    apart = gap if beside == "top" else APART_MM
    cut = max(depth, text_width_mm(NAME, SMALLEST_TEXT_MM)) + LABELS_MM
    row = max(depth, height) if beside == "top" else depth
    across = 2 * MARGIN_MM + SIZES_MM + width + apart + (cut if beside == "top" else depth)
    step = max(depth + gap, text_width_mm("Right side", SMALLEST_TEXT_MM) + MARGIN_MM)
    if beside == "side":
        across += step - depth + cut
    foot, x = MARGIN_MM + FOOT_MM, MARGIN_MM + SIZES_MM
    front_y = foot + (SIZES_MM if third else NAME_MM + row + NAME_MM)
    top_y = foot + (SIZES_MM + height + NAME_MM if third else NAME_MM + row - depth)
    side_x = x + width + apart
    section: Vec2 | None = None
    if beside == "side":
        section = (side_x + step, front_y)
    elif beside == "top":
        section = (side_x, top_y if third else foot + NAME_MM + row - height)
    return _Layout(
        scale,
        size,
        (x, front_y),
        (side_x, front_y),
        (x, top_y),
        (max(across, _foot_width(third)), foot + SIZES_MM + height + 2 * NAME_MM + row + MARGIN_MM),
        section,
        chain,
    )


def _draw_section(
    plan: Plan,
    section: Section,
    behind: Mesh,
    view: View,
    layout: _Layout,
    names: Sequence[Words],
) -> list[Item]:
    """Return the section with its chain, and in the front view the line it is cut on."""
    low, scale, at = plan.parts.low, layout.scale, layout.section
    assert at is not None
    least = low[1] if view.right[1] > 0 else -plan.parts.high[1]
    sheet = Sheet(1 / scale, (at[0] - least / scale, at[1] - low[2] / scale))
    x, y = layout.front
    taken = [*(Polygon(text_corners(one)) for one in names), *_taken(layout, at)]
    return [
        *draw_section(section, behind, view, sheet, taken),
        *draw_chain(layout.chain, at),
        *draw_cutting_line(x + (section.x_mm - low[0]) / scale, y, y + layout.size[2], view.eye[0]),
    ]


def _draw_view(mesh: Mesh, view: View, at: Vec2, scale: int) -> list[Item]:
    bounds = bounds_of(mesh, view)
    sheet = Sheet(1 / scale, (at[0] - bounds.left / scale, at[1] - bounds.low / scale))
    edges = find_edges(mesh, view)
    return [
        *draw_edges(edges.hidden, sheet, "hidden"),
        *draw_edges(edges.visible, sheet, "outline"),
    ]


def _taken(layout: _Layout, at: Vec2) -> tuple[Polygon, ...]:
    """Return what labels of the section must keep off: other views, its chain, the foot, the rim.

    Beside, above and below the section a label has a few millimetres.
    """
    _, depth, height = layout.size
    wide, tall = layout.paper
    side = layout.side
    return (
        shapely.box(0, 0, at[0] - ASIDE_MM, tall),
        shapely.box(wide - ASIDE_MM, 0, wide, tall),
        shapely.box(side[0], side[1], side[0] + depth, side[1] + height),
        shapely.box(0, 0, wide, at[1] - ABOVE_MM),
        shapely.box(0, at[1] + height + ABOVE_MM, wide, tall),
    )


def _draw_sizes(plan: Plan, layout: _Layout, third: bool) -> list[Item]:
    """Return width and depth below (third angle) or above the front row, height to its left."""
    system = plan.edition.system
    low, high = plan.parts.low, plan.parts.high
    texts = [format_length(b - a, system) for a, b in zip(low, high, strict=True)]
    width, depth, height = layout.size
    front = Box(*layout.front, layout.front[0] + width, layout.front[1] + height)
    side = Box(*layout.side, layout.side[0] + depth, layout.side[1] + height)
    # Where the section stands on the right, a text too long for its line has room below it.
    is_wide = layout.section is not None and layout.section[0] > layout.side[0]
    beside: End = "start" if third and is_wide else "end"
    items: list[Item] = []
    for box, text in ((front, texts[0]), (side, texts[1])):
        ends = ((box.left, box.high), (box.right, box.high))
        if third:
            ends = ((box.right, box.low), (box.left, box.low))
        items += draw_dimension(*ends, OFFSET_MM, text, beside=beside)
    items += draw_dimension((front.left, front.low), (front.left, front.high), OFFSET_MM, texts[2])
    return items


def _draw_names(views: Sequence[tuple[str, Vec2]], layout: _Layout, third: bool) -> list[Words]:
    """Return the name of every view on the side away from the sizes."""
    _, depth, height = layout.size
    items: list[Words] = []
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
