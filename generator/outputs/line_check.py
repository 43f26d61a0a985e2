"""Finds lines that run through text, text that hides lines, and leaders that cross.

A text has paper of its own where it stands on a halo or in a disc. A name may interrupt a narrow
line with its paper; a number may not, for it could be read as something else. Source: ISO 129-1
(dimensional values are not crossed or separated by a line; narrow lines may be interrupted), from
memory. That leaders cross neither each other nor text is common practice, no source.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon

from generator.geometry.outlines import arc_points
from generator.geometry.vectors import Vec2
from generator.outputs.scene import Arrowhead, Disc, Item, Layer, Scene, Stroke, Words
from generator.outputs.scene_check import ink_corners
from generator.outputs.svg_style import HEAD_MM, LINES, WIDE_MM

TOUCH_MM = 0.05
"""Lines that share less than this with a text only touch it."""


WIDE_LAYERS = frozenset(layer for layer, (width_mm, _) in LINES.items() if width_mm >= WIDE_MM)
"""Outlines, cuts, screws, edging: no text may hide any of them."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of a drawing and its place in the drawing order."""

    order: int
    layer: Layer
    path: LineString


@dataclass(frozen=True, slots=True)
class _Text:
    """A text of a drawing, the box around its ink, and its place in the drawing order."""

    order: int
    words: Words
    box: Polygon


def find_line_faults(scene: Scene) -> list[str]:
    """Return in words what is wrong with lines beside texts; nothing where all is well."""
    lines = list(_lines(scene.items))
    texts = [
        _Text(order, item, Polygon(ink_corners(item)))
        for order, item in enumerate(scene.items)
        if isinstance(item, Words) and item.text.strip()
    ]
    faults = _crossed_texts(lines, texts, scene.items)
    faults += _crossed_leaders([line for line in lines if line.layer == "leader"])
    faults += _covered_texts(texts, scene.items)
    return faults


def line_points(stroke: Stroke) -> list[Vec2]:
    """Return the points of a stroke with its arcs flattened; a closed one ends where it starts."""
    corners = [*stroke.points, *(stroke.points[:1] if stroke.closed else ())]
    if not stroke.bulges:
        return corners
    points = [corners[0]]
    for i, end in enumerate(corners[1:]):
        if i < len(stroke.bulges) and stroke.bulges[i]:
            points += arc_points(corners[i], end, stroke.bulges[i])
        points.append(end)
    return points


def _lines(items: Sequence[Item]) -> Iterator[_Line]:
    for order, item in enumerate(items):
        if isinstance(item, Stroke):
            yield _Line(order, item.layer, LineString(line_points(item)))
        elif isinstance(item, Arrowhead):
            length = Point(item.direction).distance(Point(0, 0))
            tail = tuple(
                a - b / length * HEAD_MM for a, b in zip(item.at, item.direction, strict=True)
            )
            yield _Line(order, item.layer, LineString([item.at, tail]))


def _crossed_texts(
    lines: Sequence[_Line], texts: Sequence[_Text], items: Sequence[Item]
) -> list[str]:
    if not lines or not texts:
        return []
    tree = STRtree([line.path for line in lines])
    faults = []
    for text in texts:
        found = sorted(tree.query(text.box, predicate="intersects").tolist())
        for line in (lines[i] for i in found):
            if line.path.intersection(text.box).length > TOUCH_MM and _is_fault(line, text, items):
                faults.append(f"a line ({line.layer}) runs through text `{text.words.text}`")
                break
    return faults


def _is_fault(line: _Line, text: _Text, items: Sequence[Item]) -> bool:
    """Whether a line that meets a text harms the text, or the text the line."""
    if line.order > text.order:
        return True
    if _is_on_disc(text, items[line.order : text.order]):
        return False
    is_number = any(sign.isdigit() for sign in text.words.text)
    return not text.words.halo or is_number or line.layer in WIDE_LAYERS


def _is_on_disc(text: _Text, between: Sequence[Item]) -> bool:
    """Whether a disc of paper lies between a line and the text above it."""
    return any(
        isinstance(item, Disc)
        and item.tone
        and Point(item.center).buffer(item.radius_mm + TOUCH_MM).contains(text.box)
        for item in between
    )


def _crossed_leaders(leaders: Sequence[_Line]) -> list[str]:
    return [
        f"leaders cross at ({point.x:.1f}, {point.y:.1f})"
        for i, one in enumerate(leaders)
        for other in leaders[i + 1 :]
        if one.path.crosses(other.path)
        for point in (one.path.intersection(other.path).representative_point(),)
    ]


def _covered_texts(texts: Sequence[_Text], items: Sequence[Item]) -> list[str]:
    """Return the texts on which a disc lies that was drawn after them, or a disc beside them."""
    discs = [
        (order, Point(item.center).buffer(item.radius_mm))
        for order, item in enumerate(items)
        if isinstance(item, Disc) and item.tone == "bubble"
    ]
    return [
        f"a disc lies over text `{text.words.text}`"
        for text in texts
        if any(
            disc.intersects(text.box) and (order > text.order or not disc.contains(text.box))
            for order, disc in discs
        )
    ]
