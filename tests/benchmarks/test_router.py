"""The benchmark of router layouts finds overlaps, and reads a case as its file tells it."""

import pytest
from shapely.geometry import box

from tests.benchmarks.router import find_fault, format_row, run_case

JIGSAW = {
    "id": "two-and-two",
    "H": 10,
    "bk_density_pct": 100.0,
    "pieces": [
        {"q": 2, "rot": [0, 180], "pts": [[0, 0], [10, 0], [0, 10]]},
        {"q": 2, "rot": [0], "pts": [[3, 1], [8, 1], [8, 11], [3, 11]]},
    ],
}


def test_a_jigsaw_of_four_is_solved_and_found_without_fault() -> None:
    row = run_case(JIGSAW, 3e6)

    assert (4, "") == (row.outlines, row.fault)
    assert pytest.approx(100.0) == row.density
    assert ["two-and-two", "4", "100.00", "100.00", "0.00"] == format_row(row).split()[:5]


@pytest.mark.parametrize(
    ("x", "fault"),
    [(4.0, ""), (3.9, "outlines 0 and 1 overlap"), (6.1, "outline 1 leaves the strip")],
)
def test_overlaps_and_outlines_beyond_the_strip_are_faults(x: float, fault: str) -> None:
    assert fault == find_fault([box(0, 0, 4, 5), box(x, 0, x + 4, 5)], 10.0, 5.0)
