"""What plan.json says of loads, by its published schema."""

import pytest
from jsonschema import Draft202012Validator

from generator.outputs.plan_json import plan_to_dict
from generator.outputs.plan_schema import plan_schema
from tests.little_designs import HEAD, plan_of

STOOL = """
parts:
  side:
    from: panel
    length: 300 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {corner: [30 mm, 0 mm, 0 mm]}
      right: {corner: [352 mm, 0 mm, 0 mm]}
  tread:
    from: panel
    corner: [0 mm, 0 mm, 300 mm]
    length: 400 mm
    width: 300 mm
    runs: {length: right, width: back}
    carries: 90 kg on one spot
joints:
  - {join: tread to side, with: face screws}
steps: [{title: All, fit: "side, tread"}]
"""


@pytest.mark.parametrize("stands", ["freely", "hung"])
def test_loads_are_told_by_the_published_schema(stands: str) -> None:
    told = plan_to_dict(plan_of(STOOL, head=HEAD.replace("hung", stands)))
    faults = [fault.message for fault in Draft202012Validator(plan_schema()).iter_errors(told)]

    assert faults == []


def test_a_step_on_a_free_stool_is_told_with_its_sag_and_what_tips_it() -> None:
    told = plan_to_dict(plan_of(STOOL, head=HEAD.replace("hung", "freely")))["strength"]
    (sag,), (step,) = told["sags"], told["steps"]

    assert ["tread", {"kg": 90.0, "per": "", "on_one_spot": True}] == [sag["piece"], sag["load"]]
    assert [304.0, "both ends", []] == [sag["span_mm"], sag["held_at"], sag["stiffened_by"]]
    assert sag["allowed_mm"] == pytest.approx(304 / 144, abs=0.001)
    assert [-20.0, "tread"] == [step["beyond_mm"], step["piece"]]
    assert told["tipping"]["push_at_mm"] == 318.0


def test_what_hangs_on_a_wall_tips_by_nothing() -> None:
    told = plan_to_dict(plan_of(STOOL))["strength"]

    assert told["tipping"] is None
    assert told["steps"] == []
