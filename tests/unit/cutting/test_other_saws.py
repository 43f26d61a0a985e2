"""Another saw: layouts that hold by a hair, and layouts that do not."""

from collections.abc import Sequence

import pytest

from generator.cutting import plan_cutting
from generator.model.cutting import Cutting
from generator.model.edition import Stock
from generator.units import System
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_stock
from tests.sawing import find_faults, read_sawing


def _cut(lines: Sequence[Line], stock: Stock, kerf_mm: float, system: System = "metric") -> Cutting:
    parts = make_parts(lines, [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(kerf_mm), system)
    assert problems == ()
    assert cutting is not None
    for saw in cutting.other_saws:
        if saw.cutting is not None:
            assert find_faults(read_sawing(saw.cutting, parts)) == []
            assert {layout.kerf_mm for layout in saw.cutting.all_layouts()} == {saw.kerf_mm}
    return cutting


def _holds(cutting: Cutting) -> list[bool]:
    return [saw.holds for saw in cutting.other_saws]


def test_a_layout_with_room_to_spare_holds_with_every_saw() -> None:
    lines = [Line(label="A", count=4, length_mm=500, width_mm=200)]

    assert _holds(_cut(lines, make_stock([(1220.0, 610.0)]), 2.2)) == [True, True, True]


@pytest.mark.parametrize(
    ("spare_mm", "holds"), [(3.2, [True, True, True]), (3.1, [True, True, False])]
)
def test_two_parts_hold_where_the_kerf_between_them_fits(
    spare_mm: float, holds: list[bool]
) -> None:
    lines = [Line(label="A", count=2, length_mm=(1200 - spare_mm) / 2, width_mm=610)]

    assert _holds(_cut(lines, make_stock([(1200.0, 610.0)]), 2.2)) == holds


@pytest.mark.parametrize(
    ("spare_mm", "holds"), [(2.2, [False, False, False]), (2.3, [True, False, False])]
)
def test_a_part_that_is_what_is_left_is_right_for_one_kerf_only(
    spare_mm: float, holds: list[bool]
) -> None:
    """With 0.1 mm of waste it is sawn to size, if there is room for a blade that is no thicker."""
    lines = [Line(label="A", count=2, length_mm=(1200 - spare_mm) / 2, width_mm=610)]

    assert _holds(_cut(lines, make_stock([(1200.0, 610.0)]), 2.2)) == holds


def test_a_layout_that_does_not_hold_is_laid_out_anew_and_a_sheet_more_is_bought() -> None:
    lines = [Line(label="A", count=2, length_mm=598.5, width_mm=610)]
    cutting = _cut(lines, make_stock([(1200.0, 610.0)]), 2.2)
    other = cutting.other_saws[-1].cutting

    assert len(cutting.layouts) == 1
    assert other is not None
    assert len(other.layouts) == 2


def test_a_part_that_only_fits_between_thin_trims_is_said_to_fit_no_more() -> None:
    """A trim is never less than the kerf: 1200 less two trims of 2.4 is 1195.2, of 3.2 1193.6."""
    lines = [Line(label="A", count=1, length_mm=1195, width_mm=600)]
    cutting = _cut(lines, make_stock([(1200.0, 610.0)], trim_mm=2.0), 2.2)

    assert _holds(cutting) == [True, True, False]
    assert cutting.other_saws[-1].cutting is None


def test_boards_are_looked_at_too() -> None:
    """Three pieces and two kerfs of 1/16 in fill a board; with 3/32 in they do not."""
    pieces = [Line(label="A", count=3, length_mm=800, width_mm=90, stock="b")]
    cutting = _cut(pieces, make_board([2403.175], name="b", system="imperial"), 1.5875, "imperial")
    counts = [len(saw.cutting.boards) if saw.cutting else 0 for saw in cutting.other_saws]

    assert _holds(cutting) == [True, False, False]
    assert counts == [0, 2, 2]


def test_a_long_list_is_laid_out_anew_in_a_hurry_and_still_whole() -> None:
    """Six strips of 100 mm and five kerfs of 2.4 mm fill 612 mm; with 3.2 mm they need 616."""
    lines = [Line(label="A", count=330, length_mm=100, width_mm=100)]
    other = _cut(lines, make_stock([(1222.0, 612.0)]), 2.0).other_saws[-1].cutting

    assert other is not None
    assert 330 == sum(len(layout.placements) for layout in other.layouts)
    assert len(other.layouts) >= 6
