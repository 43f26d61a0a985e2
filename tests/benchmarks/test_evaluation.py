"""The benchmark of the evaluation measures the design it says it measures."""

import pytest

from generator.units import SYSTEMS, System
from tests.benchmarks.cabinets import PARTS_EACH, PIECES_EACH
from tests.benchmarks.evaluation import CABINETS, format_table, time_cabinets


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("cabinets", [1, 2])
def test_cabinets_are_a_plan_without_problems_in_which_no_two_parts_are_alike(
    cabinets: int, system: System
) -> None:
    plan = time_cabinets(cabinets, system, runs=1).plan

    assert cabinets * PARTS_EACH == len(plan.parts.parts)
    assert cabinets * PIECES_EACH == len(plan.parts.pieces())
    assert plan.problems == ()
    assert plan.edition.story.children


def test_a_cabinet_has_bevels_mitres_corners_openings_housings_boards_and_screws() -> None:
    plan = time_cabinets(1, "metric", runs=1).plan
    edges = [edge for part in plan.parts.parts for edge in part.edges]

    assert any(edge.tilt_deg > 0 and "mitred" in edge.meets for edge in edges)
    assert {"corner", "notch"} <= {edge.kind for edge in edges}
    assert any(part.openings for part in plan.parts.parts)
    assert any(part.slab.channels for part in plan.parts.parts)
    assert plan.cutting.boards
    assert {screw.goods.kind for screw in plan.joinery.fasteners} == {"pocket screw", "face screw"}


def test_the_table_has_a_line_for_each_size_and_tells_how_it_grows() -> None:
    timings = [time_cabinets(count, "metric", runs=1) for count in (1, 2)]
    head, first, second = format_table("metric", timings).splitlines()

    assert head.startswith("metric edition: parts pieces screws sheets | read s")
    assert ["15", "19"] == first.split()[:2]
    assert ["30", "38"] == second.split()[:2]
    assert f"{timings[1].total_s / timings[0].total_s:.1f}" == second.split()[-1]
    assert [15, 30, 60, 120] == [count * PARTS_EACH for count in CABINETS]
