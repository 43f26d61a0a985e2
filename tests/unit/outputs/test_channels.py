"""Channels in what a plan writes: drawings, files, tables, settings and what is marked."""

import io
from functools import cache

import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read
from jsonschema import Draft202012Validator

from generator.model.housing_words import (
    count_housings,
    find_channel_word,
    housing_ends,
    housing_labels,
    housing_name,
    housing_place,
    housing_size,
)
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.dxf import part_dxf
from generator.outputs.exploding import explode
from generator.outputs.part_json import part_to_dict
from generator.outputs.part_schema import part_schema
from generator.outputs.scene import Area, Scene, Stroke, Words
from generator.outputs.scene_check import find_text_faults
from generator.outputs.svg import write_svg
from generator.telling.buying_tables import make_tools
from generator.telling.housing_tables import make_housings
from generator.units import SYSTEMS, System
from tests.little_designs import part_named, plan_of
from tests.part_drawings import draw_part_sheets

CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    show: outside
    at:
      left: {}
      right: {mirrors: left, across: {right: 400 mm}}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, 200 mm]
    width: 300 mm
    runs: {length: right, width: back}
    edges:
      left: into side.left by 6 mm; stopped 25 mm from front
      right: into side.right by 6 mm; stopped 25 mm from front
  top:
    from: panel
    corner: [0 mm, 0 mm, 582 mm]
    width: 300 mm
    runs: {length: right, width: back}
    edges: {left: into side.left by 6 mm, right: into side.right by 6 mm}
joints:
  - {join: shelf to side, with: glue}
  - {join: top to side, with: glue}
