"""The drawings of a plan in one DXF file: scenes side by side, on layers by what lines mean.

Written from the same scenes as the SVG files, so both show the same. Texts are TEXT, arcs are
bulges, lines have the widths and dashes of the drawing; areas, which only shade, are left out.
One unit is one inch or one millimetre of paper.
"""

import math
from collections.abc import Sequence
from typing import Final

from generator.geometry.vectors import Vec2
from generator.outputs.dxf_pen import Pen
from generator.outputs.scene import Arrowhead, Disc, Item, Scene, Stroke, Words
from generator.outputs.scene_check import INK_EM
from generator.outputs.svg_style import HEAD_HALF_MM, HEAD_MM, LINES, NARROW_MM
from generator.units import System

TEXTS: Final = "texts"
PAPER: Final = "paper"
FILLED: Final = "dots"
DRAWING_LAYERS: Final = (PAPER, *LINES, FILLED, TEXTS)
GAP_MM: Final = 12.0
"""Between two sheets."""


def drawing_dxf(scenes: Sequence[Scene], system: System) -> bytes:
    """Return the drawings in one file, from left to right, their lower edges on one line."""
    pen = Pen(system, DRAWING_LAYERS)
    for layer, (width_mm, dashes) in LINES.items():
        pen.style(layer, width_mm, tuple(float(dash) for dash in dashes.split()))
    for name in (PAPER, FILLED, TEXTS):
        pen.style(name, NARROW_MM, ())
    left = 0.0
    for scene in scenes:
        _draw_sheet(pen, scene, left)
        left += scene.width_mm + GAP_MM
    return pen.finished()


def _draw_sheet(pen: Pen, scene: Scene, left: float) -> None:
    right, top = left + scene.width_mm, scene.height_mm
    border = ((left, 0.0), (right, 0.0), (right, top), (left, top))
    pen.polyline(border, (), PAPER, closed=True)
    for item in scene.items:
        _draw_item(pen, item, left)


def _draw_item(pen: Pen, item: Item, left: float) -> None:
    match item:
        case Stroke() if len(item.points) > 1:
            points = tuple((x + left, y) for x, y in item.points)
            pen.polyline(points, item.bulges, item.layer, closed=item.closed)
        case Disc():
            layer = item.layer or (FILLED if item.tone == "screw" else None)
            if layer is not None:
                pen.circle((item.center[0] + left, item.center[1]), 2 * item.radius_mm, layer)
        case Arrowhead():
            pen.triangle(_head(item, left), item.layer)
        case Words():
            at = (item.at[0] + left, item.at[1])
            height = INK_EM * item.size_mm
            pen.words(at, item.text, height, TEXTS, anchor=item.anchor, angle_deg=item.angle_deg)
        case _:
            pass


def _head(head: Arrowhead, left: float) -> tuple[Vec2, Vec2, Vec2]:
    length = math.hypot(*head.direction)
    way = (head.direction[0] / length, head.direction[1] / length)
    tip = (head.at[0] + left, head.at[1])
    x, y = tip[0] - way[0] * HEAD_MM, tip[1] - way[1] * HEAD_MM
    aside = (-way[1] * HEAD_HALF_MM, way[0] * HEAD_HALF_MM)
    return (tip, (x + aside[0], y + aside[1]), (x - aside[0], y - aside[1]))
