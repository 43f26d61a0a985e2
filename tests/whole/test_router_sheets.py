"""The router sheets of every demo plan, read from plan.json and its DXF files by others."""

import itertools
import json
from collections import Counter
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import pytest
from ezdxf.path import make_path
from shapely.geometry import Polygon

FLAT = 0.001
"""How far chords may leave arcs here, in inches or millimetres."""


@pytest.fixture(scope="module")
def plans(demo_build: Path) -> dict[str, tuple[Path, dict[str, Any]]]:
    """Return folder and plan.json of every plan of the demo library."""
    found = sorted((demo_build / "docs" / "plans").glob("*/files/*/plan.json"))
    return {
        f"{path.parts[-4]} {path.parts[-2]}": (path.parent, json.loads(path.read_text("utf-8")))
        for path in found
    }


def test_every_part_from_a_sheet_is_routed_once_and_the_others_are_named(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    for name, (_, plan) in plans.items():
        from_sheets = {one["label"] for sheet in plan["sheets"] for one in sheet["placements"]}
        expected = Counter(
            (part["label"], copy)
            for part in plan["parts"]
            if part["label"] in from_sheets
            for copy in range(1, part["count"] + 1)
        )
        placed = [one for sheet in plan["router"] for one in sheet["placements"]]
        left = [part["label"] for part in plan["parts"] if part["label"] not in from_sheets]

        assert expected == Counter((one["label"], one["copy"]) for one in placed), name
        assert left == plan["not_routed"], name


def test_no_plan_needs_more_sheets_for_a_router_than_for_a_saw(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    more = [name for name, (_, plan) in plans.items() if len(plan["router"]) > len(plan["sheets"])]

    assert [] == more


def test_parts_with_grain_lie_along_the_sheet(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    for name, (_, plan) in plans.items():
        grain = {part["label"]: part["grain"] for part in plan["parts"]}
        with_grain = {sheet["stock"] for sheet in plan["sheets"] if sheet["has_grain"]}
        for sheet in plan["router"]:
            for one in sheet["placements"]:
                if grain[one["label"]] == "along" and sheet["stock"] in with_grain:
                    assert one["turn_deg"] in {0, 180}, name


def test_outlines_in_the_files_are_a_bit_apart_and_inside_the_border(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    measured = 0
    for name, (folder, plan) in plans.items():
        unit_mm = 25.4 if plan["edition"] == "imperial" else 1.0
        for sheet in plan["router"]:
            modelspace = ezdxf.filemanagement.readfile(
                folder / "router" / f"{sheet['number']}.dxf"
            ).modelspace()
            placed, border = (
                [
                    Polygon([(point.x, point.y) for point in make_path(one).flattening(FLAT)])
                    for one in modelspace.query(f"LWPOLYLINE[layer=='{layer}']")
                ]
                for layer in ("outlines outside", "border")
            )
            bit = sheet["bit_mm"] / unit_mm

            assert len(sheet["placements"]) == len(placed)
            assert all(border[0].buffer(1e-6).contains(one) for one in placed), name
            for one, other in itertools.combinations(placed, 2):
                assert bit <= one.distance(other), name
                measured += 1
    assert measured > len(plans)
