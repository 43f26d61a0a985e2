"""Dowels: which one a joint gets, where it stands, and the two holes that must meet.

Diameters of about half the thickness, lengths of about five diameters and 2 mm of spare depth are
common practice, no source.
"""

import math

import pytest

from generator.geometry.vectors import Vec3, add, norm, scale, subtract
from generator.model.joinery import BoredHole
from generator.model.parts import FACE_A, FACE_B, Piece
from generator.units import System
from tests.little_designs import codes, joinery_of, joinery_problems, parts_of, say

CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {}
      right: {mirrors: left, across: {right: 400 mm}}
  shelf:
    from: panel
    width: 300 mm
    corner: [0 mm, 0 mm, 200 mm]
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
joints:
  - {join: %s, with: dowels%s}
"""
TABLE = """
parts:
  slat:
    from: panel
    length: 500 mm
    width: 150 mm
    runs: {length: right, width: back}
    at:
      front: {}
      back: {corner: [0 mm, 150 mm, 0 mm]}
joints:
  - {join: slat.front to slat.back, with: dowels%s}
"""
FLAT = """
parts:
  base:
    from: panel
    length: 500 mm
    width: 150 mm
    runs: {length: right, width: back}
    at:
      low: {}
      high: {corner: [0 mm, 0 mm, panel]}
joints:
  - {join: base.low to base.high, with: dowels}
"""
MITRE = """
parts:
  front:
    from: panel
    length: 500 mm
    width: 150 mm
    runs: {length: right, width: up}
    edges: {right: mitre with side}
  side:
    from: panel
    corner: [500 mm - panel, 0 mm, 0 mm]
    length: 300 mm
    width: 150 mm
    runs: {length: back, width: up}
    edges: {front: mitre with front}
joints:
  - {join: front to side, with: dowels}
