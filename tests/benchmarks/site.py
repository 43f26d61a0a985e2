"""``python -m tests.benchmarks.site``: drawings and pages beside what mkdocs needs, as ratios.

One run builds the demo library and prints, in seconds of processor time, for every plan how long
all its drawings take in both editions, beside what mkdocs needs for its three pages (a whole run
less a run without that plan's pages), and how long the site takes beside mkdocs alone on the same
Markdown. The aims are 1.0 and 1.3.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TypeVar

from generator.library import Request, build_library
from generator.outputs.plan_files import draw_pictures
from generator.outputs.svg import write_svg
from generator.pages.site import run_mkdocs
from generator.units import SYSTEMS

ROOT = Path(__file__).resolve().parents[2]
RUNS = 3
NEWEST = "2026-03-14"

Given = TypeVar("Given")


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanTiming:
    """All drawings of a plan in both editions beside its pages, in seconds.

    Attributes:
        drawings: How many there are.
        draw_s: From the plan to scenes.
        write_s: From scenes to SVG.
    """

    slug: str
    drawings: int
    draw_s: float
    write_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteTiming:
    """What the site takes, in seconds.

    Attributes:
        mkdocs_s: mkdocs alone on the finished Markdown.
        start_s: mkdocs on the same folder without plans: mostly its start.
        site_s: mkdocs with everything we do to its site.
        plans: How many plans there are.
    """

    mkdocs_s: float
    start_s: float
    site_s: float
    plans: int

    @property
    def plan_pages_s(self) -> float:
        """What mkdocs needs for the pages of one plan, on the average."""
        return (self.mkdocs_s - self.start_s) / self.plans


def main() -> int:
    """Print both tables."""
    with tempfile.TemporaryDirectory() as folder:
        output = Path(folder)
        plans = time_drawings(output, ROOT / "designs")
        print(format_table(plans, time_site(output, len(plans))))
    return 0


def time_drawings(output: Path, designs: Path, only: tuple[str, ...] = ()) -> list[PlanTiming]:
    """Build docs without a site, and return how long the drawings of every plan take."""
    request = Request(
        designs=designs,
        shared=ROOT / "shared",
        output=output,
        only=only,
        systems=SYSTEMS,
        settings={},
        effort="normal",
        jobs=1,
        site=False,
    )
    report = build_library(request, lambda _: None)
    timings = []
    for outcome in report.outcomes:
        plans = tuple(outcome.plans.values())
        scenes = [scene for plan in plans for scene in draw_pictures(plan)[1].values()]
        timings.append(
            PlanTiming(
                slug=outcome.slug,
                drawings=len(scenes),
                draw_s=_best(partial(_each, draw_pictures, plans)),
                write_s=_best(partial(_each, write_svg, scenes)),
            )
        )
    return timings


def time_site(output: Path, plans: int) -> SiteTiming:
    """Return how long mkdocs takes alone, without plans, and as part of the whole site."""
    bare = output / "bare"
    shutil.copytree(output / "theme", bare / "theme")
    shutil.copytree(output / "docs", bare / "docs", ignore=shutil.ignore_patterns("plans"))
    shutil.copy(output / "mkdocs.yml", bare)
    return SiteTiming(
        mkdocs_s=_best(lambda: _mkdocs(output, strict=True)),
        start_s=_best(lambda: _mkdocs(bare, strict=False)),
        site_s=_best(lambda: run_mkdocs(output, NEWEST)),
        plans=plans,
    )


def format_table(plans: list[PlanTiming], site: SiteTiming) -> str:
    """Return both tables, a line for each plan and three for the site."""
    rows = [
        "plan                drawings | draw s  write s | mkdocs s | writing / mkdocs  all / mkdocs"
    ]
    rows += [
        f"{one.slug:20}{one.drawings:8} |{one.draw_s:7.2f}{one.write_s:9.3f} |"
        f"{site.plan_pages_s:9.3f} |{one.write_s / site.plan_pages_s:17.2f}"
        f"{(one.draw_s + one.write_s) / site.plan_pages_s:14.2f}"
        for one in plans
    ]
    rows += [
        f"mkdocs alone, {site.plans} plans: {site.mkdocs_s:.2f} s, {site.start_s:.2f} s of them "
        "without plans",
        f"the site: {site.site_s:.2f} s, {site.site_s / site.mkdocs_s:.2f} times mkdocs alone",
    ]
    return "\n".join(rows)


def _mkdocs(folder: Path, *, strict: bool) -> None:
    command = [
        sys.executable,
        "-m",
        "mkdocs",
        "build",
        "--quiet",
        *(["--strict"] if strict else []),
    ]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "SOURCE_DATE_EPOCH": "1700000000"}
    subprocess.run(
        [*command, "--site-dir", str(folder / ".alone")],
        cwd=folder,
        env=environment,
        capture_output=True,
        check=True,
    )


def _each(work: Callable[[Given], object], given: Sequence[Given]) -> None:
    for one in given:
        work(one)


def _best(work: Callable[[], object]) -> float:
    """Return the least processor time of a few runs, children included."""
    return min(_once(work) for _ in range(RUNS))


def _once(work: Callable[[], object]) -> float:
    before = os.times()
    work()
    after = os.times()
    return sum(after[:4]) - sum(before[:4])


if __name__ == "__main__":
    sys.exit(main())
