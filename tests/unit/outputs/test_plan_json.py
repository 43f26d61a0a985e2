"""plan.json of the sample plan."""

import json
import math
from dataclasses import replace
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from generator.outputs.plan_json import plan_json, plan_to_dict
from generator.outputs.plan_schema import plan_schema, schema_json
from generator.units import SYSTEMS, System
from tests.samples import sample_plan

CONTRACT = {
    "format generator plan edition revision title parameters parts sheets boards settings "
    "joints fasteners steps shopping checks figures": (),
    "label name count stock thickness_mm length_mm width_mm blank_mm shown grain outline_mm edges "
    "features holes mass_kg placed": ("parts", 0),
    "from to tilt_deg mitre_deg long_face meets": ("parts", 0, "edges", 0),
    "name frame": ("parts", 0, "placed", 0),
    "stock size_mm trim_mm kerf_mm price placements cuts offcuts proved_least": ("sheets", 0),
    "label copy x_mm y_mm length_mm width_mm turned": ("sheets", 0, "placements", 0),
    "order kind setting_mm from to": ("sheets", 0, "cuts", 0),
    "order kind value_mm tilt_deg pieces where": ("settings", 0),
    "between with fasteners": ("joints", 0),
    "id kind size length_mm head_mm tip_mm direction through step hidden": ("fasteners", 0),
    "order title parts fasteners subassembly marks": ("steps", 0),
    "item quantity unit note": ("shopping", 0),
    "code level what where accepted": ("checks", 0),
    "overall_mm mass_kg sheets settings": ("figures",),
}


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_plan_is_valid_by_the_published_schema(system: System) -> None:
    schema = json.loads(schema_json())
    Draft202012Validator.check_schema(schema)
    faults = list(
        Draft202012Validator(schema).iter_errors(json.loads(plan_json(sample_plan(system))))
    )

    assert faults == []


@pytest.mark.parametrize(("keys", "path"), list(CONTRACT.items()))
def test_a_plan_has_every_key_that_readers_are_promised(
    keys: str, path: tuple[str | int, ...]
) -> None:
    entry: Any = plan_to_dict(sample_plan("metric"))
    for step in path:
        entry = entry[step]

    assert set() == set(keys.split()) - set(entry)


def test_the_schema_refuses_a_plan_with_a_key_it_does_not_know() -> None:
    plan = plan_to_dict(sample_plan("metric"))
    plan["parts"][0]["colour"] = "blue"

    assert not Draft202012Validator(plan_schema()).is_valid(plan)


def test_the_area_worked_out_from_the_corners_is_the_area_given() -> None:
    for part in plan_to_dict(sample_plan("imperial"))["parts"]:
        corners = part["outline_mm"]
        area = (
            sum(
                a[0] * b[1] - b[0] * a[1]
                for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
            )
            / 2
        )
        holes = sum(
            math.pi * feature["size_mm"][0] ** 2 / 4
            for feature in part["features"]
            if feature["kind"] == "hole"
        )

        assert part["area_mm2"][0] == pytest.approx(area - holes, abs=0.05)


def test_a_screw_stands_in_the_room_where_its_pilot_hole_is_on_the_part() -> None:
    plan = plan_to_dict(sample_plan("metric"))
    shelf = plan["parts"][2]
    hole = shelf["holes"][0]
    rows = shelf["placed"][0]["frame"]
    at = [sum(row[i] * hole["at_mm"][i] for i in range(3)) + row[3] for row in rows[:3]]
    screw = next(one for one in plan["fasteners"] if one["id"] == hole["fastener"])
    depth = math.dist(at, screw["tip_mm"])

    assert hole["depth_mm"] == pytest.approx(depth, abs=0.01)


def test_a_joint_lists_for_each_pair_only_the_screws_between_the_two() -> None:
    joints = plan_to_dict(sample_plan("metric"))["joints"]

    assert [(joint["between"], joint["fasteners"]) for joint in joints] == [
        (["bottom", "side.left"], ["S1", "S2"]),
        (["bottom", "side.right"], ["S3", "S4"]),
        (["shelf", "side.left"], ["S5", "S6"]),
        (["shelf", "side.right"], ["S7", "S8"]),
    ]


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert plan_json(sample_plan("imperial")) == plan_json(sample_plan("imperial"))


def test_no_number_is_a_negative_zero_and_sizes_have_three_decimals() -> None:
    plan = sample_plan("imperial")
    low = replace(plan.parts, low=(-0.0, -0.00001, 0.0))
    text = plan_json(replace(plan, parts=low)).decode("utf-8")

    assert "-0.0," not in text
    assert "-0.0\n" not in text
    assert '"length_mm": 573.087' in text


def test_the_figures_count_what_the_lists_hold() -> None:
    plan = plan_to_dict(sample_plan("metric"))
    figures = plan["figures"]

    assert figures["overall_mm"] == [600.0, 250.0, 400.0]
    assert len(plan["fasteners"]) == figures["screws"]
    assert sum(len(sheet["cuts"]) for sheet in plan["sheets"]) == figures["cuts"]
    assert sum(len(part["placed"]) for part in plan["parts"]) == figures["pieces"]
    assert figures["mass_kg"] == pytest.approx(
        sum(part["mass_kg"] * part["count"] for part in plan["parts"]), abs=0.01
    )
