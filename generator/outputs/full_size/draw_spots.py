"""Holes, channels and layout lines on one sheet of a template, with what each is."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from shapely import box
from shapely.geometry import Polygon

from generator.geometry.vectors import Vec2
from generator.outputs.full_size.ground import (
    Ground,
    ahead,
    box_around,
    cross_arms,
    dashed,
    ellipse,
)
from generator.outputs.full_size.spots import Marking, Spot
from generator.outputs.full_size.tiles import Tile
from generator.outputs.hole_letters import place_beside
from generator.outputs.panels import Box, as_array
from generator.outputs.scene import SMALLEST_TEXT_MM, Arrowhead, Layer, Words

ARROW_MM: Final = 9.0
"""Length of the arrow that shows where a pocket aims."""
BESIDE_MM: Final = 0.8
"""From a cross to its words."""
BEFORE_MM: Final = 6.0
"""How far the middle line of a hole in an edge begins before the edge."""
DASHES_MM: Final = (1.4, 0.9)
"""Dashes and gaps of a cross that is bored from the other face."""
PLACES: Final = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Where the words of a patch may stand on it, in parts of its length and width."""


def find_shown(spots: Iterable[Spot], tile: Tile) -> tuple[Spot, ...]:
    """Return the spots whose crosses are whole on a sheet; beside a seam the neighbour has it."""
    left, bottom, right, top = tile.window
    boxes = ((spot, spot.box) for spot in spots)
    return tuple(
        spot
        for spot, (x0, y0, x1, y1) in boxes
        if left <= x0 and bottom <= y0 and x1 <= right and y1 <= top
    )


def find_boxes(spots: Iterable[Spot], ground: Ground) -> list[Box]:
    """Return what crosses and arrows take up on paper."""
    return [_spot_box(spot, ground.place(spot.at)) for spot in spots]


def draw_markings(ground: Ground, markings: Sequence[Marking]) -> None:
    """Draw channels and layout lines as far as they are on a sheet; words keep off their lines."""
    for one in markings:
        corners = [ground.place(point) for point in one.corners]
        if one.is_cut and not one.is_far:
            ground.fill(Polygon(corners), "side")
        layer: Layer = ("hidden" if one.is_far else "dimension") if one.is_cut else "mark"
        ground.draw_ring(corners, layer)
        ground.keep_off([*corners, corners[0]])


def name_markings(ground: Ground, markings: Sequence[Marking]) -> None:
    """Write on every channel and between layout lines what goes there, where there is room."""
    for one in markings:
        word = _find_words(ground, one)
        if word is not None:
            ground.write(word)


def draw_spots(ground: Ground, spots: Sequence[Spot]) -> None:
    """Draw holes with their letters; one of each row says how it is bored, where there is room.

    Args:
        ground: The sheet.
        spots: Those that are whole on it.
    """
    for spot in spots:
        _draw_spot(ground, spot, ground.place(spot.at))
    boxes = find_boxes(spots, ground)
    told: set[tuple[str, str]] = set()
    for spot, own in zip(spots, boxes, strict=True):
        others = [box for box in boxes if box is not own]
        name = (spot.letter, spot.words)
        whole = None if name in told else _find_whole(ground, spot, own, others)
        if whole is not None:
            told.add(name)
            ground.write(whole)
        elif spot.letter:
            around = ground.obstacles(others)
            letter = place_beside([own], spot.letter, around, as_array(others))
            ground.write(replace(letter, halo=False))


def _find_whole(ground: Ground, spot: Spot, own: Box, others: Sequence[Box]) -> Words | None:
    """Return letter and words to the right of a hole where they cover nothing, or None."""
    right, level = own[2] + BESIDE_MM, (own[1] + own[3]) / 2 - 0.36 * SMALLEST_TEXT_MM
    places = (
        (right, level),
        (right, own[3] - 0.24 * SMALLEST_TEXT_MM),
        (right, own[1] - 0.24 * SMALLEST_TEXT_MM),
        (own[0], own[3] + BESIDE_MM + 0.24 * SMALLEST_TEXT_MM),
        (own[0], own[1] - BESIDE_MM - 0.76 * SMALLEST_TEXT_MM),
    )
    text = f"{spot.letter}  {spot.words}".strip()
    words = [Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM) for at in places]
    return ground.find_free(words, others)


def _draw_spot(ground: Ground, spot: Spot, at: Vec2) -> None:
    if spot.deep_mm:
        _draw_edge_bore(ground, spot, at)
        return
    rings = [spot.halves] if spot.halves[0] else []
    rings += [(spot.sink_mm, spot.sink_mm)] if spot.sink_mm > spot.halves[1] else []
    for halves in rings:
        ground.draw_ring(ellipse(at, halves, spot.way), "quiet")
    for start, end in cross_arms(at, spot.reach_mm):
        for dash in dashed(start, end, *DASHES_MM) if spot.is_far else [(start, end)]:
            ground.draw(dash, "dimension")
    if spot.is_aimed:
        start = ahead(at, spot.way, spot.halves[0])
        tip = ahead(start, spot.way, ARROW_MM)
        ground.draw([start, tip], "dimension")
        ground.items.append(Arrowhead(at=tip, direction=spot.way))


def _draw_edge_bore(ground: Ground, spot: Spot, at: Vec2) -> None:
    """Draw the middle line of a hole in an edge, and its walls where they lie in the wood."""
    half = spot.halves[1]
    begin, end = ahead(at, spot.way, -BEFORE_MM), ahead(at, spot.way, spot.deep_mm + half)
    ground.draw([begin, end], "center")
    left = (-spot.way[1], spot.way[0])
    bottom = ahead(at, spot.way, spot.deep_mm)
    corners = [ahead(at, left, half), ahead(bottom, left, half)]
    corners += [ahead(bottom, left, -half), ahead(at, left, -half)]
    ground.draw(corners, "hidden")


def _find_words(ground: Ground, one: Marking) -> Words | None:
    """Return the words of a patch where they cover nothing, level or upright; None without room."""
    patch = Polygon([ground.place(point) for point in one.corners])
    left, low, right, high = patch.intersection(box(*ground.window)).bounds
    lower_mm = 0.36 * SMALLEST_TEXT_MM
    words = []
    for across in PLACES:
        for along in PLACES:
            x, y = left + along * (right - left), low + across * (high - low)
            for turn_deg, at in ((0.0, (x, y - lower_mm)), (90.0, (x + lower_mm, y))):
                words.append(_turned(one.words, at, turn_deg))
    return ground.find_free(words)


def _turned(text: str, at: Vec2, turn_deg: float) -> Words:
    return Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor="middle", angle_deg=turn_deg)


def _spot_box(spot: Spot, at: Vec2) -> Box:
    if spot.deep_mm:
        ends = (ahead(at, spot.way, -BEFORE_MM), ahead(at, spot.way, spot.deep_mm))
        return box_around(ends, spot.halves[1])
    long = max(0.0, spot.halves[0] - spot.reach_mm)
    far = spot.halves[0] + ARROW_MM - spot.reach_mm if spot.is_aimed else long
    return box_around((ahead(at, spot.way, -long), at, ahead(at, spot.way, far)), spot.reach_mm)
