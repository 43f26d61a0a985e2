"""The points of a free outline: numbered on the drawing, and measured in the table below it."""

import math
from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from generator.geometry.outlines import arc_of
from generator.geometry.vectors import Vec2
from generator.model.work import Work
from generator.outputs.face_paper import FacePaper
from generator.outputs.hole_table import HoleRow
from generator.outputs.panels import NO_BOXES, Boxes
from generator.outputs.part_sizes import distance_mm, find_datum
from generator.outputs.scene import SMALLEST_TEXT_MM, Words
from generator.units import System, format_length, format_size

INWARD_MM: Final = 2.6
"""From a point to the middle of its number, on paper."""
FLAT: Final = 0.2
"""Two unit steps whose sum is shorter go nearly straight on (within 12 degrees)."""
SAMPLE_MM: Final = 3.0
"""Size of the boxes that stand for what is outside, on paper."""
HEADING: Final = "Outline, from point to point"


def draw_point_numbers(paper: FacePaper) -> list[Words]:
    """Return the number of each point on the wood beside it; nothing for any other outline."""
    if not paper.part.is_free:
        return []
    words = []
    for number, point in enumerate(paper.near.points, 1):
        way = _way_inside(paper, number - 1)
        seen = paper.view.direction(way)
        x, y = paper.point(point)
        at = (x + seen[0] * INWARD_MM, y + seen[1] * INWARD_MM - 0.36 * SMALLEST_TEXT_MM)
        text = str(number)
        word = Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor="middle", bold=True)
        words.append(replace(word, halo=True))
    return words


def find_outline_rows(paper: FacePaper, work: Work, system: System) -> tuple[HoleRow, ...]:
    """Return a row of the table for each point: how the line leads to it, and where it is."""
    if not paper.part.is_free:
        return ()
    along, up = find_datum(paper, work, 0), find_datum(paper, work, 1)
    return tuple(
        HoleRow(
            str(index + 1),
            (),
            (),
            HEADING,
            (
                _leads_there(paper, index, system),
                format_size(distance_mm(paper, along, point), system),
                format_size(distance_mm(paper, up, point), system),
            ),
        )
        for index, point in enumerate(paper.near.points)
    )


def outside_boxes(paper: FacePaper) -> Boxes:
    """Return small boxes where a free outline leaves no wood, for labels to keep off."""
    found = [NO_BOXES]
    for recess in (one for one in paper.part.recesses if one.kind == "outline"):
        outside = paper.outline(recess.outline).polygon()
        low_x, low_y, high_x, high_y = outside.bounds
        rows = np.arange(math.ceil((high_y - low_y) / SAMPLE_MM))
        columns = np.arange(math.ceil((high_x - low_x) / SAMPLE_MM))
        x, y = (place.ravel() for place in np.meshgrid(columns * SAMPLE_MM, rows * SAMPLE_MM))
        boxes = np.column_stack((x, y, x + SAMPLE_MM, y + SAMPLE_MM)) + [low_x, low_y] * 2
        shapely.prepare(outside)
        found.append(boxes[shapely.intersects(outside, shapely.box(*boxes.T))])
    return np.concatenate(found)


def _leads_there(paper: FacePaper, index: int, system: System) -> str:
    """Return how the outline comes to a point: ``straight``, ``arc R 50, hollow``."""
    start, end, bulge = paper.near.edges()[index - 1]
    if not bulge:
        return "straight"
    _, radius, _ = arc_of(start, end, bulge)
    rise = abs(bulge) * math.dist(start, end) / 2
    shape = "swells" if bulge > 0 else "hollow"
    return f"arc R {format_length(radius, system)}, {shape} {format_length(rise, system)}"


def _way_inside(paper: FacePaper, index: int) -> Vec2:
    """Return the way from a point into the wood, half-way between the chords beside it."""
    points = paper.near.flattened()
    at = points.index(paper.near.points[index])
    here, before, after = points[at], points[at - 1], points[(at + 1) % len(points)]
    a, b = _unit(here, before), _unit(here, after)
    way = (a[0] + b[0], a[1] + b[1])
    size = math.hypot(*way)
    if size < FLAT:
        return (-b[1], b[0])
    is_corner = a[0] * b[1] - a[1] * b[0] < 0
    inside = size if is_corner else -size
    return (way[0] / inside, way[1] / inside)


def _unit(start: Vec2, end: Vec2) -> Vec2:
    length = math.dist(start, end)
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
