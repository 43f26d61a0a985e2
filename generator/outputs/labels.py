"""Labels on pictures: a letter in a bubble on the face itself, or beside the picture on a leader.

A bubble goes onto a visible face where the face has room for all of it. Other bubbles stand in a
column left or right of the picture; their leaders end in a dot on the face and do not cross.
"""

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
import shapely
from shapely.geometry import LineString, Point, Polygon

from generator.geometry.lines import gap_to_segment, segments_cross
from generator.geometry.vectors import Vec2
from generator.outputs.bodies import Box
from generator.outputs.scene import SMALLEST_TEXT_MM, Disc, Item, Stroke, Words

RADIUS_MM: Final = 2.9
"""Of a bubble: two bold letters of the smallest type fit."""
ROOM_MM: Final = 0.7
"""Free space around a bubble on a face, and between bubbles."""
AWAY_MM: Final = 7.0
"""From the picture to the middle of a column of bubbles."""
COLUMN_MM: Final = AWAY_MM + RADIUS_MM + 1.0
"""What a column takes up beside the picture."""
DOT_MM: Final = 0.55
MOST_FACES: Final = 3
"""Of a target it is looked at that many: the largest."""
WIDE: Final = 0.7
"""A face that is less wide than this share of the widest gets no leader."""
NEARLY_MM: Final = 0.3
"""Widest circles may be found that much too small, but where a bubble would just have room."""
ALIKE_MM: Final = 0.02
"""Spots may differ so much in how near they are to a column, and still print alike."""
MOST_LEADERS: Final = 16
"""With more copies too small for a bubble, one of each kind is named."""


