"""``python -m tests.benchmarks.drawing``: how long the drawings of plans take, beside mkdocs.

All drawings of every plan of the demo library, both editions, drawn and written as SVG in this
process; then one run of mkdocs on the library's pages. CPU seconds of each; with the ratio of the
sums, because mkdocs cannot be asked for one plan alone without the time it takes to start.
"""

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.build import build_plan
from generator.design.overrides import choose_size
from generator.design.read import read_design
from generator.model.plan import Plan
from generator.outputs.plan_files import draw_pictures
from generator.outputs.svg import write_svg
from generator.targets import DESIGN_FILE, find_targets
from generator.units import SYSTEMS
from tests.little_designs import ROOT, shared_catalogue

DESIGNS = ROOT / "designs"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """The drawings of one edition of a plan: how many, the largest, and how long they took."""

    name: str
    pictures: int
    largest_bytes: int
    seconds: float


def main() -> int:
    """Print the table."""
    rows = list(draw_demo_plans())
    print(format_table(rows, time_mkdocs()))
    return 0


def draw_demo_plans() -> Iterator[Drawn]:
    """Yield how long every edition of every plan of the demo library takes."""
    for target in find_targets(DESIGNS):
        path = DESIGNS / target.design / DESIGN_FILE
        for system in SYSTEMS:
            design, problems = read_design(path, str(path))
            assert design is not None, problems
            chosen = choose_size(design, target.size)
            plan, problems = build_plan(chosen, shared_catalogue(), system)
            assert plan is not None, problems
            yield draw(f"{target.slug}, {system}", plan)


def draw(name: str, plan: Plan) -> Drawn:
    """Return how long the drawings of a plan take."""
    start = time.process_time()
    _, scenes = draw_pictures(plan)
    sizes = [len(write_svg(scene).encode()) for scene in scenes.values()]
    return Drawn(
        name=name,
        pictures=len(sizes),
        largest_bytes=max(sizes),
        seconds=time.process_time() - start,
    )


def time_mkdocs() -> float:
    """Return the CPU seconds of mkdocs alone on the pages of the demo library."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        build = [sys.executable, "-m", "generator", "build", "--no-site", "--output", folder]
        subprocess.run(build, cwd=ROOT, capture_output=True, check=True)
        before = _children_seconds()
        command = [sys.executable, "-m", "mkdocs", "build", "--quiet"]
        subprocess.run(
            [*command, "--config-file", str(root / "mkdocs.yml"), "--site-dir", str(root / "site")],
            capture_output=True,
            check=True,
        )
        return _children_seconds() - before


def format_table(rows: Sequence[Drawn], mkdocs_seconds: float) -> str:
    """Return the times as a table, with the sum beside that of mkdocs."""
    lines = [f"{'plan':40} drawings  largest, bytes  CPU, s"]
    lines += [
        f"{row.name:40} {row.pictures:8} {row.largest_bytes:15} {row.seconds:7.2f}" for row in rows
    ]
    total = sum(row.seconds for row in rows)
    lines.append(f"{'all drawings':40} {sum(row.pictures for row in rows):8} {total:23.2f}")
    lines.append(f"{'mkdocs, all pages':40} {mkdocs_seconds:32.2f}")
    lines.append(f"{'drawings / mkdocs':40} {total / mkdocs_seconds:32.2f}")
    return "\n".join(lines)


def _children_seconds() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


if __name__ == "__main__":
    sys.exit(main())
