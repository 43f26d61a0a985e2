"""What fits side by side still does after a dual feasible function has changed every length."""

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting.bounds import find_functions

SHEET = 120


@settings(max_examples=200, deadline=None, derandomize=True)
@given(
    st.lists(st.integers(min_value=1, max_value=SHEET), min_size=1, max_size=6),
    st.lists(st.integers(min_value=1, max_value=SHEET), min_size=1, max_size=12),
)
def test_lengths_that_fit_a_sheet_fit_it_after_every_function(
    made_for: list[int], lengths: list[int]
) -> None:
    row: list[int] = []
    for length in lengths:
        if sum(row) + length <= SHEET:
            row.append(length)

    for function, whole in find_functions(SHEET, made_for):
        assert whole == function(SHEET)
        assert sum(map(function, row)) <= whole
