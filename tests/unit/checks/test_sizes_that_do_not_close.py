"""Rows of parts that come out too long or too short when they are cut as printed."""

import pytest

from generator.geometry.tolerance import CLOSES_MM
from generator.problems import Problem
from generator.units import System, format_remainder, read_mm
from tests.little_designs import codes, plan_problems

ROW = """
parts:
  board:
    from: panel
    length: COUNT * (WIDTH)
    width: 300 mm
    runs: {length: right, width: up}
  stave:
    from: panel
    each: number in 1..COUNT
    corner: [(number - 1) * (WIDTH), -panel, 0 mm]
    length: 300 mm
    width: WIDTH
    runs: {length: up, width: right}
joints: [{join: stave to board, with: glue}]
steps: [{title: All, fit: "board, stave"}]
"""
CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    at: {left: {}, right: {mirrors: left, across: {right: (WIDTH) / 2}}}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, 300 mm]
    width: 300 mm
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
  back:
    from: panel
    corner: [0 mm, 300 mm, 0 mm]
    length: WIDTH
    width: 600 mm
    runs: {length: right, width: up}
joints:
  - {join: shelf to side, with: glue}
  - {join: back to side, with: glue}
steps: [{title: All, fit: "side, shelf, back"}]
"""


def row(count: int, width: str, system: System = "metric") -> tuple[Problem, ...]:
    """Return what is wrong with staves side by side on a board that is just as long."""
    return plan_problems(ROW.replace("COUNT", str(count)).replace("WIDTH", width), system)


@pytest.mark.parametrize(
    ("count", "width", "system", "expected"),
    [
        (4, "83.09 mm", "metric", []),
        (7, "83.09 mm", "metric", ["C501"]),
        (30, "55.3 mm", "metric", []),  # printed exactly, however many there are
        (12, "3 1/2 in", "imperial", []),
        (12, "3.604 in", "imperial", ["C501"]),
        (6, "3.604 in", "imperial", []),
    ],
)
def test_rounding_adds_up_along_a_row_until_it_does_not_close(
    count: int, width: str, system: System, expected: list[str]
) -> None:
    assert codes(row(count, width, system)) == expected


def test_the_remainder_is_told_with_the_parts_that_run_each_way() -> None:
    (found,) = row(12, "83.09 mm")

    assert found.what == (
        "as printed, `stave[1]` to `stave[12]` (12 pieces) measure 996 mm and `board` 997 mm: "
        "1.00 mm are left over"
    )


@pytest.mark.parametrize("width", ["823.37 mm", "36 in", "31.2345 in"])
@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_side_and_shelf_and_side_are_as_wide_as_the_back(width: str, system: System) -> None:
    assert codes(plan_problems(CASE.replace("WIDTH", width), system)) == []


@pytest.mark.parametrize("tenth", range(400))
def test_one_size_as_read_is_never_further_off_than_may_be(tenth: int) -> None:
    size = 500.0 + tenth / 10 + 0.037

    assert abs(read_mm(size, "metric") - size) < CLOSES_MM / 4
    assert abs(read_mm(size, "imperial") - size) < CLOSES_MM / 2


def test_a_remainder_is_printed_with_all_its_digits() -> None:
    assert format_remainder(1.096, "metric") == "1.10 mm"
    assert format_remainder(0.5, "imperial") == "0.020 in (0.50 mm)"


THREE_QUARTERS = """\
title: Little
date: 2026-11-25
stock:
  panel: {imperial: plywood-3/4, metric: plywood-18}
"""


HALVES = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {}
      right: {mirrors: left, across: {right: 12 in}}
      middle: {corner: [12 in - panel / 2, 0 mm, 0 mm]}
  shelf:
    from: panel
    width: 300 mm
    runs: {length: right, width: back}
    at:
      left: {corner: [0 in, 0 in, 10 in]}
      right: {mirrors: left, across: {right: 12 in}}
    edges: {left: into side.left by DEPTH, right: into side.middle by DEPTH}
  back:
    from: panel
    corner: [0 mm, 300 mm, 0 mm]
    length: 24 in
    width: 600 mm
    runs: {length: right, width: up}
joints:
  - {join: "shelf.left to side.left, side.middle", with: glue}
  - {join: "shelf.right to side.right, side.middle", with: glue}
  - {join: back to side, with: glue}
steps: [{title: All, fit: "side, shelf, back"}]
"""


@pytest.mark.parametrize(("depth", "found"), [("1/4 in", []), ("15/64 in", ["C501"])])
def test_the_depth_of_a_channel_counts_as_it_is_read(depth: str, found: list[str]) -> None:
    """15/64 in reads as 1/4 in bare, 1/128 in (0.2 mm) too deep: four times that is too much."""
    text = HALVES.replace("DEPTH", depth)

    assert found == codes(plan_problems(text, "imperial", THREE_QUARTERS))
