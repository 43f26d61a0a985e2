"""Holes in edges and blind holes in faces: where the drawings, tables and files say they are."""

import io
import math
from dataclasses import replace

import ezdxf.filemanagement
import pytest
from ezdxf.entities.dxfgfx import DXFGraphic

from generator.model.plan import Plan
from generator.model.work import find_work
from generator.outputs.dxf import part_dxf
from generator.outputs.edge_holes import edge_height, from_long_point_mm
from generator.outputs.face_paper import find_paper
from generator.outputs.part_bores import draw_holes
from generator.outputs.part_json import part_to_dict
from generator.outputs.part_view import find_view
from generator.outputs.scene import Stroke
from tests.little_designs import part_named, plan_of
from tests.part_drawings import draw_part_sheets

CASE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
  shelf:
    from: panel
    length: 400 mm
    width: 300 mm
    corner: [panel, 0 mm, 200 mm]
    runs: {length: right, width: back}
joints:
  - {join: shelf to side, with: dowels, count: 2, ends: 50 mm}
steps:
  - {title: All, fit: "side, shelf"}
"""
FRAME = """
parts:
  rail:
    from: panel
    length: 600 mm
    width: 80 mm
    runs: {length: right, width: up}
    edges: {left: mitre with stile}
  stile:
    from: panel
    length: 400 mm
    width: 80 mm
    runs: {length: up, width: right}
    edges: {bottom: mitre with rail}
joints:
  - {join: rail to stile, with: dowels, count: 2, ends: 30 mm}
steps:
  - {title: All, fit: "rail, stile"}
"""


def sheet_of(plan: Plan, name: str) -> str:
    return draw_part_sheets(plan, part_named(plan.parts, name))[0].description


def test_a_hole_in_an_end_is_told_from_the_edge_and_the_middle_of_the_thickness() -> None:
    told = sheet_of(plan_of(CASE), "shelf")

    assert "Dowel holes in the left end: 8 mm bit, 27 mm deep: 2 × dowel to A Side" in told
    assert "middle of the thickness" in told
    assert "50 and 250" in told


def test_the_mating_holes_in_the_face_are_told_too() -> None:
    told = sheet_of(plan_of(CASE), "side")

    assert "Dowel holes in the right face: 8 mm bit, 15 mm deep: 2 × dowel to B Shelf" in told
    assert "50 and 250" in told


def test_a_hole_off_the_middle_is_told_from_the_nearer_face() -> None:
    plan = plan_of(CASE)
    part = part_named(plan.parts, "shelf")
    (work,) = find_work(plan, part)
    hole = work.holes[0]
    paper = find_paper(part, find_view(part, "A"), work)
    low, high = (
        edge_height(paper, work, replace(hole, at=(0.0, 50.0, z)), "metric") for z in (5.0, 14.0)
    )

    assert low.startswith("5 mm from the ")
    assert high.startswith("4 mm from the ")
    assert low.split()[-2] != high.split()[-2]


def test_holes_in_a_mitred_end_are_told_along_it_from_the_long_point() -> None:
    """The mitre is 80 * sqrt 2 = 113.1 mm long: 30 mm from either end of it."""
    plan = plan_of(FRAME)
    part = part_named(plan.parts, "rail")
    (work,) = find_work(plan, part)
    reach = 80 * math.sqrt(2)

    assert pytest.approx([30.0, reach - 30.0]) == sorted(
        from_long_point_mm(part, hole) for hole in work.holes
    )
    assert "30 and 83.1 from the long point" in sheet_of(plan, "rail")


def test_a_bore_in_an_edge_is_drawn_dashed_as_deep_as_it_is() -> None:
    plan = plan_of(CASE)
    part = part_named(plan.parts, "shelf")
    (work,) = find_work(plan, part)
    paper = find_paper(part, find_view(part, "A"), work)
    walls = [
        item
        for item in draw_holes(paper, work)
        if isinstance(item, Stroke) and item.layer == "hidden"
    ]

    assert len(walls) == 2
    for wall in walls:
        xs, ys = zip(*wall.points, strict=True)
        assert max(xs) - min(xs) == pytest.approx(27.0 * paper.scale)
        assert max(ys) - min(ys) == pytest.approx(8.0 * paper.scale)


def test_a_router_file_tells_blind_holes_and_holes_in_edges_from_holes_right_through() -> None:
    plan = plan_of(CASE)
    side, shelf = (_dxf(plan, name) for name in ("side", "shelf"))

    circles = [e for e in side if e.dxftype() == "CIRCLE"]
    assert [4.0, 4.0] == [pytest.approx(e.dxf.radius) for e in circles]
    assert all(e.dxf.layer.startswith("blind holes face") for e in circles)
    assert not [e for e in side if e.dxf.layer == "holes"]
    walls = [e for e in shelf if e.dxf.layer == "holes in edges"]
    assert len(walls) == 6
    notes = [e.dxf.text for e in side if e.dxftype() == "TEXT"]
    assert "Blind holes, right face: 8 mm bit, 15 mm deep." in notes


def _dxf(plan: Plan, name: str) -> list[DXFGraphic]:
    data = part_dxf(plan, part_named(plan.parts, name))
    drawing = ezdxf.filemanagement.read(io.StringIO(data.decode("utf-8")))
    return list(drawing.modelspace())


def test_plan_json_has_both_holes_of_a_dowel() -> None:
    plan = plan_of(CASE)
    holes = [
        hole
        for name in ("side", "shelf")
        for hole in part_to_dict(plan, part_named(plan.parts, name))["holes"]
    ]

    assert [("dowel", 8.0)] * 4 == [(hole["kind"], hole["diameter_mm"]) for hole in holes]
    assert {15.0, 27.0} == {hole["depth_mm"] for hole in holes}
