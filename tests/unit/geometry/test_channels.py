"""Channels taken off a slab: what is left of its faces, and how much wood."""

import itertools
import math

import pytest

from generator.geometry.channels import Channel
from generator.geometry.faces import Face, channel_of, floor_side, is_wall, wall_side
from generator.geometry.frames import Frame
from generator.geometry.outlines import Outline, circle
from generator.geometry.projection import build_mesh, place_solid
from generator.geometry.slabs import Slab
from generator.geometry.vectors import Vec3, cross, norm, scale, subtract

LENGTH, WIDTH, THICKNESS = 400.0, 200.0, 18.0


def rectangle(low_x: float, low_y: float, high_x: float, high_y: float) -> Outline:
    return Outline(((low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)))


def board(*channels: Channel, holes: tuple[Outline, ...] = ()) -> Slab:
    whole = rectangle(0, 0, LENGTH, WIDTH)
    return Slab(whole, whole, THICKNESS, holes, channels)


THROUGH = Channel(rectangle(100, -1, 118, WIDTH + 1), False, 6.0)
STOPPED = Channel(rectangle(100, 30, 118, WIDTH + 1), False, 6.0)
RABBET = Channel(rectangle(-1, -1, LENGTH + 1, 9), True, 8.0)


def area_of(face: Face) -> float:
    return ring_area(face.outer) - sum(ring_area(hole) for hole in face.holes)


def ring_area(ring: tuple[Vec3, ...]) -> float:
    total = (0.0, 0.0, 0.0)
    for one, two in itertools.pairwise(ring[1:]):
        ahead = scale(cross(subtract(one, ring[0]), subtract(two, ring[0])), 0.5)
        total = (total[0] + ahead[0], total[1] + ahead[1], total[2] + ahead[2])
    return norm(total)


def areas(slab: Slab, side: int) -> list[float]:
    """Return the areas of all faces of one side, rounded, in their order."""
    return [round(area_of(face), 6) for face in slab.faces() if face.edge == side]


def test_a_through_dado_parts_the_face_it_is_cut_into() -> None:
    assert [100 * WIDTH, 282 * WIDTH] == areas(board(THROUGH), -1)
    assert [LENGTH * WIDTH] == areas(board(THROUGH), -2)


def test_the_floor_lies_at_its_depth_and_looks_out_of_the_face() -> None:
    floors = [face for face in board(THROUGH).faces() if face.edge == floor_side(0)]

    assert [(0.0, 0.0, -1.0)] == [face.normal for face in floors]
    assert {6.0} == {point[2] for face in floors for point in face.outer}
    assert [18 * WIDTH] == areas(board(THROUGH), floor_side(0))


def test_a_channel_in_face_b_is_cut_down_from_it() -> None:
    floors = [face for face in board(RABBET).faces() if face.edge == floor_side(0)]

    assert [(0.0, 0.0, 1.0)] == [face.normal for face in floors]
    assert {THICKNESS - 8.0} == {point[2] for face in floors for point in face.outer}


def test_an_edge_a_dado_runs_out_over_has_a_notch() -> None:
    notched = LENGTH * THICKNESS - 18 * 6.0

    assert [notched] == areas(board(THROUGH), 0)
    assert [8] == [len(face.outer) for face in board(THROUGH).faces() if face.edge == 0]


def test_a_stopped_dado_leaves_the_edge_before_it_whole_and_has_a_wall_there() -> None:
    stopped = board(STOPPED)

    assert [LENGTH * THICKNESS] == areas(stopped, 0)
    assert [18 * 6.0, 170 * 6.0, 170 * 6.0] == sorted(areas(stopped, wall_side(0)))
    assert [LENGTH * WIDTH - 18 * 170] == areas(stopped, -1)


def test_a_rabbet_makes_the_edge_it_runs_along_lower() -> None:
    rabbeted = board(RABBET)

    assert [LENGTH * (THICKNESS - 8.0)] == areas(rabbeted, 0)
    assert [LENGTH * (WIDTH - 9)] == areas(rabbeted, -2)
    assert [LENGTH * 8.0] == areas(rabbeted, wall_side(0))


