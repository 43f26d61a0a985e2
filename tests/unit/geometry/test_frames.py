"""Frames and planes: there and back, nested, turned, mirrored."""

import pytest

from generator.geometry.frames import Frame, Plane, reflect_direction, reflect_point
from generator.geometry.vectors import BACK, RIGHT, UP, dot

STAND = Frame((100.0, 20.0, 5.0)).turned(RIGHT, 12.0).turned(UP, 30.0)
POINT = (7.0, -3.0, 11.0)


def test_a_point_taken_to_the_room_and_back_is_itself() -> None:
    assert STAND.to_local(STAND.to_world(POINT)) == pytest.approx(POINT)


def test_a_direction_taken_to_the_room_and_back_is_itself() -> None:
    assert STAND.local_direction(STAND.direction(POINT)) == pytest.approx(POINT)


def test_the_matrix_does_what_the_frame_does() -> None:
    matrix = STAND.matrix()
    moved = tuple(sum(a * b for a, b in zip(row, (*POINT, 1.0), strict=True)) for row in matrix)

    assert (*STAND.to_world(POINT), 1.0) == pytest.approx(moved)


def test_a_point_is_as_high_over_a_plane_in_the_room_as_at_home() -> None:
    plane = Plane((0.6, 0.0, 0.8), 4.0)
    height = plane.height(POINT)

    assert height == pytest.approx(STAND.plane_to_world(plane).height(STAND.to_world(POINT)))


def test_a_plane_taken_to_the_room_and_back_is_itself() -> None:
    plane = Plane((0.6, 0.0, 0.8), 4.0)
    back = STAND.plane_to_local(STAND.plane_to_world(plane))

    assert plane.normal == pytest.approx(back.normal)
    assert plane.offset == pytest.approx(back.offset)


def test_a_flipped_plane_has_the_same_points() -> None:
    plane = Plane((0.6, 0.0, 0.8), 4.0)

    assert -plane.height(POINT) == plane.flipped().height(POINT)


def test_a_frame_inside_another_takes_points_through_both() -> None:
    inner = Frame((1.0, 2.0, 3.0)).turned(BACK, 40.0)
    both = STAND.to_world(inner.to_world(POINT))

    assert both == pytest.approx(inner.inside(STAND).to_world(POINT))


def test_turns_follow_each_other_about_the_turned_directions() -> None:
    """A quarter turn about up, then about the new right, which was back."""
    frame = Frame().turned(UP, 90.0).turned(RIGHT, 90.0)

    assert pytest.approx(BACK) == frame.x
    assert pytest.approx(UP) == frame.y
    assert pytest.approx(RIGHT) == frame.z


def test_a_frame_moves_along_its_own_directions() -> None:
    frame = Frame((10.0, 0.0, 0.0)).turned(UP, 90.0).moved((5.0, 0.0, 0.0))

    assert pytest.approx((10.0, 5.0, 0.0)) == frame.origin


def test_a_mirrored_frame_is_left_handed_and_mirrored_twice_is_itself() -> None:
    plane = Plane(RIGHT, 50.0)
    once = STAND.mirrored(plane)

    assert STAND.is_right_handed
    assert not once.is_right_handed
    assert STAND.matrix()[0] == pytest.approx(once.mirrored(plane).matrix()[0])


def test_a_mirror_moves_a_point_twice_its_height() -> None:
    plane = Plane(RIGHT, 50.0)

    assert reflect_point((30.0, 1.0, 2.0), plane) == (70.0, 1.0, 2.0)
    assert reflect_direction((3.0, 1.0, 2.0), plane) == (-3.0, 1.0, 2.0)


def test_a_mirrored_frame_takes_points_to_their_images() -> None:
    plane = Plane((0.6, 0.0, 0.8), 4.0)
    image = reflect_point(STAND.to_world(POINT), plane)

    assert image == pytest.approx(STAND.mirrored(plane).to_world(POINT))


def test_directions_of_a_turned_frame_stay_square() -> None:
    assert dot(STAND.x, STAND.y) == pytest.approx(0.0)
    assert dot(STAND.y, STAND.z) == pytest.approx(0.0)
    assert STAND.is_right_handed
