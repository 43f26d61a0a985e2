"""Whatever is cut for whatever car: the list is right, and no shorter one makes the pieces fit."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting import plan_cutting
from generator.model.cutting import Cutting
from generator.model.workshop import Car
from generator.outputs.shop_json import shop_to_dict
from tests.plain_parts import Line, make_parts, make_saw, make_stock
from tests.sawing import read_sawing
from tests.shopping_trip import count_fewest_cuts, find_trip_faults

CASES = settings(max_examples=30, deadline=None, derandomize=True)
KEEP_MM = (300.0, 100.0)
"""An offcut worth keeping in the metric edition."""

SIDES = st.integers(min_value=40, max_value=1150).map(float)


@st.composite
def trips(draw: st.DrawFn) -> tuple[Cutting, dict[str, Any]]:
    """Draw up to five kinds of blanks on full sheets, a trim, a kerf and a car."""
    stock = make_stock([(2440.0, 1220.0)], trim_mm=draw(st.sampled_from([0.0, 6.0])))
    lines = [
        Line(
            label=f"P{index}",
            count=draw(st.integers(min_value=1, max_value=4)),
            length_mm=2 * draw(SIDES),
            width_mm=draw(SIDES),
        )
        for index in range(draw(st.integers(min_value=1, max_value=5)))
    ]
    long, wide = draw(st.sampled_from([(1250.0, 800.0), (1200.0, 400.0), (700.0, 300.0)]))
    kerf = draw(st.sampled_from([0.0, 2.2, 3.2]))
    car = Car(name="the maker's car", length_mm=long, width_mm=wide)
    parts = make_parts(lines, [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(kerf), "metric", car=car)
    assert problems == ()
    assert cutting is not None
    sheets = [
        {**sheet, "number": number}
        for number, sheet in enumerate(read_sawing(cutting)["sheets"], start=1)
    ]
    return cutting, {"sheets": sheets, **shop_to_dict(cutting)}


@CASES
@given(trips())
def test_every_cut_is_the_plans_own_and_every_piece_fits(
    trip: tuple[Cutting, dict[str, Any]],
) -> None:
    _, plan = trip

    assert [find_trip_faults(plan, shop) for shop in plan["shop"]] == [[]] * 3


@CASES
@given(trips())
def test_no_shorter_list_makes_the_pieces_fit(trip: tuple[Cutting, dict[str, Any]]) -> None:
    _, plan = trip

    for shop in plan["shop"]:
        fewest = [count_fewest_cuts(one, shop["taker_mm"], KEEP_MM) for one in plan["sheets"]]
        assert len(shop["cuts"]) == sum(fewest)


@CASES
@given(trips())
def test_a_layout_that_holds_with_a_kerf_holds_with_every_smaller_one(
    trip: tuple[Cutting, dict[str, Any]],
) -> None:
    saws = trip[0].other_saws
    holds = [saw.holds for saw in saws]

    assert holds == sorted(holds, reverse=True)
    assert all(saw.holds for saw in saws if saw.kerf_mm <= trip[0].layouts[0].kerf_mm)
    assert [saw.cutting is None for saw in saws] == holds
