"""What sheets for a router are laid for."""

import itertools

import pytest
from shapely.geometry import Polygon

from generator.model.workshop import RouterWork
from generator.units import System
from tests.little_designs import edition_of, edition_problems, plan_of

SHELF = """\
parts:
  shelf: {from: panel, length: 500 mm, width: 200 mm, runs: {length: right, width: back}}
"""
SIDE = """\
  side:
    from: panel
    length: 300 mm
    width: 200 mm
    runs: {length: up, width: back}
    corner: [-panel, 0 mm, 0 mm]
joints: [{join: shelf to side, with: glue}]
steps: [{title: Glue it, fit: "shelf, side"}]
"""


@pytest.mark.parametrize(("system", "bit"), [("imperial", 6.35), ("metric", 6.0)])
def test_a_design_that_names_no_router_has_the_usual_bit(system: System, bit: float) -> None:
    expected = RouterWork(bit_mm=bit, apart_mm=bit, border_mm=0.0)

    assert edition_of(SHELF, system).router == expected


@pytest.mark.parametrize(("system", "bit"), [("imperial", 3.175), ("metric", 3.0)])
def test_outlines_are_a_bit_apart_where_only_the_bit_is_named(system: System, bit: float) -> None:
    router = "router: {bit: {imperial: 1/8 in, metric: 3 mm}, border: 25 mm}\n"
    expected = RouterWork(bit_mm=bit, apart_mm=bit, border_mm=25.0)

    assert edition_of(SHELF + router, system).router == expected


def test_router_sheets_keep_outlines_as_far_apart_and_from_the_border_as_is_asked_for() -> None:
    router = "router: {bit: 3 mm, apart: 15 mm, border: 40 mm}\n"
    (sheet,) = plan_of(SHELF + SIDE + router).cutting.router
    placed = [Polygon(one.outline.points) for one in sheet.placements]
    bounds = [one.bounds for one in placed]

    assert [sheet.bit_mm, sheet.apart_mm, sheet.border_mm] == [3.0, 15.0, 40.0]
    assert all(15.0 <= one.distance(other) for one, other in itertools.combinations(placed, 2))
    assert all(40.0 <= min(low_x, low_y) for low_x, low_y, _, _ in bounds)
    assert all(high_x <= sheet.size.length_mm - 40.0 for _, _, high_x, _ in bounds)
    assert all(high_y <= sheet.size.width_mm - 40.0 for _, _, _, high_y in bounds)


@pytest.mark.parametrize(
    ("router", "what"),
    [
        ("bit: 0.9 mm", "`0.9 mm` is 0.9 mm; a bit is 1 mm at least and 50 mm at most"),
        ("bit: 51 mm", "`51 mm` is 51 mm; a bit is 1 mm at least and 50 mm at most"),
        ("apart: 5 mm", "`5 mm` is 5 mm; outlines are apart 6 mm at least and 56 mm at most"),
        ("border: 201 mm", "`201 mm` is 201 mm; a border is 0 mm at least and 200 mm at most"),
    ],
)
def test_a_router_that_cannot_be_is_told(router: str, what: str) -> None:
    (problem,) = edition_problems(SHELF + f"router: {{{router}}}\n")

    assert (problem.code, problem.what) == ("E101", what)


@pytest.mark.parametrize("router", ["bit: 1 mm", "bit: 50 mm", "apart: 6 mm", "border: 200 mm"])
def test_a_router_at_its_limit_is_taken(router: str) -> None:
    assert edition_problems(SHELF + f"router: {{{router}}}\n") == ()
