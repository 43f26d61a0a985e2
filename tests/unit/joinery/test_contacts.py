"""Contacts are found where sides lie on each other, and only there."""

import pytest

from generator.geometry.vectors import Vec3, cross, dot
from generator.model.joinery import Contact
from generator.model.parts import FACE_A, FACE_B
from tests.little_designs import joinery_of, parts_of, piece_named

TWO = """
parts:
  post: {{from: panel, length: 400 mm, width: 300 mm, runs: {{length: up, width: back}}, {work}}}
  arm:
    from: panel
    length: 500 mm
    width: 200 mm
    corner: [{x} mm, {y} mm, 100 mm]
    runs: {{length: right, width: back}}
"""


def contacts(x: float = 18.0, y: float = 50.0, work: str = "show: right") -> tuple[Contact, ...]:
    return joinery_of(TWO.format(x=x, y=y, work=work)).contacts


def test_an_edge_on_a_face_is_a_contact_of_its_whole_area() -> None:
    (contact,) = contacts()

    assert {contact.first, contact.second} == {"post", "arm"}
    assert contact.area_mm2 == pytest.approx(200 * 18)


def test_a_contact_ends_where_the_face_ends() -> None:
    (contact,) = contacts(y=200.0)

    assert contact.area_mm2 == pytest.approx(100 * 18)


def test_a_contact_names_the_sides_that_touch() -> None:
    (contact,) = contacts()
    parts = parts_of(TWO.format(x=18, y=50, work="show: right"))
    _, post = piece_named(parts, "post")
    arm, _ = piece_named(parts, "arm")

    assert contact.first == "post"
    assert contact.first_side in {FACE_A, FACE_B}
    assert dict(post.words)[contact.first_side] == "right"
    assert arm.edges[contact.second_side].name == "left"


def test_a_contact_looks_out_of_its_first_piece_and_turns_left_seen_from_the_second() -> None:
    (contact,) = contacts()

    assert contact.normal == pytest.approx((1.0, 0.0, 0.0))
    assert dot(_area_vector(contact.outline), contact.normal) / 2 == pytest.approx(200 * 18)


def test_all_corners_of_a_contact_lie_in_the_touching_plane() -> None:
    (contact,) = contacts()

    assert all(point[0] == pytest.approx(18.0) for point in contact.outline)


@pytest.mark.parametrize(("gap", "count"), [(0.04, 1), (0.06, 0)])
def test_pieces_half_a_paper_apart_touch_and_others_do_not(gap: float, count: int) -> None:
    assert len(contacts(x=18.0 + gap)) == count


@pytest.mark.parametrize(("y", "count"), [(298.0, 1), (299.0, 0), (301.0, 0)])
def test_a_patch_smaller_than_5_by_5_mm_is_no_contact(y: float, count: int) -> None:
    """2 mm x 18 mm is 36 square millimetres, 1 mm x 18 mm is less than 25."""
    assert len(contacts(y=y)) == count


def test_a_hole_in_the_face_is_not_part_of_the_contact() -> None:
    """A slot of 100 by 40 mm right behind the arm leaves no wood for 18 mm of 100."""
    slot = (
        "openings: [{slot: [100 mm, 40 mm], along: back, from bottom: 109 mm, from front: 150 mm}]"
    )
    found = contacts(work=slot)

    assert sum(contact.area_mm2 for contact in found) < 200 * 18 - 80 * 18


def test_a_leaning_board_sawn_to_an_upright_one_touches_along_its_bevel() -> None:
    text = """
parts:
  post: {from: panel, length: 400 mm, width: 300 mm, runs: {length: up, width: back}}
  arm:
    from: panel
    length: 500 mm
    width: 200 mm
    frame: {at: [0 mm, 20 mm, 200 mm], turn: 20 deg about back}
    runs: {length: right, width: back}
    edges: {left: against post}
"""
    (contact,) = joinery_of(text).contacts

    assert contact.area_mm2 == pytest.approx(200 * 18 / 0.9396926207859084)


def test_a_contact_has_no_corner_on_the_line_between_two_others() -> None:
    """A compound end flush with its mate: their slanting edges differ by the last digit."""
    text = """
parts:
  wall:
    from: panel
    width: 322 mm
    frame: {turn: 12 deg about right}
    runs: {length: right, width: up}
    edges: {left: against end.left.left, right: against end.right.right, bottom: against floor}
  end:
    from: panel
    length: 300 mm
    width: 322 mm
    runs: {length: back, width: up}
    edges: {front: against wall, bottom: against floor}
    at:
      left: {turn: -12 deg about back}
      right: {mirrors: left, across: {right: 330.2 mm}}
"""
    found = joinery_of(text).contacts

    assert [4, 4] == [len(contact.outline) for contact in found]


def _area_vector(loop: tuple[Vec3, ...]) -> Vec3:
    total: Vec3 = (0.0, 0.0, 0.0)
    for a, b in zip(loop, loop[1:] + loop[:1], strict=True):
        step = cross(a, b)
        total = (total[0] + step[0], total[1] + step[1], total[2] + step[2])
    return total
