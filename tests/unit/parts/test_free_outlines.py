"""Free outlines: their areas, their sides, what is measured from them and what is no wood."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry.outlines import Outline
from generator.model.parts import Part
from generator.parts.free_outlines import BEYOND_MM
from tests.little_designs import codes, part_named, parts_of, parts_problems, plan_problems
from tests.properties.strategies import SINGLE_PARTS

PART = """
parts:
  part:
    from: panel
    corner: [10 mm, 20 mm, 30 mm]
    runs: {{length: right, width: back}}
    outline: [{points}]
    {more}
"""
BAY = ["[0 mm, 0 mm]", "[400 mm, 0 mm]", "[400 mm, 200 mm]", "[0 mm, 200 mm]"]


def part(*points: str, more: str = "") -> Part:
    return part_named(parts_of(PART.format(points=", ".join(points), more=more)), "part")


def problems(*points: str, more: str = "") -> list[str]:
    return codes(parts_problems(PART.format(points=", ".join(points), more=more)))


def segment_mm2(chord: float, rise: float) -> float:
    """Return the area of a segment of a circle: r² (angle - sin angle) / 2."""
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    angle = 4 * math.atan(2 * rise / chord)
    return radius**2 * (angle - math.sin(angle)) / 2


def with_arc(arc: str) -> list[str]:
    return [*BAY[:2], f"{{to: [400 mm, 200 mm], {arc}}}", BAY[3]]


def test_an_outline_of_four_corners_is_the_rectangle() -> None:
    found = part(*BAY)

    assert (400.0, 200.0) == (found.length_mm, found.width_mm)
    assert ["front", "right", "back", "left"] == [edge.name for edge in found.edges]
    assert not found.is_free
    assert found.recesses == ()


@pytest.mark.parametrize(("arc", "sign"), [("rise: 30 mm", 1), ("rise: -30 mm", -1)])
def test_an_arc_that_rises_adds_a_segment_and_a_hollow_one_takes_it_off(
    arc: str, sign: int
) -> None:
    expected = 400 * 200 + sign * segment_mm2(200, 30)

    assert pytest.approx(expected) == part(*with_arc(arc)).slab.face_a.area_mm2


def test_rise_radius_and_a_point_on_the_way_say_the_same_arc() -> None:
    radius = (100**2 + 30**2) / 60
    ways = ("rise: 30 mm", f"radius: {radius:.9f} mm", "through: [430 mm, 100 mm]")
    areas = [part(*with_arc(way)).slab.face_a.area_mm2 for way in ways]

    assert [pytest.approx(areas[0])] * 3 == areas
    assert 430.0 == pytest.approx(part(*with_arc(ways[0])).length_mm)


def test_an_arc_may_be_more_than_half_a_circle() -> None:
    keyhole = ("[400 mm, 50 mm]", "{to: [400 mm, 150 mm], rise: -60 mm}")
    found = part(*BAY[:2], *keyhole, *BAY[2:])

    assert pytest.approx(400 * 200 - segment_mm2(100, 60)) == found.slab.face_a.area_mm2


def test_the_order_of_the_points_may_run_either_way() -> None:
    one = part(*BAY[:2], "{to: [400 mm, 200 mm], rise: 30 mm}", BAY[3])
    other = part(BAY[3], "[400 mm, 200 mm]", "{to: [400 mm, 0 mm], rise: 30 mm}", BAY[0])

    assert pytest.approx(one.slab.face_a.area_mm2) == other.slab.face_a.area_mm2
    assert 430.0 == pytest.approx(other.length_mm)


def test_the_bounds_reach_as_far_as_the_arc_and_the_rest_of_them_is_no_wood() -> None:
    found = part(*with_arc("rise: 30 mm"))
    outside = sum(recess.outline.area_mm2 for recess in found.recesses)
    beyond = BEYOND_MM * 200

    assert {"outline"} == {recess.kind for recess in found.recesses}
    bounds = 430 * 200
    assert pytest.approx(bounds - found.slab.face_a.area_mm2 + beyond, rel=1e-3) == outside


def test_straight_sides_on_the_bounds_are_ends_and_edges_and_others_are_told_by_points() -> None:
    found = part("[0 mm, 0 mm]", "[400 mm, 0 mm]", "[300 mm, 200 mm]", "[0 mm, 200 mm]")

    assert [("front", "edge"), ("point 2 to 3", "line"), ("back", "edge"), ("left", "end")] == [
        (edge.name, edge.kind) for edge in found.edges
    ]
    slant = math.degrees(math.atan2(100, 200))
    assert slant == pytest.approx(found.edges[1].mitre_deg)


def test_openings_are_measured_from_the_bounds_even_where_a_side_is_an_arc() -> None:
    hole = "openings: [{hole: 20 mm, from right: 230 mm, from back: 50 mm}]"
    found = part(*with_arc("rise: 30 mm"), more=hole)

    assert (200.0, 150.0) == pytest.approx(found.openings[0].center)


def test_a_hole_that_runs_into_a_hollow_runs_out_of_the_part() -> None:
    hole = "openings: [{hole: 20 mm, from right: 35 mm, from back: 100 mm}]"

    assert problems(*with_arc("rise: -30 mm"), more=hole) == ["P104"]
    assert problems(*with_arc("rise: -20 mm"), more=hole) == []


@pytest.mark.parametrize(
    "points",
    [
        ("[0 mm, 0 mm]", "[400 mm, 0 mm]"),
        (*BAY, "[0 mm, 200 mm]"),
        ("[0 mm, 0 mm]", "[400 mm, 0 mm]", "[0 mm, 200 mm]", "[400 mm, 200 mm]"),
        (*BAY[:2], "{to: [400 mm, 200 mm], radius: 99 mm}", BAY[3]),
        ("[0 mm, 0 mm]", "[400 mm, 0 mm]", "{to: [400 mm, 200 mm], rise: -900 mm}", BAY[3]),
        ("[0 mm, 0 mm]", "[400 mm, 100 mm]", "[300 mm, 200 mm]"),
    ],
    ids=["two", "twice", "crossing", "tight", "arc-across", "nothing-straight"],
)
def test_an_outline_that_cannot_be_sawn_is_refused(points: tuple[str, ...]) -> None:
    assert problems(*points) == ["P113"]


def test_mirrored_copies_of_a_free_outline_are_one_part_turned_over() -> None:
    text = PART.format(
        points=", ".join(with_arc("rise: 30 mm")),
        more="at: {one: {}, other: {mirrors: one, across: {right: 900 mm}}}",
    ).replace("    corner: [10 mm, 20 mm, 30 mm]\n", "")
    parts = parts_of(text)

    assert 1 == len(parts.parts)
    assert ["part.one", "part.other"] == [piece.name for piece in parts.pieces()]


WALL = """
parts:
  plate:
    from: panel
    corner: [0 mm, 0 mm, 0 mm]
    runs: {{length: right, width: up}}
    outline: [[0 mm, 0 mm], [300 mm, 0 mm], [300 mm, 60 mm], {{to: [0 mm, 60 mm], rise: {rise}}}]
  board:
    from: panel
    corner: [50 mm, -20 mm, -18 mm]
    length: 200 mm
    width: 60 mm
    runs: {{length: right, width: back}}
