"""Screws keep clear of what is cut out of the pieces they hold."""

import pytest

from tests.little_designs import codes, joinery_of, joinery_problems, say

POST = """
parts:
  base:
    from: panel
    length: 900 mm
    width: 300 mm
    runs: {{length: right, width: back}}
    {work}
  post:
    from: panel
    length: 300 mm
    width: 300 mm
    corner: [300 mm, 0 mm, panel]
    runs: {{length: up, width: back}}
joints:
  - {{join: base to post, with: face screws, count: 3, ends: 40 mm}}
"""
SHELF = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {{length: up, width: back}}
  shelf:
    from: panel
    corner: [panel, 0 mm, 200 mm]
    length: 500 mm
    width: 300 mm
    runs: {{length: right, width: back}}
    {work}
joints:
  - {{join: side to shelf, with: face screws, count: 1}}
"""


@pytest.mark.parametrize(
    ("work", "expected"),
    [
        ("cuts: [{arch: [120 mm, 20 mm], in: front, from left: 400 mm}]", [40, 150, 260]),
        ("cuts: [{notch: [40 mm, 60 mm], in: front, from left: 290 mm}]", [100, 180, 260]),
    ],
)
def test_screws_keep_to_the_wood_a_notch_leaves_of_the_contact(
    work: str, expected: list[float]
) -> None:
    found = sorted(screw.head[1] for screw in joinery_of(POST.format(work=work)).fasteners)

    assert expected == pytest.approx(found)


@pytest.mark.parametrize(
    ("work", "expected"),
    [
        ("openings: [{hole: 40 mm, from left: 45 mm, from front: 150 mm}]", ["J103"]),
        ("openings: [{hole: 40 mm, from left: 90 mm, from front: 150 mm}]", []),
        ("cuts: [{notch: [60 mm, 148 mm], in: front, from left: 10 mm}]", ["J103"]),
        ("cuts: [{notch: [60 mm, 100 mm], in: front, from left: 10 mm}]", []),
    ],
)
def test_a_screw_too_near_to_what_is_cut_out_of_the_second_piece_is_refused(
    work: str, expected: list[str]
) -> None:
    assert expected == codes(joinery_problems(SHELF.format(work=work)))


def test_a_screw_may_enter_from_the_floor_of_a_notch() -> None:
    text = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: up, width: back}
    corners: {top front: notch 200 mm down by 150 mm back}
  tread:
    from: panel
    corner: [0 mm, 0 mm, 200 mm]
    length: 400 mm
    width: 150 mm
    runs: {length: right, width: back}
joints:
  - {join: tread to side, with: face screws, count: 2}
"""

    assert [218.0, 218.0] == [screw.head[2] for screw in joinery_of(text).fasteners]


def test_an_edge_that_a_notch_divides_gets_screws_on_either_side() -> None:
    text = SHELF.format(work="cuts: [{notch: [100 mm, 30 mm], in: left, from front: 80 mm}]")
    found = sorted(screw.head[1] for screw in joinery_of(text).fasteners)

    assert [40.0, 240.0] == pytest.approx(found)


POCKETS = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {{length: up, width: back}}
  shelf:
    from: panel
    corner: [panel, 0 mm, 200 mm]
    length: {length} mm
    width: 300 mm
    runs: {{length: right, width: back}}
    {work}
joints:
  - {{join: shelf to side, with: pocket screws, pockets: bottom, count: 2, ends: 60 mm}}
"""


@pytest.mark.parametrize(
    ("work", "found", "what"),
    [
        ("openings: [{hole: 30 mm, from left: 34 mm, from front: 79 mm}]", ["J110"], "hole"),
        ("openings: [{hole: 30 mm, from left: 34 mm, from front: 81 mm}]", [], ""),
        (
            "openings: [{slot: [40 mm, 20 mm], along: right, from left: 40 mm, from back: 60 mm}]",
            ["J104"],
            "",
        ),
        (
            "openings: [{cutout: [40 mm, 2 cm], along: right, from left: 40 mm, from back: 72 mm}]",
            ["J110"],
            "cut-out",
        ),
        (
            "cuts: [{notch: [60 mm, 56 mm], in: front, from left: 30 mm}]",
            ["J110"],
            "front notch",
        ),
        ("cuts: [{notch: [60 mm, 54 mm], in: front, from left: 30 mm}]", [], ""),
    ],
)
def test_a_pocket_keeps_its_whole_width_out_of_what_is_cut_out(
    work: str, found: list[str], what: str
) -> None:
    """The pocket is 9.5 mm wide: 4.75 mm either side of the screw, which stands 60 mm in."""
    problems = joinery_problems(POCKETS.format(length=500, work=work))

    assert codes(problems) == found
    assert what in say(problems)


@pytest.mark.parametrize(("length", "found"), [(34.5, []), (33.0, ["J104"])])
def test_a_pocket_needs_a_board_as_long_as_it_reaches_back(length: float, found: list[str]) -> None:
    """15 degrees to the face, out at half of 18 mm: 9 / tan 15 = 33.6 mm back from the joint."""
    assert codes(joinery_problems(POCKETS.format(length=length, work=""))) == found
