"""Leaders on a part: diameters of holes, sizes of slots and small notches, radii of corners."""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.outlines import arc_of
from generator.geometry.vectors import Vec2
from generator.model.parts import Opening, Recess
from generator.outputs.dimensions import draw_leader, leader_words
from generator.outputs.face_paper import FacePaper
from generator.outputs.panels import (
    Boxes,
    as_array,
    dots_along,
    outside_of,
    overlaps_mm2,
    words_box,
)
from generator.outputs.scene import Item, Stroke
from generator.units import System, format_size

REACH_MM: Final = 5.5
"""From what is named to the elbow of its leader."""
REACHES_MM: Final = (5.5, 8.0, 10.5, 13.0, 16.0, 19.0, 22.0, 25.0, 28.0, 32.0, 36.0, 40.0)
"""The same for openings, which may have to be named from far away."""
BEST: Final = 12
"""Of so many texts that cover least the leaders are compared."""
SMALL_NOTCH_MM: Final = 8.0
"""A notch in a corner that is smaller than this on paper is told in words."""
LINE_WEIGHT: Final = 4
"""A size on a line could be misread: worse than one that covers as much of a plain thing."""
CROSSING_WEIGHT: Final = 0.1
"""A leader may cross a line or two, a text on a line could be misread."""
WAYS: Final = tuple(
    (math.cos(math.radians(a)), math.sin(math.radians(a)))
    for a in (45, 135, 315, 225, 20, 160, 30, 150)
)


@dataclass(frozen=True, slots=True)
class Label:
    """A text and the leaders it could have, each from what is named to an elbow."""

    text: str
    leaders: tuple[tuple[Vec2, Vec2], ...]


@dataclass(frozen=True, slots=True)
class Obstacles:
    """What labels keep off: things, and small boxes along lines, which count more."""

    things: Boxes
    lines: Boxes

    def covered_mm2(self, boxes: Boxes) -> Boxes:
        """Return how much of each box is covered, as it counts."""
        covered = overlaps_mm2(boxes, self.things) + LINE_WEIGHT * overlaps_mm2(boxes, self.lines)
        return covered.round(3)


def find_size_labels(paper: FacePaper, system: System) -> tuple[Label, ...]:
    """Return the sizes that are told on leaders; most parts have none."""
    return (
        *_opening_labels(paper, system),
        *_radius_labels(paper, system),
        *_notch_labels(paper, system),
    )


def draw_size_labels(paper: FacePaper, labels: Iterable[Label], taken: Obstacles) -> list[Item]:
    """Return the labels, each with the leader that is most out of the way."""
    items: list[Item] = []
    things = np.concatenate((taken.things, as_array(outside_of(paper.box))))
    for label in labels:
        boxes = as_array(words_box(leader_words(*way, label.text)) for way in label.leaders)
        obstacles = Obstacles(things, taken.lines)
        covered = obstacles.covered_mm2(boxes)
        order: list[int] = covered.argsort(kind="stable")[:BEST].tolist()
        options = {i: draw_leader(*label.leaders[i], label.text) for i in order}
        best = min(order, key=lambda i: covered[i] + _crossed(options[i], obstacles))
        items += options[best]
        things = np.concatenate((things, boxes[best : best + 1]))
    return items


def _crossed(leader: tuple[Item, ...], obstacles: Obstacles) -> float:
    """Return how much of what is there a leader would cross, as it counts."""
    lines = [item.points for item in leader if isinstance(item, Stroke)]
    return CROSSING_WEIGHT * float(obstacles.covered_mm2(dots_along(lines)).sum())


def find_small_notches(paper: FacePaper) -> tuple[Recess, ...]:
    """Return the notches in corners that leave no room on paper for two sizes beside them."""
    return tuple(
        recess
        for recess in paper.part.recesses
        if recess.kind == "notch"
        and " " in recess.name
        and max(_extent(paper, recess)) < SMALL_NOTCH_MM
    )


def _extent(paper: FacePaper, recess: Recess) -> Vec2:
    """Return how wide and how high a recess is on paper."""
    low_x, low_y, high_x, high_y = paper.outline(recess.outline).bounds
    return (high_x - low_x, high_y - low_y)


