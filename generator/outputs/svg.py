"""Writes a scene as one SVG file that is good in light, dark and print.

Strokes of one layer and areas of one tone that follow each other become one path. Text stays text.
Nothing is drawn that the scene does not hold, but for the sheet of paper under it.
"""

import math
from collections.abc import Iterable
from itertools import groupby
from xml.sax.saxutils import escape

from shapely.geometry import Polygon

from generator.geometry.vectors import Vec2
from generator.outputs.scene import TEXT_MM, Area, Arrowhead, Disc, Item, Scene, Stroke, Words
from generator.outputs.svg_path import PathPen, format_number
from generator.outputs.svg_style import FILL_CLASS, HEAD_CLASS, LINE_CLASS, format_style

PX_PER_MM = 3.78
"""A CSS pixel is 1/96 in: 25.4 mm are 96 of them, rounded to two decimals."""

ARROW_MM = 2.5
"""Ten widths of a narrow line."""

ARROW_HALF_MM = 0.4


def write_svg(scene: Scene) -> str:
    """Return the text of an SVG file: 1 unit of its view box is 1 mm on paper."""
    used: list[str] = []
    body: list[str] = []
    for key, run in groupby(scene.items, key=_run_key):
        classes, text = _write_run(key, list(run), scene.height_mm)
        used += classes
        body.append(text)
    width, height = _short(scene.width_mm), _short(scene.height_mm)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{_short(scene.width_mm * PX_PER_MM)}" '
        f'height="{_short(scene.height_mm * PX_PER_MM)}" role="img" aria-labelledby="t d">\n'
        f'<title id="t">{escape(scene.title)}</title>\n'
        f'<desc id="d">{escape(scene.description)}</desc>\n'
        f"<style>{format_style(used)}</style>\n"
        f'<rect class="p" width="{width}" height="{height}"/>\n'
        + "\n".join(line for line in body if line)
        + "\n</svg>\n"
    )


def _run_key(item: Item) -> tuple[str, str]:
    """Return what neighbours must share to be written as one element."""
    match item:
        case Stroke():
            return ("stroke", LINE_CLASS[item.layer])
        case Area():
            return ("area", FILL_CLASS[item.tone] if item.tone else "")
        case Arrowhead():
            return ("head", HEAD_CLASS[item.layer])
        case Disc():
            return ("disc", "")
        case Words():
            return ("words", "")


def _write_run(key: tuple[str, str], items: list[Item], height_mm: float) -> tuple[list[str], str]:
    """Return the classes used and the text of neighbours of one kind."""
    kind, name = key
    if kind == "disc":
        discs = [_write_disc(item, height_mm) for item in items if isinstance(item, Disc)]
        return [c for classes, _ in discs for c in classes], "\n".join(text for _, text in discs)
    if kind == "words":
        return [], "\n".join(_write_words(i, height_mm) for i in items if isinstance(i, Words))
    if not name:
        return [], ""
    pen = PathPen(height_mm)
    for item in items:
        _draw_item(pen, item)
    return [name], f'<path class="{name}" d="{pen.data}"/>'


def _draw_item(pen: PathPen, item: Item) -> None:
    match item:
        case Stroke():
            pen.polyline(item.points, item.closed, item.bulges)
        case Area():
            for ring in _turned_rings(item.rings):
                pen.polyline(ring, closed=True)
        case Arrowhead():
            pen.polyline(_arrow(item), closed=True)
        case _:
            raise TypeError(f"{type(item).__name__} is no path")


def _turned_rings(rings: tuple[tuple[Vec2, ...], ...]) -> Iterable[tuple[Vec2, ...]]:
    """Turn outer rings left and holes right, so that areas may share a path and overlap."""
    shapes = [Polygon(ring) for ring in rings] if len(rings) > 1 else []
    for index, ring in enumerate(rings):
        depth = sum(shape.contains(shapes[index]) for i, shape in enumerate(shapes) if i != index)
        is_left = _signed_area(ring) > 0
        yield ring if is_left == (depth % 2 == 0) else tuple(reversed(ring))


def _signed_area(ring: tuple[Vec2, ...]) -> float:
    after = ring[1:] + ring[:1]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, after, strict=True))


def _arrow(head: Arrowhead) -> tuple[Vec2, ...]:
    length = math.hypot(*head.direction)
    dx, dy = head.direction[0] / length, head.direction[1] / length
    x, y = head.at[0] - dx * ARROW_MM, head.at[1] - dy * ARROW_MM
    side_x, side_y = -dy * ARROW_HALF_MM, dx * ARROW_HALF_MM
    return (head.at, (x + side_x, y + side_y), (x - side_x, y - side_y))


def _write_disc(disc: Disc, height_mm: float) -> tuple[list[str], str]:
    classes = [FILL_CLASS[disc.tone]] if disc.tone else []
    classes += [LINE_CLASS[disc.layer]] if disc.layer else []
    if not classes:
        return [], ""
    x, y = _short(disc.center[0]), _short(height_mm - disc.center[1])
    radius = _short(disc.radius_mm)
    return classes, f'<circle class="{" ".join(classes)}" cx="{x}" cy="{y}" r="{radius}"/>'


def _write_words(words: Words, height_mm: float) -> str:
    x, y = _short(words.at[0]), _short(height_mm - words.at[1])
    classes = [{"start": "", "middle": "m", "end": "e"}[words.anchor]]
    classes += ["b" if words.bold else "", "o" if words.halo else ""]
    name = " ".join(c for c in classes if c)
    attributes = f' class="{name}"' if name else ""
    if words.size_mm != TEXT_MM:
        attributes += f' style="font-size:{_short(words.size_mm)}px"'
    if words.angle_deg:
        attributes += f' transform="rotate({_short(-words.angle_deg)} {x} {y})"'
    return f'<text x="{x}" y="{y}"{attributes}>{escape(words.text)}</text>'


def _short(value: float) -> str:
    return format_number(round(value * 100))
