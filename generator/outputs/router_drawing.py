"""The drawing of a sheet for a router: every outline as it lies, face A up, without bevels.

x runs along the sheet from left to right, as in its DXF file. What a router cuts is drawn wide:
outlines, openings, holes; the border that it keeps free of outlines is dashed.
"""

from typing import Final

from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

from generator.geometry.outlines import Outline
from generator.geometry.vectors import Vec2
from generator.model.cutting import RouterHole, RouterLayout, RouterPlacement
from generator.model.plan import Plan
from generator.outputs.bodies import Box
from generator.outputs.dimensions import Dimension, stack_dimensions
from generator.outputs.labels import COLUMN_MM, Target, draw_labels, place_labels
from generator.outputs.panels import bounds_of, moved_items
from generator.outputs.part_bores import LEAST_RADIUS_MM
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    Area,
    Disc,
    Item,
    Scene,
    Stroke,
    Words,
)
from generator.outputs.text_width import text_width_mm
from generator.units import format_length

PAGE_MM: Final = 178.0
MARGIN_MM: Final = 6.0
LONGEST_MM: Final = 130.0
HIGHEST_MM: Final = 110.0
LINE_MM: Final = 4.6
APART_MM: Final = 4.0
"""Between title, picture and explanations."""


def draw_router_sheet(plan: Plan, layout: RouterLayout) -> Scene:
    """Return the drawing of one sheet for a router."""
    title, picture = _title(plan, layout), _picture(plan, layout)
    left, _, right, _ = bounds_of(picture)
    centred = moved_items(picture, (PAGE_MM - left - right) / 2 - MARGIN_MM, 0.0)
    key = [_line(-LINE_MM * i, line) for i, line in enumerate(_key(plan, layout))]
    items: list[Item] = []
    top = -MARGIN_MM
    for block in (title, centred, key):
        _, low, _, high = bounds_of(block)
        items += moved_items(block, MARGIN_MM, top - high)
        top -= high - low + APART_MM
    height = round(-top - APART_MM + MARGIN_MM, 2)
    return Scene(
        width_mm=PAGE_MM,
        height_mm=height,
        title=f"Router sheet {layout.number} of {len(plan.cutting.router)}",
        description=_description(plan, layout),
        items=moved_items(items, 0.0, height),
    )


def _picture(plan: Plan, layout: RouterLayout) -> list[Item]:
    length, width, border = layout.size.length_mm, layout.size.width_mm, layout.border_mm
    scale = min(LONGEST_MM / length, HIGHEST_MM / width)
    sheet = _rectangle(0.0, 0.0, length * scale, width * scale)
    free = border * scale
    inner = _rectangle(free, free, length * scale - free, width * scale - free)
    items: list[Item] = [
        Area(rings=(sheet,), tone="waste"),
        Stroke(points=sheet, layer="outline", closed=True),
        Stroke(points=inner, layer="hidden", closed=True),
    ]
    for one in layout.placements:
        items += _cut_out(one, scale)
    targets = [Target(one.label, (_wood(one, scale),)) for one in layout.placements]
    labels = place_labels(targets, Box(0.0, 0.0, length * scale, width * scale))
    return [*items, *_sizes(plan, layout, scale), *draw_labels(labels)]


def _cut_out(one: RouterPlacement, scale: float) -> list[Item]:
    """Return one part: its wood, and every line a router or drill goes along."""
    outline = _scaled(one.outline, scale)
    openings = [_scaled(opening, scale) for opening in one.openings]
    rings = (outline.flattened(), *(opening.flattened() for opening in openings))
    items: list[Item] = [Area(rings=rings, tone="wood")]
    items += [
        Stroke(points=each.points, layer="outline", closed=True, bulges=each.bulges)
        for each in (outline, *openings)
    ]
    items += [_ring(hole, scale) for hole in (*one.holes, *one.pin_holes)]
    return items


def _ring(hole: RouterHole, scale: float) -> Disc:
    radius = max(hole.diameter_mm / 2 * scale, LEAST_RADIUS_MM / 2)
    at = (hole.center[0] * scale, hole.center[1] * scale)
    if hole.depth_mm is None:
        return Disc(center=at, radius_mm=radius, tone="waste", layer="outline")
    return Disc(center=at, radius_mm=radius, layer="screw")


