"""Mitres by relation: outer lines and inner lines meet, on mirrored, turned and unequal panels."""

import math

import pytest

from generator.model.parts import Edge, Part
from tests.little_designs import (
    HEAD,
    codes,
    edition_problems,
    joinery_of,
    joinery_problems,
    part_named,
    parts_of,
    plan_problems,
    say,
)

CORNER = """
frames:
  turned: {at: [100 mm, 200 mm, 300 mm], turn: [30 deg about up, 50 deg about right]}
parts:
  front:
    from: panel
    %s
    length: 500 mm
    width: 150 mm
    runs: {length: right, width: up}
    edges: {right: mitre with side}
  side:
    from: %s
    %s
    corner: [500 mm - %s, 0 mm, 0 mm]
    length: 300 mm
    width: 150 mm
    runs: {length: back, width: up}
    edges: {front: mitre with front}
joints:
  - {join: front to side, with: glue}
"""
THIN = HEAD.replace("stock:", "stock:\n  thin: {imperial: plywood-15/32, metric: plywood-12}")
WALL = """
parts:
  front:
    from: panel
    width: 150 mm
    runs: {length: right, width: up}
    edges: {left: mitre with side.left, right: mitre with side.right}
    at:
      near: {}
      far: {mirrors: near, across: {back: 200 mm}}
  side:
    from: panel
    width: 150 mm
    runs: {length: back, width: up}
    edges: {front: mitre with front.near, back: mitre with front.far}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
joints:
  - {join: front to side, with: glue}
"""
RIDGE = """
parts:
  roof:
    from: panel
    width: 300 mm
    runs: {length: right, width: back}
    edges: {right: mitre with roof.right, left: against floor}
    at:
      left: {turn: "-35 deg about back"}
      right: {mirrors: left, across: {right: 300 mm}}
joints:
  - {join: roof.left to roof.right, with: glue}
"""


def corner(frame: str = "", stock: str = "panel") -> str:
    return CORNER % (frame, stock, frame, stock)


def edge(part: Part, name: str) -> Edge:
    return next(edge for edge in part.edges if edge.name == name)


@pytest.mark.parametrize("frame", ["", "frame: turned"])
def test_a_corner_of_two_equal_panels_is_cut_at_45_degrees_to_its_outer_line(frame: str) -> None:
    """The outer faces meet 500 mm from the left end: the front is that long, point to point."""
    part = part_named(parts_of(corner(frame)), "front")
    end = edge(part, "right")

    assert pytest.approx(45.0) == end.tilt_deg
    assert end.mitre_deg == 0.0
    assert pytest.approx(500.0) == part.length_mm
    assert end.meets == "side, mitred"
    assert part.face_words[0 if end.long_face == "A" else 1] == "front"


def test_panels_of_two_thicknesses_meet_from_the_outer_line_to_the_inner_line() -> None:
    """18 mm on 12 mm: the front leans by atan(12/18), the side by atan(18/12); both fit."""
    text = corner(stock="thin")
    parts = parts_of(text, head=THIN)
    front, side = (part_named(parts, name) for name in ("front", "side"))

    assert pytest.approx(math.degrees(math.atan(12 / 18))) == edge(front, "right").tilt_deg
    assert pytest.approx(math.degrees(math.atan(18 / 12))) == edge(side, "front").tilt_deg
    assert pytest.approx((500.0, 300.0)) == (front.length_mm, side.length_mm)
    assert "C101" not in codes(plan_problems(text, head=THIN))


def test_a_box_of_two_panels_and_their_mirror_images_closes_at_all_four_corners() -> None:
    parts = parts_of(WALL)
    joinery = joinery_of(WALL)

    assert {"front": 600.0, "side": 400.0} == {
        part.name: pytest.approx(part.length_mm) for part in parts.parts
    }
    assert [2, 2] == [part.count for part in parts.parts]
    assert len(joinery.contacts) == 4
    for contact in joinery.contacts:
        assert pytest.approx(150 * 18 * math.sqrt(2)) == contact.area_mm2


def test_a_panel_is_mitred_with_its_own_mirror_image() -> None:
    """A roof of 35 degrees: both are cut upright at the ridge, 35 degrees off square."""
    (part,) = parts_of(RIDGE).parts
    joinery = joinery_of(RIDGE)

    assert pytest.approx(35.0) == edge(part, "right").tilt_deg
    assert len(joinery.contacts) == 1


def test_a_mitre_that_only_one_side_makes_is_refused() -> None:
    (problem,) = edition_problems(corner().replace("mitre with front", "bevel 5 deg long on right"))

    assert problem.code == "E117", say([problem])
    assert problem.help == (
        "cut the edge of `side` there `mitre with front`, or this one `against side`"
    )


def test_an_edge_that_runs_along_its_mate_is_refused() -> None:
    (problem,) = edition_problems(corner().replace("{right: mitre", "{top: mitre"))

    assert problem.code == "E118", say([problem])
    assert problem.what.endswith("edge `top` of `front` runs along `side`")


def test_a_mitre_names_one_other_piece_and_no_face() -> None:
    assert codes(edition_problems(corner().replace("with side}", "with side.left}"))) == ["D202"]
    assert codes(edition_problems(corner().replace("with side}", "with front}"))) == [
        "E115",
        "E117",
    ]


def test_no_pocket_screws_are_driven_in_the_points_of_a_mitre() -> None:
    (problem,) = joinery_problems(
        corner().replace("with: glue", "with: pocket screws, pockets: back")
    )

    assert problem.code == "J109", say([problem])
    assert "meet edge to edge at a mitre" in problem.what
