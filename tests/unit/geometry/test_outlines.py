"""Outlines with arcs against the closed formulas for circles, segments and sectors.

Source of the formulas: any table of plane figures. Area of a circular segment r^2 (a - sin a) / 2,
distance of a half disc's centre from the diameter 4 r / (3 pi).
"""

import math
from itertools import pairwise

import pytest

from generator.geometry.outlines import Outline, arc_of, arc_points, circle

SQUARE = Outline(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)))
HALF_DISC = Outline(((5.0, 0.0), (-5.0, 0.0)), (1.0, 0.0))
"""The upper half of a disc of radius 5 about the origin."""
QUARTER = math.tan(math.radians(90) / 4)
ROUNDED = Outline(
    ((0.0, 0.0), (10.0, 0.0), (10.0, 7.0), (7.0, 10.0), (0.0, 10.0)), (0.0, 0.0, QUARTER, 0.0, 0.0)
)
"""A square of 10 with a corner rounded to a radius of 3."""


def test_a_square_has_its_area_and_its_middle() -> None:
    assert SQUARE.area_mm2 == 100.0
    assert SQUARE.centroid == (5.0, 5.0)


def test_a_circle_has_the_area_of_a_circle_and_its_middle() -> None:
    disc = circle((3.0, -4.0), 20.0)

    assert math.pi * 100 == pytest.approx(disc.area_mm2)
    assert pytest.approx((3.0, -4.0)) == disc.centroid


def test_a_half_disc_has_its_middle_at_4_r_by_3_pi() -> None:
    assert math.pi * 25 / 2 == pytest.approx(HALF_DISC.area_mm2)
    assert pytest.approx((0.0, 4 * 5 / (3 * math.pi))) == HALF_DISC.centroid


def test_a_rounded_corner_takes_off_what_the_square_has_over_the_quarter_disc() -> None:
    assert 100 - (9 - math.pi * 9 / 4) == pytest.approx(ROUNDED.area_mm2)


def test_the_centre_of_a_rounded_square_follows_from_its_pieces() -> None:
    """The square less a 3 by 3 square plus a quarter disc about (7, 7)."""
    quarter, away = math.pi * 9 / 4, 4 * 3 / (3 * math.pi)
    area = 100 - 9 + quarter
    expected = (500 - 9 * 8.5 + quarter * (7 + away)) / area

    assert pytest.approx((expected, expected)) == ROUNDED.centroid


def test_an_arc_that_turns_right_bites_into_the_outline() -> None:
    bitten = Outline(SQUARE.points, (0.0, -1.0, 0.0, 0.0))

    assert 100 - math.pi * 25 / 2 == pytest.approx(bitten.area_mm2)
    assert (500 - math.pi * 25 / 2 * (10 - 20 / (3 * math.pi))) / bitten.area_mm2 == pytest.approx(
        bitten.centroid[0]
    )


def test_an_arc_of_three_quarters_of_a_circle_has_its_area_and_centre() -> None:
    """A disc of radius 1 with the segment right of x = cos 45 degrees cut off."""
    s = math.sqrt(0.5)
    cut = Outline(((s, s), (s, -s)), (math.tan(math.radians(270) / 4), 0.0))
    segment = (math.pi / 2 - 1) / 2
    center = 4 * math.sin(math.pi / 4) ** 3 / (3 * (math.pi / 2 - 1))

    assert math.pi - segment == pytest.approx(cut.area_mm2)
    assert pytest.approx((-segment * center / (math.pi - segment), 0.0)) == cut.centroid


@pytest.mark.parametrize("sweep", [10.0, 90.0, 179.0, 180.0, 181.0, 270.0, 350.0])
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_an_arc_has_its_ends_on_its_circle(sweep: float, side: float) -> None:
    bulge = side * math.tan(math.radians(sweep) / 4)
    start, end = (2.0, 1.0), (5.0, -3.0)
    center, radius, turned = arc_of(start, end, bulge)

    assert radius == pytest.approx(math.dist(center, start))
    assert radius == pytest.approx(math.dist(center, end))
    assert side * sweep == pytest.approx(math.degrees(turned))


def test_chords_leave_their_arc_by_no_more_than_they_may() -> None:
    points = [(100.0, 0.0), *arc_points((100.0, 0.0), (-100.0, 0.0), 1.0, 0.1), (-100.0, 0.0)]
    middles = [math.hypot((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(points)]

    assert all(pytest.approx(100.0) == math.hypot(*point) for point in points)
    assert min(middles) >= 100.0 - 0.1


def test_a_straight_edge_has_no_points_between() -> None:
    assert arc_points((0.0, 0.0), (9.0, 0.0), 0.0) == []


def test_bounds_reach_over_an_arc() -> None:
    assert pytest.approx((-5.0, 0.0, 5.0, 5.0), abs=0.1) == HALF_DISC.bounds


def test_a_moved_outline_has_a_moved_centre() -> None:
    moved = ROUNDED.moved(100.0, -50.0)

    assert ROUNDED.area_mm2 == pytest.approx(moved.area_mm2)
    assert ROUNDED.centroid[0] + 100.0 == pytest.approx(moved.centroid[0])
    assert ROUNDED.centroid[1] - 50.0 == pytest.approx(moved.centroid[1])


def test_a_mirrored_outline_still_turns_left_and_has_a_mirrored_centre() -> None:
    mirrored = ROUNDED.mirrored_x()

    assert ROUNDED.area_mm2 == pytest.approx(mirrored.area_mm2)
    assert -ROUNDED.centroid[0] == pytest.approx(mirrored.centroid[0])
    assert ROUNDED.centroid[1] == pytest.approx(mirrored.centroid[1])


def test_edge_i_of_a_mirrored_outline_is_edge_n_minus_2_minus_i_of_the_original() -> None:
    mirrored = ROUNDED.mirrored_x()
    count = len(ROUNDED.points)
    for i, (start, end, bulge) in enumerate(mirrored.edges()):
        old_start, old_end, old_bulge = ROUNDED.edges()[(count - 2 - i) % count]

        assert (old_end, old_start, old_bulge) == ((-start[0], start[1]), (-end[0], end[1]), bulge)


def test_a_polygon_of_an_outline_has_its_area_within_the_chords() -> None:
    disc = circle((0.0, 0.0), 100.0)

    assert disc.area_mm2 == pytest.approx(disc.polygon(0.001).area, rel=1e-4)
