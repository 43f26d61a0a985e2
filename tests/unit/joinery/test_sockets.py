"""Rods in holes: what holds them, what is too loose, and what they would break."""

import math

import pytest

from generator.model.joinery import Joinery
from tests.little_designs import HEAD, codes, plan_of, plan_problems

ROD_HEAD = HEAD + "  rod: {imperial: rod-1, metric: rod-25}\n"
RACK = """
parts:
  end:
    from: panel
    length: 300 mm
    width: 200 mm
    runs: {{length: up, width: back}}
    openings: [{{hole: {hole}, from bottom: 200 mm, from front: 100 mm}}]
    at:
      left: {{}}
      right: {{mirrors: left, across: {{right: 200 mm}}}}
  floor:
    from: panel
    width: 200 mm
    runs: {{length: right, width: back}}
    edges: {{left: against end.left, right: against end.right}}
  bar:
    from: rod
    {frame}
    corner: [{start}, {front}, 187.5 mm]
    length: {length}
    runs: {{length: right, width: back}}
joints:
  - {{join: floor to end, with: glue}}
  - {{join: "bar to end.left, end.right", with: {joint}}}
steps:
  - {{title: All, fit: "end, floor, bar"}}
"""


def rack(
    *,
    hole: str = "rod",
    start: str = "0 mm",
    front: str = "87.5 mm",
    length: str = "400 mm",
    joint: str = "glue",
    frame: str = "show: top",
) -> str:
    return RACK.format(hole=hole, start=start, front=front, length=length, joint=joint, frame=frame)


def joinery(text: str) -> Joinery:
    return plan_of(text, head=ROD_HEAD).joinery


def problems(text: str) -> list[str]:
    return codes(plan_problems(text, head=ROD_HEAD))


def test_a_rod_through_two_holes_touches_all_round_in_both() -> None:
    sockets = joinery(rack()).sockets

    assert ["end.left", "end.right"] == [socket.second for socket in sockets]
    assert [math.pi * 25 * 18] * 2 == [pytest.approx(socket.area_mm2) for socket in sockets]
    assert [-1.0, 1.0] == [pytest.approx(socket.normal[0]) for socket in sockets]
    assert [9.0, 391.0] == [pytest.approx(socket.center[0]) for socket in sockets]


def test_a_rod_in_a_hole_is_held_by_glue_and_rests_there_without() -> None:
    for joint in ("glue", "nothing"):
        made = joinery(rack(joint=joint)).joints[1]

        assert (("bar", "end.left"), ("bar", "end.right")) == made.between


def test_a_rod_that_ends_inside_the_wood_touches_as_far_as_it_goes() -> None:
    sockets = joinery(rack(start="8 mm", length="384 mm")).sockets

    assert [math.pi * 25 * 10] * 2 == [pytest.approx(socket.area_mm2) for socket in sockets]


@pytest.mark.parametrize(("hole", "said"), [("25.5 mm", []), ("25.6 mm", ["J101"])])
def test_glue_fills_half_a_millimetre_and_no_more(hole: str, said: list[str]) -> None:
    assert said == problems(rack(hole=hole))


def test_a_rod_thicker_than_its_hole_does_not_go_in() -> None:
    assert problems(rack(hole="24.9 mm")) == ["J101"]
    assert problems(rack(hole="25 mm")) == []


def test_a_rod_beside_the_middle_of_its_hole_does_not_fit_in() -> None:
    assert problems(rack(front="88 mm")) == ["J101"]


def test_screws_do_not_hold_a_rod_in_a_hole() -> None:
    assert problems(rack(joint="face screws")) == ["J101"]


def test_a_rod_turned_about_its_own_axis_fills_its_hole_as_well() -> None:
    """The chords of rod and hole then stand at other angles; their arcs are the same."""
    turned = "frame: {at: [0 mm, 100 mm, 200 mm], turn: 7 deg about right}"
    text = rack(frame=turned, front="-12.5 mm").replace("187.5 mm]", "-12.5 mm]")

    assert problems(text) == []


END = """
parts:
  end:
    from: panel
    length: 100 mm
    width: 100 mm
    runs: {{length: up, width: back}}
  bar:
    from: rod
    corner: [18 mm, 30 mm, 30 mm]
    length: 300 mm
    runs: {{length: right, width: back}}
joints:
  - {{join: end to bar, with: face screws, {more}}}
steps:
  - {{title: All, fit: "end, bar"}}
"""


def test_a_screw_through_a_panel_goes_into_the_middle_of_the_end_of_a_rod() -> None:
    (screw,) = joinery(END.format(more="count: 1")).fasteners

    assert (42.5, 42.5) == pytest.approx(screw.tip[1:])


def test_two_screws_do_not_fit_into_the_end_of_a_rod() -> None:
    assert problems(END.format(more="count: 2, ends: 1 mm")) == ["J105"]


def test_no_pocket_is_bored_in_a_rod() -> None:
    text = END.format(more="count: 1").replace(
        "end to bar, with: face screws", "bar to end, with: pocket screws, pockets: bottom"
    )

    assert problems(text) == ["J109"]
