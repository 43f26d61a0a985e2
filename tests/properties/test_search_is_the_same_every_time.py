"""The search finds the same layouts in every process, whatever order Python hashes things in."""

import os
import subprocess
import sys

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


def test_layouts_are_equal_for_every_hash_seed() -> None:
    first, second = (
        subprocess.run(
            [sys.executable, "-c", PROGRAM],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "4711")
    )

    assert first.startswith("[Split(")
    assert first == second
