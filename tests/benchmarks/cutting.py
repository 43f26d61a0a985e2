"""``python -m tests.benchmarks.cutting``: how often sheets are proved least, and how time grows.

Made-up jobs like furniture, on sheets of 2440 x 1220 mm at normal effort, seconds of this process
on one core. First a hundred jobs of a few to some sixty pieces: how many of them are laid on as
few sheets as a bound says can do. Then jobs of 10, 20, 40, 80 and 160 pieces, a few of each: the
mean of their seconds, and how much that is beside the row before. The layouts are read back and
checked by `tests.sawing`, which shares no code with the search.
"""

import random
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.cutting import plan_cutting
from generator.model.edition import Grain
from tests.plain_parts import Line, make_parts, make_saw, make_stock
from tests.sawing import find_faults, read_sawing

JOBS = 100
PIECES = (10, 20, 40, 80, 160)
OF_EACH = 4
GRAINS: tuple[Grain, ...] = ("along", "either")
STOCK = make_stock([(2440.0, 1220.0)], trim_mm=6.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A job that was laid out."""

    pieces: int
    sheets: int
    bound: int
    proved_least: bool
    seconds: float


def main() -> int:
    """Print both tables."""
    print(format_proofs([lay(make_job(draw)) for draw in draws(JOBS)]), flush=True)
    print(format_growth([[lay(make_larger(many, draw)) for draw in range(OF_EACH)]
                         for many in PIECES]))  # fmt: skip
    return 0


def draws(many: int) -> Iterator[int]:
    """Yield numbers whose jobs have at least five pieces."""
    draw = 0
    while many:
        if sum(line.count for line in make_job(draw)) >= 5:
            many -= 1
            yield draw
        draw += 1


def make_job(draw: int) -> list[Line]:
    """Return the cut list of a job of 3 to 16 different parts."""
    chance = random.Random(draw)
    return [_line(number, chance) for number in range(chance.randint(3, 16))]


def make_larger(pieces: int, draw: int) -> list[Line]:
    """Return a cut list of just so many pieces."""
    chance = random.Random(1000 * pieces + draw)
    lines: list[Line] = []
    while pieces:
        line = _line(len(lines), chance, pieces)
        lines.append(line)
        pieces -= line.count
    return lines


def _line(number: int, chance: random.Random, most: int = 6) -> Line:
    one = chance.choice([round(chance.uniform(60, 1800)), round(chance.uniform(200, 900))])
    other = chance.choice([round(chance.uniform(40, 600)), round(chance.uniform(200, 600))])
    return Line(
        label=f"P{number}",
        count=min(most, chance.choice([1, 1, 2, 2, 2, 4, 6])),
        length_mm=float(max(one, other)),
        width_mm=float(min(one, other, 1150)),
        grain=chance.choice(GRAINS),
    )


def lay(lines: Sequence[Line]) -> Job:
    """Return how a job was laid out; it must be without fault."""
    parts = make_parts(lines, (STOCK,))
    start = time.process_time()
    cutting, problems = plan_cutting(parts, (STOCK,), make_saw(3.2), "metric", "normal")
    seconds = time.process_time() - start
    assert cutting is not None, problems
    faults = find_faults(read_sawing(cutting, parts))
    assert faults == [], faults
    need = cutting.needs[0]
    return Job(
        pieces=sum(line.count for line in lines),
        sheets=need.sheets,
        bound=need.bound,
        proved_least=need.proved_least,
        seconds=seconds,
    )


def format_proofs(jobs: Sequence[Job]) -> str:
    """Return how many jobs are proved least, and what the others may be off by."""
    off = [job.sheets - job.bound for job in jobs if not job.proved_least]
    seconds = [job.seconds for job in jobs]
    return (
        f"{sum(job.proved_least for job in jobs)} of {len(jobs)} jobs of "
        f"{min(job.pieces for job in jobs)} to {max(job.pieces for job in jobs)} pieces "
        f"proved least, {len(off)} off by {max(off, default=0)} at most; "
        f"{sum(job.sheets for job in jobs)} sheets; "
        f"seconds: mean {sum(seconds) / len(seconds):.2f}, most {max(seconds):.2f}"
    )


def format_growth(rows: Sequence[Sequence[Job]]) -> str:
    """Return a line for each number of pieces."""
    lines = ["pieces  jobs  sheets  bound  mean s  most s  growth"]
    before = 0.0
    for jobs in rows:
        mean = sum(job.seconds for job in jobs) / len(jobs)
        growth = f"{mean / before:8.1f}" if before else ""
        lines.append(
            f"{jobs[0].pieces:6} {len(jobs):5} {sum(job.sheets for job in jobs):7} "
            f"{sum(job.bound for job in jobs):6} {mean:7.3f} "
            f"{max(job.seconds for job in jobs):7.3f}{growth}"
        )
        before = mean
    return "\n".join(lines)


if __name__ == "__main__":
    sys.exit(main())
