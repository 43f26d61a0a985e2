"""How many strips a sheet gives, against the count every saw shop works by.

n strips of width w and n - 1 kerfs k fit in a length L as long as n w + (n - 1) k <= L, so
n = floor((L + k) / (w + k)). The rows are the table "Kerf and trim" of the project's collected
check values: derived arithmetic; kerfs of 1/8 in and 3.2 mm are common practice, no source; the
sheet of 47 15/16 in is the least size PS 1 allows for a 48 in sheet.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from generator.cutting import plan_cutting
from generator.cutting.bounds import find_bound
from generator.cutting.trees import Pose
from generator.model.cutting import Layout
from generator.units import MM_PER_INCH, System
from tests.plain_parts import Line, make_parts, make_saw, make_stock
from tests.sawing import find_faults, read_sawing

INCH = float(MM_PER_INCH)
ROWS: list[tuple[System, float, float, float, int, float]] = [
    ("imperial", 48, 12, 1 / 8, 3, 11.75),
    ("imperial", 48, 12, 0, 4, 0),
    ("imperial", 48, 11 + 7 / 8, 1 / 8, 4, 1 / 8),
    ("imperial", 48, 11 + 1 / 4, 1 / 8, 4, 2 + 5 / 8),
    ("imperial", 96, 24, 1 / 8, 3, 23.75),
    ("imperial", 96, 31 + 7 / 8, 1 / 8, 3, 1 / 8),
    ("metric", 2440, 610, 3.2, 3, 603.6),
    ("metric", 2440, 600, 3.2, 4, 30.4),
    ("metric", 1220, 404, 3.2, 3, 1.6),
    ("metric", 1525, 300, 3.2, 5, 12.2),
    ("imperial", 47 + 15 / 16, 23 + 15 / 16, 1 / 8, 1, 24),
]


def _layouts(
    system: System, sheet_length: float, strip: float, kerf: float, count: int
) -> tuple[Layout, ...]:
    """Return the sheets for strips that are as long as the sheet is wide."""
    unit = INCH if system == "imperial" else 1.0
    stock = make_stock([(sheet_length * unit, 500.0)], system=system)
    lines = [Line(label="A", count=count, length_mm=strip * unit, width_mm=500.0)]
    parts = make_parts(lines, [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(kerf * unit), system)
    assert problems == ()
    assert cutting is not None
    assert find_faults(read_sawing(cutting, parts)) == []
    return cutting.layouts


@pytest.mark.parametrize(("system", "sheet", "strip", "kerf", "count", "left"), ROWS)
def test_a_sheet_gives_as_many_strips_as_the_published_count(
    system: System, sheet: float, strip: float, kerf: float, count: int, left: float
) -> None:
    exact = _layouts(system, sheet, strip, kerf, count)
    one_more = _layouts(system, sheet, strip, kerf, count + 1)

    assert len(exact) == 1
    assert len(one_more) == 2


@pytest.mark.parametrize(("system", "sheet", "strip", "kerf", "count", "left"), ROWS)
def test_strips_and_the_kerfs_between_them_leave_what_the_table_says(
    system: System, sheet: float, strip: float, kerf: float, count: int, left: float
) -> None:
    unit = INCH if system == "imperial" else 1.0
    (layout,) = _layouts(system, sheet, strip, kerf, count)

    used = max(placement.x_mm + placement.along_x_mm for placement in layout.placements)
    assert left * unit == pytest.approx(sheet * unit - used, abs=1e-3)


@pytest.mark.parametrize(("system", "sheet", "strip", "kerf", "count", "left"), ROWS)
def test_a_last_cut_is_made_only_where_something_is_left(
    system: System, sheet: float, strip: float, kerf: float, count: int, left: float
) -> None:
    (layout,) = _layouts(system, sheet, strip, kerf, count)

    assert count - (left == 0) == len(layout.cuts)


SHARED = Path(__file__).parents[2].parent / "shared" / "benchmarks" / "bwmv500.json"


@pytest.mark.skipif(not SHARED.exists(), reason="published instances are not at ../shared")
@pytest.mark.parametrize("turns", [False, True])
def test_no_bound_is_above_the_fewest_sheets_anybody_has_published(turns: bool) -> None:
    """Instances: J. O. Berkey, P. Y. Wang 1987; S. Martello, D. Vigo 1998; those of 20 blanks.

    The best known numbers are for layouts that need not come apart by cuts from edge to edge, so
    a bound for those that do may not be above them either.
    """
    every = json.loads(SHARED.read_text(encoding="utf-8"))["instances"]
    instances = [instance for instance in every if instance["n"] == 20]
    found = [_find_bound(instance, turns) for instance in instances]
    known = [instance["bk_R" if turns else "bk_O"] for instance in instances]

    assert len(found) == 100
    assert [pair for pair in zip(found, known, strict=True) if pair[0] > pair[1]] == []
    assert sum(found) > 0.95 * sum(known)


def _find_bound(instance: dict[str, Any], turns: bool) -> int:
    along_x, along_y = instance["W"], instance["H"]
    poses = []
    for index, (length, width) in enumerate(instance["items"]):
        ways = [Pose(index, length, width, turned=False)]
        if turns and length != width and length <= along_y and width <= along_x:
            ways.append(Pose(index, width, length, turned=True))
        poses.append(tuple(ways))
    return find_bound(poses, [1] * len(poses), along_x, along_y)
