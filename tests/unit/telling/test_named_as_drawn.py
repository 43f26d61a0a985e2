"""Copies that stand turned round are marked in the words of the drawing they are made from."""

from generator.model.artifacts import Picture
from generator.model.plan import Plan
from generator.model.work import find_work
from generator.telling.advice import ASSEMBLY, make_advice
from generator.telling.joinery_tables import make_holes, make_steps
from tests.demo_plans import demo_plan
from tests.little_designs import plan_of

PICTURE = Picture(path="step.svg", title="Step", alt="A step.", width_px=10, height_px=10)

STACK = """
parts:
  shelf:
    from: panel
    each: row in 1..2
    corner: [18 mm, 0 mm, row * 100 mm]
    length: 564 mm
    width: 200 mm
    runs: {length: right, width: back}
  side:
    from: panel
    length: 600 mm
    width: 200 mm
    runs: {length: up, width: back}
joints:
  - {join: side to shelf, with: face screws}
steps:
  - {title: All at once, fit: "side, shelf"}
"""


def _marks(plan: Plan) -> list[tuple[str, tuple[str, ...]]]:
    steps = make_steps(plan, [PICTURE for _ in plan.assembly.steps])
    return [mark for step in steps for mark in step.marks]


def test_the_wall_across_is_marked_as_the_drawing_of_both_calls_its_faces() -> None:
    plan = demo_plan("splayed-planter", "metric")
    told = {name: sentences for name, sentences in _marks(plan) if name.startswith("wall")}
    drawn = next(find_work(plan, part)[0] for part in plan.parts.parts if part.label == "A")

    assert [piece.name for piece in drawn.pieces] == ["wall.front", "wall.back"]
    assert set(told) == {"wall front (A)", "wall back (A)", "wall front, wall back (A)"}
    for sentences in told.values():
        assert all(sentence.startswith("On the back face") for sentence in sentences)


def test_holes_of_all_legs_are_bored_from_the_face_their_drawings_name() -> None:
    plan = demo_plan("sawhorse", "metric")
    rows = [row for row in make_holes(plan).rows if "clearance" in map(str, row)]

    assert [(str(row[0]), str(row[2]), str(row[4])) for row in rows] == [("B", "20", "front face")]


def test_copies_that_stand_turned_are_named_before_the_steps() -> None:
    told = make_advice(demo_plan("splayed-planter", "metric")).assembly

    assert told.endswith("stand turned round in the finished piece: wall back and end right.")


def test_copies_that_stand_the_same_way_need_no_word() -> None:
    plan = plan_of(STACK)

    works = [work for part in plan.parts.parts for work in find_work(plan, part)]

    assert [work.turned for work in works] == [() for _ in works]
    assert make_advice(plan).assembly == ASSEMBLY