@dataclass(frozen=True, slots=True)
class Target:
    """Something to be labelled: its text and where it is seen, on paper."""

    text: str
    faces: tuple[Polygon, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """A label in its place; ``at`` is its bubble, ``on`` the spot it names."""

    text: str
    at: Vec2
    on: Vec2

    @property
    def has_leader(self) -> bool:
        """Whether the bubble stands beside the picture."""
        return self.at != self.on


@dataclass(frozen=True, slots=True)
class _Spot:
    """A place of a target for its bubble or for the end of its leader."""

    text: str
    on: Vec2


@dataclass(frozen=True, slots=True)
class _Seen:
    """A target as it is seen.

    Attributes:
        faces: Its largest, the first the largest of all.
        radii_mm: Of the widest circle in each; 0 for one that is narrow beside the widest.
    """

    text: str
    faces: tuple[Polygon, ...]
    radii_mm: tuple[float, ...]


def place_labels(targets: Sequence[Target], picture: Box) -> tuple[Label, ...]:
    """Return a place for every label that has a visible face; see `MOST_LEADERS` for many."""
    shown = [Target(target.text, _largest(target.faces)) for target in targets if target.faces]

    @functools.cache
    def measured(index: int) -> _Seen:
        return _measure(shown[index])

    spots = [
        _spot_at_middle(target) or (_spot_on(measured(index)) if _may_have_room(target) else None)
        for index, target in enumerate(shown)
    ]
    while True:
        inner = [spot for spot in spots if spot is not None]
        rest = [index for index, spot in enumerate(spots) if spot is None]
        spare = _spare([shown[index].text for index in rest], inner)
        outer = [_outermost(measured(rest[number]), picture) for number in spare]
        outside = _place_columns(outer, picture)
        kept = [None if spot is None or _is_crossed(spot, outside) else spot for spot in spots]
        if kept == spots:
            break
        spots = kept
    return (*(Label(spot.text, spot.on, spot.on) for spot in inner), *outside)


def draw_labels(labels: Sequence[Label]) -> list[Item]:
    """Return leaders first, then bubbles and letters."""
    leaders: list[Item] = []
    bubbles: list[Item] = []
    words: list[Item] = []
    for label in labels:
        if label.has_leader:
            leaders.append(Stroke(points=(_rim(label), label.on), layer="leader"))
            bubbles.append(Disc(center=label.on, radius_mm=DOT_MM, tone="screw"))
        bubbles.append(Disc(center=label.at, radius_mm=RADIUS_MM, tone="bubble", layer="leader"))
        words.append(
            Words(
                at=(label.at[0], label.at[1] - SMALLEST_TEXT_MM * 0.36),
                text=label.text,
                size_mm=SMALLEST_TEXT_MM,
                anchor="middle",
                bold=True,
            )
        )
    return [*leaders, *bubbles, *words]


def column_height(count: int) -> float:
    """Return the height that two columns need at most for a number of labels."""
    return (2 * RADIUS_MM + ROOM_MM) * math.ceil(count / 2)


def _largest(faces: Sequence[Polygon]) -> tuple[Polygon, ...]:
    order = (-shapely.area(faces)).argsort(kind="stable")[:MOST_FACES]
    return tuple(faces[index] for index in order)


def _spot_at_middle(target: Target) -> _Spot | None:
    """Return the middle of the largest face where that is plainly the widest and has room there.

    It saves most targets from being measured, which takes many times as long.
    """
    face, *others = target.faces
    middle = face.centroid
    if not face.contains(middle):
        return None
    room = face.boundary.distance(middle)
    if room < RADIUS_MM + ROOM_MM or any(_most(other) > room for other in others):
        return None
    return _Spot(target.text, _rounded(middle))


def _may_have_room(target: Target) -> bool:
    """Return whether a bubble might fit on one of the faces."""
    return any(_most(face) >= RADIUS_MM + ROOM_MM for face in target.faces)


def _most(face: Polygon) -> float:
    """Return a radius that no circle in a face exceeds."""
    left, low, right, high = face.bounds
    return min((right - left) / 2, (high - low) / 2, math.sqrt(face.area / math.pi))


def _measure(target: Target) -> _Seen:
    """Return how wide the faces of a target are."""
    radii: list[float] = []
    for face in target.faces:
        radii.append(_radius(face, WIDE * max(radii, default=0.0)))
    return _Seen(target.text, target.faces, tuple(radii))


def _radius(face: Polygon, least: float) -> float:
    """Return the radius of the largest circle in a face; 0 where it is less than another one."""
    most = _most(face)
    if most < least:
        return 0.0
    radius = float(shapely.maximum_inscribed_circle(face, tolerance=NEARLY_MM).length)
    if most >= RADIUS_MM + ROOM_MM and 0.0 < RADIUS_MM + ROOM_MM - radius < NEARLY_MM:
        radius = float(shapely.maximum_inscribed_circle(face, tolerance=NEARLY_MM / 6).length)
    return radius


def _spot_on(seen: _Seen) -> _Spot | None:
    """Return the spot nearest to the middle of the widest face, if that has room for a bubble."""
    widest = max(range(len(seen.faces)), key=lambda i: round(seen.radii_mm[i], 2))
    face, radius = seen.faces[widest], seen.radii_mm[widest]
    if radius < RADIUS_MM + ROOM_MM:
        return None
    reach, middle = min(RADIUS_MM + ROOM_MM, 0.99 * radius), face.centroid
    if face.contains(middle) and face.boundary.distance(middle) >= reach:
        return _Spot(seen.text, _rounded(middle))
    line = shapely.shortest_line(face.buffer(-reach), middle)
    return _Spot(seen.text, _rounded(line))


def _spare(texts: Sequence[str], inner: Sequence[_Spot]) -> Sequence[int]:
    """Return what gets a leader: all of a few; of many, one of each text that is on no face."""
    if len(texts) <= MOST_LEADERS:
        return range(len(texts))
    named = {spot.text for spot in inner}
    return [
        number
        for number, text in enumerate(texts)
        if text not in named and texts.index(text) == number
    ]


def _rounded(line: LineString | Point) -> Vec2:
    """Return the first point of a line."""
    x, y = line.coords[0]
    return (round(float(x), 3), round(float(y), 3))


def _outermost(seen: _Seen, picture: Box) -> _Spot:
    """Return the spot well inside the wider faces of a target that is nearest to a column."""
    least = WIDE * max(seen.radii_mm)
    inner = [
        face.buffer(-0.6 * radius)
        for face, radius in zip(seen.faces, seen.radii_mm, strict=True)
        if radius >= least
    ]
    spots = shapely.get_coordinates(inner)
    gaps = np.minimum(spots[:, 0] - picture.left, picture.right - spots[:, 0])
    x, y = min(
        spots[gaps < gaps.min() + ALIKE_MM].tolist(),
        key=lambda spot: (
            round(min(spot[0] - picture.left, picture.right - spot[0]), 2),
            round(spot[1], 2),
        ),
    )
    return _Spot(seen.text, (x, y))


def _is_crossed(spot: _Spot, labels: Sequence[Label]) -> bool:
    reach = RADIUS_MM + ROOM_MM / 2
    return any(gap_to_segment(spot.on, label.at, label.on) <= reach for label in labels)


def _place_columns(spots: Sequence[_Spot], picture: Box) -> list[Label]:
    """Return the labels of spots in two columns, none crossing another."""
    middle = (picture.left + picture.right) / 2
    left = [spot for spot in spots if spot.on[0] < middle]
    right = [spot for spot in spots if spot.on[0] >= middle]
    left, right = _balance(left, right, picture)
    return [*_place_column(left, picture, "left"), *_place_column(right, picture, "right")]


def _balance(
    left: list[_Spot], right: list[_Spot], picture: Box
) -> tuple[list[_Spot], list[_Spot]]:
    """Move the innermost spots from a column with too many to the other."""
    most = max(1, int(picture.height / (2 * RADIUS_MM + ROOM_MM)))
    left = sorted(left, key=lambda spot: spot.on)
    right = sorted(right, key=lambda spot: spot.on)
    while len(left) > most and len(right) < most:
        right.insert(0, left.pop())
    while len(right) > most and len(left) < most:
        left.append(right.pop(0))
    return left, right


def _place_column(
    spots: Sequence[_Spot], picture: Box, side: Literal["left", "right"]
) -> list[Label]:
    x = picture.left - AWAY_MM if side == "left" else picture.right + AWAY_MM
    ordered = sorted(spots, key=lambda spot: (spot.on[1], spot.on[0], spot.text))
    heights = _spread([spot.on[1] for spot in ordered], picture)
    for _ in range(len(ordered) ** 2):
        crossing = _find_crossing(ordered, heights, x)
        if crossing is None:
            break
        i, j = crossing
        ordered[i], ordered[j] = ordered[j], ordered[i]
    return [
        Label(spot.text, (x, height), spot.on)
        for spot, height in zip(ordered, heights, strict=True)
    ]


def _find_crossing(
    spots: Sequence[_Spot], heights: Sequence[float], x: float
) -> tuple[int, int] | None:
    lines = [((x, height), spot.on) for spot, height in zip(spots, heights, strict=True)]
    for i, line in enumerate(lines):
        for j in range(i + 1, len(lines)):
            if segments_cross(*line, *lines[j]):
                return i, j
    return None


def _spread(wanted: Sequence[float], picture: Box) -> list[float]:
    """Return heights as near to those wanted (in order) as the size of the bubbles allows."""
    step = 2 * RADIUS_MM + ROOM_MM
    groups: list[list[float]] = []
    for height in wanted:
        groups.append([height])
        while len(groups) > 1 and _start(groups[-1], step) < _end(groups[-2], step) + step:
            last = groups.pop()
            groups[-1] += last
    spread: list[float] = []
    for group in groups:
        first = _start(group, step)
        spread += [first + step * i for i in range(len(group))]
    return _clamp(spread, picture.low + RADIUS_MM, picture.high - RADIUS_MM, step)


def _start(group: Sequence[float], step: float) -> float:
    return sum(group) / len(group) - step * (len(group) - 1) / 2


def _end(group: Sequence[float], step: float) -> float:
    return _start(group, step) + step * (len(group) - 1)


def _clamp(heights: list[float], low: float, high: float, step: float) -> list[float]:
    """Push heights into a column; too many for it reach below it."""
    clamped = list(heights)
    limit = high
    for i in range(len(clamped) - 1, -1, -1):
        clamped[i] = min(clamped[i], limit)
        limit = clamped[i] - step
    limit = low
    for i, height in enumerate(clamped):
        if height < limit <= high - step * (len(clamped) - 1 - i):
            clamped[i] = limit
        limit = clamped[i] + step
    return clamped


def _rim(label: Label) -> Vec2:
    """Return where the leader leaves the bubble."""
    away = math.dist(label.at, label.on)
    part = RADIUS_MM / away
    return (
        label.at[0] + (label.on[0] - label.at[0]) * part,
        label.at[1] + (label.on[1] - label.at[1]) * part,
    )