"""


def case(join: str = "shelf to side", how: str = "") -> str:
    return CASE % (join, how)


def hole_pairs(
    text: str, system: System = "metric", thickness: float = 18.0
) -> list[tuple[BoredHole, BoredHole]]:
    joinery = joinery_of(text, system, thickness)
    pairs = [[h for h in joinery.holes if h.fastener == one.id] for one in joinery.fasteners]
    return [(first, second) for first, second in pairs]


@pytest.mark.parametrize(
    ("system", "thickness", "key"),
    [
        ("metric", 12.0, "dowel-6x30"),
        ("metric", 18.0, "dowel-8x40"),
        ("metric", 38.0, "dowel-12x60"),
        ("imperial", 11.90625, "dowel-1/4x1-1/4"),
        ("imperial", 18.25625, "dowel-3/8x1-1/2"),
    ],
)
def test_a_dowel_is_about_half_as_thick_as_the_edge_and_five_times_as_long_as_thick(
    system: System, thickness: float, key: str
) -> None:
    found = joinery_of(case(), system, thickness).fasteners

    assert {one.goods.key for one in found} == {key}


def test_both_holes_are_on_one_axis_and_two_millimetres_longer_than_the_dowel() -> None:
    pieces = {piece.name: piece for piece in parts_of(case()).pieces()}
    joinery = joinery_of(case())
    pairs = hole_pairs(case())

    assert len(pairs) == 6
    for (first, second), dowel in zip(pairs, joinery.fasteners, strict=True):
        assert (first.kind, second.kind) == ("dowel", "dowel")
        assert first.diameter_mm == second.diameter_mm == dowel.goods.diameter_mm
        assert first.depth_mm is not None
        assert second.depth_mm is not None
        assert first.depth_mm + second.depth_mm == pytest.approx(dowel.goods.length_mm + 2.0)
        ends = [_end(pieces, hole) for hole in (first, second)]
        assert norm(subtract(*ends)) == pytest.approx(dowel.goods.length_mm + 2.0)
        assert norm(subtract(_mouth(pieces, first), _mouth(pieces, second))) < 1e-9


def _mouth(pieces: dict[str, Piece], hole: BoredHole) -> Vec3:
    return pieces[hole.piece].frame.to_world(hole.at)


def _end(pieces: dict[str, Piece], hole: BoredHole) -> Vec3:
    depth = hole.depth_mm or 0.0
    return pieces[hole.piece].frame.to_world(add(hole.at, scale(hole.direction, depth)))


@pytest.mark.parametrize("join", ["shelf to side", "side to shelf"])
def test_the_hole_in_a_face_leaves_3_mm_and_the_one_in_the_edge_takes_the_rest(join: str) -> None:
    """18 - 3 = 15 mm in the face; 40 + 2 - 15 = 27 mm in the edge; whichever is named first."""
    for pair in hole_pairs(case(join)):
        depths = {hole.side in {FACE_A, FACE_B}: hole.depth_mm for hole in pair}

        assert depths == {True: 15.0, False: pytest.approx(27.0)}


def test_holes_in_inches_are_as_deep_as_marks_of_a_tape() -> None:
    """23/32 less 1/8 in leaves 9/16 in the face; 1 1/2 and 1/16 less 9/16 is 1 in for the edge."""
    for pair in hole_pairs(case(), "imperial", 18.25625):
        depths = {hole.side in {FACE_A, FACE_B}: hole.depth_mm for hole in pair}

        assert depths == {True: pytest.approx(9 / 16 * 25.4), False: pytest.approx(25.4)}


def test_the_hole_in_an_edge_is_at_the_middle_of_its_thickness() -> None:
    edge_holes = [h for pair in hole_pairs(case()) for h in pair if h.side >= 0]

    assert {round(float(hole.at[2]), 6) for hole in edge_holes} == {9.0}


@pytest.mark.parametrize("text", [TABLE % "", FLAT])
def test_a_dowel_stands_half_in_either_of_two_equal_pieces(text: str) -> None:
    for first, second in hole_pairs(text, "metric", 27.0):
        assert first.depth_mm == pytest.approx(second.depth_mm)


def test_dowels_are_at_most_150_mm_apart() -> None:
    """A contact 500 mm long, 38 mm left at both ends: four dowels, 141 1/3 mm apart."""
    places = sorted(float(first.at[0]) for first, _ in hole_pairs(TABLE % ""))

    assert places == pytest.approx([38.0, 38.0 + 424 / 3, 38.0 + 848 / 3, 462.0])


def test_dowels_across_a_mitre_stand_square_on_it_and_near_its_inner_corner() -> None:
    """In the middle of an 18 mm mitre there are 9 * sqrt 2 = 12.7 mm before a hole: too few."""
    joinery = joinery_of(MITRE)
    half = math.sqrt(0.5)

    assert len(joinery.fasteners) == 2
    for one in joinery.fasteners:
        assert one.direction == pytest.approx((half, half, 0.0))
        assert one.goods.diameter_mm == 8.0
    for hole in joinery.holes:
        z, depth = float(hole.at[2]), (hole.depth_mm or 0.0) * half
        to_outside = 18.0 - z if hole.direction[2] > 0 else z
        assert to_outside > 9.0
        assert to_outside - depth >= 3.0


def test_a_mitre_too_thin_for_any_dowel_is_refused_with_what_is_left() -> None:
    found = joinery_problems(MITRE, thickness_mm=12.0)

    assert codes(found) == ["J103"]
    assert "dowel 1 of joint `front to side` comes within" in say(found)


def test_a_board_too_thin_for_any_dowel_is_refused() -> None:
    assert set(codes(joinery_problems(case(), thickness_mm=9.0))) == {"J102"}
    assert "no dowel in shared/dowels.yml suits 9 mm stock" in say(
        joinery_problems(case(), thickness_mm=9.0)
    )


def test_a_dowel_named_by_the_maker_is_taken_and_judged() -> None:
    right = joinery_of(case(how=", dowel: dowel-6x30"))
    wrong = joinery_problems(case("side.left to side.right", ", dowel: dowel-12x60"))

    assert {one.goods.key for one in right.fasteners} == {"dowel-6x30"}
    assert codes(wrong) == ["J101"]
    assert codes(joinery_problems(case(how=", dowel: dowel-12x40"), thickness_mm=16.0)) == ["J103"]


def test_a_dowel_stands_at_least_one_and_a_half_diameters_from_the_end_of_a_contact() -> None:
    """At 15 mm a dowel of 10 mm may stand, one of 12 mm not: the thinner one is chosen."""
    near = case(how=", ends: 15 mm")
    named = case(how=", ends: 15 mm, dowel: dowel-12x60")

    assert {one.goods.key for one in joinery_of(near, thickness_mm=38.0).fasteners} == {
        "dowel-10x50"
    }
    assert codes(joinery_problems(named, thickness_mm=38.0)) == ["J105", "J105"]


def test_what_is_dowelled_is_glued_and_its_dowels_are_hidden() -> None:
    joinery = joinery_of(case())

    assert [joint.glue for joint in joinery.joints] == [True]
    assert all(one.hidden for one in joinery.fasteners)


def test_dowels_that_meet_inside_the_wood_are_reported() -> None:
    crossed = CASE % ("shelf to side.left", "") + (
        "  - {join: shelf to side.left, with: dowels, name: again}\n"
    )

    assert "J108" in codes(joinery_problems(crossed))
