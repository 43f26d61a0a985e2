"""What a maker calls the parts changes words, never wood."""

from hypothesis import given
from hypothesis import strategies as st

from tests.little_designs import plan_of
from tests.properties.same_wood import compare_part
from tests.properties.strategies import WHOLE_PLANS, Case, cases

NAMES = st.sampled_from(["a", "plank", "zebra", "tray_bottom", "panel2", "to_and_fro"])


@WHOLE_PLANS
@given(cases(), NAMES, NAMES)
def test_a_design_with_other_names_has_the_same_parts_screws_and_sheets(
    case: Case, side: str, shelf: str
) -> None:
    other = f"{shelf}_too" if side == shelf else shelf
    one, two = plan_of(case.text()), plan_of(case.named(side, other).text())
    renamed = {"side": side, "shelf": other}

    for mine, theirs in zip(one.parts.parts, two.parts.parts, strict=True):
        assert (mine.label, renamed.get(mine.name, mine.name), mine.count) == (
            theirs.label, theirs.name, theirs.count
        )  # fmt: skip
        compare_part(mine, theirs)
    assert [(s.id, s.head, s.tip) for s in one.joinery.fasteners] == [
        (s.id, s.head, s.tip) for s in two.joinery.fasteners
    ]
    assert one.cutting.blanks == two.cutting.blanks
    assert [layout.placements for layout in one.cutting.layouts] == [
        layout.placements for layout in two.cutting.layouts
    ]
