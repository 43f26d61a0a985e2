"""The base of a piece, the edge it tips over, and spots somebody stands on."""

import pytest

from generator.model.strength import Strength
from generator.strength.stage import work_out_strength
from generator.strength.tipping import find_base
from tests.little_designs import HEAD, edition_of, joinery_of, parts_of

STOOL = """
frames:
  all: {at: [AT, 0 mm], turn: TURN deg about up}
parts:
  leg:
    from: panel
    frame: all
    each: number in 1..3
    corner:
      - 0 mm if number == 1 else 382 mm if number == 2 else 191 mm
      - 0 mm if number < 3 else 260 mm
      - 0 mm
    length: 300 mm
    width: 40 mm
    runs: {length: up, width: back}
  seat:
    from: panel
    frame: all
    corner: [0 mm, 0 mm, 300 mm]
    length: 400 mm
    width: 300 mm
    runs: {length: right, width: back}
    carries: 80 kg on one spot
joints:
  - {join: seat to leg, with: face screws}
steps: [{title: All, fit: "leg, seat"}]
"""
FREE = HEAD.replace("stands: hung", "stands: freely")


def stool(at: str = "0 mm, 0 mm", turn: str = "0") -> str:
    return STOOL.replace("AT", at).replace("TURN", turn)


def strength_of(text: str) -> Strength:
    return work_out_strength(edition_of(text, head=FREE), parts_of(text), joinery_of(text))


def test_the_base_of_three_legs_goes_round_their_feet_without_hollows() -> None:
    """Two legs in front, one at the back, each 18 mm by 40 mm on the floor: six corners."""
    base = find_base(parts_of(stool()))
    corners = {(round(x), round(y)) for (x, y), _ in base}

    assert {(0, 0), (400, 0), (400, 40), (209, 300), (191, 300), (0, 40)} == corners


def test_three_legs_tip_over_the_slanting_edge_beside_the_single_leg() -> None:
    """The edge from (400, 40) to (209, 300); its distance from the centre of mass, by hand."""
    parts, tipping = parts_of(stool()), strength_of(stool()).tipping
    length = (191.0**2 + 260.0**2) ** 0.5
    x, y, _ = parts.center
    inside = (260 * (400 - x) + 191 * (40 - y)) / length

    assert tipping is not None
    assert tipping.inside_mm == pytest.approx(inside)
    assert tipping.way in {"left", "right"}
    assert tipping.push_n == pytest.approx(parts.mass_kg * 9.80665 * inside / 318)


def test_who_stands_on_the_corner_beside_the_single_leg_tips_the_stool() -> None:
    """50 mm inside both edges of the seat is (350, 250): outside the slanting edge by hand."""
    (step,) = strength_of(stool()).steps
    beyond = (260 * (350 - 400) + 191 * (250 - 40)) / (191.0**2 + 260.0**2) ** 0.5

    assert step.beyond_mm == pytest.approx(beyond)
    assert not step.is_safe


@pytest.mark.parametrize(
    ("at", "turn"), [("900 mm, 0 mm", "0"), ("0 mm, 0 mm", "37"), ("-50 mm, 20 mm", "215")]
)
def test_a_stool_tips_no_sooner_when_it_is_moved_or_turned_on_the_floor(at: str, turn: str) -> None:
    still, moved = strength_of(stool()), strength_of(stool(at, turn))

    assert still.tipping is not None
    assert moved.tipping is not None
    assert moved.tipping.push_n == pytest.approx(still.tipping.push_n)
    assert moved.tipping.tilt_deg == pytest.approx(still.tipping.tilt_deg)
    assert moved.steps[0].beyond_mm == pytest.approx(still.steps[0].beyond_mm)
