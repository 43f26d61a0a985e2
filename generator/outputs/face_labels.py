"""What is written on the wood of a part: mates, letters of holes, the way of the grain."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from generator.geometry.vectors import Vec2
from generator.model.joinery import BoredHole
from generator.model.work import Work
from generator.outputs.face_boxes import FaceBoxes
from generator.outputs.face_paper import FacePaper
from generator.outputs.hole_letters import letter_choices, place_beside
from generator.outputs.panels import (
    NO_BOXES,
    Box,
    Boxes,
    as_array,
    bounds_of,
    box_of,
    dots_along,
    find_freest,
    grown,
    outside_of,
    words_box,
)
from generator.outputs.part_view import face_number, has_grain
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
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
OUTSIDE_WEIGHT: Final = 4
"""A letter on the outline of the part would hide it: worse than one on a layout line."""
ALONG: Final = (0.1, -0.1, 0.2, -0.2, 0.3, -0.3)
"""Places of a label on a long patch, from its middle, in parts of its length."""
GRAIN_MM: Final = (11.0, 7.0, 5.2)
"""Half the length of the arrow along the grain, the best first."""
COLUMNS: Final = (8, 7, 9, 6, 10, 5, 11, 4, 12, 13, 3, 14, 2)
"""Where its middle may be along a part, in sixteenths, the best first."""
ROWS: Final = (6, 5, 7, 4, 8, 3, 9, 10, 2, 11, 1)
"""The same across it, in twelfths."""


def draw_face_labels(
    paper: FacePaper,
    work: Work,
    boxes: FaceBoxes,
    tags: tuple[tuple[tuple[BoredHole, ...], str], ...],
    channels: tuple[tuple[tuple[Vec2, ...], str], ...] = (),
) -> list[Item]:
    """Return the labels of one face, each where it covers nothing if there is such a place.

    Args:
        paper: The view.
        work: What is bored and marked.
        boxes: Where that is.
        tags: Letters of lines of holes, each to stand beside a hole of its line.
        channels: Corners on paper, and the label of what stands in each.
    """
    number = face_number(paper.view.face)
    outside = as_array(outside_of(paper.box))
    taken = np.concatenate((as_array(boxes.holes.values()), boxes.fixed))
    items: list[Item] = []
    patches = [
        ([paper.point(p) for p in mark.outline], mark.mate)
        for mark in work.marks
        if mark.side == number
    ]
    for points, mate in sorted(patches, key=lambda patch: not _is_small(patch[0])):
        label = _mate_label(points, mate, np.concatenate((taken, outside)))
        taken = _with(taken, bounds_of(label))
        items += label
    for corners, mate in channels:
        others = dots_along([*other, other[0]] for other, _ in channels if other != corners)
        label = _mate_label(list(corners), mate, np.concatenate((taken, others, outside)))
        taken = _with(taken, bounds_of(label))
        items += label
    letters, taken = _letters(paper, boxes, tags, taken)
    items += letters
    for box, name in boxes.hardware:
        word = place_beside([box], name, np.concatenate((taken, boxes.lines, outside)), NO_BOXES)
        taken = _with(taken, box, words_box(word))
        items.append(word)
    return items


def _letters(
    paper: FacePaper,
    boxes: FaceBoxes,
    tags: tuple[tuple[tuple[BoredHole, ...], str], ...],
    taken: Boxes,
) -> tuple[list[Item], Boxes]:
    """Return the letters of lines of holes, and what is taken then."""
    outside = as_array(outside_of(paper.box) * OUTSIDE_WEIGHT)
    around = np.concatenate((taken, boxes.lines, outside))
    items: list[Item] = []
    for line, tag in tags:
        if line[0] in boxes.holes:
            own = frozenset(line)
            beside = [boxes.holes[line[i]] for i in letter_choices(len(line))]
            others = as_array(box for hole, box in boxes.holes.items() if hole not in own)
            word = place_beside(beside, tag, around, others)
            covered = [words_box(word)] * OUTSIDE_WEIGHT
            taken, around = _with(taken, *covered), _with(around, *covered)
            items.append(word)
    return items, taken


def draw_grain(paper: FacePaper, boxes: FaceBoxes, labels: Sequence[Item]) -> list[Item]:
    """Return a double arrow along the grain where nothing stands; none on wood without a grain.

    Args:
        paper: The view.
        boxes: Where things are on the face.
        labels: What is written and drawn on the wood already.
    """
    if not has_grain(paper.part):
        return []
    strokes = [item.points for item in labels if isinstance(item, Stroke)]
    things = [box_of(item) for item in labels if not isinstance(item, Stroke)]
    things += [*boxes.holes.values(), *(box for box, _ in boxes.hardware)]
    lines = dots_along([paper.shape.flattened(), *strokes])
    return _grain(paper.box, np.concatenate((as_array(things), boxes.fixed, boxes.lines, lines)))


def _with(boxes: Boxes, *more: Box) -> Boxes:
    return np.concatenate((boxes, as_array(more)))


def _mate_label(points: list[Vec2], mate: str, taken: Boxes) -> list[Item]:
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
    boxes = as_array(grown((px, py, px, py), RADIUS_MM + 0.2) for px, py in places)
    place = places[find_freest(boxes, taken)[0]]
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


def _grain(inside: Box, taken: Boxes) -> list[Item]:
    """Return a double arrow along the grain with its word, less where room is scarce."""
    left, low, right, high = inside
    halves = np.minimum(GRAIN_MM, (right - left) / 4)
    rows, columns = np.meshgrid(ROWS, COLUMNS, indexing="ij")
    x = np.tile(left + (right - left) * columns.ravel() / 16, len(halves))
    y = np.tile(low + (high - low) * rows.ravel() / 12, len(halves))
    half = np.repeat(halves, rows.size)
    around = np.concatenate((taken, as_array(outside_of(grown(inside, -0.4)))))
    for above in (4.2, 1.0):
        boxes = np.column_stack((x - half - 0.5, y - 1.0, x + half + 0.5, y + above))
        found, loss = find_freest(boxes, around)
        if not loss:
            break
    return _grain_arrow((float(x[found]), float(y[found])), float(half[found]), above)


def _grain_arrow(middle: Vec2, half: float, above: float) -> list[Item]:
    """Return the arrow, with its word where there is room above it."""
    x, y = middle
    items: list[Item] = [
        Stroke(points=((x - half, y), (x + half, y)), layer="grain"),
        Arrowhead(at=(x - half, y), direction=(-1.0, 0.0), layer="grain"),
        Arrowhead(at=(x + half, y), direction=(1.0, 0.0), layer="grain"),
    ]
    if above > 2:
        at = (x, y + 1.0)
        items.append(Words(at=at, text="grain", size_mm=SMALLEST_TEXT_MM, anchor="middle"))
    return items