def _notch_labels(paper: FacePaper, system: System) -> Iterable[Label]:
    """One label for all small notches in corners of a size: ``2 × notch 6 wide, 25 high``."""
    groups: dict[str, list[tuple[Vec2, Vec2]]] = {}
    counts: dict[str, int] = {}
    middle = (paper.size[0] / 2, paper.size[1] / 2)
    for recess in find_small_notches(paper):
        low_x, low_y, high_x, high_y = paper.view.outline(recess.outline).bounds
        wide, high = format_size(high_x - low_x, system), format_size(high_y - low_y, system)
        text = f"notch {wide} wide, {high} high"
        corners = [paper.point(point) for point in recess.outline.points]
        at = min(corners, key=lambda corner: math.dist(corner, middle))
        inward = (math.copysign(1.0, middle[0] - at[0]), math.copysign(1.0, middle[1] - at[1]))
        groups.setdefault(text, []).extend(
            (at, (at[0] + inward[0] * x, at[1] + inward[1] * y))
            for x in (REACH_MM, 12.0, 20.0)
            for y in (REACH_MM, 10.0, 15.0, 20.0)
        )
        counts[text] = counts.get(text, 0) + 1
    for text, leaders in groups.items():
        yield Label(text if counts[text] == 1 else f"{counts[text]} × {text}", tuple(leaders))


def _opening_labels(paper: FacePaper, system: System) -> Iterable[Label]:
    """One label for all openings of a size: ``Ø 40``, ``2 × Ø 8``, ``slot 80 × 20``."""
    groups: dict[str, list[tuple[Vec2, float, Callable[[Vec2], Vec2]]]] = {}
    for opening in paper.part.openings:
        text = _opening_text(opening, system)
        radius = opening.sizes_mm[-1] / 2 * paper.scale
        foot = _as_is if opening.name == "hole" else _upright if opening.along_x else _level
        groups.setdefault(text, []).append((paper.point(opening.center), radius, foot))
    for text, places in groups.items():
        yield Label(
            text if len(places) == 1 else f"{len(places)} × {text}",
            tuple(
                (_plus(at, foot(way), radius), _plus(at, way, radius + reach))
                for reach in REACHES_MM
                for at, radius, foot in places
                for way in WAYS
            ),
        )


def _opening_text(opening: Opening, system: System) -> str:
    sizes = " × ".join(format_size(size, system) for size in opening.sizes_mm)
    if opening.name == "hole":
        return f"Ø {sizes}"
    if opening.name == "slot":
        return f"slot {sizes}"
    radius = f", R {format_size(opening.radius_mm, system)}" if opening.radius_mm else ""
    return f"cut-out {sizes}{radius}"


def _as_is(way: Vec2) -> Vec2:
    return way


def _upright(way: Vec2) -> Vec2:
    return (0.0, math.copysign(1.0, way[1]))


def _level(way: Vec2) -> Vec2:
    return (math.copysign(1.0, way[0]), 0.0)


def _radius_labels(paper: FacePaper, system: System) -> Iterable[Label]:
    """One label for all rounds of a radius: ``R 25``, ``4 × R 25``."""
    groups: dict[str, list[tuple[Vec2, Vec2]]] = {}
    counts: dict[str, int] = {}
    outline = paper.near
    for index, (start, end, bulge) in enumerate(outline.edges()):
        edge = paper.part.edges[index]
        if edge.radius_mm and bulge and not edge.is_free:
            center, _, _ = arc_of(start, end, bulge)
            way = _unit(center, _half(start, end))
            at = paper.point(_plus(center, way, edge.radius_mm))
            inward = _unit(at, paper.point(center))
            if bulge < 0:
                inward = (-inward[0], -inward[1])
            text = _arc_text(paper, index, system)
            groups.setdefault(text, []).extend(
                (at, _plus(at, _turned(inward, turn_deg), reach))
                for reach in (REACH_MM, 9.0, 13.0, 18.0)
                for turn_deg in (0, 20, -20)
            )
            counts[text] = counts.get(text, 0) + 1
    for text, leaders in groups.items():
        count = counts[text]
        yield Label(text if count == 1 else f"{count} × {text}", tuple(leaders))


def _arc_text(paper: FacePaper, index: int, system: System) -> str:
    """Return ``R 25`` for a round, ``rise 40, R 301`` for an arch."""
    radius = f"R {format_size(paper.part.edges[index].radius_mm, system)}"
    for recess in paper.part.recesses:
        if recess.kind == "arch" and index in recess.edges:
            return f"rise {format_size(recess.sizes_mm[1], system)}, {radius}"
    return radius


def _half(a: Vec2, b: Vec2) -> Vec2:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _unit(start: Vec2, end: Vec2) -> Vec2:
    length = math.dist(start, end)
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length)


def _turned(way: Vec2, angle_deg: float) -> Vec2:
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return (way[0] * cosine - way[1] * sine, way[0] * sine + way[1] * cosine)


def _plus(point: Vec2, way: Vec2, distance: float) -> Vec2:
    return (point[0] + way[0] * distance, point[1] + way[1] * distance)
