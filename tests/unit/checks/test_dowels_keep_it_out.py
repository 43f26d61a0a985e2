"""Dowels that point two ways at once bar the way; dowels that point one way do not."""

import pytest

from tests.little_designs import codes, plan_problems

CASE = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 250 mm
    runs: {length: up, width: back}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  bottom:
    from: panel
    width: 250 mm
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, 200 mm]
    width: 250 mm
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
joints:
  - {join: side to bottom, with: BOTTOM}
  - {join: shelf to side, with: dowels}
steps:
"""
SIDES_FIRST = """\
  - {title: Sides, fit: "bottom, side"}
  - {title: Shelf, fit: shelf}
"""
ONE_BY_ONE = """\
  - {title: Left, fit: "bottom, side.left"}
  - {title: Shelf, fit: shelf}
  - {title: Right, fit: side.right}
"""
TOGETHER = """\
  - {title: All, fit: "bottom, shelf, side"}
"""
APART = """\
  - {title: Left, apart: left, fit: "side.left, shelf"}
  - {title: Right, fit: "side.right, bottom"}
  - {title: Both, joins: left}
"""
TOO_LATE = """\
  - {title: Case, apart: case, fit: "bottom, side"}
  - {title: Shelf, fit: shelf}
  - {title: Both, joins: case}
"""


@pytest.mark.parametrize(
    ("bottom", "steps", "found"),
    [
        ("face screws", SIDES_FIRST, ["C403"]),
        ("face screws", ONE_BY_ONE, []),
        ("face screws", TOGETHER, []),
        ("face screws", APART, []),
        ("face screws", TOO_LATE, ["C403"]),
        ("nothing", SIDES_FIRST, []),
    ],
)
def test_a_piece_with_dowels_two_ways_goes_on_before_its_mates_are_joined(
    bottom: str, steps: str, found: list[str]
) -> None:
    """Sides that only stand beside the bottom can still be spread."""
    problems = plan_problems(CASE.replace("BOTTOM", bottom) + steps)

    assert [code for code in codes(problems) if code == "C403"] == found
