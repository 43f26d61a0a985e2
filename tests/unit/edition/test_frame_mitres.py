"""Mitres of pieces that lie in one plane, as the corners of a picture frame.

Each of N equal pieces around a frame is cut 180 / N degrees off square: geometry of the regular
polygon, whose inner angle is 180 - 360 / N.
"""

import math

import pytest

from generator.model.parts import Edge, Part
from tests.little_designs import (
    codes,
    edition_problems,
    joinery_of,
    joinery_problems,
    part_named,
    parts_of,
    plan_problems,
    say,
)

FRAME = """
frames:
  turned: {at: [100 mm, 200 mm, 300 mm], turn: [30 deg about up, 50 deg about right]}
parts:
  rail:
    from: panel
    %s
    length: 600 mm
    width: 80 mm
    runs: {length: right, width: up}
    edges: {left: mitre with stile.left, right: mitre with stile.right}
    at:
      low: {}
      high: {corner: [0 mm, 0 mm, 320 mm], runs: {length: right, width: up}}
  stile:
    from: panel
    %s
    length: 400 mm
    width: %s
    runs: {length: up, width: right}
    edges: {bottom: mitre with rail.low, top: mitre with rail.high}
    at:
      left: {}
      right: {corner: [600 mm - %s, 0 mm, 0 mm]}
joints:
  - {join: rail to stile, with: %s}
"""


def frame(with_: str = "glue", width: str = "80 mm", inside: str = "") -> str:
    text = FRAME.replace(", runs: {length: right, width: up}}\n  stile", "}\n  stile")
    return text % (inside, inside, width, width, with_)


def ring(sides: int, with_: str = "glue") -> str:
    """Return a frame of so many sides, 80 mm wide, 300 mm from its middle to its outer edges."""
    half = 300.0 * math.tan(math.pi / sides)
    return f"""
parts:
  side:
    from: panel
    each: i in 1..{sides}
    length: {2 * half:.9f} mm
    width: 80 mm
    frame: {{at: [0 mm, 0 mm, 0 mm], turn: i * 360 deg / {sides} about up}}
    corner: [{-half:.9f} mm, -300 mm, 0 mm]
    runs: {{length: right, width: back}}
    edges:
      left: "mitre with side[{sides} if i == 1 else i - 1]"
      right: "mitre with side[1 if i == {sides} else i + 1]"
joints:
  - {{join: "side[1] to side[2]", with: {with_}}}
"""


def end(part: Part, name: str) -> Edge:
    return next(edge for edge in part.edges if edge.name == name)


@pytest.mark.parametrize("inside", ["", "frame: turned"])
def test_the_corners_of_a_frame_are_cut_at_45_degrees_with_an_upright_blade(inside: str) -> None:
    parts = parts_of(frame(inside=inside))

    for name, ends in (("rail.low", ("left", "right")), ("stile.left", ("bottom", "top"))):
        part = part_named(parts, name)
        for one in (end(part, word) for word in ends):
            assert pytest.approx(45.0) == one.mitre_deg
            assert one.tilt_deg == 0.0
    assert {2} == {part.count for part in parts.parts}
    assert pytest.approx(600.0) == part_named(parts, "rail.low").length_mm
    assert pytest.approx(400.0) == part_named(parts, "stile.left").length_mm


def test_a_frame_closes_at_its_four_corners_and_no_two_pieces_share_room() -> None:
    joinery = joinery_of(frame())

    assert len(joinery.contacts) == 4
    for contact in joinery.contacts:
        assert pytest.approx(18 * 80 * math.sqrt(2)) == contact.area_mm2
    assert "C101" not in codes(plan_problems(frame()))


def test_pieces_of_two_widths_meet_from_their_outer_to_their_inner_corner() -> None:
    """80 mm on 50 mm: the rail is cut atan(50/80) off square, the stile atan(80/50)."""
    text = frame(width="50 mm")
    parts = parts_of(text)

    rail, stile = (
        end(part_named(parts, "rail.low"), "left"),
        end(part_named(parts, "stile.left"), "bottom"),
    )
    assert pytest.approx(math.degrees(math.atan(50 / 80))) == rail.mitre_deg
    assert pytest.approx(math.degrees(math.atan(80 / 50))) == stile.mitre_deg
    assert "C101" not in codes(plan_problems(text))


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8, 12])
def test_the_sides_of_a_ring_are_cut_a_half_turn_by_their_number_off_square(sides: int) -> None:
    (part,) = parts_of(ring(sides)).parts

    assert sides == part.count
    for name in ("left", "right"):
        assert pytest.approx(180.0 / sides) == end(part, name).mitre_deg


@pytest.mark.parametrize("with_", ["dowels", "pocket screws, pockets: back, count: 1"])
def test_a_frame_is_dowelled_or_pocket_screwed_across_its_mitres(with_: str) -> None:
    joinery = joinery_of(frame(with_))

    assert len(joinery.fasteners) >= 4
    assert {len(one.through) for one in joinery.fasteners} == {2}


def test_nails_find_no_face_to_cross_a_mitre_in_one_plane_from() -> None:
    assert set(codes(joinery_problems(frame("nails")))) == {"J109"}


def test_a_piece_whose_edges_are_cut_to_fit_is_not_mitred_in_one_plane() -> None:
    text = frame().replace(
        "edges: {bottom: mitre", "edges: {left: 'bevel 5 deg long on back', bottom: mitre"
    )
    found = edition_problems(text)

    assert set(codes(found)) == {"E118"}, say(found)
    assert "are not known before it is cut" in say(found)


def test_parallel_pieces_on_top_of_each_other_make_no_mitre() -> None:
    text = frame().replace(
        "right: {corner: [600 mm - 80 mm, 0 mm, 0 mm]}", "right: {corner: [520 mm, 18 mm, 0 mm]}"
    )

    assert "E118" in codes(edition_problems(text))
