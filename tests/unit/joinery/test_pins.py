"""What lies on shelf pins, and what would not stay there."""

import pytest

from generator.model.joinery import Joinery
from tests.little_designs import codes, joinery_of, plan_problems

CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 200 mm
    runs: {{length: up, width: back}}
    pins:
      - {{hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up,
         from bottom: 100 mm, from front: 40 mm}}
      - {{hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up,
         from bottom: 100 mm, from back: 40 mm}}
    at:
      left: {{}}
      right: {{mirrors: left, across: {{right: 300 mm}}}}
  shelf:
    from: panel
    corner: [18 mm + {gap}, {back}, {up}]
    length: 564 mm - 2 * ({gap})
    width: {deep}
    runs: {{length: right, width: back}}
joints:
  - {{join: shelf to side, with: pins}}
steps:
  - {{title: All, fit: "side, shelf"}}
"""


def case(
    *, up: str = "166.5 mm", gap: str = "2 mm", deep: str = "200 mm", back: str = "0 mm"
) -> str:
    return CASE.format(up=up, gap=gap, deep=deep, back=back)


def joinery(text: str) -> Joinery:
    return joinery_of(text)


def test_a_shelf_half_a_pin_above_the_holes_lies_on_four_pins() -> None:
    (rest,) = joinery(case()).rests

    assert rest.piece == "shelf"
    assert [164.0] * 4 == [pytest.approx(pin.at[0]) for pin in rest.pins]
    assert ["side.left"] * 2 + ["side.right"] * 2 == [pin.piece for pin in rest.pins]


def test_a_shelf_on_pins_is_joined_without_touching_anything() -> None:
    made = joinery(case())

    assert made.contacts == ()
    assert ((("shelf", "side.left"), ("shelf", "side.right")),) == tuple(
        joint.between for joint in made.joints
    )


def test_the_holes_of_all_pins_are_bored_square_into_the_face() -> None:
    holes = joinery(case()).holes

    assert 4 * 13 == len(holes)
    assert {("pin", "", 5.0, 10.0)} == {
        (hole.kind, hole.fastener, hole.diameter_mm, hole.depth_mm) for hole in holes
    }


@pytest.mark.parametrize("up", ["164 mm", "166.5 mm", "169 mm"])
def test_an_underside_from_the_middle_of_a_hole_to_a_pin_above_it_lies_there(up: str) -> None:
    assert codes(plan_problems(case(up=up))) == []


@pytest.mark.parametrize("up", ["163.5 mm", "169.5 mm"])
def test_an_underside_beside_the_pins_does_not_lie_there(up: str) -> None:
    assert codes(plan_problems(case(up=up))) == ["J121"]


def test_a_shelf_that_ends_in_front_of_the_back_pins_would_tip() -> None:
    assert codes(plan_problems(case(deep="159 mm"))) == ["J121"]
    assert codes(plan_problems(case(deep="161 mm"))) == []


def test_a_gap_wider_than_a_pin_reaches_leaves_the_shelf_without_pins() -> None:
    assert codes(plan_problems(case(gap="5.9 mm"))) == []
    assert codes(plan_problems(case(gap="6.1 mm"))) == ["J121"]
