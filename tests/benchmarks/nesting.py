"""``python -m tests.benchmarks.nesting``: sheets needed, beside rectpack and published totals.

One line for each class and number of pieces, a total below. Seconds are of this process, on one
core, and all of an instance: bound, search and cut trees. Every layout is checked by code that
shares nothing with the search; a fault ends the run. ``--log`` keeps a line for every instance
done, and a run that finds one there does not do it again.
"""

import argparse
import json
import sys
import time
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from generator.cutting.bounds import find_bound
from generator.cutting.nesting import find_nest
from generator.cutting.trees import TICKS_PER_MM, Box, Pose, Size, leaves
from tests.benchmarks.benchmark_layouts import (
    Instance,
    Layout,
    Rect,
    find_layout_faults,
    read_classes,
    read_furniture,
    read_published,
)
from tests.benchmarks.packed_by_rectpack import count_sheets

DATA = Path("../shared/benchmarks")
CLOSING_S = 0.0006
"""For every piece, after the search: the layouts found are tidied and their settings counted."""

STEP_S = 0.04
"""A step of the search that is begun is ended."""


@dataclass(slots=True)
class Clock:
    """A budget of seconds of this process; unlike a plan's, it depends on the machine."""

    limit_s: float
    start_s: float
    nodes: int = 100_000_000
    corrections: int = 1

    def spend(self, work: int) -> None:
        """Note nothing: time runs by itself."""

    def used(self) -> float:
        """Return the part of the seconds that is over."""
        return (time.process_time() - self.start_s) / self.limit_s

    def seconds_left(self) -> float:
        """Return the seconds that are left."""
        return max(0.0, self.limit_s - (time.process_time() - self.start_s))


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One instance solved: sheets, the proved bound, rectpack's sheets (0: not asked), seconds."""

    name: str
    cell: str
    turns: bool
    sheets: int
    bound: int
    rectpack: int
    seconds: float


def main(arguments: Sequence[str] | None = None) -> int:
    """Solve what is asked for and print its tables."""
    asked = _parse(arguments)
    for turns in (False, True):
        if asked.turns not in ("both", "with" if turns else "without"):
            continue
        instances = [*read_classes(asked.data, turns), *read_furniture(asked.data, turns)]
        chosen = [one for one in instances if _is_asked(one, asked.cells)]
        results = [_solve_once(one, asked) for one in chosen]
        print(format_table(results, read_published(asked.data, turns)), flush=True)
    return 0


def solve(instance: Instance, seconds: float) -> tuple[Layout, int]:
    """Return a layout and the least number of sheets that is proved, within so many seconds.

    Few rules are tried first: with hundreds of pieces all of them take a third of the time, which
    the search makes better use of.
    """
    clock = Clock(seconds - STEP_S - CLOSING_S * instance.copies, time.process_time())
    poses, counts = _poses(instance)
    size = _size(instance)
    bound = find_bound(poses, counts, size.along_x, size.along_y)
    nest = find_nest(poses, counts, [size], bound, 0, lambda: clock, hurried=True)
    layout = [
        [_units(leaf.box) for leaf in leaves(sheet.tree) if leaf.blank is not None]
        for sheet in nest
    ]
    return layout, bound


def format_table(results: Sequence[Result], published: dict[str, dict[str, int]]) -> str:
    """Return a line for each cell and one for the total of those that are complete."""
    cells: dict[str, list[Result]] = {}
    for result in results:
        cells.setdefault(result.cell, []).append(result)
    head = (
        f"{'cell':>10} {'n':>4} {'ours':>5} {'bound':>5} {'rectpack':>8} {'seconds':>8}"
        f" {'longest':>8}"
    )
    lines = [head + "".join(f"{method:>7}" for method in published)]
    totals = [0] * len(published)
    for cell, found in cells.items():
        known = [counts.get(cell, 0) for counts in published.values()]
        totals = [total + count for total, count in zip(totals, known, strict=True)]
        lines.append(_line(cell, found, known))
    lines.append(_line("total", list(results), totals))
    return f"{'with' if results and results[0].turns else 'without'} turns\n" + "\n".join(lines)


