"""The files of cuts at the shop, of offcuts, and of layouts for another saw."""

import csv
import io

import pytest

from generator.model.cutting import OtherSaw
from generator.outputs.plan_files import compute_plan_files
from generator.outputs.shop_tables import offcuts_csv, shop_cuts_csv
from tests.sample_shop import SMALL, make_list, shop_plan
from tests.samples import sample_plan


def _rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


def test_every_cut_at_the_shop_is_a_row() -> None:
    (row,) = _rows(shop_cuts_csv(shop_plan(make_list(SMALL, 1))))

    assert (row["car"], row["order"], row["sheet"], row["cut from"]) == (
        *("a small car", "1", "1", "sheet 1"),
    )
    assert (row["kind"], row["size"], row["unit"], row["gives"], row["plan cut"]) == (
        *("crosscut", "1219", "mm", "1a, leaving 1b", "5"),
    )


def test_every_offcut_worth_keeping_is_a_row() -> None:
    plan = sample_plan("metric")
    rows = _rows(offcuts_csv(plan))
    (layout,) = plan.cutting.layouts

    assert {(row["sheet"], row["board"], row["stock"]) for row in rows} == {
        ("1", "", layout.stock.title)
    }
    assert [(float(row["length_mm"]), float(row["width_mm"])) for row in rows] == [
        pytest.approx((offcut.length_mm, offcut.width_mm), abs=0.001) for offcut in layout.offcuts
    ]


def test_layouts_for_another_saw_are_files_only_where_the_plans_own_do_not_hold() -> None:
    own = sample_plan("metric").cutting
    saws = (
        OtherSaw(kerf_mm=2.4, holds=True),
        OtherSaw(kerf_mm=3.2, holds=False, cutting=own),
        OtherSaw(kerf_mm=4.0, holds=False),
    )
    _, files = compute_plan_files(shop_plan(saws=saws))
    names = sorted(path for path in files if "kerf" in path)

    assert names == [
        "files/metric/kerf-3-2-mm/cut-order.csv",
        "files/metric/kerf-3-2-mm/sheet-1.svg",
    ]
