"""Slabs: exact volumes, outward faces, a closed skin."""

import math
from collections import Counter

import pytest
from shapely.geometry import Point

from generator.geometry.outlines import Outline, circle
from generator.geometry.slabs import Slab
from generator.geometry.vectors import Vec3, cross, distance, dot, scale, subtract

RECTANGLE = Outline(((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)))
SHORTER = Outline(((10.0, 0.0), (100.0, 0.0), (100.0, 50.0), (10.0, 50.0)))
QUARTER = math.tan(math.radians(90) / 4)
ROUNDED = Outline(
    ((0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (80.0, 60.0), (0.0, 60.0)),
    (0.0, 0.0, QUARTER, 0.0, 0.0),
)
HOLES = (circle((30.0, 30.0), 20.0), circle((70.0, 20.0), 8.0))
BOX = Slab(RECTANGLE, RECTANGLE, 18.0)
BEVELLED = Slab(RECTANGLE, SHORTER, 18.0)
WORKED = Slab(ROUNDED, ROUNDED, 18.0, HOLES)
SLABS = pytest.mark.parametrize("slab", [BOX, BEVELLED, WORKED], ids=["box", "bevelled", "worked"])


def test_a_box_has_length_times_width_times_thickness() -> None:
    assert pytest.approx(100 * 60 * 18) == BOX.volume_mm3
    assert pytest.approx((50.0, 30.0, 9.0)) == BOX.center


def test_a_wedge_has_its_centre_a_third_up() -> None:
    """One edge runs out to nothing: triangle section 20 by 30, area 300, centre at a third."""
    line = Outline(((0.0, 0.0), (100.0, 0.0), (100.0, 1e-9), (0.0, 1e-9)))
    base = Outline(((0.0, 0.0), (100.0, 0.0), (100.0, 20.0), (0.0, 20.0)))
    wedge = Slab(base, line, 30.0)

    assert pytest.approx(300 * 100) == wedge.volume_mm3
    assert pytest.approx((50.0, 20 / 3, 10.0)) == wedge.center


def test_a_bevelled_slab_has_the_volume_of_a_frustum_of_two_slopes() -> None:
    """The integral of (100 - 10 u) (60 - 10 u) over the thickness, u from 0 to 1."""
    expected = 18.0 * (6000 - 1600 / 2 + 100 / 3)

    assert expected == pytest.approx(BEVELLED.volume_mm3)


def test_holes_and_rounded_corners_are_taken_off_exactly() -> None:
    area = 6000 - (400 - math.pi * 100) - math.pi * 100 - math.pi * 16

    assert area * 18 == pytest.approx(WORKED.volume_mm3)


def test_the_section_half_way_lies_half_way() -> None:
    assert BEVELLED.section(9.0).points[0] == (5.0, 0.0)
    assert BEVELLED.section(9.0).points[2] == (100.0, 55.0)


def test_bounds_reach_over_both_faces() -> None:
    assert BEVELLED.bounds == (0.0, 0.0, 100.0, 60.0)
    assert Slab(SHORTER, RECTANGLE, 18.0).bounds == (0.0, 0.0, 100.0, 60.0)


@SLABS
def test_faces_turn_left_about_their_outward_normal(slab: Slab) -> None:
    for face in slab.faces():
        assert dot(_area_vector(face.outer), face.normal) > 0
        assert math.hypot(*face.normal) == pytest.approx(1.0)
        for hole in face.holes:
            assert dot(_area_vector(hole), face.normal) < 0


@SLABS
def test_walls_look_away_from_the_wood(slab: Slab) -> None:
    """A step out of the outline from the middle of an edge's wall leaves the section."""
    for face in slab.faces():
        if face.edge < 0:
            continue
        middle = scale(_sum(face.outer), 0.25)
        section = slab.section(middle[2]).polygon()
        out = (middle[0] + face.normal[0] * 0.5, middle[1] + face.normal[1] * 0.5)
        back = (middle[0] - face.normal[0] * 0.5, middle[1] - face.normal[1] * 0.5)

        assert not section.contains(Point(out))
        assert section.contains(Point(back))


@SLABS
def test_walls_of_holes_look_into_the_hole(slab: Slab) -> None:
    for face in slab.faces():
        if face.edge != -3:
            continue
        middle = scale(_sum(face.outer), 0.25)
        holes = [hole.polygon() for hole in slab.holes]
        ahead = Point((middle[0] + face.normal[0] * 0.5, middle[1] + face.normal[1] * 0.5))

        assert any(hole.contains(ahead) for hole in holes)


@SLABS
def test_the_skin_of_triangles_is_watertight(slab: Slab) -> None:
    """Every side of a triangle is met by exactly one other, the other way round."""
    sides: Counter[tuple[Vec3, Vec3]] = Counter()
    for a, b, c in slab.triangles():
        sides.update([(a, b), (b, c), (c, a)])

    assert all(count == 1 for count in sides.values())
    assert all((b, a) in sides for a, b in sides)


@SLABS
def test_the_skin_encloses_the_volume(slab: Slab) -> None:
    """The sum of a . (b x c) / 6 (divergence theorem) over a fine skin."""
    volume = sum(dot(a, cross(b, c)) / 6 for a, b, c in slab.triangles(0.001))

    assert slab.volume_mm3 == pytest.approx(volume, rel=1e-5)


@SLABS
def test_no_triangle_of_the_skin_is_a_line(slab: Slab) -> None:
    for a, b, c in slab.triangles():
        height = math.hypot(*cross(subtract(b, a), subtract(c, a))) / max(
            distance(a, b), distance(b, c), distance(c, a)
        )

        assert height > 1e-6


def test_only_faces_of_arcs_are_chords() -> None:
    assert {face.edge for face in WORKED.faces() if face.is_chord} == {2, -3}


def test_where_an_arc_runs_into_a_line_without_a_turn_there_is_no_edge_to_draw() -> None:
    walls = [face for face in WORKED.faces() if face.edge >= 0]
    chords = [face for face in walls if face.edge == 2]

    assert all(chord.smooth == (False, True, False, True) for chord in chords)
    assert [walls[i].smooth[1] for i in (0, 1)] == [False, True]
    assert walls[-1].smooth == (False, False, False, False)


def test_where_an_arc_meets_a_line_at_an_angle_there_is_an_edge_to_draw() -> None:
    arched = Outline(RECTANGLE.points, (0.3, 0.0, 0.0, 0.0))
    chords = [face for face in Slab(arched, arched, 18.0).faces() if face.edge == 0]

    assert not chords[0].smooth[3]
    assert chords[0].smooth[1]
    assert not chords[-1].smooth[1]


def _area_vector(loop: tuple[Vec3, ...]) -> Vec3:
    total: Vec3 = (0.0, 0.0, 0.0)
    for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
        step = cross(a, b)
        total = (total[0] + step[0], total[1] + step[1], total[2] + step[2])
    return total


def _sum(points: tuple[Vec3, ...]) -> Vec3:
    return (sum(p[0] for p in points), sum(p[1] for p in points), sum(p[2] for p in points))
