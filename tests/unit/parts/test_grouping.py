"""Which pieces are one line of the cut list: the same wood after turning, never after mirroring."""

import pytest

from generator.geometry.frames import Plane, reflect_point
from generator.geometry.vectors import Vec3
from generator.model.parts import FACE_A, FACE_B, Part, Parts, Piece
from generator.parts.stage import label_of
from tests.little_designs import part_named, parts_of, piece_named

PAIR = """
parts:
  board:
    from: panel
    length: 500 mm
    width: 300 mm
    runs: {{length: up, width: back}}
    show: {show}
    {work}
    at:
      left: {{}}
      right: {{mirrors: left, across: {{right: 400 mm}}}}
"""


def pair(work: str = "", show: str = "outside") -> Parts:
    return parts_of(PAIR.format(work=work, show=show))


def corners_of(part: Part, piece: Piece) -> set[tuple[float, ...]]:
    slab = part.slab
    points = [(x, y, 0.0) for x, y in slab.face_a.points]
    points += [(x, y, slab.thickness_mm) for x, y in slab.face_b.points]
    return {rounded(piece.frame.to_world(point)) for point in points}


def rounded(point: Vec3) -> tuple[float, ...]:
    return tuple(round(value, 6) + 0.0 for value in point)


WORKS = [
    "",
    "edges: {front: bevel 10 deg long on right}",
    "edges: {top: bevel 10 deg long on left, back: bevel 25 deg long on right}",
    "corners: {top front: clip 100 mm down by 60 mm back}",
    "corners: {top front: round 60 mm}",
]


@pytest.mark.parametrize("work", WORKS)
def test_a_mirrored_copy_fills_the_mirror_image_of_the_room(work: str) -> None:
    parts = pair(work)
    left = corners_of(*piece_named(parts, "board.left"))
    right = corners_of(*piece_named(parts, "board.right"))
    plane = Plane((1.0, 0.0, 0.0), 400.0)

    assert {rounded(reflect_point((x, y, z), plane)) for x, y, z in left} == right


@pytest.mark.parametrize("work", WORKS)
def test_every_piece_stands_in_a_right_handed_frame(work: str) -> None:
    assert all(piece.frame.is_right_handed for piece in pair(work).pieces())


def test_a_plain_rectangle_and_its_mirror_image_are_one_part() -> None:
    assert [part.count for part in pair().parts] == [2]


def test_a_clipped_panel_and_its_mirror_image_are_one_part_turned_over() -> None:
    assert [part.count for part in pair(WORKS[3]).parts] == [2]


def test_a_panel_with_one_bevel_and_its_mirror_image_are_one_part_turned_end_for_end() -> None:
    assert [part.count for part in pair(WORKS[1]).parts] == [2]


HANDED = [
    "edges: {top: bevel 10 deg long on left, back: bevel 25 deg long on right}",
    "edges: {top: bevel 10 deg long on left}\n    "
    "corners: {bottom front: clip 100 mm up by 60 mm back}",
    "edges: {front: bevel 10 deg long on left}\n    "
    "openings: [{hole: 30 mm, from top: 80 mm, from front: 100 mm}]",
]


@pytest.mark.parametrize("work", HANDED)
def test_a_handed_panel_and_its_mirror_image_are_two_parts(work: str) -> None:
    assert [part.count for part in pair(work).parts] == [1, 1]


@pytest.mark.parametrize("work", HANDED)
def test_a_mirror_image_has_the_bevels_of_its_model_on_the_mirrored_faces(work: str) -> None:
    """Left of the model is right of its image: the words change places, the tilts do not."""
    left, right = pair(work).parts
    swapped = {"left": "right", "right": "left"}
    mine = {
        edge.name: (round(edge.tilt_deg, 6), word_of_long_face(left, edge.long_face))
        for edge in left.edges
    }
    theirs = {
        edge.name: (
            round(edge.tilt_deg, 6),
            swapped.get(word_of_long_face(right, edge.long_face), ""),
        )
        for edge in right.edges
    }

    assert mine == theirs


def word_of_long_face(part: Part, face: str) -> str:
    return "" if not face else part.face_words[0 if face == "A" else 1]


def test_equal_panels_standing_at_right_angles_are_one_part() -> None:
    text = """
parts:
  wide:
    from: panel
    length: 500 mm
    width: 300 mm
    runs: {length: right, width: up}
    edges: {right: bevel 10 deg long on front}
  deep:
    from: panel
    length: 500 mm
    width: 300 mm
    runs: {length: front, width: up}
    corner: [900 mm, 900 mm, 0 mm]
    edges: {front: bevel 10 deg long on right}
"""

    assert [[p.name for p in part.pieces] for part in parts_of(text).parts] == [["wide", "deep"]]


