"""Joints in channels: where the pieces touch, and what can be driven through or beside them."""

import pytest

from generator.geometry.faces import channel_of, floor_side, is_floor, is_wall
from generator.model.fixings import Screw
from generator.model.joinery import Contact, Joinery
from generator.model.parts import FACE_A, FACE_B
from tests.little_designs import codes, joinery_of, joinery_problems, parts_of, piece_named

CASE = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {{length: up, width: back}}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, 200 mm]
    length: 500 mm
    width: 300 mm
    runs: {{length: right, width: back}}
    edges:
      left: into side by 6 mm{stop}
{more}
joints:
{joints}
steps:
  - {{title: All of it, fit: "{fit}"}}
"""


def case(joint: str, stop: str = "", more: str = "", fit: str = "side, shelf") -> str:
    return CASE.format(joints=f"  - {{{joint}}}", stop=stop, more=more, fit=fit)


GLUED = "join: shelf to side, with: glue"


def contacts_of(joinery: Joinery) -> list[tuple[Contact, int]]:
    """Return the contacts of the side, each with the side of the host."""
    return [(c, c.first_side if c.first == "side" else c.second_side) for c in joinery.contacts]


def test_the_mate_lies_on_the_floor_and_on_both_walls_of_its_channel() -> None:
    found = contacts_of(joinery_of(case(GLUED)))
    floors = [c for c, side in found if side == floor_side(0)]
    walls = [c for c, side in found if is_wall(side)]

    assert [300.0 * 18] == [pytest.approx(c.area_mm2) for c in floors]
    assert [300.0 * 6] * 2 == [pytest.approx(c.area_mm2) for c in walls]
    assert 3 == len(found)


def test_the_floor_lies_a_depth_inside_the_face() -> None:
    (floor,) = [c for c, side in contacts_of(joinery_of(case(GLUED))) if side == floor_side(0)]

    assert {18.0 - 6.0} == {round(x, 9) for x, _, _ in floor.outline}


def test_the_shoulder_of_a_stopped_channel_lies_on_the_face() -> None:
    found = contacts_of(joinery_of(case(GLUED, stop="; stopped 40 mm from front")))
    shoulders = [c for c, side in found if side in {FACE_A, FACE_B}]

    assert [40.0 * 18] == [pytest.approx(c.area_mm2) for c in shoulders]


def test_screws_through_the_host_stand_in_the_wood_left_behind_the_channel() -> None:
    joinery = joinery_of(case("join: side to shelf, with: face screws"))

    assert len(joinery.fasteners) > 1
    for one in joinery.fasteners:
        assert isinstance(one.goods, Screw)
        assert 0.0 == pytest.approx(one.head[0])
        assert one.goods.length_mm == pytest.approx(one.tip[0])
        assert 209.0 == pytest.approx(one.head[2])


def test_the_pilot_hole_is_as_deep_as_the_screw_stands_in_the_mate() -> None:
    joinery = joinery_of(case("join: side to shelf, with: face screws"))
    pilots = [hole for hole in joinery.holes if hole.kind == "pilot"]

    assert [one.goods.length_mm - 12.0 for one in joinery.fasteners] == [
        pytest.approx(hole.depth_mm) for hole in pilots
    ]
    assert {0.0} == {round(hole.at[0], 6) for hole in pilots}


def test_a_hole_through_a_channel_is_bored_from_the_other_face() -> None:
    text = case("join: side to shelf, with: face screws")
    joinery, (part, _) = joinery_of(text), piece_named(parts_of(text), "side")
    sides = {hole.side for hole in joinery.holes if hole.piece == "side"}

    assert {part.housings[0].side} ^ {FACE_A, FACE_B} == sides


def test_pocket_screws_hold_in_what_is_left_of_the_host() -> None:
    """12 mm are left: a screw that ended in 18 mm would come out of the far face."""
    joinery = joinery_of(case("join: shelf to side, with: pocket screws, pockets: bottom"))

    assert len(joinery.fasteners) > 1
    for one in joinery.fasteners:
        assert 1.5 <= one.tip[0] <= 12.0 - 6.0


def test_walls_take_glue_and_no_screws() -> None:
    joinery = joinery_of(case("join: side to shelf, with: face screws, glue: yes"))
    (joint,) = joinery.joints

    assert joint.glue
    assert {1.0} == {round(one.direction[0], 9) for one in joinery.fasteners}


def test_a_dowel_in_the_floor_is_bored_from_the_face_it_lies_in() -> None:
    text = case("join: shelf to side, with: dowels")
    joinery, (part, _) = joinery_of(text), piece_named(parts_of(text), "side")
    holes = [hole for hole in joinery.holes if hole.piece == "side"]

    assert {part.housings[0].side} == {hole.side for hole in holes}
    assert {True} == {hole.depth_mm is not None and hole.depth_mm < 12.0 for hole in holes}


LEDGE = """
  ledge:
    from: panel
    corner: [-200 mm, 0 mm, {height}]
    length: 200 mm
    width: 300 mm
    runs: {{length: right, width: back}}
    edges: {{right: into side by 5 mm}}
"""
BOTH = "side, shelf, ledge"


def test_a_screw_into_the_back_of_another_channel_is_told_apart_from_one_beside_it() -> None:
    """The ledge on the other face stands right behind the shelf, or well below it."""
    joint = "join: shelf to side, with: pocket screws, pockets: bottom"
    behind = case(joint, more=LEDGE.format(height="200 mm"), fit=BOTH)
    below = case(joint, more=LEDGE.format(height="120 mm"), fit=BOTH)

    assert ["J110"] == codes(joinery_problems(behind))
    assert [] == codes(joinery_problems(below))


def test_a_screw_from_the_floor_of_a_channel_misses_where_the_mate_is_not() -> None:
    text = case(
        "join: side to shelf, with: face screws, ends: 20 mm", stop="; stopped 60 mm from front"
    )

    assert [] == codes(joinery_problems(text))
    assert {True} == {one.head[1] > 60.0 for one in joinery_of(text).fasteners}


def test_sides_that_are_no_channels_belong_to_none() -> None:
    assert [None, None, 2] == [channel_of(0), channel_of(FACE_B), channel_of(floor_side(2))]


CORNER = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: up, width: back}
  front:
    from: panel
    corner: [0 mm, 12 mm, 0 mm]
    length: 500 mm
    width: 250 mm
    runs: {length: right, width: up}
    edges: {left: into side by 6 mm}
  bottom:
    from: panel
    corner: [0 mm, 0 mm, 100 mm]
    length: 500 mm
    width: 200 mm
    runs: {length: right, width: back}
    edges: {left: into side by 6 mm, front: into front by 6 mm}
joints:
  - {join: bottom to front, with: glue}
  - {join: front to side, with: glue}
  - {join: side to bottom, with: nails}
steps:
  - {title: All of it, fit: "side, front, bottom"}
"""


def test_an_end_that_stands_in_two_channels_of_one_depth_is_nailed_in_one_row() -> None:
    """Its first 6 mm lie in the channel of the front, where a row of its own would find no room."""
    joinery = joinery_of(CORNER)
    areas = [
        contact.area_mm2
        for contact, side in contacts_of(joinery)
        if is_floor(side) and "bottom" in {contact.first, contact.second}
    ]

    assert [(200.0 - (12 + 18 - 6)) * 18] == [pytest.approx(area) for area in areas]
    assert {109.0} == {round(nail.head[2], 6) for nail in joinery.fasteners}
    assert len(joinery.fasteners) > 1