def test_a_channel_within_the_face_is_a_hole_in_it() -> None:
    inside = board(Channel(rectangle(100, 50, 118, 150), False, 6.0))
    (face,) = [face for face in inside.faces() if face.edge == -1]

    assert 1 == len(face.holes)
    assert LENGTH * WIDTH - 18 * 100 == pytest.approx(area_of(face))


@pytest.mark.parametrize(
    ("channels", "taken"),
    [
        ((THROUGH,), 18 * WIDTH * 6),
        ((STOPPED,), 18 * 170 * 6),
        ((RABBET,), LENGTH * 9 * 8),
        ((THROUGH, RABBET), 18 * WIDTH * 6 + LENGTH * 9 * 8),
        (
            (THROUGH, Channel(rectangle(-1, 90, LENGTH + 1, 96), False, 4.0)),
            18 * WIDTH * 6 + LENGTH * 6 * 4 - 18 * 6 * 4,
        ),
    ],
)
def test_channels_take_off_what_they_measure_and_a_crossing_once(
    channels: tuple[Channel, ...], taken: float
) -> None:
    assert LENGTH * WIDTH * THICKNESS - taken == pytest.approx(board(*channels).volume_mm3)


def test_the_centre_moves_away_from_what_is_taken_off() -> None:
    x, y, z = board(RABBET).center
    taken, whole = LENGTH * 9 * 8, LENGTH * WIDTH * THICKNESS
    left = whole - taken

    assert LENGTH / 2 == pytest.approx(x)
    assert (whole * WIDTH / 2 - taken * 4.5) / left == pytest.approx(y)
    assert (whole * THICKNESS / 2 - taken * 14) / left == pytest.approx(z)


def test_a_channel_that_runs_out_over_a_bevel_takes_off_the_wood_that_is_there() -> None:
    """The section of what is taken off grows from 18 by 200 at face A by 2 z at either end."""
    whole, high = rectangle(0, 0, LENGTH, WIDTH), rectangle(0, -18, LENGTH, WIDTH + 18)
    slab = Slab(whole, high, THICKNESS, (), (Channel(rectangle(100, -20, 118, 220), False, 6.0),))
    plain = Slab(whole, high, THICKNESS)

    assert 18 * (WIDTH * 6 + 6 * 6) == pytest.approx(plain.volume_mm3 - slab.volume_mm3)


def test_a_hole_in_a_channel_is_not_taken_off_twice() -> None:
    hole = circle((109.0, 100.0), 10.0)
    drilled = math.pi * 25 * THICKNESS
    crossed = 18 * WIDTH * 6 - math.pi * 25 * 6

    assert LENGTH * WIDTH * THICKNESS - drilled - crossed == pytest.approx(
        board(THROUGH, holes=(hole,)).volume_mm3, rel=1e-7
    )


@pytest.mark.parametrize("slab", [board(THROUGH), board(STOPPED, RABBET), board(THROUGH, RABBET)])
def test_every_side_of_a_face_is_a_side_of_one_other_face(slab: Slab) -> None:
    mesh = build_mesh([place_solid("board", slab.faces(), Frame())])

    assert (mesh.edges[:, 3] >= 0).all()


def test_chords_of_an_arc_stay_smooth_where_a_channel_cuts_them() -> None:
    quarter = math.tan(math.pi / 8)
    rounded = Outline(
        ((0.0, 0.0), (350.0, 0.0), (400.0, 50.0), (400.0, 200.0), (0.0, 200.0)),
        (0.0, quarter, 0.0, 0.0, 0.0),
    )
    groove = Channel(rectangle(-1, 10, 401, 16), False, 6.0)
    chords = [f for f in Slab(rounded, rounded, 18.0, (), (groove,)).faces() if f.edge == 1]

    assert len(chords) > 4
    assert all(any(face.smooth) for face in chords)


def test_sides_of_channels_are_told_from_all_others() -> None:
    assert [None, None, None, None] == [channel_of(side) for side in (0, -1, -2, -3)]
    assert [0, 0, 4] == [channel_of(side) for side in (floor_side(0), wall_side(0), wall_side(4))]
    assert [False, True, False] == [is_wall(s) for s in (floor_side(3), wall_side(3), -3)]
