"""Boxes on paper: many at once give what one by one would, and what is moved stays what it is."""

import dataclasses
import random

import numpy as np
import pytest
import shapely

from generator.outputs.panels import (
    AT_ONCE,
    DOT_MM,
    MANY,
    NO_BOXES,
    Box,
    as_array,
    bounds_of,
    dots_along,
    find_freest,
    gaps_mm,
    meets,
    moved_items,
    overlaps_mm2,
    words_box,
)
from generator.outputs.scene import Anchor, Area, Arrowhead, Disc, Item, Stroke, Words

EVERY_KIND: tuple[Item, ...] = (
    Stroke(points=((1.0, 2.0), (3.0, 4.0)), layer="hidden", closed=True, bulges=(0.5, 0.25)),
    Area(rings=(((0.0, 0.0), (4.0, 0.0), (4.0, 4.0)), ((1.0, 1.0), (2.0, 1.0))), tone="side"),
    Disc(center=(1.0, 2.0), radius_mm=3.0, tone="bubble", layer="leader"),
    Words(
        at=(1.0, 2.0),
        text="63",
        size_mm=5.0,
        anchor="end",
        angle_deg=90.0,
        bold=True,
        halo=True,
        span=((0.0, 1.0), (2.0, 1.0)),
    ),
    Arrowhead(at=(1.0, 2.0), direction=(0.0, 1.0), layer="grain"),
)


def some_boxes(count: int, *, seed: int) -> list[Box]:
    """Return boxes anywhere on a page; whole millimetres, so that some touch."""
    chance = random.Random(seed)
    corners = [(chance.randrange(100), chance.randrange(100)) for _ in range(count)]
    return [
        (x, y, x + float(chance.randrange(1, 15)), y + float(chance.randrange(1, 15)))
        for x, y in corners
    ]


@pytest.mark.parametrize("item", EVERY_KIND, ids=lambda item: type(item).__name__)
def test_a_moved_item_keeps_everything_but_its_place(item: Item) -> None:
    plain = {field.default for field in dataclasses.fields(item)}
    there = moved_items([item], 10.0, -5.0)[0]
    back = moved_items([there], -10.0, 5.0)

    # Every field of the item differs from what it would be if it were forgotten.
    assert plain.isdisjoint(getattr(item, field.name) for field in dataclasses.fields(item))
    assert (item,) == back
    x, y = bounds_of([item])[:2]
    assert (x + 10.0, y - 5.0) == pytest.approx(bounds_of([there])[:2])


@pytest.mark.parametrize("count", [3, 200])
def test_many_boxes_are_covered_as_much_as_each_by_itself(count: int) -> None:
    boxes, taken = some_boxes(25, seed=1), some_boxes(count, seed=2)
    shapes = [shapely.box(*box) for box in taken]
    alone = [sum(shapely.box(*box).intersection(one).area for one in shapes) for box in boxes]

    # Of 200 only those are compared that are near.
    assert 25 * 3 < MANY < 25 * 200
    assert alone == pytest.approx(overlaps_mm2(as_array(boxes), as_array(taken)).tolist())


def test_nothing_is_covered_where_nothing_is_taken() -> None:
    boxes = as_array(some_boxes(3, seed=1))

    assert overlaps_mm2(boxes, NO_BOXES).tolist() == [0.0, 0.0, 0.0]
    assert overlaps_mm2(NO_BOXES, boxes).tolist() == []


def test_boxes_meet_as_far_as_their_gap_is_nothing_and_touching_counts() -> None:
    boxes, others = as_array(some_boxes(40, seed=3)), as_array(some_boxes(40, seed=4))
    wanted = [[shapely.box(*a).distance(shapely.box(*b)) for b in others] for a in boxes]
    gaps = gaps_mm(boxes[:, np.newaxis], others)

    assert np.array(wanted) == pytest.approx(gaps)
    assert (gaps == 0.0).tolist() == meets(boxes[:, np.newaxis], others).tolist()
    assert meets(as_array([(0, 0, 1, 1)]), as_array([(1, 1, 2, 2)])).tolist() == [True]


@pytest.mark.parametrize("place", [0, AT_ONCE - 1, AT_ONCE, 3 * AT_ONCE, 99])
def test_the_first_free_box_is_found_wherever_it_stands(place: int) -> None:
    boxes = [(0.0, 0.0, 2.0, 2.0)] * place + [(5.0, 5.0, 6.0, 6.0)] * (100 - place)

    assert (place, 0.0) == find_freest(as_array(boxes), as_array([(1.0, 1.0, 3.0, 3.0)]))


def test_without_a_free_box_the_first_of_those_covered_least_is_taken() -> None:
    boxes = [(0.0, 0.0, 2.0, 2.0), (0.0, 0.0, 2.0, 1.5), (0.0, 0.0, 1.5, 2.0)]

    assert (1, 0.5) == find_freest(as_array(boxes), as_array([(1.0, 1.0, 3.0, 3.0)]))


def test_dots_stand_at_both_ends_of_every_side_and_close_enough_between() -> None:
    dots = dots_along([[(0.0, 0.0), (7.0, 0.0), (7.0, 0.1)], [(20.0, 20.0), (20.0, 24.0)]])
    middles = [(x + DOT_MM, y + DOT_MM) for x, y, _, _ in dots.tolist()]
    first = [(7.0 * i / 4, 0.0) for i in range(5)]

    assert middles == [
        pytest.approx(point)
        for point in (*first, (7.0, 0.0), (7.0, 0.1), (20.0, 20.0), (20.0, 22.0), (20.0, 24.0))
    ]
    assert dots_along([]).shape == (0, 4)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_the_box_of_a_turned_text_is_that_of_the_level_one_turned_about_its_place(
    anchor: Anchor,
) -> None:
    level = Words(at=(10.0, 20.0), text="left end", anchor=anchor)
    upright = dataclasses.replace(level, angle_deg=90.0)
    left, low, right, high = (
        size - origin for size, origin in zip(words_box(level), (10.0, 20.0) * 2, strict=True)
    )

    assert (10.0 - high, 20.0 + left, 10.0 - low, 20.0 + right) == pytest.approx(words_box(upright))
