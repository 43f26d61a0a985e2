"""What is written on the wood of a part: mates, letters of holes, the way of the grain."""

import math
from collections.abc import Sequence
from typing import Final

from generator.geometry.vectors import Vec2
from generator.model.joinery import BoredHole
from generator.model.work import Work
from generator.outputs.face_paper import FacePaper, draw_breaks
from generator.outputs.hardware_marks import hardware_boxes
from generator.outputs.outline_points import draw_point_numbers, outside_boxes
from generator.outputs.panels import (
    Box,
    bounds_of,
    find_freest,
    grown,
    outside_of,
    overlap_mm2,
    words_box,
)
from generator.outputs.part_bores import find_drawn, hole_box
from generator.outputs.part_view import face_number, has_grain
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
    Anchor,
    Arrowhead,
    Disc,
    Item,
    Stroke,
    Words,
)

RADIUS_MM: Final = 2.6
"""Of the disc behind a label."""
SMALL_MM: Final = 8.5
"""A patch smaller than this would vanish under its label: the label stands beside it."""
ALONG: Final = (0.1, -0.1, 0.2, -0.2, 0.3, -0.3)
"""Places of a label on a long patch, from its middle, in parts of its length."""
SAMPLE_MM: Final = 2.0
"""Distance of the points that stand for a layout line when room is looked for."""


def draw_face_labels(
    paper: FacePaper,
    work: Work,
    tags: tuple[tuple[BoredHole, str], ...],
    channels: tuple[tuple[tuple[Vec2, ...], str], ...] = (),
) -> list[Item]:
    """Return the labels of one face, each where it covers nothing if there is such a place.

    Args:
        paper: The view.
        work: What is bored and marked.
        tags: Letters of holes.
        channels: Corners on paper, and the label of what stands in each.
    """
    number = face_number(paper.view.face)
    drawn = find_drawn(paper, work)
    taken = [*(hole_box(paper, hole) for hole in drawn), *_fixed_boxes(paper)]
    inside = paper.outline(paper.near).bounds
    items: list[Item] = []
    patches = [(mark, [paper.point(p) for p in mark.outline]) for mark in work.marks]
    for mark, points in sorted(patches, key=lambda patch: not _is_small(patch[1])):
        if mark.side == number:
            label = _mate_label(points, mark.mate, [*taken, *outside_of(inside)])
            taken.append(bounds_of(label))
            items += label
    for corners, mate in channels:
        others = [box for other, _ in channels if other != corners for box in _dots_along(other)]
        label = _mate_label(list(corners), mate, [*taken, *others, *outside_of(inside)])
        taken.append(bounds_of(label))
        items += label
    lines = line_boxes(paper, work)
    for hole, tag in tags:
        if hole in drawn:
            around = [*taken, *lines, *outside_of(inside)]
            word = _beside(hole_box(paper, hole), tag, around)
            taken.append(words_box(word))
            items.append(word)
    for box, name in hardware_boxes(paper, work):
        word = _beside(box, name, [*taken, *lines, *outside_of(inside)])
        taken += [box, words_box(word)]
        items.append(word)
    if has_grain(paper.part):
        items += _grain(inside, [*taken, *lines])
    return items


def _fixed_boxes(paper: FacePaper) -> list[Box]:
    """Return where openings, what is outside a free outline, and its numbers are."""
    openings = [grown(paper.outline(o.outline).bounds, 1.0) for o in paper.part.openings]
    numbers = [words_box(word) for word in draw_point_numbers(paper)]
    return [*openings, *outside_boxes(paper), *numbers]


def line_boxes(paper: FacePaper, work: Work) -> list[Box]:
    """Return small boxes along layout lines and breaks, for labels to keep off."""
    boxes: list[Box] = [grown(bounds_of([item]), 0.5) for item in draw_breaks(paper)]
    shapes = [mark.outline for mark in work.marks if mark.side == face_number(paper.view.face)]
    shapes += [housing.outline.points for housing in paper.part.housings]
    for shape in shapes:
        boxes += _dots_along([paper.point(point) for point in shape])
    return boxes


def _dots_along(points: Sequence[Vec2]) -> list[Box]:
    """Return small boxes along a closed line on paper."""
    boxes: list[Box] = []
    for start, end in zip(points, [*points[1:], points[0]], strict=True):
        count = max(1, round(math.dist(start, end) / SAMPLE_MM))
        for i in range(count + 1):
            x = start[0] + (end[0] - start[0]) * i / count
            y = start[1] + (end[1] - start[1]) * i / count
            boxes.append((x - 0.4, y - 0.4, x + 0.4, y + 0.4))
    return boxes