steps: [{title: All, fit: "side, shelf, top"}]
"""


@cache
def case_plan(system: System) -> Plan:
    return plan_of(CASE, system)


def side(system: System = "metric") -> Part:
    return part_named(case_plan(system).parts, "side.left")


def sheet(system: System = "metric") -> Scene:
    return draw_part_sheets(case_plan(system), side(system))[0]


def texts(scene: Scene) -> list[str]:
    return [item.text for item in scene.items if isinstance(item, Words)]


def test_a_channel_is_toned_on_its_face_and_outlined() -> None:
    scene = sheet()
    toned = [item for item in scene.items if isinstance(item, Area) and item.tone == "side"]

    assert 2 == len(toned)


def test_a_channel_is_dashed_where_the_other_face_is_drawn() -> None:
    text = CASE.replace("top to side, with: glue", "side to top, with: face screws")
    accepted = f"{text}accept: [{{code: C301, reason: Plugged}}]\n"
    plan = plan_of(accepted)
    scene = draw_part_sheets(plan, part_named(plan.parts, "side.left"))[0]
    dashed = [i for i in scene.items if isinstance(i, Stroke) and i.closed and i.layer == "hidden"]

    assert "Turned over: seen on the left face" in texts(scene)
    assert 2 == len(dashed)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_sheet_of_a_part_with_channels_can_be_read(system: System) -> None:
    assert [] == find_text_faults(sheet(system))


def test_a_section_tells_depth_and_width_and_what_is_left() -> None:
    found = texts(sheet())

    assert {
        "Section of dado for C, right face up",
        "Section of rabbet for D, right face up",
    } <= set(found)
    assert [2, 2, 2] == [found.count(size) for size in ("6 mm", "12 mm", "18 mm")]


def test_a_channel_is_dimensioned_from_the_named_edges() -> None:
    """The shelf lies 200 to 218 mm above the bottom and stays 25 mm behind the front."""
    assert {"200", "218", "582", "275"} <= set(texts(sheet()))


def test_a_note_tells_where_a_channel_runs_and_for_what() -> None:
    found = texts(sheet())
    dado = "Stopped dado for C: 200 mm to 218 mm from the bottom end, stopped 25 mm from the front."

    assert dado in found
    assert "Rabbet for D: along the top end, through." in found


def test_the_words_of_a_channel_are_those_of_the_trade() -> None:
    plan, part = case_plan("metric"), side()
    labels = {piece.name: piece.label for piece in plan.parts.pieces()}
    dado, rabbet = part.housings

    assert ("stopped dado", "rabbet") == (housing_name(dado), housing_name(rabbet))
    assert "6 mm deep, 18 mm wide" == housing_size(dado, "metric")
    assert "200 mm to 218 mm from the bottom end" == housing_place(part, dado, "metric")
    assert "along the top end" == housing_place(part, rabbet, "metric")
    assert "stopped 25 mm from the front" == housing_ends(part, dado, "metric")
    assert "through" == housing_ends(part, rabbet, "metric")
    assert ("C",) == housing_labels(dado, labels)


def test_the_cut_list_counts_channels_that_are_alike() -> None:
    assert (
        "stopped dado 6 mm deep, 18 mm wide, right face",
        "rabbet 6 mm deep, 18 mm wide, right face",
    ) == count_housings(side(), "metric")


def test_channels_of_one_depth_are_one_setting() -> None:
    settings = [s for s in case_plan("metric").cutting.settings if s.kind == "channel"]

    assert [(6.0, 4)] == [(setting.value_mm, setting.cuts) for setting in settings]
    assert [("A", "B")] == [setting.pieces for setting in settings]


def test_what_stands_in_a_channel_is_not_marked_as_well() -> None:
    assert [] == [mark for step in case_plan("metric").assembly.steps for mark in step.marks]


def test_pieces_come_out_of_their_channels_along_the_floor_and_not_along_the_walls() -> None:
    moves = explode(case_plan("metric")).moves

    assert moves["side.left"][0] < moves["shelf"][0] < moves["side.right"][0]
    assert {0.0} == {round(y, 6) for _, y, _ in moves.values()}


@pytest.mark.parametrize(
    ("system", "layer"),
    [("metric", "channels face A 6 mm deep"), ("imperial", "channels face A 0.2362 in deep")],
)
def test_a_dxf_file_has_a_layer_for_every_depth_of_channels(system: System, layer: str) -> None:
    """Read back with ezdxf: two closed outlines, as large as the channels."""
    drawing = read(io.StringIO(part_dxf(case_plan(system), side(system)).decode()))
    unit = 1.0 if system == "metric" else 25.4
    sizes = []
    for shape in drawing.modelspace():
        if isinstance(shape, LWPolyline) and shape.dxf.layer == layer:
            xs, ys = zip(*((x * unit, y * unit) for x, y, *_ in shape.get_points()), strict=True)
            sizes.append((round(max(xs) - min(xs), 3), round(max(ys) - min(ys), 3)))

    assert [(18.0, 275.0), (18.0, 300.0)] == sorted(sizes)


def test_plan_json_tells_everything_of_a_channel() -> None:
    entry = part_to_dict(case_plan("metric"), side())
    dado, rabbet = entry["features"]

    Draft202012Validator(part_schema()).validate(entry)
    assert ("dado", "A", 6.0, 18.0, 275.0) == (
        dado["kind"], dado["side"], dado["depth_mm"], dado["width_mm"], dado["length_mm"]
    )  # fmt: skip
    assert [{"edge": "front", "away_mm": 25.0}] == dado["stopped"]
    assert (["back"], ["shelf"]) == (dado["open_at"], dado["mates"])
    assert ("rabbet", "top", 0.0, 18.0) == (
        rabbet["kind"], rabbet["from_edge"], rabbet["from_mm"], rabbet["to_mm"]
    )  # fmt: skip


def test_the_page_lists_every_channel_with_what_stands_in_it() -> None:
    table = make_housings(case_plan("metric"))

    assert 4 == len(table.rows)
    assert ("A", "stopped dado", "right", "6", "18", "C Shelf") == tuple(
        str(table.rows[0][i]) for i in (0, 1, 2, 3, 4, 7)
    )


def test_the_tools_for_channels_are_asked_for_only_where_there_are_some() -> None:
    without = plan_of(
        CASE.replace("into", "against").replace(" by 6 mm", "").replace(
            "; stopped 25 mm from front", ""
        )
    )  # fmt: skip

    added = set(make_tools(case_plan("metric"))) - set(make_tools(without))

    assert 3 == len(added - {"Jigsaw"})


def test_glue_in_a_channel_is_told_as_that() -> None:
    plan = case_plan("metric")

    assert "dado" == find_channel_word(plan, "shelf", "side.left")
    assert "rabbet" == find_channel_word(plan, "side.right", "top")
    assert "" == find_channel_word(plan, "shelf", "top")


def test_a_drawing_with_channels_is_written_the_same_every_time() -> None:
    assert write_svg(sheet()) == write_svg(sheet())


SHORT = """
parts:
  wall: {from: panel, length: 900 mm, width: 300 mm, runs: {length: right, width: up}}
  ledge:
    from: panel
    corner: [START, -100 mm, 150 mm]
    length: 100 mm
    width: 100 mm
    runs: {length: right, width: back}
    edges: {back: into wall by 6 mm}
joints: [{join: ledge to wall, with: glue}]
steps: [{title: All, fit: "wall, ledge"}]
"""


@pytest.mark.parametrize(
    ("start", "told"),
    [
        ("0 mm", "from the left, 100 mm long"),
        ("300 mm", "from 300 mm to 400 mm from the left"),
        ("50 mm", "from 50 mm to 150 mm from the left"),
    ],
)
def test_a_short_channel_is_told_from_where_it_begins(start: str, told: str) -> None:
    wall = part_named(plan_of(SHORT.replace("START", start)).parts, "wall")

    assert told == housing_ends(wall, wall.housings[0], "metric")


def test_a_notch_too_small_for_sizes_beside_it_is_told_in_words() -> None:
    """Of a stopped channel 6 mm deep: 25 mm of the shelf stay before it."""
    plan = case_plan("metric")
    found = texts(draw_part_sheets(plan, part_named(plan.parts, "shelf"))[0])

    assert "2 × notch 6 wide, 25 high" in found
    assert [] == [text for text in found if text in {"6", "25"}]


def test_a_channel_over_a_rounded_corner_has_sizes_at_its_own_corners_only() -> None:
    plan = plan_of(
        CASE.replace("show: outside", "show: outside\n    corners: {top front: round 60 mm}")
    )
    part = part_named(plan.parts, "side.left")

    assert [4, 2] == [len(housing.corners) for housing in part.housings]
    assert len(part.housings[1].outline.points) > 6