def _wood(one: RouterPlacement, scale: float) -> Polygon:
    """Return the wood of a part on paper, without its openings and round holes."""
    openings = [_scaled(opening, scale).polygon() for opening in one.openings]
    rings = [_ring(hole, scale) for hole in one.holes]
    openings += [Point(ring.center).buffer(ring.radius_mm) for ring in rings]
    wood = _scaled(one.outline, scale).polygon() - unary_union(openings)
    parts = [each for each in getattr(wood, "geoms", [wood]) if isinstance(each, Polygon)]
    return max(parts, key=lambda each: each.area)


def _sizes(plan: Plan, layout: RouterLayout, scale: float) -> tuple[Item, ...]:
    """Return length and width of the sheet, outside the columns of labels."""
    system = plan.edition.system
    right, top = layout.size.length_mm * scale, layout.size.width_mm * scale
    length = Dimension((0.0, top), (right, top), format_length(layout.size.length_mm, system))
    width = Dimension((0.0, 0.0), (0.0, top), format_length(layout.size.width_mm, system))
    return (
        *stack_dimensions([length], "above", top).items,
        *stack_dimensions([width], "left", 0.0, first_mm=COLUMN_MM + 4.0).items,
    )


def _title(plan: Plan, layout: RouterLayout) -> list[Item]:
    right = PAGE_MM - 2 * MARGIN_MM
    name = f"Router sheet {layout.number} of {len(plan.cutting.router)}"
    used = f"{round(layout.used * 100)} % becomes parts"
    return [
        Words(at=(0.0, 0.0), text=name, size_mm=5.0, bold=True),
        Words(at=(right, 0.0), text=used, anchor="end"),
        Words(at=(0.0, -6.4), text=f"{layout.stock.title}, {layout.size.name}"),
    ]


def _key(plan: Plan, layout: RouterLayout) -> list[str]:
    """Return how the drawing is read, and what it leaves out."""
    system = plan.edition.system
    bit, apart, border = (
        format_length(size, system) for size in (layout.bit_mm, layout.apart_mm, layout.border_mm)
    )
    labels = {one.label: plan.parts.part(one.label).title for one in layout.placements}
    sentences = [
        f"Laid for a {bit} bit that runs outside the outlines; no two are nearer than {apart}.",
        f"Dashed: {border} from the edges of the sheet, and no part beyond it. Every part lies "
        "with face A up, as on its drawing.",
        ", ".join(f"{label} = {labels[label]}" for label in sorted(labels)) + ".",
        "Not here: bevels, channels, pockets, blind holes of joints, holes in edges.",
    ]
    if layout.bevels:
        sentences.append(
            f"Cut square at the long point, bevel afterwards: {', '.join(layout.bevels)}."
        )
    return [line for sentence in sentences for line in _wrapped(sentence)]


def _description(plan: Plan, layout: RouterLayout) -> str:
    system = plan.edition.system
    counts: dict[str, int] = {}
    for one in layout.placements:
        counts[one.label] = counts.get(one.label, 0) + 1
    parts = "; ".join(
        f"{count} × {label} {plan.parts.part(label).title}" for label, count in counts.items()
    )
    return (
        f"Router sheet {layout.number}, {layout.stock.title}, "
        f"{format_length(layout.size.length_mm, system)} by "
        f"{format_length(layout.size.width_mm, system)}: {parts}. {' '.join(_key(plan, layout))}"
    )


def _wrapped(sentence: str) -> list[str]:
    """Return a sentence in lines that fit the page."""
    lines = [""]
    for word in sentence.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width_mm(longer, SMALLEST_TEXT_MM) > PAGE_MM - 2 * MARGIN_MM:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _line(y: float, text: str) -> Words:
    return Words(at=(0.0, y), text=text, size_mm=SMALLEST_TEXT_MM)


def _scaled(outline: Outline, scale: float) -> Outline:
    return Outline(tuple((x * scale, y * scale) for x, y in outline.points), outline.bulges)


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> tuple[Vec2, ...]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
