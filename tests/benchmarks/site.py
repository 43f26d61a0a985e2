"""``python -m tests.benchmarks.site``: drawings and pages beside what mkdocs needs, as ratios.

One run builds the demo library, as the command line does, and prints, in seconds of processor time,
how long all drawings of every plan take in both editions, and three ratios:

- ``writing / pages``: scenes written as SVG, beside what mkdocs needs for the three pages of a plan
  without its start: a run over all plans less a run over none, divided by the number of plans.
- ``all / pages``: drawn and written as SVG, beside the same. The hardest of the three: mkdocs
  starts in no time here, which it never does.
- ``all / alone``: plans drawn and written as SVG, beside a run of mkdocs over a library with that
  plan alone, its start included: what a maker pays who builds this one plan.

Neither evaluating a plan nor its booklet and other files are among the drawings; nothing of ours
runs within mkdocs. The last line is the site beside mkdocs alone on the same Markdown. The aims are
1.0 for drawings and 1.3 for the site.
"""

import os
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TypeVar

from generator.library import Request, build_library, collect_rarely
from generator.outputs.plan_files import draw_pictures
from generator.outputs.svg import write_svg
from generator.pages.site import run_mkdocs
from generator.units import SYSTEMS

ROOT = Path(__file__).resolve().parents[2]
RUNS = 7
"""The least of so many runs counts: other work on the machine only ever adds."""
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
        alone_s: By plan, mkdocs on the same folder with that plan alone.
    """

    mkdocs_s: float
    start_s: float
    site_s: float
    alone_s: Mapping[str, float]

    @property
    def plan_pages_s(self) -> float:
        """What mkdocs needs for the pages of one plan, on the average."""
        return (self.mkdocs_s - self.start_s) / len(self.alone_s)


def main() -> int:
    """Print both tables."""
    collect_rarely()
    with tempfile.TemporaryDirectory() as folder:
        output = Path(folder)
        plans = time_drawings(output, ROOT / "designs")
        print(format_table(plans, time_site(output, [plan.slug for plan in plans])))
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


def time_site(output: Path, slugs: Sequence[str]) -> SiteTiming:
    """Return how long mkdocs takes: on all plans, on none and on each, and for the whole site."""
    return SiteTiming(
        mkdocs_s=_best(lambda: _mkdocs(output, strict=True)),
        start_s=_time_some(output, ()),
        site_s=_best(lambda: run_mkdocs(output, NEWEST)),
        alone_s={slug: _time_some(output, (slug,)) for slug in slugs},
    )


def format_table(plans: list[PlanTiming], site: SiteTiming) -> str:
    """Return both tables, a line for each plan and two for the site."""
    pages = site.plan_pages_s
    rows = [
        "plan                drawings | draw s  write s | pages s  alone s | "
        "writing / pages  all / pages  all / alone"
    ]
    for one in plans:
        alone, drawn = site.alone_s[one.slug], one.draw_s + one.write_s
        rows.append(
            f"{one.slug:20}{one.drawings:8} |{one.draw_s:7.2f}{one.write_s:9.3f} |"
            f"{pages:8.3f}{alone:9.2f} |"
            f"{one.write_s / pages:16.2f}{drawn / pages:13.2f}{drawn / alone:13.2f}"
        )
    rows += [
        f"mkdocs alone, {len(plans)} plans: {site.mkdocs_s:.2f} s, {site.start_s:.2f} s of them "
        "without plans",
        f"the site: {site.site_s:.2f} s, {site.site_s / site.mkdocs_s:.2f} times mkdocs alone",
    ]
    return "\n".join(rows)


def _time_some(output: Path, slugs: Sequence[str]) -> float:
    """Return how long mkdocs takes on the pages of a library with some of its plans."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        shutil.copytree(output / "theme", root / "theme")
        shutil.copytree(output / "docs", root / "docs", ignore=shutil.ignore_patterns("plans"))
        for slug in slugs:
            shutil.copytree(output / "docs/plans" / slug, root / "docs/plans" / slug)
        shutil.copy(output / "mkdocs.yml", root)
        # The index still links to plans that are not there: that is no fault here.
        return _best(lambda: _mkdocs(root, strict=False))


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
    before = _used_s()
    work()
    return _used_s() - before


def _used_s() -> float:
    """Return the processor time of this process and of children that have ended, to 1 us."""
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(one.ru_utime + one.ru_stime for one in used)


if __name__ == "__main__":
    sys.exit(main())
