"""Cuts at the shop for sheets whose answer can be worked out in the head."""

import copy
from collections.abc import Sequence
from typing import Any

import pytest

from generator.cutting import plan_cutting, shop_cuts
from generator.cutting.shop_lists import USUAL_CARS
from generator.model.cutting import Cutting
from generator.model.workshop import Car
from generator.outputs.shop_json import shop_to_dict
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_stock
from tests.sawing import read_sawing
from tests.shopping_trip import count_fewest_cuts, find_trip_faults

SHEET = [(2440.0, 1220.0)]
HALF = Line(label="A", count=2, length_mm=1212.5, width_mm=1208)


def _cut(lines: Sequence[Line], car: tuple[float, float], trim_mm: float = 6.0) -> Cutting:
    stock = make_stock(SHEET, trim_mm=trim_mm)
    parts = make_parts(lines, [stock])
    own = Car(name="the maker's car", length_mm=car[0], width_mm=car[1])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(3.0), "metric", car=own)
    assert problems == ()
    assert cutting is not None
    return cutting


def _as_told(cutting: Cutting) -> dict[str, Any]:
    sheets = read_sawing(cutting)["sheets"]
    numbered = [{**sheet, "number": number} for number, sheet in enumerate(sheets, start=1)]
    return {"sheets": numbered, **shop_to_dict(cutting)}


@pytest.mark.parametrize(("spare_mm", "left"), [(3.0, 0), (3.5, 1)])
def test_what_the_blade_turns_to_dust_is_no_piece(spare_mm: float, left: int) -> None:
    """A part 3 mm shorter than the sheet, and a blade of 3 mm: nothing lies beside the cut."""
    part = Line(label="A", count=1, length_mm=2440 - spare_mm, width_mm=600)
    cutting = _cut([part], (2438, 600), trim_mm=0.0)
    own = cutting.shop_lists[0]

    assert find_trip_faults(_as_told(cutting), _as_told(cutting)["shop"][0]) == []
    beside = next(cut for cut in own.cuts if cut.kind == "crosscut")
    assert len(beside.gives) == 1 + left


def test_a_sheet_that_fits_is_not_cut() -> None:
    own = _cut([HALF], (2440, 1220)).shop_lists[0]

    assert own.cuts == ()
    assert [(one.name, one.fits) for one in own.pieces] == [("sheet 1", True)]


def test_a_sheet_a_tenth_of_a_millimetre_too_long_is_cut_where_the_plan_cuts_it() -> None:
    """The first half is 1212.5 mm and a trim of 6 mm; the saw takes 3 mm; the rest is as long."""
    cutting = _cut([HALF], (2439.9, 1220))
    own = cutting.shop_lists[0]
    (cut,) = own.cuts
    (line,) = [one for one in cutting.layouts[0].cuts if one.order == cut.replaces]

    assert (cut.kind, cut.size_mm, cut.of, cut.gives) == (
        "crosscut",
        1218.5,
        "sheet 1",
        ("1a", "1b"),
    )
    assert (cut.start, cut.end) == ((1220.0, 0.0), (1220.0, 1220.0))
    assert line.start[0] == pytest.approx(1220.0)
    assert [(one.name, one.length_mm, one.width_mm) for one in own.pieces] == [
        ("1a", 1218.5, 1220.0),
        ("1b", 1218.5, 1220.0),
    ]


def test_the_usual_cars_follow_the_makers_own() -> None:
    names = [shop.car.name for shop in _cut([HALF], (2440, 1220)).shop_lists]

    assert names == ["the maker's car", *(car.name for car in USUAL_CARS["metric"])]


def test_a_part_too_large_for_the_car_is_named_and_the_list_is_for_what_takes_it() -> None:
    lines = [
        Line(label="A", count=1, length_mm=2000, width_mm=600),
        Line(label="B", count=1, length_mm=900, width_mm=500),
    ]
    own = _cut(lines, (1250, 800)).shop_lists[0]

    assert own.too_large == ("A",)
    assert (own.taker.length_mm, own.taker.width_mm) == (2006.0, 800.0)
    assert all(piece.fits for piece in own.pieces if piece.labels)


def test_a_part_with_its_trim_just_as_large_as_the_car_is_not_too_large() -> None:
    lines = [Line(label="A", count=1, length_mm=2000, width_mm=600)]

    assert _cut(lines, (2006, 800)).shop_lists[0].too_large == ()
    assert _cut(lines, (2005.9, 800)).shop_lists[0].too_large == ("A",)


def test_an_offcut_worth_keeping_is_cut_into_equal_pieces_that_fit() -> None:
    own = _cut(
        [Line(label="A", count=1, length_mm=1200, width_mm=500, grain="either")], (1250, 800)
    )
    pieces = own.shop_lists[0].pieces

    assert all(piece.fits for piece in pieces if piece.is_kept)
    assert [cut.replaces for cut in own.shop_lists[0].cuts].count(0) >= 1


def test_boards_are_not_cut_at_the_shop() -> None:
    board = make_board([2400.0])
    parts = make_parts(
        [Line(label="A", count=1, length_mm=900, width_mm=90, stock="board")], [board]
    )
    cutting, _ = plan_cutting(parts, (board,), make_saw(3.0), "metric")

    assert cutting is not None
    assert cutting.shop_lists == ()


def test_five_hundred_small_parts_are_looked_at_in_bounded_work(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Runs are tried only while they fit the car: less than twenty for each piece there is."""
    calls = 0
    fits = shop_cuts.Room.fits

    def counted(room: shop_cuts.Room, box: Any) -> bool:
        nonlocal calls
        calls += 1
        return fits(room, box)

    monkeypatch.setattr(shop_cuts.Room, "fits", counted)
    _cut([Line(label="A", count=500, length_mm=90, width_mm=45)], (1250, 800))

    assert 0 < calls < 20 * 500 * 3


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"size_mm": 1217.0}, "not at its size"),
        ({"from": [1100.0, 0.0], "to": [1100.0, 1220.0]}, "goes through A"),
        ({"from": [1220.0, 6.0], "to": [1220.0, 1220.0]}, "from edge to edge"),
        ({"replaces": None}, "no cut of the plan"),
    ],
)
def test_the_checker_finds_what_is_wrong_with_a_cut(change: dict[str, Any], fault: str) -> None:
    plan = _as_told(_cut([HALF], (2439.9, 1220)))
    shop = copy.deepcopy(plan["shop"][0])
    assert find_trip_faults(plan, shop) == []

    shop["cuts"][0].update(change)

    assert any(fault in one for one in find_trip_faults(plan, shop))


def test_the_checker_counts_what_must_be_cut_and_finds_pieces_that_do_not_fit() -> None:
    plan = _as_told(_cut([HALF], (2439.9, 1220)))
    bare = {**plan["shop"][0], "cuts": []}

    assert count_fewest_cuts(plan["sheets"][0], (2440, 1220), (300, 100)) == 0
    assert count_fewest_cuts(plan["sheets"][0], (2439.9, 1220), (300, 100)) == 1
    assert any("do not fit" in fault for fault in find_trip_faults(plan, bare))
