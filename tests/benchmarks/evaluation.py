"""``python -m tests.benchmarks.evaluation``: how long a plan takes to compute, and how that grows.

One design in one edition, from its text to the last check, without drawings; the best of three
runs, in seconds of this process, which works on one core. The aim is less than a second for 60
parts. Each row has the time beside the row before: 2.0 is growth in step with the parts, 4.0
growth with their square.
"""

import sys
import time
from dataclasses import dataclass

from generator.build import build_plan
from generator.design.read import parse_design
from generator.model.plan import Plan
from generator.problems import ProblemLog
from generator.units import SYSTEMS, System
from tests.benchmarks.cabinets import write_cabinets
from tests.little_designs import say, shared_catalogue

CABINETS = (1, 2, 4, 8)
RUNS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """How long one design took in one edition, in seconds, and the plan it became."""

    plan: Plan
    read_s: float
    plan_s: float

    @property
    def total_s(self) -> float:
        """From the text to the last check."""
        return self.read_s + self.plan_s


def main() -> int:
    """Print the table for both editions."""
    for system in SYSTEMS:
        print(format_table(system, [time_cabinets(count, system) for count in CABINETS]))
    return 0


def time_cabinets(cabinets: int, system: System, runs: int = RUNS) -> Timing:
    """Return the best timing of a number of cabinets; they must become a plan without problems."""
    text = write_cabinets(cabinets)
    timings = [_time_once(text, system) for _ in range(runs)]
    return min(timings, key=lambda timing: timing.total_s)


def format_table(system: System, timings: list[Timing]) -> str:
    """Return the timings as a table with a line for each."""
    head = f"{system} edition: parts pieces screws sheets | read s  plan s  total s  growth"
    rows = [head]
    before: Timing | None = None
    for timing in timings:
        plan = timing.plan
        growth = "" if before is None else f"{timing.total_s / before.total_s:8.1f}"
        rows.append(
            f"{len(plan.parts.parts):{len(system) + 15}} {len(plan.parts.pieces()):6} "
            f"{len(plan.joinery.fasteners):6} {len(plan.cutting.layouts):6} | "
            f"{timing.read_s:6.3f} {timing.plan_s:7.3f} {timing.total_s:8.3f}{growth}"
        )
        before = timing
    return "\n".join(rows)


def _time_once(text: str, system: System) -> Timing:
    log = ProblemLog()
    catalogue = shared_catalogue()
    start = time.process_time()
    design = parse_design(text, "cabinets.yml", "cabinets", log)
    read = time.process_time()
    assert design is not None, say(log.problems)
    plan, problems = build_plan(design, catalogue, system, routed=False)
    end = time.process_time()
    assert plan is not None, say(problems)
    return Timing(plan=plan, read_s=read - start, plan_s=end - read)


if __name__ == "__main__":
    sys.exit(main())
