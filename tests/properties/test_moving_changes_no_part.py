"""Moving the whole design changes no part, no screw and no layout line."""

from hypothesis import given

from tests.little_designs import plan_of
from tests.properties.same_wood import compare_plans
from tests.properties.strategies import WHOLE_PLANS, Case, cases, places


@WHOLE_PLANS
@given(cases(), places())
def test_a_design_moved_anywhere_has_the_same_parts_and_screws(
    case: Case, at: tuple[int, int, int]
) -> None:
    compare_plans(plan_of(case.text()), plan_of(case.moved(at).text()))
