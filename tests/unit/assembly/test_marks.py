"""Layout lines: every printed distance is measured again on the solids in the room."""

import math

import pytest

from generator.geometry.vectors import Vec3
from generator.model.assembly import Mark
from generator.model.parts import FACE_A, FACE_B, Edge, Part
from tests.little_designs import assembly_of, parts_of, piece_named, plan_of, plan_problems

BASE = """
parts:
  base:
    from: panel
    length: 500 mm
    width: 300 mm
    runs: {{length: right, width: back}}
    edges: {{{edges}}}
    show: bottom
  post:
    from: panel
    length: 200 mm
    width: {wide} mm
    frame: {{at: [{x} mm, {y} mm, panel], turn: "{turn} deg about up"}}
    runs: {{length: up, width: back}}
steps:
  - {{title: All, fit: "base, post"}}
"""
PLAIN = ""
BEVELLED = (
    "left: bevel 30 deg long on bottom, right: bevel 20 deg long on top, "
    "front: bevel 10 deg long on bottom"
)


def base(
    edges: str = PLAIN, x: float = 60.0, y: float = 20.0, turn: float = 0.0, wide: float = 200.0
) -> str:
    return BASE.format(edges=edges or "", x=x, y=y, turn=turn, wide=wide)


def marks_of(text: str) -> tuple[Mark, ...]:
    return assembly_of(text).steps[0].marks


def edge_on_face(part: Part, edge: Edge, side: int) -> tuple[Vec3, Vec3]:
    """Return the two corners of a face between which an edge runs, in the part's frame."""
    outline, z = (
        (part.slab.face_a, 0.0) if side == FACE_A else (part.slab.face_b, part.thickness_mm)
    )
    start, end, _ = outline.edges()[part.edges.index(edge)]
    return (*start, z), (*end, z)


