"""Every demo plan, put together from its printed sizes by code of its own, closes everywhere.

The tolerance is the one the check of closing sizes states; here it is held to each equation of
`tests/closing.py`, which knows neither that check nor how sizes are rounded.
"""

import json
from pathlib import Path

import pytest

from generator.geometry.tolerance import CLOSES_MM
from generator.outputs.plan_json import plan_to_dict
from generator.units import System
from tests.closing import Remainder, find_remainders, read_printed_mm
from tests.little_designs import plan_of

LEAST_EQUATIONS = 5
ROW = """
accept: [{code: C501, reason: to see what is told}]
parts:
  board:
    from: panel
    length: 12 * (WIDTH)
    width: 300 mm
    runs: {length: right, width: up}
  stave:
    from: panel
    each: number in 1..12
    corner: [(number - 1) * (WIDTH), -panel, 0 mm]
    length: 300 mm
    width: WIDTH
    runs: {length: up, width: right}
joints: [{join: stave to board, with: glue}]
steps: [{title: All, fit: "board, stave"}]
"""


def test_the_sizes_of_every_demo_plan_close_as_printed(demo_build: Path) -> None:
    plans = sorted((demo_build / "docs" / "plans").glob("*/files/*/plan.json"))

    assert len(plans) >= 16
    for path in plans:
        plan = json.loads(path.read_text("utf-8"))
        found = find_remainders(plan)
        told = " ".join(check["what"] for check in plan["checks"] if check["code"] == "C501")

        assert len(found) >= LEAST_EQUATIONS, path
        assert [one for one in found if one.mm > CLOSES_MM and not _is_told(one, told)] == [], path


@pytest.mark.parametrize(
    ("system", "width", "expected_mm"),
    [
        # Twelve staves of 83 mm are 996 mm; the board of 997.08 mm is printed as 997.
        ("metric", "83.09 mm", 1.0),
        # 3 19/32 in full is read as 3.6015625 in: 43.21875 in; the board is printed as 43 1/4 in.
        ("imperial", "3.604 in", 0.03125 * 25.4),
        ("metric", "83 mm", 0.0),
        ("imperial", "3 1/2 in", 0.0),
    ],
)
def test_staves_that_do_not_close_are_found_and_by_how_much(
    system: System, width: str, expected_mm: float
) -> None:
    text = ROW.replace("WIDTH", width)
    text = text if expected_mm else text.replace(text.splitlines()[1] + "\n", "")
    worst = max(one.mm for one in find_remainders(plan_to_dict(plan_of(text, system))))

    assert expected_mm == pytest.approx(worst, abs=0.02)


@pytest.mark.parametrize(
    ("text", "edition", "expected_mm"),
    [
        ("565", "metric", 565.0),
        ("348.5", "metric", 348.5),
        ("22 9/16", "imperial", 22.5625 * 25.4),
        ("13 23/32 full", "imperial", (13.71875 + 1 / 128) * 25.4),
        ("3/4 bare", "imperial", (0.75 - 1 / 128) * 25.4),
        ("36", "imperial", 36 * 25.4),
        ("36 full", "imperial", (36 + 1 / 128) * 25.4),
    ],
)
def test_printed_sizes_are_read_as_a_tape_is_read(
    text: str, edition: str, expected_mm: float
) -> None:
    assert expected_mm == pytest.approx(read_printed_mm(text, edition), abs=1e-9)


def _is_told(remainder: Remainder, told: str) -> bool:
    return any(
        f"`{side.rpartition(' of ')[2]}`" in told for side in (remainder.first, remainder.second)
    )
