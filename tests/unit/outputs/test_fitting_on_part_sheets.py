"""Edging and hardware on the drawings: where they are, and in words below."""

import json

import pytest
from jsonschema import Draft202012Validator

from generator.model.plan import Plan
from generator.outputs.plan_json import plan_json, plan_to_dict
from generator.outputs.plan_schema import plan_schema
from generator.outputs.scene import Disc, Scene, Stroke, Words
from generator.outputs.step_pictures import draw_step
from tests.little_designs import plan_of
from tests.part_drawings import draw_part_sheets

HEAD = """\
title: Little
date: 2026-11-25
stands: fixed
stock:
  panel: {imperial: board-imperial, metric: board-metric}
  tape: {imperial: veneer-tape-7/8, metric: veneer-tape-22}
"""
TEXT = """
parts:
  low:
    {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back},
     edging: {front: tape, left: tape}}
  high:
    from: panel
    length: 400 mm
    width: 300 mm
    corner: [200 mm, 0 mm, panel]
    runs: {length: up, width: back}
joints: [{join: low to high, with: face screws, glue: yes}]
finish: {with: oil, coats: 2, covers: 10 m2 per litre}
hardware:
  anchor:
    {item: wall anchors, on: high, face: right, wall: yes,
     places: [{from top: 30 mm, from back: 40 mm}, {from top: 30 mm, from front: 40 mm}]}
steps: [{title: All, fit: "low, high"}]
"""


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(TEXT, head=HEAD)


def words_of(scene: Scene) -> list[str]:
    return [item.text for item in scene.items if isinstance(item, Words)]


def strokes_on(scene: Scene, layer: str) -> list[Stroke]:
    return [item for item in scene.items if isinstance(item, Stroke) and item.layer == layer]


def test_covered_edges_are_very_wide_lines_on_every_view_and_told_below(plan: Plan) -> None:
    """The bottom is seen for its clearance holes, the top for the layout lines of its mate."""
    scene = draw_part_sheets(plan, plan.parts.part("A"))[0]

    assert 2 * 2 == len(strokes_on(scene, "edging"))
    assert "Wood veneer edging, iron-on, 22 mm wide: front edge, left end." in words_of(scene)


def test_a_part_without_edging_has_no_such_line(plan: Plan) -> None:
    assert [] == strokes_on(draw_part_sheets(plan, plan.parts.part("B"))[0], "edging")


def test_hardware_is_named_beside_its_mark_and_its_places_are_told_below(plan: Plan) -> None:
    words = words_of(draw_part_sheets(plan, plan.parts.part("B"))[0])

    assert 2 == words.count("anchor")
    assert (
        "Anchor, on the right face: 40 mm from the back edge and 30 mm from the top end." in words
    )
    assert (
        "Anchor, on the right face: 40 mm from the front edge and 30 mm from the top end." in words
    )


def test_the_picture_of_a_step_shows_the_hardware_that_is_fitted_in_it(plan: Plan) -> None:
    rings = [
        [item for item in draw_step(plan, step).items
         if isinstance(item, Disc) and item.layer == "screw"]
        for step in plan.assembly.steps
    ]  # fmt: skip

    assert [0, 2] == [len(found) for found in rings]


def test_programs_are_told_of_edging_finish_glue_and_hardware(plan: Plan) -> None:
    told = plan_to_dict(plan)

    assert [] == list(Draft202012Validator(plan_schema()).iter_errors(json.loads(plan_json(plan))))
    assert [("front", 600.0), ("left", 300.0)] == sorted(
        (run["edge"], run["length_mm"]) for run in told["edging"][0]["edges"]
    )
    assert 300.0 * 18 == told["glue"]["area_mm2"]
    assert (2, 10.0) == (told["finishes"][0]["coats"], told["finishes"][0]["coverage_m2_per_litre"])
    assert [("anchor", 2, True, 2)] == [
        (one["name"], one["count"], one["anchor"], len(one["places"])) for one in told["hardware"]
    ]
    assert [[], ["anchor"]] == [step["hardware"] for step in told["steps"]]
