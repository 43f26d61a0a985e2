"""Both editions of a design whose sizes and boards are equal have the same wood.

Screws differ, because each edition has its own; so the parts are compared, not the joints.
"""

from hypothesis import given

from tests.little_designs import plan_of
from tests.properties.same_wood import compare_marks, compare_parts
from tests.properties.strategies import WHOLE_PLANS, Case, cases


@WHOLE_PLANS
@given(cases())
def test_the_imperial_and_the_metric_edition_have_the_same_parts_and_layout_lines(
    case: Case,
) -> None:
    imperial, metric = (plan_of(case.text(), system) for system in ("imperial", "metric"))

    compare_parts(imperial, metric)
    compare_marks(imperial, metric)
    assert [joint.between for joint in imperial.joinery.joints] == [
        joint.between for joint in metric.joinery.joints
    ]