def measured(part: Part, name: str, side: int, point: tuple[float, float]) -> float:
    """Return how far a point is from an edge of a face, from the corners of that face."""
    edge = next(edge for edge in part.edges if edge.name == name)
    (x0, y0, _), (x1, y1, _) = edge_on_face(part, edge, side)
    length = math.hypot(x1 - x0, y1 - y0)
    return abs((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) / length


def test_a_post_on_a_board_is_marked_by_its_two_sides_from_the_nearer_end() -> None:
    (mark,) = marks_of(base())

    assert mark.mate == "B"
    assert mark.edge == "left"
    assert (mark.from_mm, mark.to_mm) == pytest.approx((60.0, 78.0))
    assert mark.slope_deg == 0.0


def test_a_post_near_the_other_end_is_marked_from_that_end() -> None:
    (mark,) = marks_of(base(x=400.0))

    assert mark.edge == "right"
    assert (mark.from_mm, mark.to_mm) == pytest.approx((82.0, 100.0))


def test_a_mark_is_measured_from_a_square_end_rather_than_a_nearer_mitred_one() -> None:
    skew = "planes: {skew: {at: [0 mm, 0 mm, 0 mm], facing: left, turn: 10 deg about up}}"
    (mark,) = marks_of(skew + base("left: against skew", x=150.0))

    assert mark.edge == "right"
    assert (mark.from_mm, mark.to_mm) == pytest.approx((332.0, 350.0))


def test_positions_along_the_lines_are_told_from_an_edge_across() -> None:
    (mark,) = marks_of(base())

    assert mark.cross_edge == "front"
    assert sorted(across for _, across in mark.corners_mm) == pytest.approx([20, 20, 220, 220])


@pytest.mark.parametrize("turn", [0.0, 12.0, 40.0, 77.0])
@pytest.mark.parametrize("edges", [PLAIN, BEVELLED], ids=["plain", "bevelled"])
@pytest.mark.parametrize("x", [150.0, 350.0])
def test_every_distance_of_a_mark_is_what_a_tape_on_that_face_shows(
    edges: str, turn: float, x: float
) -> None:
    text = base(edges, x=x, y=60.0, turn=turn, wide=120.0)
    part, _ = piece_named(parts_of(text), "base")
    (mark,) = marks_of(text)
    away = [measured(part, mark.edge, mark.side, point) for point in mark.outline]
    across = [measured(part, mark.cross_edge, mark.side, point) for point in mark.outline]

    assert [a for a, _ in mark.corners_mm] == pytest.approx(away)
    assert [b for _, b in mark.corners_mm] == pytest.approx(across)
    assert mark.from_mm == pytest.approx(min(away))
    assert mark.to_mm == pytest.approx(max(away))


@pytest.mark.parametrize(("turn", "slope"), [(12.0, 12.0), (40.0, 40.0), (77.0, 13.0)])
def test_a_slanting_mark_tells_its_slope_against_its_edge(turn: float, slope: float) -> None:
    (mark,) = marks_of(base(x=200.0, y=60.0, turn=turn))

    assert mark.slope_deg == pytest.approx(slope)


def test_a_mark_lies_where_the_mate_stands_in_the_room() -> None:
    text = base(x=200.0, y=60.0, turn=25.0)
    (mark,) = marks_of(text)
    parts = parts_of(text)
    part, piece = piece_named(parts, "base")
    z = 0.0 if mark.side == FACE_A else part.thickness_mm
    post, stood = piece_named(parts, "post")
    for x, y in mark.outline:
        local = stood.frame.to_local(piece.frame.to_world((x, y, z)))

        assert local[0] == pytest.approx(0.0, abs=1e-6)
        assert -1e-6 <= local[1] <= post.width_mm + 1e-6
        assert -1e-6 <= local[2] <= post.thickness_mm + 1e-6


def test_a_mark_is_on_the_face_the_mate_touches() -> None:
    (mark,) = marks_of(base())
    _, piece = piece_named(parts_of(base()), "base")

    assert mark.side in {FACE_A, FACE_B}
    assert dict(piece.words)[mark.side] == "top"


PAIR = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  shelf:
    from: panel
    each: number in 1..2
    width: 300 mm
    corner: [0 mm, 0 mm, number * 100 mm]
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
joints:
  - {join: shelf to side, with: pocket screws, pockets: bottom, count: 2}
steps:
  - {title: Left, fit: 'side.left, shelf'}
  - {title: Right, fit: side.right}
"""


def test_marks_come_in_the_step_in_which_a_mate_goes_on() -> None:
    first, second = assembly_of(PAIR).steps

    assert [mark.copies for mark in first.marks] == [("side.left",)] * 2
    assert [mark.copies for mark in second.marks] == [("side.right",)] * 2


def test_a_strip_with_a_dado_is_marked_by_its_two_sides_past_the_dado() -> None:
    text = """
parts:
  base:
    from: panel
    length: 500 mm
    width: 300 mm
    runs: {length: right, width: back}
  strip:
    from: panel
    corner: [0 mm, 100 mm, 18 mm]
    length: 500 mm
    width: 80 mm
    runs: {length: right, width: up}
  stop:
    from: panel
    corner: [200 mm, 0 mm, 18 mm]
    length: 80 mm
    width: 60 mm
    runs: {length: up, width: back}
    edges: {back: into strip by 5 mm}
joints:
  - {join: "stop to strip, base", with: glue}
  - {join: strip to base, with: glue}
steps:
  - {title: All, fit: "base, strip, stop"}
"""
    (mark,) = [mark for mark in marks_of(text) if mark.mate == "B"]
    corners = {(round(a, 6), round(b, 6)) for a, b in mark.corners_mm}

    assert {(100.0, 0.0), (118.0, 0.0), (100.0, 500.0), (118.0, 500.0)} == corners


def test_equal_marks_on_equal_pieces_are_told_once() -> None:
    text = PAIR[: PAIR.index("  - {title: Left")] + "  - {title: All, fit: 'side, shelf'}\n"
    text = text.replace("    at:\n", "    show: outside\n    at:\n")
    marks = assembly_of(text).steps[0].marks

    assert [mark.copies for mark in marks] == [("side.left", "side.right")] * 2


def test_the_smaller_of_two_boards_lying_on_each_other_is_marked_on_the_larger() -> None:
    text = """
parts:
  low: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  high:
    from: panel
    length: 300 mm
    width: 200 mm
    corner: [50 mm, 40 mm, panel]
    runs: {length: right, width: back}
steps:
  - {title: All, fit: "low, high"}
"""
    (mark,) = marks_of(text)

    assert mark.copies == ("low",)
    assert sorted(a for a, _ in mark.corners_mm) == pytest.approx([40.0, 40.0, 240.0, 240.0])
    assert sorted(b for _, b in mark.corners_mm) == pytest.approx([50.0, 50.0, 350.0, 350.0])


HUNG = """
parts:
  rail:
    from: panel
    length: 900 mm
    width: 80 mm
    runs: {length: right, width: up}
    edges: {top: bevel 45 deg long on front}
  wall:
    from: panel
    length: 900 mm
    width: 600 mm
    corner: [0 mm, panel, 0 mm]
    runs: {length: right, width: up}
  hook:
    from: panel
    length: 300 mm
    width: 80 mm
    corner: [100 mm, 0 mm, 80 mm - panel]
    runs: {length: right, width: up}
    edges: {bottom: bevel 45 deg long on back}
joints:
  - {join: rail to wall, with: glue}
  - {join: hook to rail, with: HOW}
steps:
  - {title: All, fit: "rail, wall, hook"}
"""


def test_what_only_hangs_there_is_held_without_screw_or_glue_and_has_no_layout_line() -> None:
    plan = plan_of(HUNG.replace("HOW", "nothing"))
    (step,) = plan.assembly.steps

    assert [(joint.with_, joint.glue) for joint in plan.joinery.joints] == [
        ("glue", True),
        ("nothing", False),
    ]
    assert step.fasteners == ()
    assert step.glued == (("rail", "wall"),)
    assert {plan.parts.part(mark.mate).name for mark in step.marks} == {"rail"}


def test_what_is_glued_there_has_a_layout_line() -> None:
    plan = plan_of(HUNG.replace("HOW", "glue"))
    (step,) = plan.assembly.steps

    assert {plan.parts.part(mark.mate).name for mark in step.marks} == {"rail", "hook"}


def test_what_hangs_on_a_piece_must_touch_it_and_is_not_glued() -> None:
    far = HUNG.replace("HOW", "nothing").replace("80 mm - panel]", "90 mm - panel]")
    glued = HUNG.replace("with: HOW", "with: nothing, glue: yes")

    assert [problem.code for problem in plan_problems(far)] == ["J101"]
    with pytest.raises(AssertionError, match="D119"):
        plan_of(glued)
