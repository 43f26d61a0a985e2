"""What is written of rods, of rows of pin holes and of free outlines, read back."""

import io
import json
import math
from functools import cache

import ezdxf.filemanagement
import pytest
from jsonschema import Draft202012Validator

from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.dxf import part_dxf
from generator.outputs.exploded import draw_exploded
from generator.outputs.hole_table import format_distances
from generator.outputs.plan_json import plan_json
from generator.outputs.plan_schema import schema_json
from generator.outputs.scene import Words
from generator.outputs.scene_check import find_text_faults
from generator.outputs.three_views import draw_three_views
from generator.telling.buying_tables import make_bits, make_shopping, make_tools
from generator.telling.cutting_tables import make_cut_list
from generator.units import SYSTEMS, System
from tests.little_designs import HEAD, part_named, plan_of
from tests.part_drawings import draw_part_sheets

RACK_HEAD = HEAD + "  rod: {imperial: rod-1, metric: rod-25}\n"
RACK = """
parts:
  side:
    from: panel
    runs: {length: up, width: back}
    outline:
      - [0 mm, 0 mm]
      - [400 mm, 0 mm]
      - {to: [500 mm, 100 mm], rise: -20 mm}
      - {to: [400 mm, 200 mm], through: [470 mm, 170 mm]}
      - [0 mm, 200 mm]
    openings: [{hole: rod, from bottom: 420 mm, from front: 100 mm}]
    pins:
      - {hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up, from bottom: 60 mm,
         from front: 40 mm, count: 8}
      - {hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: inside, along: up, from bottom: 60 mm,
         from back: 40 mm, count: 8}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  floor:
    from: panel
    width: 200 mm
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
  shelf:
    from: panel
    corner: [20 mm, 0 mm, 158.5 mm]
    length: 560 mm
    width: 200 mm
    runs: {length: right, width: back}
  bar:
    from: rod
    corner: [0 mm, 100 mm - rod / 2, 420 mm - rod / 2]
    length: 600 mm
    runs: {length: right, width: back}
joints:
  - {join: floor to side, with: pocket screws, pockets: bottom}
  - {join: bar to side, with: glue}
  - {join: shelf to side, with: pins}
steps:
  - {title: Sides, fit: "side, floor, bar"}
  - {title: Shelf, fit: shelf}
"""


@cache
def rack(system: System = "metric") -> Plan:
    return plan_of(RACK, system, RACK_HEAD)


def named(name: str) -> Part:
    return part_named(rack().parts, name)


def words_of(part: Part) -> list[str]:
    (scene, *_) = draw_part_sheets(rack(), part)
    return [item.text for item in scene.items if isinstance(item, Words)]


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_plan_is_valid_by_the_published_schema(system: System) -> None:
    validator = Draft202012Validator(json.loads(schema_json()))

    assert [] == list(validator.iter_errors(json.loads(plan_json(rack(system)))))


@pytest.mark.parametrize("system", SYSTEMS)
def test_no_text_of_its_drawings_lies_over_another(system: System) -> None:
    plan = rack(system)
    scenes = [draw_exploded(plan), draw_three_views(plan)]
    scenes += [scene for part in plan.parts.parts for scene in draw_part_sheets(plan, part)]

    assert {} == {scene.title: found for scene in scenes if (found := find_text_faults(scene))}


def test_the_arcs_of_an_outline_stay_arcs_in_the_dxf() -> None:
    """Read back with ezdxf: a bulge is tan(angle / 4), by the DXF reference of LWPOLYLINE."""
    text = io.StringIO(part_dxf(rack(), named("side.left")).decode())
    drawing = ezdxf.filemanagement.read(text)
    outlines = list(drawing.modelspace().query('LWPOLYLINE[layer=="face A outline"]'))
    bulges = [round(point[4], 4) for point in outlines[0].get_points()]

    rise_over_half_chord = 20 / (math.hypot(100, 100) / 2)
    assert 2 == sum(abs(bulge) > 0.01 for bulge in bulges)
    assert any(abs(abs(bulge) - rise_over_half_chord) < 1e-4 for bulge in bulges)


def test_every_pin_hole_is_a_circle_of_its_diameter_in_the_dxf() -> None:
    text = io.StringIO(part_dxf(rack(), named("side.left")).decode())
    circles = list(ezdxf.filemanagement.read(text).modelspace().query("CIRCLE"))
    pins = [circle for circle in circles if abs(2 * circle.dxf.radius - 5) < 1e-6]

    assert 2 * 16 == len(pins)
    assert {True} == {circle.dxf.layer.startswith("blind holes") for circle in pins}


def test_the_sheet_numbers_the_points_and_says_how_each_is_reached() -> None:
    words = words_of(named("side.left"))

    assert "Outline, from point to point" in words
    assert {"1", "2", "3", "4", "5"} <= set(words)
    assert sum("hollow 20 mm" in text for text in words) == 1
    assert sum(text.startswith("arc R ") for text in words) == 2


def test_the_table_of_holes_tells_rows_by_their_pitch() -> None:
    words = words_of(named("side.left"))

    assert "2 rows of 8" in words
    assert "60, then every 32" in words
    assert any(text.startswith("Holes for shelf pins in the") for text in words)


def test_the_sheet_of_a_rod_tells_its_length_and_diameter_and_no_edges() -> None:
    words = words_of(named("bar"))

    assert "Finished 600 mm long" in words
    assert "25 mm hardwood dowel rod, Ø 25 mm" in words
    assert "Seen from the side" in words
    assert not any(text.endswith(" edge") for text in words)


def test_the_cut_list_gives_a_rod_its_diameter() -> None:
    (row,) = [row for row in make_cut_list(rack()).rows if "Bar" in row]

    assert "Ø 25" in row
    assert "both ends square" in row


def test_the_shopping_list_has_the_rod_and_four_pins() -> None:
    rows = {str(row[0]): row for row in make_shopping(rack()).rows}

    assert ("Shelf pins, 5 mm", "4 pieces", "for one shelf") == tuple(rows["Shelf pins, 5 mm"])
    assert any("1 rod" in row for row in rows.values())


def test_a_jigsaw_and_a_bit_with_a_stop_are_asked_for() -> None:
    assert "Jigsaw" in make_tools(rack())
    assert "Drill bit 5 mm with a stop collar for shelf-pin holes" in make_bits(rack())


def test_what_bores_the_hole_of_a_rod_is_asked_for_in_its_size() -> None:
    assert "Bit or hole saw 25 mm for openings in A" in make_bits(rack())


def test_curves_are_sawn_after_the_rectangle_and_told_by_their_points() -> None:
    last = rack().cutting.settings[-1]

    assert last.kind == "jigsaw"
    assert "point 2 to 3, radius" in last.where


def test_several_rows_along_one_line_are_told_by_first_last_and_step() -> None:
    sizes = [10.0, 20.0, 30.0, 40.0, 100.0, 110.0, 120.0, 130.0]

    assert "10 to 40 every 10, 100 to 130 every 10" == format_distances(sizes, "metric")
    assert "10, 20, 45" == format_distances([10.0, 20.0, 45.0], "metric")
