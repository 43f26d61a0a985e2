"""Edges by relation: where they are cut, how they lean, which face is the longer one."""

import math

import pytest

from generator.model.parts import Edge, Part
from tests.little_designs import codes, part_named, parts_of, parts_problems

BOARD = """
parts:
  post:
    from: panel
    length: 600 mm
    width: 300 mm
    {post}
    runs: {{length: up, width: back}}
  shelf:
    from: panel
    corner: [{x} mm, 0 mm, 100 mm]
    {size}
    width: 300 mm
    runs: {{length: right, width: back}}
    edges: {{{edges}}}
"""


def shelf(edges: str, *, post: str = "show: right", x: float = 0, size: str = "") -> Part:
    return part_named(parts_of(BOARD.format(edges=edges, post=post, x=x, size=size)), "shelf")


def edge(part: Part, name: str) -> Edge:
    return next(edge for edge in part.edges if edge.name == name)


def test_an_edge_against_a_panel_stops_at_the_face_that_looks_at_the_piece() -> None:
    part = shelf("left: against post", size="length: 500 mm")

    assert pytest.approx(500 - 18) == part.length_mm


def test_an_edge_against_a_named_face_runs_to_that_face() -> None:
    part = shelf("left: against post.left", size="length: 500 mm")

    assert pytest.approx(500.0) == part.length_mm


def test_an_edge_against_a_plain_edge_of_another_piece_runs_to_it() -> None:
    """The post is 600 high from the floor: a board that stands on it begins there."""
    text = """
parts:
  post:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
  block:
    from: panel
    length: 900 mm
    width: 300 mm
    runs: {length: up, width: back}
    edges: {bottom: against post.top}
"""

    assert pytest.approx(300.0) == part_named(parts_of(text), "block").length_mm


def test_an_edge_against_a_plane_stops_at_the_plane() -> None:
    text = """
planes:
  wall: {at: [0 mm, 250 mm, 0 mm], facing: back}
parts:
  shelf:
    from: panel
    length: 500 mm
    runs: {length: right, width: back}
    edges: {back: against wall}
"""
    part = part_named(parts_of(text), "shelf")

    assert pytest.approx(250.0) == part.width_mm
    assert edge(part, "back").meets == "wall"


def test_an_edge_against_the_floor_stands_on_the_floor() -> None:
    text = """
parts:
  leg:
    from: panel
    length: 500 mm
    width: 100 mm
    corner: [0 mm, 0 mm, 50 mm]
    runs: {length: up, width: back}
    edges: {bottom: against floor}
"""
    parts = parts_of(text)
    part = part_named(parts, "leg")

    assert pytest.approx(550.0) == part.length_mm
    assert pytest.approx(0.0) == parts.low[2]
    assert edge(part, "bottom").meets == "the floor"


def test_a_leaning_leg_stands_flat_on_the_floor() -> None:
    text = """
parts:
  leg:
    from: panel
    length: 500 mm
    width: 100 mm
    frame: {at: [0 mm, 0 mm, 50 mm], turn: 10 deg about back}
    runs: {length: up, width: back}
    edges: {bottom: against floor}
"""
    parts = parts_of(text)
    foot = edge(part_named(parts, "leg"), "bottom")

    assert pytest.approx(0.0) == parts.low[2]
    assert pytest.approx(10.0) == foot.tilt_deg


@pytest.mark.parametrize(
    ("face", "longer"), [("top", "B"), ("bottom", "A")], ids=["on top", "on the bottom"]
)
def test_a_bevel_has_its_long_point_where_the_maker_says(face: str, longer: str) -> None:
    part = shelf(f'right: "bevel 20 deg, long on {face}"', size="length: 500 mm")
    low, high = part.slab.face_a.bounds[2], part.slab.face_b.bounds[2]
    back = 18 * math.tan(math.radians(20))

    assert pytest.approx(500.0) == part.length_mm
    assert longer == edge(part, "right").long_face
    assert pytest.approx((500.0, 500.0 - back) if longer == "A" else (500.0 - back, 500.0)) == (
        low,
        high,
    )


@pytest.mark.parametrize("side", ["left", "right", "front", "back"])
def test_a_bevel_keeps_the_size_to_the_long_point_on_every_side(side: str) -> None:
    part = shelf(f"{side}: bevel 20 deg long on top", size="length: 500 mm")

    assert pytest.approx(500.0) == part.length_mm
    assert pytest.approx(300.0) == part.width_mm
    assert pytest.approx(20.0) == edge(part, side).tilt_deg
    assert edge(part, side).long_face == "B"


def test_a_square_edge_has_no_long_face_and_no_tilt() -> None:
    part = shelf("", size="length: 500 mm")

    assert [(e.tilt_deg, e.mitre_deg, e.long_face) for e in part.edges] == [(0.0, 0.0, "")] * 4


def test_an_edge_against_a_panel_turned_about_up_is_a_mitre_in_the_face() -> None:
    part = shelf(
        "left: against post", post='frame: {turn: "20 deg about up"}', size="length: 500 mm"
    )
    left = edge(part, "left")

    assert left.kind == "end"
    assert pytest.approx(20.0) == left.mitre_deg
    assert left.tilt_deg == 0.0


def test_two_bevels_that_lean_alike_make_a_parallelogram() -> None:
    both = "left: bevel 10 deg long on top, right: bevel 10 deg long on bottom"

    assert shelf(both, size="length: 500 mm").section == "parallelogram"


def test_two_bevels_that_lean_apart_make_a_trapezium() -> None:
    both = "left: bevel 10 deg long on top, right: bevel 10 deg long on top"

    assert shelf(both, size="length: 500 mm").section == "trapezium"


def test_a_piece_without_bevels_has_a_rectangle_for_its_section() -> None:
    assert shelf("", size="length: 500 mm").section == "rectangle"


def test_an_edge_that_runs_along_the_face_it_is_cut_against_never_meets_it() -> None:
    text = BOARD.format(edges="back: against post", post="show: right", x=0, size="length: 500 mm")

    assert codes(parts_problems(text)) == ["P101"]


def test_an_edge_that_meets_a_face_at_little_more_than_three_degrees_is_cut() -> None:
    post = 'frame: {turn: "86 deg about up"}'

    assert shelf("left: against post", post=post, x=400, size="length: 500 mm").length_mm > 500


def test_a_piece_whose_edges_pass_each_other_leaves_no_wood() -> None:
    text = BOARD.format(edges="left: against post", post="show: right", x=0, size="length: 18 mm")
    (problem,) = parts_problems(text)

    assert problem.code == "P102"
    assert problem.help == "its left and right edges pass each other by 0 mm (length)"


def test_a_piece_one_millimetre_longer_than_nothing_is_made() -> None:
    assert pytest.approx(1.0) == shelf("left: against post", size="length: 19 mm").length_mm
