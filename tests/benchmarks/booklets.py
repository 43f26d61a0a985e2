"""``python -m tests.benchmarks.booklets``: how long it takes to set the booklet of every demo plan.

Drawings are there before, as they are for the pages. Seconds of this process, on all its threads;
each booklet is set once, after the first plan was set twice: that reads the typefaces. The aim is
less than half a second. Memory is the most this process ever held: it grows for some twenty
booklets and then stays.
"""

import resource
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from generator.catalogue.read import read_catalogue
from generator.library import Request, compute_one
from generator.outputs.booklet.booklet import booklet_pdf
from generator.outputs.full_size.templates import templates_pdf
from generator.outputs.plan_files import draw_pictures
from generator.problems import ProblemLog
from generator.targets import find_targets
from generator.units import SYSTEMS, System

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How long one plan took: its booklet, its templates, in seconds; and how large they are."""

    name: str
    booklet_s: float
    templates_s: float
    booklet_kb: int
    templates_kb: int


def main() -> int:
    """Print a row for every plan."""
    print("plan                              booklet s  templates s  booklet KB  templates KB")
    slowest = 0.0
    targets = find_targets(ROOT / "designs")
    time_plan(targets[0].design, targets[0].size, "imperial")
    for target in targets:
        for system in SYSTEMS:
            row = time_plan(target.design, target.size, system)
            slowest = max(slowest, row.booklet_s)
            print(format_row(row), flush=True)
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"slowest booklet {slowest:.2f} s, most memory {most} MB")
    return 0


def time_plan(design: str, size: str, system: System) -> Setting:
    """Return the times of one plan of the demo library."""
    request = Request(
        designs=ROOT / "designs",
        shared=ROOT / "shared",
        output=ROOT / "build",
        only=(),
        systems=(system,),
        settings={},
        effort="quick",
        jobs=1,
        site=False,
    )
    goods = read_catalogue(request.shared, ProblemLog())
    assert goods is not None
    plan, problems = compute_one(request, design, size, system, goods)
    assert plan is not None, problems
    artifacts, scenes = draw_pictures(plan)
    started = time.process_time()
    booklet = booklet_pdf(plan, artifacts, scenes)
    between = time.process_time()
    templates = templates_pdf(plan) or b""
    return Setting(
        name=f"{design} {size} {system}".replace("  ", " "),
        booklet_s=between - started,
        templates_s=time.process_time() - between,
        booklet_kb=len(booklet) // 1000,
        templates_kb=len(templates) // 1000,
    )


def format_row(row: Setting) -> str:
    """Return one line of the table."""
    times = f"{row.booklet_s:9.2f}  {row.templates_s:11.2f}"
    return f"{row.name:34}{times}  {row.booklet_kb:10}  {row.templates_kb:12}"


if __name__ == "__main__":
    sys.exit(main())
