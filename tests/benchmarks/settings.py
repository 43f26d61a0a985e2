"""``python -m tests.benchmarks.settings``: how often a fence is set, before and after minimising.

For every plan of the demo library: the settings if each sheet is sawn by itself, strip after strip
(before); in the quick order, the best-looking setting next (quick); in the plan (after); and the
number that no order of the same cuts can do with less than (bound). Trims of factory edges are
counted everywhere. Below, the same for made-up sheets of few sizes, cut at random, which are hard.
"""

import random
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.build import build_plan
from generator.cutting.order import Task, find_order, find_tasks, order_tasks
from generator.cutting.trees import Axis, Box, Leaf, Node, Split, ticks
from generator.design.overrides import choose_size
from generator.design.read import read_design
from generator.model.cutting import Cutting
from generator.targets import DESIGN_FILE, find_targets
from generator.units import SYSTEMS
from tests.little_designs import ROOT, shared_catalogue
from tests.sawing import read_sawing
from tests.simulator import Step, work

DESIGNS = ROOT / "designs"
KERF = ticks(3.2)
HARD_SHEETS = (1, 2, 4, 8, 16)


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """The settings of one plan."""

    name: str
    cuts: int
    before: int
    quick: int
    after: int
    bound: int


def main() -> int:
    """Print the table."""
    print(format_table([*count_demo_plans(), *(count_hard(sheets) for sheets in HARD_SHEETS)]))
    return 0


def count_demo_plans() -> Iterator[Count]:
    """Yield the settings of every plan of the demo library."""
    for target in find_targets(DESIGNS):
        path = DESIGNS / target.design / DESIGN_FILE
        for system in SYSTEMS:
            design, problems = read_design(path, str(path))
            assert design is not None, problems
            plan, problems = build_plan(
                choose_size(design, target.size), shared_catalogue(), system
            )
            assert plan is not None, problems
            yield count_settings(f"{target.slug} {system}", plan.cutting)


def count_settings(name: str, cutting: Cutting) -> Count:
    """Return the settings of a plan, read back from its cuts."""
    steps = work(read_sawing(cutting)).steps
    trims = len({step.setting for step in steps if step.kind == "trim"})
    trimmed = len({step.sheet for step in steps if step.kind == "trim"})
    quick = 0
    for word in ("sheet", "board"):
        sawn = [s for s in steps if s.kind != "trim" and s.sheet.startswith(word)]
        quick += len(order_tasks([_read_task(step, sawn) for step in sawn]))
    return Count(
        name=name,
        cuts=len(steps),
        before=trimmed + _count_by_sheet([step for step in steps if step.kind != "trim"]),
        quick=trims + quick,
        after=cutting.settings_need.settings,
        bound=cutting.settings_need.bound,
    )


def count_hard(sheets: int) -> Count:
    """Return the settings of made-up sheets, cut three times over at random into few sizes."""
    dice = random.Random(sheets)
    whole = Box(0, 0, ticks(2440), ticks(1220))
    tasks = find_tasks([_draw_tree(dice, whole, 3) for _ in range(sheets)], KERF)
    names = [(task.sheet, task.kind, task.value_mm) for task in tasks]
    found = find_order(tasks)
    return Count(
        name=f"{sheets} hard sheets",
        cuts=len(tasks),
        before=_count_changes(names),
        quick=len(order_tasks(tasks)),
        after=len(found.runs),
        bound=found.bound,
    )


def format_table(counts: Sequence[Count]) -> str:
    """Return the counts as a table with a line for each and their sums."""
    rows = [f"{'plan':34} cuts  before  quick  after  bound"]
    for one in counts:
        known = "least" if one.after == one.bound else "not proved"
        rows.append(
            f"{one.name:34} {one.cuts:4} {one.before:7} {one.quick:6} {one.after:6} "
            f"{one.bound:6}  {known}"
        )
    sums = [sum(getattr(one, key) for one in counts) for key in ("before", "quick", "after")]
    proved = sum(one.after == one.bound for one in counts)
    rows.append(f"{'all':34}      {sums[0]:7} {sums[1]:6} {sums[2]:6}")
    rows.append(f"{proved} of {len(counts)} proved least")
    return "\n".join(rows)


def _count_by_sheet(steps: Sequence[Step]) -> int:
    """Return the settings if every sheet is sawn by itself, each strip as soon as it is off."""
    names: list[tuple[object, ...]] = []
    waiting = [step for step in reversed(steps) if not step.after]
    while waiting:
        step = waiting.pop()
        names.append((step.sheet, step.kind, step.value_mm))
        later = [one for one in steps if one.after == step.order]
        rest = [one for one in later if _is_in(one, step.left)]
        waiting += [*rest, *(one for one in later if one not in rest)]
    return _count_changes(names)


def _is_in(step: Step, piece: Sequence[float]) -> bool:
    """Whether a cut is made in a piece, which it is if a corner of what it cuts lies there."""
    return (
        piece[0] - 0.01 <= step.piece[0] < piece[2] and piece[1] - 0.01 <= step.piece[1] < piece[3]
    )


def _count_changes(names: Sequence[tuple[object, ...]]) -> int:
    return min(1, len(names)) + sum(one != other for one, other in pairwise(names))


def _read_task(step: Step, steps: Sequence[Step]) -> Task:
    places = [one.order for one in steps]
    x0, y0, x1, y1 = (ticks(value) for value in step.piece)
    box = Box(x0, y0, x1 - x0 + KERF, y1 - y0 + KERF)
    return Task(
        sheet=int(step.sheet.split()[1]),
        kind="rip" if step.kind == "rip" else "crosscut",
        value_mm=step.value_mm,
        after=places.index(step.after) if step.after else -1,
        piece=box,
        axis="y" if step.kind == "rip" else "x",
        extent=ticks(step.value_mm) + KERF,
        of=-1,
        frees=Leaf(box, None),
        leaves=None,
    )


def _draw_tree(dice: random.Random, box: Box, depth: int) -> Node:
    axis: Axis = dice.choice(("x", "y"))
    room, start = box.extent(axis), 0
    children: list[Node] = []
    while depth and (size := ticks(80 * dice.randint(1, 6))) < room - start:
        children.append(_draw_tree(dice, box.slice(axis, start, size), depth - 1))
        start += size
    if not children:
        return Leaf(box, 0)
    return Split(box, axis, (*children, Leaf(box.slice(axis, start, room - start), None)))


if __name__ == "__main__":
    sys.exit(main())
