"""A part added elsewhere changes no other part, wherever in the file it is written.

Only labels may change, because they follow the order of the file. What shows ``outside`` follows
the middle of the whole piece and is left aside here.
"""

from hypothesis import given
from hypothesis import strategies as st

from generator.model.parts import Part
from tests.little_designs import joinery_of, parts_of
from tests.properties.same_wood import compare_part
from tests.properties.strategies import WHOLE_PLANS, Case, cases, places

EXTRA = """  extra:
    from: panel
    length: 333 mm
    width: 77 mm
    corner: [{} mm, {} mm, {} mm]
    runs: {{length: right, width: up}}
"""


@WHOLE_PLANS
@given(cases(), places(), st.booleans())
def test_a_part_added_anywhere_leaves_all_others_and_their_screws_as_they_were(
    case: Case, at: tuple[int, int, int], is_first: bool
) -> None:
    extra = EXTRA.format(at[0] + 20_000, at[1], at[2])
    mark = "parts:\n" if is_first else "joints:\n"
    text = case.text()
    more = text.replace(mark, mark + extra if is_first else extra + mark)
    before, after = _by_name(text), _by_name(more)

    assert list(before) == [name for name in after if name != "extra"]
    for name, part in before.items():
        assert part.count == after[name].count
        assert [p.frame for p in part.pieces] == [p.frame for p in after[name].pieces]
        assert [p.show for p in part.pieces] == [p.show for p in after[name].pieces]
        compare_part(part, after[name])
    assert joinery_of(text).fasteners == joinery_of(more).fasteners
    assert joinery_of(text).holes == joinery_of(more).holes


def _by_name(text: str) -> dict[str, Part]:
    return {part.name: part for part in parts_of(text).parts}
