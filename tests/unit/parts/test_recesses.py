"""Notches, arches and cut-outs: where they are, how much wood they leave, what touches them."""

import math

import pytest

from generator.model.parts import Part
from tests.little_designs import (
    codes,
    joinery_of,
    part_named,
    parts_of,
    parts_problems,
    plan_problems,
)

BOARD = """
parts:
  board:
    from: panel
    length: 500 mm
    width: 300 mm
    runs: {{length: right, width: back}}
    {work}
"""


def board(work: str) -> Part:
    return part_named(parts_of(BOARD.format(work=work)), "board")


def problems_of(work: str) -> list[str]:
    return codes(parts_problems(BOARD.format(work=work)))


def segment_mm2(span: float, rise: float) -> float:
    """Return the area of a segment of a circle: r² (angle - sin angle) / 2."""
    radius = (span**2 / 4 + rise**2) / (2 * rise)
    angle = 2 * math.asin(span / 2 / radius)
    return radius**2 * (angle - math.sin(angle)) / 2


@pytest.mark.parametrize("edge", ["front", "back", "left", "right"])
def test_an_arch_takes_a_segment_of_a_circle_out_of_any_edge(edge: str) -> None:
    part = board(f"cuts: [{{arch: [200 mm, 40 mm], in: {edge}}}]")

    assert pytest.approx(500 * 300 - segment_mm2(200, 40)) == part.slab.face_a.area_mm2
    assert [145.0] == [pytest.approx(e.radius_mm) for e in part.edges if e.kind == "arch"]
    assert [-0.4] == [bulge for bulge in part.slab.face_a.bulges if bulge]


def test_an_arch_of_half_its_span_is_half_a_circle() -> None:
    part = board("cuts: [{arch: [200 mm, 100 mm], in: front}]")

    assert pytest.approx(500 * 300 - math.pi * 100**2 / 2) == part.slab.face_a.area_mm2


def test_a_cut_without_a_place_is_in_the_middle_of_its_edge() -> None:
    part = board("cuts: [{notch: [100 mm, 20 mm], in: front}]")

    assert {(200.0, 0.0), (200.0, 20.0), (300.0, 20.0), (300.0, 0.0)} < set(rounded(part))


@pytest.mark.parametrize(("start", "low"), [("from left: 60 mm", 60), ("from right: 60 mm", 340)])
def test_a_cut_begins_as_far_from_an_end_as_the_maker_says(start: str, low: int) -> None:
    part = board(f"cuts: [{{notch: [100 mm, 20 mm], in: back, {start}}}]")

    assert {(low, 300.0), (low, 280.0), (low + 100, 280.0), (low + 100, 300.0)} < {*rounded(part)}


def test_an_edge_keeps_its_name_on_both_sides_of_a_notch() -> None:
    part = board("cuts: [{notch: [100 mm, 20 mm], in: front}]")

    assert 2 == sum((edge.name, edge.kind) == ("front", "edge") for edge in part.edges)
    assert 3 == sum((edge.name, edge.kind) == ("front", "notch") for edge in part.edges)
    assert [edge.is_recess for edge in part.edges] == [
        index in part.recesses[0].edges for index in range(len(part.edges))
    ]


@pytest.mark.parametrize(
    ("corner", "legs", "inner"),
    [
        ("front right", "60 mm left by 40 mm back", (440.0, 40.0)),
        ("back right", "40 mm front by 60 mm left", (440.0, 260.0)),
        ("left back", "60 mm right by 40 mm front", (60.0, 260.0)),
        ("front left", "60 mm right by 40 mm back", (60.0, 40.0)),
    ],
)
def test_a_notch_takes_a_rectangle_out_of_any_corner(
    corner: str, legs: str, inner: tuple[float, float]
) -> None:
    part = board(f"corners: {{{corner}: notch {legs}}}")

    assert inner in rounded(part)
    assert pytest.approx((500 * 300 - 60 * 40) * 18) == part.slab.volume_mm3
    assert (60 * 40) == pytest.approx(part.recesses[0].outline.area_mm2)


