"""Writes a scene as one SVG file that is good in light, dark and print.

What looks alike shares an element as far as nothing between would be covered otherwise: strokes
of a layer and areas of a tone one path, texts a group, equal circles the markers along a path.
Text stays text. Nothing is drawn that the scene does not hold, but for the sheet of paper under it.
"""

import math
from collections.abc import Iterable
from typing import Final
from xml.sax.saxutils import escape

from shapely import polygons

from generator.geometry.vectors import Vec2
from generator.outputs.panels import around_points, is_inside
from generator.outputs.scene import Area, Arrowhead, Item, Scene, Stroke, Words
from generator.outputs.svg_path import PathPen, Point, format_mm, format_number
from generator.outputs.svg_places import Placed, place_items
from generator.outputs.svg_runs import Run, gather_runs
from generator.outputs.svg_style import format_style

PX_PER_MM = 3.78
"""A CSS pixel is 1/96 in: 25.4 mm are 96 of them, rounded to two decimals."""

FEW_DISCS: Final = 3
"""So many equal circles are shorter written one by one than as markers."""


def write_svg(scene: Scene) -> str:
    """Return the text of an SVG file: 1 unit of its view box is 1 mm on paper."""
    placed = place_items(scene.items, scene.height_mm)
    runs = gather_runs(placed)
    body = [_write_run(run, number, placed) for number, run in enumerate(runs)]
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


def _write_run(run: Run, number: int, placed: Placed) -> str:
    """Return the text of items that share an element; its number makes ids unlike others."""
    kind, classes, _ = run.key
    if kind == "words":
        return _write_words(run, placed)
    if kind == "disc":
        return _write_discs(run, number, placed)
    pen = PathPen()
    for index in run.numbers:
        _draw_item(pen, placed.items[index], placed.corners[index])
    return f'<path class="{classes}" d="{pen.data}"/>'


def _write_discs(run: Run, number: int, placed: Placed) -> str:
    _, classes, radius = run.key
    centers = [placed.corners[index][0] for index in run.numbers]
    if len(centers) <= FEW_DISCS:
        return "\n".join(
            f'<circle class="{classes}" cx="{format_number(x)}" cy="{format_number(y)}" '
            f'r="{radius}"/>'
            for x, y in centers
        )
    pen = PathPen()
    pen.polyline(centers, closed=False)
    return (
        f'<marker id="n{number}" overflow="visible" markerUnits="userSpaceOnUse">'
        f'<circle class="{classes}" r="{radius}"/></marker>\n'
        f'<path style="marker:url(#n{number})" d="{pen.data}"/>'
    )


def _draw_item(pen: PathPen, item: Item, corners: list[Point]) -> None:
    match item:
        case Stroke() if item.bulges and any(item.bulges):
            pen.curve(corners, item.points, item.bulges, item.closed)
        case Stroke():
            pen.polyline(corners, item.closed)
        case Arrowhead():
            pen.polyline(corners, closed=True)
        case Area():
            start = 0
            for ring, is_turned in zip(item.rings, _are_turned(item.rings), strict=True):
                own = corners[start : start + len(ring)]
                pen.polyline(own[::-1] if is_turned else own, closed=True)
                start += len(ring)
        case _:
            raise TypeError(f"{type(item).__name__} is no path")


def _are_turned(rings: tuple[tuple[Vec2, ...], ...]) -> Iterable[bool]:
    """Return which rings are to be turned: outer ones go left and holes right.

    Then areas may share a path and overlap.
    """
    depths = _depths(rings) if len(rings) > 1 else (0,)
    for ring, depth in zip(rings, depths, strict=True):
        yield (_signed_area(ring) > 0) != (depth % 2 == 0)


def _depths(rings: tuple[tuple[Vec2, ...], ...]) -> list[int]:
    """Return how many others each ring lies in; most holes are not even near each other."""
    boxes = [around_points(ring) for ring in rings]
    shapes = [polygons(ring) for ring in rings]
    return [
        sum(
            index != other and is_inside(boxes[index], boxes[other]) and shape.contains(inner)
            for other, shape in enumerate(shapes)
        )
        for index, inner in enumerate(shapes)
    ]


def _signed_area(ring: tuple[Vec2, ...]) -> float:
    after = ring[1:] + ring[:1]
    return sum([x * v - u * y for (x, y), (u, v) in zip(ring, after, strict=True)])


def _write_words(run: Run, placed: Placed) -> str:
    """Return texts of one look; several of them share a group that holds it."""
    _, classes, more = run.key
    look = (f' class="{classes}"' if classes else "") + more
    is_group = len(run.numbers) > 1 and look
    texts = [_write_text(index, "" if is_group else look, placed) for index in run.numbers]
    return f"<g{look}>" + "".join(texts) + "</g>" if is_group else "\n".join(texts)


def _write_text(index: int, look: str, placed: Placed) -> str:
    """Return one text; a turned one is placed on the axes of its turn about the corner."""
    words = placed.items[index]
    if not isinstance(words, Words):
        raise TypeError(f"{type(words).__name__} is no text")
    at = placed.corners[index][0]
    if words.angle_deg:
        x, y = words.at[0], placed.height_mm - words.at[1]
        turn = math.radians(words.angle_deg)
        along, across = math.cos(turn), math.sin(turn)
        at = (round((x * along - y * across) * 100), round((x * across + y * along) * 100))
    place = f'x="{format_number(at[0])}" y="{format_number(at[1])}"'
    return f"<text {place}{look}>{escape(words.text)}</text>"
