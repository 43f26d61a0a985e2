"""Sheets for a router: convex pieces, sliding, strips, what is left to the saw, and bounds."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import Polygon

from generator.cutting import plan_cutting
from generator.cutting.router_fill import Kinds, Lying, fill, slide
from generator.cutting.router_press import Press
from generator.cutting.router_shapes import Shape, find_sums, make_shape
from generator.cutting.router_strip import find_strip
from generator.geometry.outlines import Outline
from generator.geometry.slabs import Slab
from generator.model.cutting import Cutting
from generator.model.edition import Stock
from generator.model.parts import Parts
from generator.model.workshop import RouterWork
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_stock

ROUTER = RouterWork(bit_mm=6.0, apart_mm=6.0, border_mm=0.0)
LOCK = Polygon([(0, 0), (30, 0), (30, 20), (20, 20), (20, 5), (10, 5), (10, 20), (0, 20)])
KEY = Polygon([(0, 0), (10, 0), (10, 15), (0, 15)])
TRIANGLE = Polygon([(0, 0), (10, 0), (0, 10)])


def square(size: float) -> Shape:
    return make_shape(Polygon([(0, 0), (size, 0), (size, size), (0, size)]), 0)


def deepest(fixed: Shape, moved: Shape, x: float, y: float) -> float:
    at_x, at_y = make_line(x), make_line(y)
    return max(float(one.depths(at_x, at_y)[0, 0]) for one in find_sums(fixed, moved))


def make_line(value: float) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
    return np.array([value])


def route(lines: list[Line], stocks: tuple[Stock, ...]) -> Cutting:
    return route_parts(make_parts(lines, stocks), stocks)


def route_parts(parts: Parts, stocks: tuple[Stock, ...]) -> Cutting:
    cutting, problems = plan_cutting(parts, stocks, make_saw(3.2), "metric", router=ROUTER)
    assert problems == ()
    assert cutting is not None
    return cutting


def test_an_outline_with_a_hollow_falls_into_convex_pieces_of_the_same_area() -> None:
    pieces = [Polygon(piece) for piece in make_shape(LOCK, 0).pieces]

    assert pytest.approx(LOCK.area) == sum(piece.area for piece in pieces)
    assert [pytest.approx(piece.area) for piece in pieces] == [
        piece.convex_hull.area for piece in pieces
    ]
    assert 3 == len(pieces)


def test_a_key_that_fits_its_lock_exactly_does_not_overlap_it() -> None:
    lock, key = make_shape(LOCK, 0), make_shape(KEY, 0)

    assert pytest.approx(0.0, abs=1e-9) == deepest(lock, key, 10, 5)
    assert pytest.approx(0.5) == deepest(lock, key, 10.5, 5)
    assert pytest.approx(0.5) == deepest(lock, key, 10, 4.5)


def test_a_quarter_turn_turns_left_and_keeps_the_least_corner_at_nought() -> None:
    turned = make_shape(Polygon([(0, 0), (30, 0), (0, 10)]), 1)

    assert (10.0, 30.0) == (turned.along_x, turned.along_y)
    assert {(10.0, 0.0), (10.0, 30.0), (0.0, 0.0)} == {
        (round(x, 9), round(y, 9)) for x, y in turned.pieces[0].tolist()
    }


def test_an_outline_slides_left_until_another_stops_it_and_then_down() -> None:
    kinds = Kinds([(square(10.0),)])

    assert Lying(0, 0, 10.0, 0.0) == slide(kinds, [Lying(0, 0, 0.0, 0.0)], Lying(0, 0, 30.0, 3.0))
    assert Lying(0, 0, 0.0, 0.0) == slide(kinds, [Lying(0, 0, 0.0, 20.0)], Lying(0, 0, 30.0, 3.0))


def test_an_outline_slides_under_a_leaning_side_only_until_it_touches() -> None:
    kinds = Kinds([(make_shape(TRIANGLE, 0),), (square(4.0),)])

    # From (8, 4) the square's corner meets the long side x + y = 10 at (6, 4).
    assert 6.0 == pytest.approx(slide(kinds, [Lying(0, 0, 0, 0)], Lying(1, 0, 8.0, 4.0)).x)


def test_what_finds_no_room_is_given_back() -> None:
    sheets, left = fill(Kinds([(square(10.0),)]), [0, 0, 0, 0, 0], [(20.0, 20.0)])

    assert [0] == left
    assert {(0.0, 0.0), (10.0, 0.0), (0.0, 10.0), (10.0, 10.0)} == {
        (one.x, one.y) for one in sheets[0]
    }


def test_two_triangles_that_make_a_square_need_a_strip_as_long_as_it_is_high() -> None:
    ways = (make_shape(TRIANGLE, 0), make_shape(TRIANGLE, 2))
    strip = find_strip([ways], [0, 0], 10.0, 0.5, 2e6)

    assert pytest.approx(10.0) == strip.length
    assert {0, 1} == set(strip.turns)


def test_a_search_ends_as_soon_as_the_strip_is_short_enough() -> None:
    ways = (make_shape(TRIANGLE, 0), make_shape(TRIANGLE, 2))
    early = find_strip([ways], [0] * 6, 10.0, 0.5, 2e6, enough=1000.0)
    least = find_strip([ways], [0] * 6, 10.0, 0.5, 2e7)

    assert pytest.approx(30.0) == least.length
    assert early.length >= least.length


def test_a_search_without_any_effort_still_lays_everything_down() -> None:
    strip = find_strip([(square(5.0),)], [0, 0, 0], 5.0, 0.5, 0.0)

    assert pytest.approx(15.0) == strip.length
    assert [0.0, 5.0, 10.0] == pytest.approx(sorted(strip.places[:, 0].tolist()))


def test_equal_seeds_give_equal_strips() -> None:
    ways = (make_shape(LOCK, 0), make_shape(LOCK, 2))
    one, other = (find_strip([ways], [0] * 4, 40.0, 1.0, 3e6) for _ in range(2))

    assert one.turns == other.turns
    assert one.places.tolist() == other.places.tolist()


def test_outlines_that_overlap_are_pressed_apart_and_outlines_with_room_together() -> None:
    press = Press([(square(10.0),)], [0, 0, 0], 12.0)
    for places in ([(0, 0), (9.5, 1), (19, 0)], [(0.3, 0), (11.2, 1), (22.1, 2)]):
        pressed = press.press([0, 0, 0], np.array(places, np.float64))
        assert pressed is not None
        assert pytest.approx(30.0) == pressed[1]
        assert [0.0, 10.0, 20.0] == pytest.approx(pressed[0][:, 0].tolist())


def test_pressing_finds_places_that_no_grid_has() -> None:
    slim = make_shape(Polygon([(0, 0), (10, 0), (0, 7.3)]), 0)
    pressed = Press([(slim,)], [0, 0], 9.1).press([0, 0], np.array([(0.0, 0.0), (9.0, 1.5)]))

    assert pressed is not None
    # The second lies on the slope of the first, as far up as the strip lets it: 9.1 - 7.3.
    assert pytest.approx(20.0 - 10.0 * 1.8 / 7.3) == pressed[1]
    assert 1e-6 > deepest(slim, slim, *(pressed[0][1] - pressed[0][0]).tolist())


def test_outlines_for_which_the_strip_is_too_narrow_cannot_be_pressed_apart() -> None:
    high = Press([(square(10.0),)], [0, 0], 10.0)

    assert high.press([0, 0], np.array([(0.0, 0.0), (0.0, 0.0)])) is None


def test_parts_from_boards_are_left_to_the_saw_and_named() -> None:
    stocks = (make_stock([(1220.0, 620.0)]), make_board([2400.0]))
    board = Line(label="B", count=1, length_mm=500.0, width_mm=90.0, stock="board")
    cutting = route([Line(label="A", count=2, length_mm=300.0, width_mm=200.0), board], stocks)

    assert ("B",) == cutting.not_routed
    assert ["A", "A"] == [one.label for one in cutting.router[0].placements]


def test_a_part_as_large_as_its_sheet_leaves_no_room_for_a_bit_and_is_named() -> None:
    whole = Line(label="A", count=1, length_mm=1220.0, width_mm=620.0)
    less = replace(whole, length_mm=1220.0 - 12.0, width_mm=620.0 - 12.0)
    stocks = (make_stock([(1220.0, 620.0)]),)

    assert ((), ("A",)) == (route([whole], stocks).router, route([whole], stocks).not_routed)
    assert () == route([less], stocks).not_routed


def test_bevelled_parts_are_cut_at_their_greatest_outline_and_named() -> None:
    parts = make_parts(
        [
            Line(label="A", count=1, length_mm=300.0, width_mm=200.0, bevels=(("back", 30.0),)),
            Line(label="B", count=1, length_mm=300.0, width_mm=200.0),
        ],
        (make_stock([(1220.0, 620.0)]),),
    )
    leaning = parts.parts[0]
    low = Outline(((0, 0), (300, 0), (300, 190), (0, 190)))
    leaning = replace(leaning, slab=Slab(low, leaning.slab.face_b, 18.0))
    parts = replace(parts, parts=(leaning, parts.parts[1]))
    layout = route_parts(parts, (parts.parts[1].stock,)).router[0]

    assert ("A",) == layout.bevels
    assert [60_000.0, 60_000.0] == [one.outline.area_mm2 for one in layout.placements]


def test_parts_lie_with_face_a_up() -> None:
    """The eye on face A sees the part's frame mirrored: a corner at the back comes to the front."""
    parts = make_parts(
        [Line(label="A", count=1, length_mm=300.0, width_mm=200.0)],
        (make_stock([(1220.0, 620.0)]),),
    )
    clipped = Outline(((0, 0), (300, 0), (300, 100), (200, 200), (0, 200)))
    part = replace(parts.parts[0], slab=Slab(clipped, clipped, 18.0))
    placed = route_parts(replace(parts, parts=(part,)), (part.stock,)).router[0].placements[0]
    low_x, low_y, _, _ = placed.outline.bounds
    corners = {(round(x - low_x), round(y - low_y)) for x, y in placed.outline.points}
    as_seen = {(0, 0), (200, 0), (300, 100), (300, 200), (0, 200)}
    turned = {(300 - x, 200 - y) for x, y in as_seen}

    assert corners == (as_seen if placed.turn_deg == 0 else turned)


@pytest.mark.parametrize(("count", "routed"), [(200, 200), (201, 0)])
def test_no_more_outlines_are_laid_than_anybody_would_route(count: int, routed: int) -> None:
    stocks = (make_stock([(2440.0, 1220.0)]),)
    cutting = route([Line(label="A", count=count, length_mm=80.0, width_mm=60.0)], stocks)

    assert routed == sum(len(layout.placements) for layout in cutting.router)
    assert (() if routed else ("A",)) == cutting.not_routed


def test_what_the_saw_gets_from_a_sheet_stays_on_it_where_the_bit_leaves_room() -> None:
    """Three strips of four with 6 mm between, on a sheet that holds them to the millimetre."""
    sheet = make_stock([(4 * 240.0 + 3 * 6.0 + 20.5, 3 * 150.0 + 2 * 6.0 + 20.5)], trim_mm=10.0)
    cutting = route([Line(label="A", count=12, length_mm=240.0, width_mm=150.0)], (sheet,))

    assert (1, 1) == (len(cutting.layouts), len(cutting.router))