def _mate_label(points: list[Vec2], mate: str, taken: list[Box]) -> list[Item]:
    """Return the mate's label in a disc on its patch, or beside a small one with a line to it."""
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    x, y = sum(xs) / len(xs), sum(ys) / len(ys)
    reach_x, reach_y = wide / 2 + RADIUS_MM + 1.6, tall / 2 + RADIUS_MM + 1.6
    beside = {
        place: (x, y)
        for far in (0.0, 2 * RADIUS_MM, 4 * RADIUS_MM)
        for sign in (1, -1)
        for place in ((x + sign * (reach_x + far), y), (x, y + sign * (reach_y + far)))
    }
    a, b = max(zip(points, points[1:] + points[:1], strict=True), key=lambda side: math.dist(*side))
    way = (b[0] - a[0], b[1] - a[1])
    along = [(x + way[0] * k, y + way[1] * k) for k in ALONG]
    if min(wide, tall) < SMALL_MM:
        beside |= _along_thin((x, y), way, min(wide, tall) / 2 + RADIUS_MM + 1.6)
    places = list(beside) if _is_small(points) else [(x, y), *along, *beside]
    boxes = [grown((px, py, px, py), RADIUS_MM + 0.2) for px, py in places]
    place = places[find_freest(boxes, taken)]
    items: list[Item] = []
    if place in beside:
        items += [
            Stroke(points=(beside[place], place), layer="leader"),
            Disc(center=beside[place], radius_mm=0.5, tone="screw"),
        ]
    return [
        *items,
        Disc(center=place, radius_mm=RADIUS_MM, tone="bubble", layer="leader"),
        Words(at=(place[0], place[1] - 0.36 * TEXT_MM), text=mate, anchor="middle", bold=True),
    ]


def _is_small(points: list[Vec2]) -> bool:
    """Whether a patch has its label beside it; it has fewer places, so it is given one first."""
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return max(max(xs) - min(xs), max(ys) - min(ys)) < SMALL_MM


def _along_thin(middle: Vec2, way: Vec2, reach_mm: float) -> dict[Vec2, Vec2]:
    """Return places beside a long thin patch, each with the point of the patch it is beside."""
    length = math.hypot(*way)
    across = (-way[1] / length * reach_mm, way[0] / length * reach_mm)
    feet = [(middle[0] + way[0] * k, middle[1] + way[1] * k) for k in ALONG]
    return {
        (x + sign * across[0], y + sign * across[1]): (x, y) for x, y in feet for sign in (1, -1)
    }


def _beside(box: Box, text: str, taken: list[Box]) -> Words:
    """Return a short text beside a box, away from what is there."""
    low, high = -0.24 * SMALLEST_TEXT_MM, 0.76 * SMALLEST_TEXT_MM
    middle_x, middle_y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    level = middle_y - 0.36 * SMALLEST_TEXT_MM
    spots: tuple[tuple[Vec2, Anchor], ...] = (
        ((box[2] + 0.8, level), "start"),
        ((box[0] - 0.8, level), "end"),
        ((middle_x, box[3] + 0.4 - low), "middle"),
        ((middle_x, box[1] - 0.4 - high), "middle"),
        ((box[2] + 0.4, box[3] - low), "start"),
        ((box[0] - 0.4, box[3] - low), "end"),
        ((box[2] + 0.4, box[1] - high), "start"),
        ((box[0] - 0.4, box[1] - high), "end"),
    )
    words = [
        Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor=anchor, halo=True)
        for at, anchor in spots
    ]
    return words[find_freest([words_box(word) for word in words], taken)]


def _grain(inside: Box, taken: list[Box]) -> list[Item]:
    """Return a double arrow along the grain with its word, less where room is scarce."""
    left, low, right, high = inside
    places = [
        (left + (right - left) * i / 16, low + (high - low) * j / 12)
        for j in (6, 5, 7, 4, 8, 3, 9, 10, 2, 11, 1)
        for i in (8, 7, 9, 6, 10, 5, 11, 4, 12, 13, 3, 14, 2)
    ]
    halves = [min(half, (right - left) / 4) for half in (11.0, 7.0, 5.2)]
    spots = [(x, y, half) for half in halves for x, y in places]
    around = [*taken, *outside_of(grown(inside, -0.4))]
    for above in (4.2, 1.0):
        boxes = [(x - half - 0.5, y - 1.0, x + half + 0.5, y + above) for x, y, half in spots]
        found = find_freest(boxes, around)
        if overlap_mm2(boxes[found], around) == 0:
            break
    x, y, half = spots[found]
    items: list[Item] = [
        Stroke(points=((x - half, y), (x + half, y)), layer="grain"),
        Arrowhead(at=(x - half, y), direction=(-1.0, 0.0), layer="grain"),
        Arrowhead(at=(x + half, y), direction=(1.0, 0.0), layer="grain"),
    ]
    if above > 2:
        at = (x, y + 1.0)
        items.append(Words(at=at, text="grain", size_mm=SMALLEST_TEXT_MM, anchor="middle"))
    return items
