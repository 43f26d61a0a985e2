"""The screws of a step: through which pieces into which, and only pieces of that step."""

from generator.model.artifacts import Picture
from generator.model.plan import Plan
from generator.telling.joinery_tables import make_steps
from tests.little_designs import plan_of

PICTURE = Picture(path="step.svg", title="Step", alt="A step.", width_px=10, height_px=10)

CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 200 mm
    runs: {{length: up, width: back}}
    at:
      left: {{}}
      right: {{mirrors: left, across: {{right: 300 mm}}}}
  board:
    from: panel
    each: row in 1..{rows}
    corner: [18 mm, 0 mm, row * 100 mm]
    length: 564 mm
    width: 200 mm
    runs: {{length: right, width: back}}
joints:
  - {{join: side to board, with: face screws}}
steps:
{steps}
"""
ONE_STEP = '  - {title: All at once, fit: "side, board"}'
TWO_STEPS = """  - {title: Case, fit: "side, board[1]"}
  - {title: Other board, fit: "board[2]"}"""


def _screws(plan: Plan) -> list[list[str]]:
    steps = make_steps(plan, [PICTURE for _ in plan.assembly.steps])
    return [[line.split(": ")[1] for line in step.screws] for step in steps]


def test_a_step_names_only_the_pieces_that_are_screwed_in_it() -> None:
    assert _screws(plan_of(CASE.format(rows=2, steps=TWO_STEPS))) == [
        ["side left, side right (A) to board 1 (B)"],
        ["side left, side right (A) to board 2 (B)"],
    ]


def test_many_pieces_of_a_part_are_counted() -> None:
    assert _screws(plan_of(CASE.format(rows=4, steps=ONE_STEP))) == [
        ["side left, side right (A) to 4 × B Board"]
    ]


def test_the_screws_of_all_steps_are_told_once() -> None:
    plan = plan_of(CASE.format(rows=3, steps=ONE_STEP))
    (step,) = make_steps(plan, [PICTURE])

    assert sum(int(line.split(" × ")[0]) for line in step.screws) == len(plan.joinery.fasteners)
