"""Vectors: the hand rules, lengths and turns."""

import pytest

from generator.geometry.vectors import (
    BACK,
    RIGHT,
    UP,
    angle_between_deg,
    cross,
    distance,
    dot,
    norm,
    rotate,
    unit,
)


def test_right_cross_back_is_up() -> None:
    assert cross(RIGHT, BACK) == UP


def test_the_vector_product_is_square_to_both() -> None:
    a, b = (1.0, 2.0, 3.0), (-4.0, 5.0, 0.5)
    found = cross(a, b)

    assert dot(found, a) == pytest.approx(0.0)
    assert dot(found, b) == pytest.approx(0.0)


def test_a_3_4_12_vector_is_13_long() -> None:
    assert norm((3.0, 4.0, 12.0)) == 13.0
    assert distance((1.0, 1.0, 1.0), (4.0, 5.0, 13.0)) == 13.0


def test_a_unit_vector_keeps_its_direction() -> None:
    assert unit((0.0, -5.0, 0.0)) == (0.0, -1.0, 0.0)


def test_a_vector_without_length_has_no_direction() -> None:
    with pytest.raises(ZeroDivisionError):
        unit((0.0, 0.0, 0.0))


def test_a_quarter_turn_about_up_takes_right_to_back() -> None:
    assert rotate(RIGHT, UP, 90.0) == pytest.approx(BACK)


def test_a_quarter_turn_about_right_takes_back_to_up() -> None:
    assert rotate(BACK, RIGHT, 90.0) == pytest.approx(UP)


def test_a_turn_leaves_its_axis_alone() -> None:
    assert rotate((0.0, 0.0, 7.0), UP, 33.0) == pytest.approx((0.0, 0.0, 7.0))


@pytest.mark.parametrize("angle", [0.0, 1e-4, 30.0, 90.0, 179.9999, 180.0])
def test_angles_are_exact_near_zero_and_near_a_half_turn(angle: float) -> None:
    turned = rotate(RIGHT, UP, angle)

    assert angle == pytest.approx(angle_between_deg(RIGHT, turned), abs=1e-9)