def _line(name: str, results: Sequence[Result], known: Iterable[int]) -> str:
    sums = (
        sum(result.sheets for result in results),
        sum(result.bound for result in results),
        sum(result.rectpack for result in results),
        sum(result.seconds for result in results),
    )
    longest = max((result.seconds for result in results), default=0.0)
    published = "".join(f"{count if count else '-':>7}" for count in known)
    return (
        f"{name:>10} {len(results):4} {sums[0]:5} {sums[1]:5} {sums[2]:8} {sums[3]:8.1f}"
        f" {longest:8.2f}{published}"
    )


def _solve_once(instance: Instance, asked: argparse.Namespace) -> Result:
    done = _read_log(asked.log)
    key = (instance.name, instance.turns)
    if key in done:
        return done[key]
    start = time.process_time()
    layout, bound = solve(instance, asked.seconds)
    seconds = time.process_time() - start
    faults = find_layout_faults(instance, layout)
    if faults:
        raise SystemExit(f"{instance.name}: {'; '.join(faults)}")
    packed = 0 if asked.rectpack == "none" else count_sheets(instance, asked.rectpack == "all")
    result = Result(
        name=instance.name,
        cell=instance.cell,
        turns=instance.turns,
        sheets=len(layout),
        bound=bound,
        rectpack=packed,
        seconds=seconds,
    )
    if asked.log is not None:
        with asked.log.open("a", encoding="utf-8") as log:
            log.write(json.dumps(asdict(result)) + "\n")
    return result


def _read_log(path: Path | None) -> dict[tuple[str, bool], Result]:
    if path is None or not path.exists():
        return {}
    lines = path.read_text(encoding="utf-8").splitlines()
    results = [Result(**json.loads(line)) for line in lines]
    return {(result.name, result.turns): result for result in results}


def _poses(instance: Instance) -> tuple[list[tuple[Pose, ...]], list[int]]:
    """Return the ways of every different piece, and its copies."""
    copies: dict[tuple[int, int], int] = {}
    for along_x, along_y, many in instance.items:
        key = (along_x, along_y)
        if instance.turns and along_x < along_y:
            key = (along_y, along_x)
        copies[key] = copies.get(key, 0) + many
    size = _size(instance)
    poses = []
    for blank, (along_x, along_y) in enumerate(sorted(copies)):
        long, wide = along_x * TICKS_PER_MM, along_y * TICKS_PER_MM
        ways = [Pose(blank, long, wide, turned=False)]
        if instance.turns and along_x != along_y:
            ways.append(Pose(blank, wide, long, turned=True))
        poses.append(tuple(pose for pose in ways if size.holds(pose)))
    return poses, [copies[key] for key in sorted(copies)]


def _size(instance: Instance) -> Size:
    """Return the sheet, a unit of the data being a millimetre."""
    return Size(0, instance.along_x * TICKS_PER_MM, instance.along_y * TICKS_PER_MM)


def _units(box: Box) -> Rect:
    x, y, long, wide = (
        length / TICKS_PER_MM for length in (box.x, box.y, box.along_x, box.along_y)
    )
    return (int(x), int(y), int(long), int(wide))


def _is_asked(instance: Instance, cells: Sequence[str]) -> bool:
    return not cells or instance.cell in cells or instance.cell.split("_")[0] in cells


def _parse(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.nesting")
    parser.add_argument("--data", type=Path, default=DATA, help="folder of the data")
    parser.add_argument("--seconds", type=float, default=5.0, help="most for one instance")
    parser.add_argument(
        "--class",
        dest="cells",
        action="append",
        default=[],
        help="a class (7), a cell of it (7_80) or furniture; may be given again; all by default",
    )
    parser.add_argument("--turns", choices=("both", "with", "without"), default="both")
    parser.add_argument("--rectpack", choices=("none", "few", "all"), default="few")
    parser.add_argument("--log", type=Path, default=None, help="file of instances that are done")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    sys.exit(main())