def test_a_cutout_with_round_corners_leaves_its_corners_in_the_wood() -> None:
    opening = "{cutout: [100 mm, 40 mm], along: back, round: 10 mm, from left: 90 mm, "
    part = board(f"openings: [{opening}from front: 150 mm}}]")

    taken = 100 * 40 - (4 - math.pi) * 10**2
    assert pytest.approx((500 * 300 - taken) * 18) == part.slab.volume_mm3
    assert pytest.approx((70, 100, 110, 200)) == part.openings[0].outline.bounds


def test_a_notch_beside_a_clipped_corner_is_measured_from_the_edge_not_from_the_clip() -> None:
    work = """corners: {front left: clip 50 mm right by 50 mm back}
    cuts: [{notch: [100 mm, 20 mm], in: front, from left: 60 mm}]"""

    assert (60.0, 20.0) in rounded(board(work))


def test_a_notch_into_a_clipped_corner_is_refused() -> None:
    work = """corners: {front left: clip 50 mm right by 50 mm back}
    cuts: [{notch: [100 mm, 20 mm], in: front, from left: 40 mm}]"""

    assert ["P106"] == problems_of(work)


@pytest.mark.parametrize("left", [0, 0.005])
def test_a_notch_that_leaves_nothing_of_the_edge_beside_it_is_refused(left: float) -> None:
    assert ["P106"] == problems_of(
        f"cuts: [{{notch: [100 mm, 20 mm], in: front, from left: {left} mm}}]"
    )


def test_an_opening_in_an_arch_is_refused() -> None:
    work = """cuts: [{arch: [200 mm, 60 mm], in: front}]
    openings: [{hole: 30 mm, from left: 250 mm, from front: 70 mm}]"""

    assert ["P104"] == problems_of(work)


MIRRORED = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: up, width: back}
    corners: {top front: notch 60 mm down by 40 mm back}
    cuts:
      - {notch: [50 mm, 18 mm], in: back, from bottom: 100 mm}
      - {arch: [200 mm, 40 mm], in: bottom}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  rail:
    from: panel
    corner: [0 mm, 282 mm, 100 mm]
    length: 600 mm
    width: 50 mm
    runs: {length: right, width: up}
  other:
    from: panel
    corner: [700 mm, 0 mm, 0 mm]
    length: 400 mm
    width: 300 mm
    runs: {length: up, width: back}
    corners: {top front: notch 60 mm down by 41 mm back}
    cuts:
      - {notch: [50 mm, 18 mm], in: back, from bottom: 100 mm}
      - {arch: [200 mm, 40 mm], in: bottom}
joints:
  - {join: rail to side, with: glue}
steps:
  - {title: Lay the rail into the notches, fit: "side, rail"}
"""


def test_a_mirrored_piece_is_the_same_wood_turned_over_and_one_notched_otherwise_is_not() -> None:
    parts = parts_of(MIRRORED).parts

    assert [2, 1, 1] == [part.count for part in parts]


def test_a_rail_in_a_notch_touches_its_floor_and_both_walls() -> None:
    contacts = joinery_of(MIRRORED).contacts

    for side in ("side.left", "side.right"):
        areas = [c.area_mm2 for c in contacts if {c.first, c.second} == {side, "rail"}]
        assert [18 * 18, 18 * 18, 50 * 18] == pytest.approx(sorted(areas))


def test_a_rail_in_a_notch_is_not_in_the_place_of_the_side() -> None:
    alone = MIRRORED.split("  other:", maxsplit=1)[0] + MIRRORED[MIRRORED.index("joints:") :]

    assert [] == codes(plan_problems(alone))


def rounded(part: Part) -> list[tuple[float, float]]:
    return [(round(x, 6), round(y, 6)) for x, y in part.slab.face_a.points]
