"""Writes a scene as one SVG file that is good in light, dark and print.

What looks alike shares an element as far as nothing between would be covered otherwise: strokes
of a layer and areas of a tone one path, texts a group, equal circles the markers along a path.
Text stays text. Nothing is drawn that the scene does not hold, but for the sheet of paper under it.
"""

import math
from collections.abc import Iterable
from typing import Final
from xml.sax.saxutils import escape

from shapely.geometry import Polygon

from generator.geometry.vectors import Vec2
from generator.outputs.scene import Area, Arrowhead, Disc, Item, Scene, Stroke, Words
from generator.outputs.svg_path import PathPen, format_mm, format_number
from generator.outputs.svg_runs import Run, gather_runs
from generator.outputs.svg_style import HEAD_HALF_MM, HEAD_MM, format_style

PX_PER_MM = 3.78
"""A CSS pixel is 1/96 in: 25.4 mm are 96 of them, rounded to two decimals."""

FEW_DISCS: Final = 3
"""So many equal circles are shorter written one by one than as markers."""


def write_svg(scene: Scene) -> str:
    """Return the text of an SVG file: 1 unit of its view box is 1 mm on paper."""
    runs = gather_runs(scene.items)
    body = [_write_run(run, number, scene.height_mm) for number, run in enumerate(runs)]
    used = [name for run in runs for name in run.key[1].split()]
    width, height = format_mm(scene.width_mm), format_mm(scene.height_mm)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{format_mm(scene.width_mm * PX_PER_MM)}" '
        f'height="{format_mm(scene.height_mm * PX_PER_MM)}" role="img" aria-labelledby="t d">\n'
        f'<title id="t">{escape(scene.title)}</title>\n'
        f'<desc id="d">{escape(scene.description)}</desc>\n'
        f"<style>{format_style(used)}</style>\n"
        f'<rect class="p" width="{width}" height="{height}"/>\n' + "\n".join(body) + "\n</svg>\n"
    )


def _write_run(run: Run, number: int, height_mm: float) -> str:
    """Return the text of items that share an element; its number makes ids unlike others."""
    kind, classes, more = run.key
    discs = [item for item in run.items if isinstance(item, Disc)]
    words = [item for item in run.items if isinstance(item, Words)]
    if kind == "words":
        return _write_words(words, classes, more, height_mm)
    pen = PathPen(height_mm)
    if kind == "disc" and len(discs) <= FEW_DISCS:
        return "\n".join(_write_disc(pen, disc, classes, more) for disc in discs)
    if kind == "disc":
        pen.places(tuple(disc.center for disc in discs))
        return (
            f'<marker id="n{number}" overflow="visible" markerUnits="userSpaceOnUse">'
            f'<circle class="{classes}" r="{more}"/></marker>\n'
            f'<path style="marker:url(#n{number})" d="{pen.data}"/>'
        )
    for item in run.items:
        _draw_item(pen, item)
    return f'<path class="{classes}" d="{pen.data}"/>'


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
    x, y = head.at[0] - dx * HEAD_MM, head.at[1] - dy * HEAD_MM
    side_x, side_y = -dy * HEAD_HALF_MM, dx * HEAD_HALF_MM
    return (head.at, (x + side_x, y + side_y), (x - side_x, y - side_y))


def _write_disc(pen: PathPen, disc: Disc, classes: str, radius: str) -> str:
    x, y = pen.point(disc.center)
    return (
        f'<circle class="{classes}" cx="{format_number(x)}" cy="{format_number(y)}" r="{radius}"/>'
    )


def _write_words(words: list[Words], classes: str, more: str, height_mm: float) -> str:
    """Return texts of one look; several of them share a group that holds it."""
    look = (f' class="{classes}"' if classes else "") + more
    if len(words) == 1 or not look:
        return "\n".join(_write_text(one, look, height_mm) for one in words)
    return f"<g{look}>" + "".join(_write_text(one, "", height_mm) for one in words) + "</g>"


def _write_text(words: Words, look: str, height_mm: float) -> str:
    """Return one text; a turned one is placed on the axes of its turn about the corner."""
    x, y = words.at[0], height_mm - words.at[1]
    turn = math.radians(words.angle_deg)
    along, across = math.cos(turn), math.sin(turn)
    at = (x * along - y * across, x * across + y * along)
    return f'<text x="{format_mm(at[0])}" y="{format_mm(at[1])}"{look}>{escape(words.text)}</text>'
