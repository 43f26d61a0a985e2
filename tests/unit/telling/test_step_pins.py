"""The shelf pins of a step, told once for all shelves that are alike."""

from generator.model.artifacts import Picture
from generator.telling.joinery_tables import make_steps
from tests.little_designs import plan_of

CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 200 mm
    runs: {length: up, width: back}
    pins:
      - {hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up,
         from bottom: 100 mm, from front: 40 mm}
      - {hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up,
         from bottom: 100 mm, from back: 40 mm}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  bottom:
    from: panel
    corner: [18 mm, 0 mm, 0 mm]
    length: 564 mm
    width: 200 mm
    runs: {length: right, width: back}
  shelf:
    from: panel
    each: row in 1..2
    corner: [20 mm, 0 mm, 102.5 mm + row * 64 mm]
    length: 560 mm
    width: 200 mm
    runs: {length: right, width: back}
joints:
  - {join: side to bottom, with: face screws}
  - {join: shelf to side, with: pins}
steps:
  - {title: Case, fit: "side, bottom"}
  - {title: Shelves, fit: shelf}
"""


def test_the_pins_of_shelves_that_are_alike_are_told_in_one_line() -> None:
    blank = Picture(path="", title="", alt="", width_px=1, height_px=1)
    case, shelves = make_steps(plan_of(CASE), (blank, blank))

    assert case.pins == ()
    assert shelves.pins == ("8 shelf pins, 5 mm: 4 for each C Shelf",)
