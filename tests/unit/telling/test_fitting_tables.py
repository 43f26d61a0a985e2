"""Edging, finish and hardware as a page tells of them."""

from generator.telling.fitting_tables import finish_sentences, make_edging, step_hardware
from tests.demo_plans import demo_plan
from tests.little_designs import plan_of
from tests.unit.outputs.test_fitting_on_part_sheets import HEAD, TEXT

PLAN = plan_of(TEXT, head=HEAD)


def test_the_table_of_edging_has_a_row_for_every_covered_edge() -> None:
    rows = [row[:5] for row in make_edging(PLAN).rows]

    assert [
        ("A", "Low", "front edge", "600 mm", "1"),
        ("A", "Low", "left end", "300 mm", "1"),
    ] == sorted(rows)


def test_a_finish_is_told_with_its_coats_its_area_and_its_amount() -> None:
    """Both skins less the contact on both: 392400 + 265200 - 2 * 5400 mm², twice at 10 m²/L."""
    assert finish_sentences(PLAN) == (
        "Oil: 2 coats on all pieces. One coat covers 0.65 m², all faces and edges but where pieces "
        "touch; at 10 m² per litre that takes 0.2 litres in all.",
    )


def test_a_step_tells_what_is_fitted_and_where() -> None:
    lines = step_hardware(PLAN, PLAN.assembly.steps[-1])

    assert lines[0] == "2 × wall anchors, on high (B)"
    assert lines[1].startswith("high (B): anchor, on the right face: 40 mm from the back edge")
    assert () == step_hardware(PLAN, PLAN.assembly.steps[0])


def test_pieces_with_hardware_at_the_same_places_are_told_in_one_line() -> None:
    plan = demo_plan("cleat-wall", "metric")
    fixing = next(step for step in plan.assembly.steps if step.hardware)
    first, places = step_hardware(plan, fixing)

    assert first.endswith(", on rail 1 to 6 (A)")
    assert places.startswith("rail 1 to 6 (A): 3 × wall screw, on the front face: ")
