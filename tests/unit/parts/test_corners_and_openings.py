"""Worked corners and openings: sizes, places, and what does not fit."""

import math

import pytest

from generator.model.parts import Part
from tests.little_designs import codes, part_named, parts_of, parts_problems, say

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


@pytest.mark.parametrize("corner", ["front right", "right front"])
def test_a_clip_runs_along_each_edge_by_what_the_maker_says(corner: str) -> None:
    part = board(f"corners: {{{corner}: clip 100 mm left by 60 mm back}}")

    assert (400.0, 0.0) in rounded(part)
    assert (500.0, 60.0) in rounded(part)
    assert len(part.edges) == 5


@pytest.mark.parametrize(
    ("corner", "clip", "first", "second"),
    [
        ("front left", "clip 100 mm right by 60 mm back", (100.0, 0.0), (0.0, 60.0)),
        ("back left", "clip 100 mm right by 60 mm front", (100.0, 300.0), (0.0, 240.0)),
        ("back right", "clip 60 mm front by 100 mm left", (400.0, 300.0), (500.0, 240.0)),
    ],
)
def test_every_corner_can_be_clipped(
    corner: str, clip: str, first: tuple[float, float], second: tuple[float, float]
) -> None:
    part = board(f"corners: {{{corner}: {clip}}}")

    assert first in rounded(part)
    assert second in rounded(part)


def test_a_clip_takes_off_a_triangle() -> None:
    part = board("corners: {front right: clip 100 mm left by 60 mm back}")

    assert pytest.approx((500 * 300 - 100 * 60 / 2) * 18) == part.slab.volume_mm3


def test_a_clip_leans_against_the_length_by_the_angle_of_its_legs() -> None:
    part = board("corners: {front right: clip 100 mm left by 60 mm back}")
    corner = next(edge for edge in part.edges if edge.kind == "corner")

    assert corner.name in {"right front", "front right"}
    assert pytest.approx(math.degrees(math.atan2(100, 60))) == corner.mitre_deg


def test_a_round_takes_off_a_square_less_a_quarter_disc() -> None:
    part = board("corners: {front right: round 50 mm}")
    corner = next(edge for edge in part.edges if edge.kind == "corner")

    assert pytest.approx((150000 - (2500 - math.pi * 2500 / 4)) * 18) == part.slab.volume_mm3
    assert corner.radius_mm == 50.0


def test_a_clip_that_is_longer_than_its_edge_is_refused() -> None:
    assert problems_of("corners: {front right: clip 600 mm left by 60 mm back}") == ["P103"]
    assert problems_of("corners: {front right: clip 499 mm left by 60 mm back}") == []


def test_two_rounds_that_need_more_than_the_edge_are_refused() -> None:
    two = "corners: {{front right: round {r} mm, back right: round {r} mm}}"

    assert problems_of(two.format(r=151)) == ["P103"]
    assert problems_of(two.format(r=149)) == []


def test_a_corner_next_to_a_bevel_cannot_be_rounded() -> None:
    bevel = "edges: {right: bevel 10 deg long on top}\n    "

    assert problems_of(bevel + "corners: {front right: round 20 mm}") == ["P103"]
    assert problems_of(bevel + "corners: {front left: round 20 mm}") == []


def test_a_corner_next_to_a_bevel_can_be_clipped_and_is_measured_from_the_long_point() -> None:
    part = board(
        "edges: {right: bevel 10 deg long on top}\n    "
        "corners: {front right: clip 100 mm left by 60 mm back}"
    )
    high = [(round(x, 6), round(y, 6)) for x, y in part.slab.face_b.points]

    assert (400.0, 0.0) in high
    assert (500.0, 60.0) in high


def test_a_hole_has_its_middle_at_the_distances_from_the_named_edges() -> None:
    part = board("openings: [{hole: 40 mm, from right: 90 mm, from back: 70 mm}]")
    (opening,) = part.openings

    assert opening.name == "hole"
    assert pytest.approx((410.0, 230.0)) == opening.center
    assert pytest.approx((500 * 300 - math.pi * 400) * 18) == part.slab.volume_mm3


@pytest.mark.parametrize(
    ("along", "low", "high"),
    [("right", (60.0, 85.0), (140.0, 115.0)), ("back", (85.0, 60.0), (115.0, 140.0))],
)
def test_a_slot_runs_along_what_the_maker_says(
    along: str, low: tuple[float, float], high: tuple[float, float]
) -> None:
    slot = "slot: [80 mm, 30 mm], from left: 100 mm, from front: 100 mm"
    (opening,) = board(f"openings: [{{{slot}, along: {along}}}]").openings
    area = 50 * 30 + math.pi * 225

    assert pytest.approx((*low, *high), abs=0.1) == opening.outline.bounds
    assert pytest.approx(area) == opening.outline.area_mm2
    assert opening.along_x == (along == "right")


def test_a_hole_is_measured_from_the_long_point_of_a_bevel() -> None:
    part = board(
        "edges: {left: bevel 30 deg long on bottom}\n    "
        "openings: [{hole: 40 mm, from left: 90 mm, from front: 70 mm}]"
    )

    assert pytest.approx((90.0, 70.0)) == part.openings[0].center


def test_a_hole_that_runs_out_of_the_wood_is_refused_with_by_how_much() -> None:
    problems = parts_problems(
        BOARD.format(work="openings: [{hole: 40 mm, from left: 15 mm, from front: 70 mm}]")
    )

    assert codes(problems) == ["P104"]
    assert problems[0].what == "the hole of `board` runs out of the part by 5 mm", say(problems)


def test_a_hole_that_just_stays_inside_is_bored() -> None:
    assert problems_of("openings: [{hole: 40 mm, from left: 21 mm, from front: 70 mm}]") == []


def test_a_hole_that_breaks_through_a_bevel_on_one_face_alone_is_refused() -> None:
    """The short face begins 10.4 mm in."""
    bevel = "edges: {left: bevel 30 deg long on bottom}\n    "
    hole = "openings: [{{hole: 40 mm, from left: {at} mm, from front: 70 mm}}]"

    assert problems_of(bevel + hole.format(at=25)) == ["P104"]
    assert problems_of(bevel + hole.format(at=31)) == []


def rounded(part: Part) -> list[tuple[float, float]]:
    return [(round(x, 6), round(y, 6)) for x, y in part.slab.face_a.points]
