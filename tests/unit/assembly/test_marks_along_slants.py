"""Layout lines along slanted ends: measured from the end they run along, and told so."""

import math

import pytest

from generator.model.assembly import Mark
from generator.model.words import mark_sentence
from tests.little_designs import assembly_of, parts_of, piece_named

SPLAYED = """
parts:
  wall:
    from: panel
    width: 200 mm
    frame: {turn: 15 deg about right}
    runs: {length: right, width: up}
    edges: {left: against end.left.left, right: against end.right.right}
  end:
    from: panel
    length: 300 mm
    width: 200 mm
    runs: {length: back, width: up}
    edges: {front: against wall}
    at:
      left: {turn: -15 deg about back}
      right: {mirrors: left, across: {right: 250 mm}}
steps:
  - {title: All, fit: "wall, end"}
"""


def marks_of(text: str) -> tuple[Mark, ...]:
    return assembly_of(text).steps[0].marks


def test_a_mark_along_a_slanted_end_is_measured_from_that_end() -> None:
    """Both ends of the wall are mitred: each mate is marked from its own end, 18 mm inside it."""
    marks = marks_of(SPLAYED)

    assert {"left", "right"} == {mark.edge for mark in marks}
    for mark in marks:
        assert pytest.approx((0.0, 18.0 / math.cos(math.radians(3.84))), abs=0.05) == (
            mark.from_mm,
            mark.to_mm,
        )
        assert mark.slope_deg == 0.0


def test_a_mark_along_a_slanted_end_is_told_by_its_distance_from_it() -> None:
    parts = parts_of(SPLAYED)
    part, piece = piece_named(parts, "wall")

    assert [
        "On the back face draw a line 18 mm from the left end; B goes between line and edge.",
        "On the back face draw a line 18 mm from the right end; C goes between line and edge.",
    ] == [mark_sentence(mark, part, piece, "metric") for mark in marks_of(SPLAYED)]