def test_copies_of_another_stock_are_another_part() -> None:
    head = """\
title: Little
date: 2026-11-25
stock:
  panel: {imperial: board-imperial, metric: board-metric}
  other: {imperial: plywood-23/32, metric: plywood-18}
"""
    text = """
parts:
  one: {from: panel, length: 500 mm, width: 300 mm, runs: {length: right, width: up}}
  two: {from: other, length: 500 mm, width: 300 mm, runs: {length: right, width: up}}
"""

    assert [part.count for part in parts_of(text, head=head).parts] == [1, 1]


@pytest.mark.parametrize(("more", "counts"), [("0.02", [1, 1]), ("0.005", [2])])
def test_pieces_are_one_part_only_if_no_mark_could_tell_them_apart(
    more: str, counts: list[int]
) -> None:
    text = f"""
parameters: {{more: {more} mm}}
parts:
  one: {{from: panel, length: 500 mm, width: 300 mm, runs: {{length: right, width: up}}}}
  two: {{from: panel, length: 500 mm + more, width: 300 mm, runs: {{length: right, width: up}}}}
"""

    assert counts == [part.count for part in parts_of(text).parts]


def test_a_turned_over_copy_has_its_words_on_the_sides_they_are_on_in_the_room() -> None:
    """Every side of every copy looks where its word says."""
    looks = {
        "right": (1, 0, 0), "left": (-1, 0, 0), "back": (0, 1, 0),
        "front": (0, -1, 0), "top": (0, 0, 1), "bottom": (0, 0, -1),
    }  # fmt: skip
    parts = pair("corners: {top front: clip 100 mm down by 60 mm back}")
    for part in parts.parts:
        for piece in part.pieces:
            words = dict(piece.words)
            for number, edge in enumerate(part.edges):
                if edge.kind != "corner":
                    found = piece.frame.direction(edge.plane.normal)

                    assert pytest.approx(looks[words[number]]) == found, (piece.name, edge.name)
            up = piece.frame.z

            assert pytest.approx(looks[words[FACE_B]]) == up
            assert pytest.approx(looks[words[FACE_A]]) == tuple(-value for value in up)


def test_the_outside_of_two_sides_looks_away_from_the_middle() -> None:
    parts = pair()
    left, right = (piece_named(parts, f"board.{side}")[1] for side in ("left", "right"))

    assert [dict(left.words)[side] for side in left.show] == ["left"]
    assert [dict(right.words)[side] for side in right.show] == ["right"]


def test_the_inside_of_two_sides_looks_at_the_middle() -> None:
    parts = pair(show="inside")
    left, right = (piece_named(parts, f"board.{side}")[1] for side in ("left", "right"))

    assert [dict(left.words)[side] for side in left.show] == ["right"]
    assert [dict(right.words)[side] for side in right.show] == ["left"]


def test_a_named_show_face_is_mirrored_with_the_piece() -> None:
    _, right = piece_named(pair(show="left"), "board.right")

    assert [dict(right.words)[side] for side in right.show] == ["right"]


def test_both_faces_can_be_shown() -> None:
    assert all(piece.show == (FACE_A, FACE_B) for piece in pair(show="both").pieces())


def test_equal_copies_show_the_same_face_of_the_part_where_they_can() -> None:
    left, right = pair().parts[0].pieces

    assert left.show == right.show


def test_copies_that_must_be_turned_over_show_different_faces_of_the_part() -> None:
    left, right = pair("corners: {top front: clip 100 mm down by 60 mm back}").parts[0].pieces

    assert left.show != right.show


def test_equal_copies_have_top_on_top_and_front_on_front_where_they_can() -> None:
    (part,) = parts_of(PAIR.format(work="", show="both")).parts
    left, right = part.pieces

    assert left.words == right.words


def test_labels_follow_the_alphabet_and_go_on_with_two_letters() -> None:
    assert [label_of(i) for i in (0, 25, 26, 51, 52)] == ["A", "Z", "AA", "AZ", "BA"]


def test_parts_are_labelled_in_the_order_of_the_design() -> None:
    parts = pair(HANDED[0]).parts

    assert [part.label for part in parts] == ["A", "B"]
    assert [(p.label, p.copy) for part in parts for p in part.pieces] == [("A", 1), ("B", 1)]


def test_mass_is_volume_times_density() -> None:
    """Softwood plywood of the catalogue."""
    part = part_named(pair(), "board.left")
    density = part.stock.material.density_kg_m3

    assert pytest.approx(0.5 * 0.3 * 0.018 * density) == part.mass_kg
    assert pytest.approx(2 * part.mass_kg) == pair().mass_kg


def test_the_whole_has_its_bounds_and_the_centre_of_its_mass_in_the_middle() -> None:
    parts = pair()

    assert pytest.approx((0.0, 0.0, 0.0)) == parts.low
    assert pytest.approx((800.0, 300.0, 500.0)) == parts.high
    assert pytest.approx((400.0, 150.0, 250.0)) == parts.center
