"""The search finds the same layouts in every process, whatever order Python hashes things in."""

import os
import subprocess
import sys

import pytest

PROGRAM = """
from generator.cutting.budget import CountedBudget
from generator.cutting.search import Task, find_sheets
from generator.cutting.trees import Pose, Size

sizes = [(720 + 37 * n % 400, 180 + 53 * n % 290) for n in range(14)]
ways = tuple(
    (Pose(n, a, b, turned=False), Pose(n, b, a, turned=True)) for n, (a, b) in enumerate(sizes)
)
task = Task(ways, (2,) * 14, (Size(0, 2440, 1220),), 1)
print([fill.tree() for fill in find_sheets(task, CountedBudget(total=12_000_000))[0]])
"""

PRICED = """
from generator.cutting import plan_cutting
from tests.plain_parts import Line, make_parts, make_saw, make_size, make_stock, with_sizes

lines = [
    Line(label=f"P{n}", count=2, length_mm=420 + 137 * n % 400, width_mm=180 + 53 * n % 290)
    for n in range(8)
]
sizes = [make_size(2440, 1220, 58), make_size(1220, 1220, 33, 1), make_size(1220, 610, 19)]
sizes.append(make_size(900, 500, at_most=1, is_owned=True))
stock = with_sizes(make_stock([(2440, 1220)], trim_mm=5), sizes)
cutting, _ = plan_cutting(make_parts(lines, [stock]), (stock,), make_saw(3), "metric", "quick")
print([(one.size.name, one.placements, one.cuts) for one in cutting.layouts])
"""


@pytest.mark.parametrize(("program", "begins"), [(PROGRAM, "[Split("), (PRICED, "[('")])
def test_layouts_are_equal_for_every_hash_seed(program: str, begins: str) -> None:
    first, second = (
        subprocess.run(
            [sys.executable, "-c", program],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "4711")
    )

    assert first.startswith(begins)
    assert first == second
