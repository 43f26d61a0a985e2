"""Where pieces stand: frames in frames, turns, counts, copies and their names."""

import math

import pytest

from generator.geometry.vectors import Vec3
from tests.little_designs import codes, edition_of, edition_problems, parts_of, piece_named

BOARD = "from: panel, length: 100 mm, width: 50 mm, runs: {length: right, width: back}"


def corner(text: str, name: str) -> Vec3:
    """Return the place of a piece's corner in the room."""
    spec = next(piece for piece in edition_of(text).pieces if piece.name == name)
    return spec.frame.origin


def names(text: str) -> list[str]:
    return [piece.name for piece in edition_of(text).pieces]


def test_a_piece_stands_at_its_corner() -> None:
    text = f"parts: {{board: {{{BOARD}, corner: [1 mm, 2 mm, 3 mm]}}}}"

    assert corner(text, "board") == (1.0, 2.0, 3.0)


def test_a_piece_without_a_corner_stands_at_the_origin() -> None:
    assert corner(f"parts: {{board: {{{BOARD}}}}}", "board") == (0.0, 0.0, 0.0)


def test_a_frame_in_a_frame_stands_in_it() -> None:
    """200 right in a frame turned a quarter about up is 200 back."""
    text = f"""
frames:
  outer: {{at: [1000 mm, 0 mm, 0 mm], turn: 90 deg about up}}
  inner: {{in: outer, at: [200 mm, 0 mm, 0 mm], turn: 90 deg about up}}
parts:
  board: {{{BOARD}, frame: inner, corner: [10 mm, 0 mm, 0 mm]}}
"""

    assert corner(text, "board") == pytest.approx((990.0, 200.0, 0.0))


def test_a_frame_written_inside_a_part_stands_in_a_named_one() -> None:
    text = f"""
frames:
  outer: {{at: [1000 mm, 0 mm, 0 mm]}}
parts:
  board: {{{BOARD}, frame: {{in: outer, at: [0 mm, 20 mm, 0 mm]}}}}
"""

    assert corner(text, "board") == (1000.0, 20.0, 0.0)


def test_turns_are_made_one_after_the_other_about_the_turned_directions() -> None:
    text = f"""
parts:
  board:
    {BOARD.replace(", ", chr(10) + "    ", 3)}
    frame: {{turn: [90 deg about up, 30 deg about right]}}
"""
    spec = edition_of(text).pieces[0]

    assert spec.frame.x == pytest.approx((0.0, 1.0, 0.0))
    assert spec.frame.y == pytest.approx(
        (-math.cos(math.radians(30)), 0.0, math.sin(math.radians(30)))
    )


def test_frames_that_stand_inside_each_other_are_reported() -> None:
    text = f"""
frames: {{one: {{in: two}}, two: {{in: one}}}}
parts: {{board: {{{BOARD}, frame: one}}}}
"""

    assert codes(edition_problems(text)) == ["E110"]


def test_an_each_makes_one_piece_for_every_number() -> None:
    text = f"""
parts:
  board: {{{BOARD}, each: number in 2..4, corner: [number * 100 mm, 0 mm, 0 mm]}}
"""

    assert names(text) == ["board[2]", "board[3]", "board[4]"]
    assert corner(text, "board[3]") == (300.0, 0.0, 0.0)


def test_the_each_of_a_frame_counts_the_parts_in_it() -> None:
    text = f"""
frames:
  level: {{each: floor_number in 1..2, at: [0 mm, 0 mm, floor_number * 300 mm]}}
parts:
  board: {{{BOARD}, frame: level}}
"""

    assert names(text) == ["board[1]", "board[2]"]
    assert corner(text, "board[2]") == (0.0, 0.0, 600.0)


def test_counted_copies_are_named_by_number_and_copy() -> None:
    text = f"""
parts:
  board:
    {BOARD.replace(", ", chr(10) + "    ", 3)}
    each: n in 1..2
    at: {{near: {{}}, far: {{corner: [0 mm, 500 mm, n * 100 mm]}}}}
"""

    assert names(text) == ["board[1].near", "board[1].far", "board[2].near", "board[2].far"]
    assert corner(text, "board[2].far") == (0.0, 500.0, 200.0)


@pytest.mark.parametrize(("last", "found"), [("0", ["E108"]), ("1", []), ("2.5", ["E114"])])
def test_an_each_runs_over_whole_numbers_and_at_least_one(last: str, found: list[str]) -> None:
    text = f"parts: {{board: {{{BOARD}, each: n in 1..{last}}}}}"

    assert codes(edition_problems(text)) == found