joints:
  - {{join: board to plate, with: face screws, count: 1}}
steps:
  - {{title: All, fit: "board, plate"}}
"""


def test_a_screw_that_would_come_out_of_a_hollow_is_seen() -> None:
    assert codes(plan_problems(WALL.format(rise="-5 mm"))) == []
    assert codes(plan_problems(WALL.format(rise="-35 mm"))) == ["J103"]


@SINGLE_PARTS
@given(
    st.lists(st.integers(60, 200), min_size=3, max_size=9),
    st.lists(st.sampled_from([0, 0, 4, -4, 9]), min_size=9, max_size=9),
)
def test_wood_and_outside_together_fill_the_bounds(radii: list[int], rises: list[int]) -> None:
    """A star, cut square below and on the left; on the other bounds there is no straight side."""
    step = math.radians(80) / (len(radii) - 1)
    points = ["[0 mm, 0 mm]", "[300 mm, 0 mm]"]
    for i, (radius, rise) in enumerate(zip(radii, rises, strict=False)):
        x, y = (radius * f(math.radians(5) + i * step) for f in (math.cos, math.sin))
        points.append(f"{{to: [{x + 50:.4f} mm, {y + 50:.4f} mm], rise: {rise} mm}}")
    points.append("[0 mm, 300 mm]")
    found = part(*points)
    outside = sum(recess.outline.area_mm2 for recess in found.recesses)
    wood: Outline = found.slab.face_a

    bounds = (found.length_mm + BEYOND_MM) * (found.width_mm + BEYOND_MM)
    assert bounds == pytest.approx(wood.polygon().area + outside, rel=1e-6)
    assert wood.area_mm2 == pytest.approx(wood.polygon().area, rel=5e-3)
