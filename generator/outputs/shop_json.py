"""Cuts at the shop and the reader's saw, for programs: cuts, pieces, what other kerfs change."""

from typing import Any

from generator.model.cutting import Cutting, OtherSaw, ShopList
from generator.outputs.rounding import mm
from generator.outputs.schema_rows import (
    LABEL,
    ORDER,
    SIZE,
    TEXT,
    TRUTH,
    list_of,
    record,
    tuple_of,
)

Json = dict[str, Any]


def shop_to_dict(cutting: Cutting) -> Json:
    """Return ``shop`` and ``other_saws`` as they stand in plan.json."""
    return {
        "shop": [_shop_list(one) for one in cutting.shop_lists],
        "other_saws": [_other_saw(one) for one in cutting.other_saws],
    }


def shop_schema() -> Json:
    """Return the schema of both."""
    cut = record(
        order=ORDER,
        sheet=ORDER,
        kind={"enum": ["rip", "crosscut"]},
        size_mm=SIZE,
        **{"from": tuple_of(SIZE, 2)},
        to=tuple_of(SIZE, 2),
        of=TEXT,
        gives=list_of(TEXT),
        replaces={"type": ["integer", "null"], "minimum": 1},
    )
    piece = record(
        name=TEXT,
        sheet=ORDER,
        size_mm=tuple_of(SIZE, 2),
        labels=list_of(LABEL),
        fits=TRUTH,
        is_kept=TRUTH,
    )
    shop = record(
        car=TEXT,
        car_mm=tuple_of(SIZE, 2),
        taker_mm=tuple_of(SIZE, 2),
        too_large=list_of(LABEL),
        cuts=list_of(cut),
        pieces=list_of(piece),
    )
    shop["description"] = (
        "The fewest cuts to ask for where the sheets are bought, so that every piece fits a car; "
        "sizes with factory edges. taker_mm: what the list is for, more than car_mm where the "
        "blanks of too_large ask for it. replaces: the cut of the plan that is made by it."
    )
    saw = record(
        kerf_mm=SIZE,
        holds=TRUTH,
        sheets={"type": ["integer", "null"], "minimum": 0},
        boards={"type": ["integer", "null"], "minimum": 0},
    )
    saw["description"] = (
        "What a saw with another kerf changes: nothing where the layouts hold; else how many "
        "sheets and boards it takes, null where a part does not fit any more."
    )
    return {"shop": list_of(shop), "other_saws": list_of(saw)}


def _shop_list(one: ShopList) -> Json:
    return {
        "car": one.car.name,
        "car_mm": [mm(one.car.length_mm), mm(one.car.width_mm)],
        "taker_mm": [mm(one.taker.length_mm), mm(one.taker.width_mm)],
        "too_large": list(one.too_large),
        "cuts": [
            {
                "order": cut.order,
                "sheet": cut.sheet,
                "kind": cut.kind,
                "size_mm": mm(cut.size_mm),
                "from": [mm(value) for value in cut.start],
                "to": [mm(value) for value in cut.end],
                "of": cut.of,
                "gives": list(cut.gives),
                "replaces": cut.replaces or None,
            }
            for cut in one.cuts
        ],
        "pieces": [
            {
                "name": piece.name,
                "sheet": piece.sheet,
                "size_mm": [mm(piece.length_mm), mm(piece.width_mm)],
                "labels": list(piece.labels),
                "fits": piece.fits,
                "is_kept": piece.is_kept,
            }
            for piece in one.pieces
        ],
    }


def _other_saw(saw: OtherSaw) -> Json:
    other = saw.cutting
    return {
        "kerf_mm": mm(saw.kerf_mm),
        "holds": saw.holds,
        "sheets": None if other is None else len(other.layouts),
        "boards": None if other is None else len(other.boards),
    }
