"""The saw with another blade must itself find what comes out wrong."""

from typing import Any

import pytest

from tests.other_blade import find_wrong_parts


def _placement(label: str, length: float, width: float, *, turned: bool = False) -> dict[str, Any]:
    return {"label": label, "length_mm": length, "width_mm": width, "turned": turned}


def _cut(order: int, kind: str, setting: float, of: str, frees: str) -> dict[str, Any]:
    line = {"from": [0.0, 50.0], "to": [500.0, 50.0]}
    if kind == "crosscut":
        line = {"from": [50.0, 0.0], "to": [50.0, 500.0]}
    return {"order": order, "kind": kind, "setting_mm": setting, "of": of, "frees": frees, **line}


def _plan(rest: str = "") -> dict[str, Any]:
    """Return a sheet of 204 by 100 that is trimmed by 4, ripped, and crosscut at 96."""
    cuts = [
        _cut(1, "trim", 4.0, "sheet 1", "factory edge") | {"from": [2.0, 0.0], "to": [2.0, 100.0]},
        _cut(2, "rip", 60.0, "sheet 1", "strip 1.1"),
        _cut(3, "crosscut", 96.0, "strip 1.1", "A" + rest),
    ]
    placements = [_placement("A", 96.0, 60.0), _placement("B", 60.0, 101.0, turned=True)]
    return {"sheets": [{"size_mm": [204.0, 100.0], "cuts": cuts, "placements": placements}]}


@pytest.mark.parametrize("kerf_mm", [1.6, 3.0, 4.0])
def test_what_is_measured_has_its_size_whatever_the_blade(kerf_mm: float) -> None:
    assert [] == find_wrong_parts(_plan(), kerf_mm)


def test_a_blade_wider_than_the_trim_takes_more_of_the_sheet() -> None:
    (fault,) = find_wrong_parts(_plan(", leaving B"), 5.0)

    assert fault == "cut 3: B comes out 98.00 by 60.00"


def test_what_is_left_has_its_size_with_one_blade_alone() -> None:
    plan = _plan(", leaving B")

    assert [] == find_wrong_parts(plan, 3.0)
    assert ["cut 3: B comes out 101.60 by 60.00"] == find_wrong_parts(plan, 2.4)


def test_a_piece_that_has_become_too_small_is_told() -> None:
    plan = _plan()
    plan["sheets"][0]["cuts"].append(_cut(4, "crosscut", 101.5, "strip 1.1", "piece 1.2"))

    assert [] == find_wrong_parts(plan, 2.5)
    assert ["cut 4: strip 1.1 is too small for piece 1.2"] == find_wrong_parts(plan, 2.7)
