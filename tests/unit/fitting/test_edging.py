"""Edging: which edges are covered, how long the tape is, and what becomes of parts of one size."""

import math

import pytest

from generator.model.fitting import EdgingNeed
from generator.units import System
from tests.little_designs import codes, parts_of, plan_of, plan_problems

HEAD = """\
title: Little
date: 2026-11-25
stock:
  panel: {imperial: board-imperial, metric: board-metric}
  tape: {imperial: veneer-tape-7/8, metric: veneer-tape-22}
"""
TEXT = """
parts:
  low:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: right, width: back}
    MORE
  high:
    from: panel
    length: 400 mm
    width: 300 mm
    corner: [200 mm, 0 mm, panel]
    runs: {length: up, width: back}
joints:
  - {join: low to high, with: face screws}
steps:
  - {title: All, fit: "low, high"}
"""


def needs(more: str, system: System = "metric") -> tuple[EdgingNeed, ...]:
    return plan_of(TEXT.replace("MORE", more), system, HEAD).fitting.edgings


def test_every_covered_edge_counts_with_its_length_and_a_tenth_more_is_bought() -> None:
    """600 and two times 300 mm are 1.2 m; 1.32 m in whole halves of a metre are 1.5 m."""
    (need,) = needs("edging: {front: tape, left: tape, right: tape}")

    assert 1200.0 == pytest.approx(need.length_mm)
    assert 1500.0 == pytest.approx(need.buy_mm)
    assert [("left", 300.0), ("right", 300.0), ("front", 600.0)] == sorted(
        ((run.edge, run.length_mm) for run in need.runs), key=lambda row: "lrf".index(row[0][0])
    )


def test_in_inches_edging_is_bought_in_whole_feet() -> None:
    """1320 mm are 4.33 ft."""
    (need,) = needs("edging: {front: tape, left: tape, right: tape}", "imperial")

    assert 5 * 304.8 == pytest.approx(need.buy_mm)
    assert "veneer-tape-7/8" == need.edging.key


def test_a_rounded_corner_is_covered_where_both_its_edges_are() -> None:
    """A round of 100 mm takes 100 mm off both edges and is a quarter of a circle itself."""
    corner = "corners: {front left: round 100 mm}\n    "
    (both,) = needs(f"{corner}edging: {{front: tape, left: tape}}")
    (one,) = needs(f"{corner}edging: {{front: tape}}")

    assert 500.0 + 200.0 + math.pi * 50.0 == pytest.approx(both.length_mm)
    assert 500.0 == pytest.approx(one.length_mm)


def test_a_bevelled_edge_takes_the_length_of_its_longer_face() -> None:
    """The ends lean 45 degrees: the front edge is 600 mm long on top and 564 mm below."""
    (need,) = needs(
        "edges: {left: bevel 45 deg long on top, right: bevel 45 deg long on top}\n"
        "    edging: {front: tape}"
    )

    assert 600.0 == pytest.approx(need.length_mm)


def test_the_walls_of_a_notch_stay_bare_and_an_arch_is_covered() -> None:
    """A notch of 100 mm leaves 500 of 600 mm; a half circle on 100 mm is pi times 50 mm long."""
    notched = needs("cuts: [{notch: [100 mm, 50 mm], in: front}]\n    edging: {front: tape}")
    arched = needs("cuts: [{arch: [100 mm, 50 mm], in: front}]\n    edging: {front: tape}")

    assert 500.0 == pytest.approx(notched[0].length_mm)
    assert 500.0 + math.pi * 50.0 == pytest.approx(arched[0].length_mm)
    assert [1, 1] == [len(one[0].runs) for one in (notched, arched)]


TWINS = """
parts:
  one: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}, ONE}
  two:
    {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back},
     corner: [0 mm, 0 mm, 400 mm], TWO}
"""


@pytest.mark.parametrize(
    ("one", "two", "count"),
    [
        ("front: tape", "front: tape", 1),
        ("front: tape", "back: tape", 1),
        ("front: tape", "left: tape", 2),
        ("front: tape", "front: tape, back: tape", 2),
        ("front: tape", "", 2),
    ],
)
def test_pieces_are_one_part_only_where_turning_brings_edging_on_edging(
    one: str, two: str, count: int
) -> None:
    text = TWINS.replace("ONE", f"edging: {{{one}}}").replace("TWO", f"edging: {{{two}}}")

    assert count == len(parts_of(text, head=HEAD).parts)


def test_a_mirrored_copy_has_its_edging_mirrored() -> None:
    text = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: right, width: back}
    edges: {front: bevel 20 deg long on top}
    corners: {front left: clip 50 mm back by 80 mm right}
    edging: {left: tape}
    at:
      left: {}
      right: {mirrors: left, across: {right: 1 m}}
"""
    parts = parts_of(text, head=HEAD).parts

    assert [["left"], ["right"]] == [
        [edge.name for edge in part.edges if edge.edging is not None] for part in parts
    ]


def test_the_thickness_of_edging_can_be_used_in_formulas() -> None:
    text = TEXT.replace("MORE", "edging: {front: tape}").replace(
        "width: 300 mm", "width: 300 mm - 2 * tape", 1
    )

    assert 299.0 == pytest.approx(plan_of(text, head=HEAD).parts.parts[0].width_mm)


@pytest.mark.parametrize(
    ("edge", "found"), [("top", ["C302"]), ("bottom", ["C302"]), ("front", []), ("back", [])]
)
def test_edging_that_another_piece_lies_against_is_warned_of(edge: str, found: list[str]) -> None:
    text = """
parts:
  low: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  high:
    from: panel
    length: 400 mm
    width: 300 mm
    corner: [200 mm, 0 mm, panel]
    runs: {length: up, width: back}
    edging: {EDGE: tape}
  lid:
    from: panel
    length: 600 mm
    width: 300 mm
    corner: [0 mm, 0 mm, 400 mm + panel]
    runs: {length: right, width: back}
joints:
  - {join: "low, lid to high", with: face screws}
steps:
  - {title: All, fit: "low, high, lid"}
"""

    assert found == codes(plan_problems(text.replace("EDGE", edge), head=HEAD))


@pytest.mark.parametrize(("lean", "found"), [("35.0", []), ("35.2", ["C303"])])
def test_a_bevel_is_wider_than_the_panel_is_thick(lean: str, found: list[str]) -> None:
    """18 mm at w degrees are 18 / cos w wide: 22 mm at 35.097 degrees."""
    more = f"edges: {{front: bevel {lean} deg long on top}}\n    edging: {{front: tape}}"

    assert found == codes(plan_problems(TEXT.replace("MORE", more), head=HEAD))
