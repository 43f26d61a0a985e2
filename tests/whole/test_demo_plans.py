"""The plan.json of every demo plan, read as a stranger would read it."""

import json
import math
import re
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import jsonschema
import pytest
import yaml
from ezdxf.entities.lwpolyline import LWPolyline

from tests.other_blade import find_wrong_parts
from tests.sawing import find_faults
from tests.shopping_trip import count_fewest_cuts, find_bought, find_trip_faults
from tests.simulator import work

OGRINFO = ("ogrinfo", "-q", "--config", "OGR_ARC_STEPSIZE", "0.1", "-dialect", "SQLite", "-sql")
LEAST_OUTLINES = 22
LEAST_REASON = 20
"""A reason shorter than this tells a reader nothing."""
PLAN_COUNT = 4
"""Two designs in two editions; more designs may join them."""


@pytest.fixture(scope="module")
def plans(demo_build: Path) -> dict[str, tuple[Path, dict[str, Any]]]:
    """Return folder and plan.json of every plan of the demo library."""
    found = sorted((demo_build / "docs" / "plans").glob("*/files/*/plan.json"))
    return {
        f"{path.parts[-4]} {path.parts[-2]}": (path.parent, json.loads(path.read_text("utf-8")))
        for path in found
    }


def test_every_design_has_a_plan_in_both_editions(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    slugs = []
    for path in Path("designs").glob("*/design.yml"):
        sizes = yaml.load(path.read_text("utf-8"), Loader=yaml.BaseLoader).get("sizes", {})
        slugs += [path.parent.name, *(f"{path.parent.name}-{size}" for size in sizes)]

    assert len(plans) >= PLAN_COUNT
    assert sorted(plans) == sorted(f"{d} {e}" for d in slugs for e in ("imperial", "metric"))


def test_every_layout_is_sawable_complete_and_inside_the_trimmed_sheet(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    faults = {name: find_faults(plan) for name, (_, plan) in plans.items()}

    assert {name: [] for name in plans} == faults


def test_whoever_makes_every_cut_in_its_order_has_every_part_and_lifts_nothing_heavy(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    """25 kg, and 50 mm beside a cut of a piece 150 mm long: common practice, no source."""
    for name, (_, plan) in plans.items():
        shop = work(plan)
        kg_mm2 = {
            f"sheet {sheet['number']}": sheet["mass_kg"] / math.prod(sheet["size_mm"])
            for sheet in plan["sheets"]
        }

        assert [] == shop.faults, name
        for sheet, area in shop.lifted_mm2().items():
            assert area * kg_mm2.get(sheet, 0.0) <= 25.0, name
        if not any(check["code"] == "C201" for check in plan["checks"]):
            sawn = [step for step in shop.steps if step.kind != "trim"]
            assert min(step.room_mm for step in sawn) >= 50, name
            assert min(step.longest_mm for step in sawn) >= 150, name


def test_layouts_hold_with_another_blade_exactly_if_every_part_comes_out_right(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    for name, (_, plan) in plans.items():
        kerfs = {sheet["kerf_mm"] for sheet in (*plan["sheets"], *plan["boards"])}

        assert [] == [fault for kerf in kerfs for fault in find_wrong_parts(plan, kerf)], name
        for saw in plan["other_saws"]:
            assert saw["holds"] == (not find_wrong_parts(plan, saw["kerf_mm"])), name


def test_no_order_of_the_cuts_of_a_demo_plan_needs_fewer_settings(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    for name, (_, plan) in plans.items():
        used = {step.setting for step in work(plan).steps}

        assert plan["settings_need"]["settings"] == len(used), name
        assert plan["settings_need"]["proved_least"], name


def test_the_cuts_at_the_shop_make_every_piece_fit_and_are_the_fewest(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    counts = []
    for name, (_, plan) in plans.items():
        keep = (304.8, 101.6) if plan["edition"] == "imperial" else (300.0, 100.0)
        bought = find_bought(plan)
        for shop in plan["shop"]:
            fewest = sum(count_fewest_cuts(one, shop["taker_mm"], keep) for one in bought)
            assert find_trip_faults(plan, shop) == [], name
            assert len(shop["cuts"]) == fewest, name
            counts.append(fewest)
        assert len(plan["shop"]) == (2 if bought else 0), name

    assert max(counts) > 1


def test_every_plan_keeps_to_the_published_schema(
    demo_build: Path, plans: dict[str, tuple[Path, dict[str, Any]]]
) -> None:
    schema = json.loads((demo_build / "docs/schema/plan-1.schema.json").read_text("utf-8"))
    validator = jsonschema.Draft202012Validator(schema)

    for _, plan in plans.values():
        assert [error.message for error in validator.iter_errors(plan)] == []


def test_ezdxf_measures_every_outline_as_plan_json_tells_it(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    """Reader: ezdxf; its corners and bulges, measured by the rule of `_area`."""
    measured = 0
    for path, part, unit_mm in _parts(plans):
        modelspace = ezdxf.filemanagement.readfile(path).modelspace()
        for outline in modelspace.query("LWPOLYLINE[layer=='face A outline']"):
            assert isinstance(outline, LWPolyline)
            rows = [(x * unit_mm, y * unit_mm, bulge) for x, y, bulge in outline.get_points("xyb")]
            read = _area([row[:2] for row in rows], [row[2] for row in rows])

            assert _told_area(part) == pytest.approx(read, abs=0.1), path.name
            measured += 1
    assert measured >= LEAST_OUTLINES


def test_gdal_measures_every_outline_as_plan_json_tells_it(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    """Reader: GDAL's ogrinfo, arcs in steps of a tenth of a degree."""
    measured = 0
    for path, part, unit_mm in _parts(plans):
        query = (
            "SELECT Area(ST_Polygonize(geometry)) AS area FROM entities "
            "WHERE Layer = 'face A outline' GROUP BY EntityHandle"
        )
        report = subprocess.run(
            [*OGRINFO, query, str(path)],
            capture_output=True,
            text=True,
            check=True,
        )
        for text in re.findall(r"area \(Real\) = (.*)", report.stdout):
            measured_mm2 = float(text) * unit_mm**2

            assert _told_area(part) == pytest.approx(measured_mm2, abs=0.1), path.name
            measured += 1
    assert measured >= LEAST_OUTLINES


def test_every_screw_is_driven_in_one_step_and_every_piece_goes_on_once(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    for _, plan in plans.values():
        driven = [screw for step in plan["steps"] for screw in step["fasteners"]]
        fitted = [piece for step in plan["steps"] for piece in step["parts"]]
        placed = [one["name"] for part in plan["parts"] for one in part["placed"]]

        assert sorted(screw["id"] for screw in plan["fasteners"]) == sorted(driven)
        assert sorted(placed) == sorted(fitted)


def test_no_screw_is_seen_that_the_plan_does_not_tell_of_with_a_reason(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    for name, (_, plan) in plans.items():
        shown = {screw["joint"] for screw in plan["fasteners"] if not screw["hidden"]}
        told = [check for check in plan["checks"] if check["code"] == "C301"]

        assert all(len(check["accepted"]) >= LEAST_REASON for check in told), name
        for joint in shown:
            assert any(f"`{joint}`" in check["what"] for check in told), (name, joint)


def _parts(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> Iterator[tuple[Path, dict[str, Any], float]]:
    """Yield for every part its DXF file, what plan.json says of it, and mm of the file's unit."""
    for folder, plan in plans.values():
        for part in plan["parts"]:
            (path,) = folder.glob(f"parts/{part['label']}-*.dxf")
            yield path, part, 25.4 if plan["edition"] == "imperial" else 1.0


def _told_area(part: dict[str, Any]) -> float:
    return _area(part["outline_mm"], part["bulges"])


def _area(points: Sequence[Sequence[float]], bulges: Sequence[float]) -> float:
    """Return the area inside an outline: corners by the shoelace rule, then each arc.

    An arc of bulge b over a chord c has the angle 4 atan b and the radius c (1 + b²) / (4 b); the
    piece between both has the area r² (angle - sin angle) / 2.
    """
    ends = [*points[1:], points[0]]
    area = 0.0
    for (x0, y0), (x1, y1), bulge in zip(points, ends, bulges, strict=True):
        area += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.dist((x0, y0), (x1, y1)) * (1 + bulge**2) / (4 * bulge)
            area += radius**2 * (angle - math.sin(angle)) / 2
    return area


def test_the_picture_in_the_readme_is_the_one_the_build_makes(demo_build: Path) -> None:
    """After a change that is wanted: copy the drawing over the old one."""
    drawn = demo_build / "docs/plans/seed-tray-stand/drawings/imperial/exploded.svg"

    assert drawn.read_bytes() == Path("designs/seed-tray-stand/exploded.svg").read_bytes()


def test_every_demo_plan_says_what_its_wood_costs_and_that_no_choice_is_cheaper(
    plans: dict[str, tuple[Path, dict[str, Any]]],
) -> None:
    """Prices of sheets and boards add up to the sum, and what is owned is not paid for."""
    for name, (_, plan) in plans.items():
        cost = plan["figures"]["cost"]
        wood = [*plan["sheets"], *plan["boards"]]
        prices = [one["price"] or 0.0 for one in wood]
        listed = [one["price"] for one in plan["shopping"] if one["price"] is not None]
        assert cost["amount"] == pytest.approx(sum(prices)), name
        assert cost["amount"] == pytest.approx(sum(listed)), name
        assert cost["proved_least"], name
        assert all(one["price"] == 0 for one in wood if one["owned"])
    assert any(one["owned"] for _, plan in plans.values() for one in plan["sheets"])
