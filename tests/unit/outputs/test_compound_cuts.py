"""Compound cuts on paper and in the list of settings: both angles, one cut, which face is up."""

import pytest

from generator.model.plan import Plan
from generator.outputs.scene import Words
from generator.outputs.scene_check import find_text_faults
from generator.telling.cutting_tables import make_settings
from tests.little_designs import plan_of
from tests.part_drawings import draw_part_sheets

BOX = """
frames:
  ring: {each: side in 1..4, turn: (side - 1) * 90 deg about up}
  leaning: {in: ring, at: [0 mm, -200 mm, 0 mm], turn: 15 deg about right}
parts:
  wall:
    from: panel
    frame: leaning
    width: 150 mm
    runs: {length: right, width: up}
    edges:
      left: "mitre with wall[side - 1 if side > 1 else 4]"
      right: "mitre with wall[side + 1 if side < 4 else 1]"
joints:
  - {join: wall to wall, with: glue}
steps:
  - {title: Glue the box, fit: wall}
"""


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(BOX)


def test_the_sheet_of_a_compound_part_tells_both_angles_the_long_point_and_the_face_up(
    plan: Plan,
) -> None:
    """Splayed 15 degrees, four sides: 14.51 and 43.08 degrees, published."""
    scene = draw_part_sheets(plan, plan.parts.part("A"))[0]
    shown = [item.text for item in scene.items if isinstance(item, Words)]

    assert "Right end: blade 43.1°, mitre 14.5°," in shown
    assert "Left end: blade 43.1°, mitre 14.5°," in shown
    assert shown.count("both in one cut, long point on front") == 2
    assert {"right end, 14.5°", "left end, 14.5°"} <= set(shown)
    assert any(text.startswith("Saw each bevel with its long point up") for text in shown)


def test_no_text_of_a_compound_part_leaves_the_sheet_or_stands_on_another(plan: Plan) -> None:
    assert [] == find_text_faults(draw_part_sheets(plan, plan.parts.part("A"))[0])


def test_a_compound_cut_is_one_setting_with_both_angles_and_the_long_size(plan: Plan) -> None:
    cuts = [s for s in plan.cutting.settings if s.tilt_deg or s.mitre_deg]
    part = plan.parts.part("A")

    assert len(cuts) == 2
    for setting in cuts:
        angles = (setting.tilt_deg, setting.mitre_deg)
        assert pytest.approx((43.08, 14.51), abs=0.006) == angles
    assert pytest.approx(part.length_mm) == cuts[-1].value_mm
    assert [4, 4] == [s.cuts for s in cuts]


def test_the_table_of_settings_calls_a_compound_cut_a_bevel_at_an_angle(plan: Plan) -> None:
    rows = make_settings(plan).rows
    compound = [row for row in rows if "bevel at an angle" in row]

    assert len(compound) == 2
    assert all({"43.1°", "14.5°"} <= set(row) for row in compound)


def test_every_setting_says_what_it_is_sawn_with(plan: Plan) -> None:
    tools = {row[1]: row[2] for row in make_settings(plan).rows}

    assert {tools["rip"], tools["bevel at an angle"]} == {"saw"}
