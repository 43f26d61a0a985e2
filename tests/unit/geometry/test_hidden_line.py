"""Hidden lines of a few boards whose pictures can be counted by hand."""

import math
from itertools import pairwise

import pytest

from generator.geometry.frames import Frame
from generator.geometry.hidden_line import find_edges
from generator.geometry.lines import Segment, chain_segments, subtract_segments, unite_segments
from generator.geometry.outlines import Outline, circle
from generator.geometry.projection import (
    Solid,
    build_mesh,
    move_solid,
    place_solid,
    view_from,
)
from generator.geometry.slabs import Slab
from generator.geometry.visible_regions import find_regions

FRONT = view_from((0.0, -1.0, 0.0))
CORNER = view_from((1.0, -1.0, 1.0))


def box(name: str, x: float, y: float, z: float) -> Solid:
    outline = Outline(((0.0, 0.0), (x, 0.0), (x, y), (0.0, y)))
    return place_solid(name, Slab(outline, outline, z).faces(), Frame())


def length(segments: tuple[Segment, ...]) -> float:
    return sum(math.dist(s.start, s.end) for s in segments)


def test_a_box_seen_from_a_corner_shows_nine_edges_and_hides_three() -> None:
    edges = find_edges(build_mesh([box("a", 100, 50, 20)]), CORNER)

    assert len(edges.visible) == 9
    assert len(edges.hidden) == 3


def test_a_box_seen_from_the_front_is_one_rectangle_with_nothing_behind() -> None:
    mesh = build_mesh([box("a", 100, 50, 20)])
    edges, regions = find_edges(mesh, FRONT), find_regions(mesh, FRONT)

    assert length(edges.visible) == pytest.approx(240)
    assert edges.hidden == ()
    assert [region.area_mm2 for region in regions] == [pytest.approx(2000)]
    assert regions[0].normal == pytest.approx((0, -1, 0))


def test_two_pieces_flush_beside_each_other_keep_the_line_between_them() -> None:
    first = box("a", 100, 50, 20)
    edges = find_edges(build_mesh([first, move_solid(box("b", 60, 50, 20), (100, 0, 0))]), FRONT)

    assert length(edges.visible) == pytest.approx(2 * 160 + 3 * 20)
    assert edges.hidden == ()


def test_a_smaller_box_right_behind_a_box_is_wholly_hidden() -> None:
    small = move_solid(box("b", 60, 10, 10), (20, 50, 5))
    mesh = build_mesh([box("a", 100, 50, 20), small])
    edges = find_edges(mesh, FRONT)

    assert length(edges.visible) == pytest.approx(240)
    assert length(edges.hidden) == pytest.approx(140)
    assert [s.owner for s in edges.hidden] == [1] * len(edges.hidden)
    assert [r.owner for r in find_regions(mesh, FRONT)] == [0]


def test_a_hole_shows_what_stands_behind_it() -> None:
    outline = Outline(((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)))
    slab = Slab(outline, outline, 18.0, (circle((50.0, 50.0), 40.0),))
    board = place_solid("board", slab.faces(), Frame((0, 0, 0), (1, 0, 0), (0, 0, 1), (0, -1, 0)))
    mesh = build_mesh([board, move_solid(box("b", 100, 10, 50), (0, 20, 0))])
    edges = find_edges(mesh, FRONT)
    through = [s for s in edges.visible if s.owner == 1]

    assert length(tuple(through)) == pytest.approx(40, abs=0.3)
    behind = [r.area_mm2 for r in find_regions(mesh, FRONT) if r.owner == 1]
    assert behind == [pytest.approx(3.14159 * 400 / 2, rel=0.02)]


def test_an_arch_shows_what_stands_behind_it_and_hides_the_rest() -> None:
    """A span of 60 with a rise of 20: radius 32.5, area of the segment 32.5² (a - sin a) / 2."""
    corners = ((0.0, 0.0), (20.0, 0.0), (80.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    outline = Outline(corners, (0.0, -2 * 20 / 60, 0.0, 0.0, 0.0, 0.0))
    slab = Slab(outline, outline, 18.0)
    board = place_solid("board", slab.faces(), Frame((0, 0, 0), (1, 0, 0), (0, 0, 1), (0, -1, 0)))
    mesh = build_mesh([board, move_solid(box("b", 100, 10, 50), (0, 20, 0))])
    edges, regions = find_edges(mesh, FRONT), find_regions(mesh, FRONT)
    angle = 2 * math.asin(30 / 32.5)
    sides = 3 * 100 + 40

    assert [r.area_mm2 for r in regions if r.owner == 1] == [
        pytest.approx(32.5**2 * (angle - math.sin(angle)) / 2, rel=0.01)
    ]
    assert length(tuple(s for s in edges.visible if s.owner == 1)) == pytest.approx(60, abs=0.3)
    own = length(tuple(s for s in edges.visible if s.owner == 0))
    assert own == pytest.approx(sides + 32.5 * angle, rel=0.001)
    assert length(tuple(s for s in edges.hidden if s.owner == 1)) == pytest.approx(100, abs=0.3)


def test_the_chords_of_an_arc_are_no_edges_but_its_silhouette_is() -> None:
    outline = Outline(((-50.0, 0.0), (50.0, 0.0)), (0.0, 1.0))
    half_round = place_solid("a", Slab(outline, outline, 20.0).faces(), Frame())
    upright = [
        s
        for s in find_edges(build_mesh([half_round]), view_from((0.0, 1.0, 0.0))).visible
        if abs(s.start[0] - s.end[0]) < 1e-6
    ]

    assert sorted(round(s.start[0]) for s in upright) == [-50, 50]


def test_the_solid_named_first_keeps_a_line_that_two_share() -> None:
    line = Segment((0.0, 0.0), (10.0, 0.0), 3)
    longer = Segment((15.0, 0.0), (-5.0, 0.0), 4)
    united = unite_segments([longer, line])

    assert [(s.owner, round(abs(s.end[0] - s.start[0]))) for s in united] == [
        (3, 10),
        (4, 5),
        (4, 5),
    ]


def test_what_lies_on_another_line_is_taken_off_and_the_rest_stays() -> None:
    left = subtract_segments(
        [Segment((0.0, 0.0), (10.0, 10.0), 0), Segment((0.0, 5.0), (10.0, 5.0), 1)],
        [Segment((4.0, 4.0), (20.0, 20.0), 9)],
    )

    assert sorted(round(length((s,)), 3) for s in left) == [5.657, 10.0]


def test_segments_are_chained_into_one_line_without_lifting_the_pen() -> None:
    corners = [(0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0), (0.0, 0.0)]
    sides = [Segment(a, b, 0) for a, b in pairwise(corners)]
    chains = chain_segments([sides[2], sides[0], sides[3], sides[1]])

    assert [len(chain) for chain in chains] == [5]
    assert chains[0][0] == chains[0][-1]