def test_an_edge_is_cut_against_the_piece_with_the_same_number() -> None:
    text = """
parts:
  stop:
    from: panel
    length: 400 mm
    width: 100 mm
    each: n in 1..3
    corner: [100 mm * n, 0 mm, (n - 1) * 500 mm]
    runs: {length: up, width: back}
  board:
    from: panel
    width: 50 mm
    each: n in 1..3
    corner: [0 mm, 0 mm, (n - 1) * 500 mm + 50 mm]
    runs: {length: right, width: back}
    edges: {right: "against stop[n]"}
"""
    parts = parts_of(text)
    sizes = [piece_named(parts, f"board[{n}]")[0].length_mm for n in (1, 2, 3)]

    assert sizes == pytest.approx([100.0, 200.0, 300.0])


@pytest.mark.parametrize(
    ("target", "found"),
    [
        ("stop[1]", []),
        ("stop", ["D206"]),
        ("stop[9]", ["D202"]),
        ("stop[1].nowhere", ["D202"]),
        ("board", ["E115"]),
    ],
)
def test_an_edge_is_cut_against_one_other_piece(target: str, found: list[str]) -> None:
    text = f"""
parts:
  stop:
    from: panel
    length: 400 mm
    width: 100 mm
    each: n in 1..3
    corner: [100 mm * n, 0 mm, 0 mm]
    runs: {{length: up, width: back}}
  board:
    from: panel
    width: 50 mm
    runs: {{length: right, width: back}}
    edges: {{right: "against {target}"}}
"""

    assert codes(edition_problems(text)) == found


def test_an_edge_that_is_itself_cut_to_fit_cannot_be_cut_against() -> None:
    text = """
parts:
  stop:
    from: panel
    width: 100 mm
    runs: {length: up, width: back}
    edges: {top: against floor}
    corner: [0 mm, 0 mm, -300 mm]
  board:
    from: panel
    width: 50 mm
    runs: {length: up, width: back}
    edges: {top: against stop.top}
"""

    assert codes(edition_problems(text)) == ["E113"]


def test_a_size_is_needed_where_no_edge_gives_it() -> None:
    text = "parts: {board: {from: panel, width: 50 mm, runs: {length: right, width: back}}}"
    (problem,) = edition_problems(text)

    assert problem.code == "E116"
    assert problem.what == ("`board` has no length: its right edge is not cut against anything")


@pytest.mark.parametrize(
    ("runs", "x", "y", "z"),
    [
        ("length: right, width: back", "right", "back", "top"),
        ("length: back, width: right", "back", "right", "bottom"),
        ("length: up, width: back", "top", "back", "left"),
        ("length: left, width: up", "left", "top", "back"),
    ],
)
def test_a_piece_fills_the_room_its_runs_say_in_a_right_handed_frame(
    runs: str, x: str, y: str, z: str
) -> None:
    text = f"parts: {{board: {{from: panel, length: 100 mm, width: 50 mm, runs: {{{runs}}}}}}}"
    (piece,) = edition_of(text).pieces
    words = dict(piece.words)
    parts = parts_of(text)
    spans = [high - low for low, high in zip(parts.low, parts.high, strict=True)]

    assert piece.frame.is_right_handed
    assert (words["length+"], words["width+"], words["through+"]) == (x, y, z)
    assert sorted(spans) == pytest.approx([18.0, 50.0, 100.0])


def test_a_thickness_runs_right_back_or_up_unless_told_otherwise() -> None:
    text = "parts: {{board: {{{}}}}}"
    up = parts_of(text.format(BOARD))
    down = parts_of(text.format(BOARD.replace("width: back}", "width: back, thickness: down}")))

    assert (up.low[2], up.high[2]) == pytest.approx((0.0, 18.0))
    assert (down.low[2], down.high[2]) == pytest.approx((-18.0, 0.0))


ROOF = """
parts:
  roof:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: up, width: back}
    edges: {top: against TARGET}
    at:
      left: {turn: 30 deg about back}
      right: {mirrors: left, across: {right: 200 mm}}
"""


def test_a_piece_may_be_cut_against_its_own_mirror_image() -> None:
    """Two boards that lean against each other, 60 degrees apart: each ends at the other's face."""
    parts = parts_of(ROOF.replace("TARGET", "roof.right.left"))

    assert [piece.name for piece in parts.pieces()] == ["roof.left", "roof.right"]
    for name in ("roof.left", "roof.right"):
        part, _ = piece_named(parts, name)
        tilts = sorted(edge.tilt_deg for edge in part.edges)

        assert tilts == pytest.approx([0.0, 0.0, 0.0, 30.0])


def test_a_mirrored_piece_is_not_cut_against_the_piece_it_mirrors() -> None:
    assert codes(edition_problems(ROOF.replace("TARGET", "roof.left.right"))) == ["E115", "E115"]
