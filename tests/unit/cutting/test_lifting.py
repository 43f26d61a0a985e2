"""What the pieces weigh that a sheet is first sawn into."""

import pytest

from generator.cutting.layouts import NestedSheet
from generator.cutting.lifting import find_lifting
from generator.cutting.trees import Box, Leaf, Node, Split, ticks
from generator.units import SYSTEMS, System
from tests.plain_parts import make_stock

KERF_MM = 4.0


def _sheet(tree: Node) -> NestedSheet:
    stock = make_stock([(2000.0, 1000.0)])
    size = stock.goods.sizes[0]
    return NestedSheet(number=1, stock=stock, size=size, trim_mm=0.0, tree=tree, blanks=())


def _whole() -> Box:
    return Box(0, 0, ticks(2000 + KERF_MM), ticks(1000 + KERF_MM))


def _ripped(width_mm: float) -> Node:
    whole = _whole()
    first = ticks(width_mm + KERF_MM)
    rest = whole.slice("y", first, whole.along_y - first)
    return Split(whole, "y", (Leaf(whole.slice("y", 0, first), 0), Leaf(rest, None)))


@pytest.mark.parametrize("system", SYSTEMS)
def test_where_nothing_is_sawn_from_sheets_nothing_is_lifted(system: System) -> None:
    assert find_lifting([], KERF_MM, system) is None


def test_the_heavier_side_of_the_first_cut_counts_be_it_waste() -> None:
    """By hand: 600 kg/m³ and 18 mm are 10.8 kg/m²; 2 m by 0.596 m of it weigh 12.8736 kg."""
    lifting = find_lifting([_sheet(_ripped(400.0))], KERF_MM, "metric")

    assert lifting is not None
    assert lifting.limit_kg == 25.0
    assert lifting.piece_kg == pytest.approx(12.8736)


def test_a_sheet_that_is_one_piece_is_lifted_whole() -> None:
    lifting = find_lifting([_sheet(_ripped(400.0)), _sheet(Leaf(_whole(), 0))], KERF_MM, "metric")

    assert lifting is not None
    assert lifting.piece_kg == pytest.approx(21.6)


def test_the_limit_is_a_round_number_of_pounds_in_inches() -> None:
    lifting = find_lifting([_sheet(_ripped(400.0))], KERF_MM, "imperial")

    assert lifting is not None
    assert lifting.limit_kg == pytest.approx(50 * 0.45359237)
