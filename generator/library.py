"""The whole library: which designs there are, workers that build them, and what was written."""

import gc
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Executor, Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from dataclasses import dataclass, replace
from multiprocessing import get_context
from pathlib import Path
from typing import Final, TypeVar

from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.catalogue.shop import stock_up
from generator.design.library_file import LibraryFile, read_library_file
from generator.design.schema import SCHEMA_NAME, design_schema_json
from generator.model.artifacts import Artifacts
from generator.model.catalogue import Catalogue
from generator.model.cutting import Effort
from generator.model.measured import Measured
from generator.model.plan import Plan
from generator.outputs.plan_files import write_plan_files
from generator.outputs.plan_schema import schema_json
from generator.pages.entries import Entry, make_entry, plan_folder, read_entry
from generator.pages.library import write_library
from generator.pages.plan_pages import remove_plans, write_plan_pages
from generator.pages.site import run_mkdocs
from generator.problems import Note, Place, Problem, ProblemLog, make_problem, sort_problems
from generator.targets import DESIGN_FILE, Target, find_targets, read_variant
from generator.thickness.follow import follow_thickness
from generator.units import SYSTEMS, System

Key = TypeVar("Key")
Result = TypeVar("Result")

SCHEMA_PATH = "schema/plan-1.schema.json"
DESIGN_SCHEMA_PATH = f"schema/{SCHEMA_NAME}"
Progress = Callable[[str], None]
COLLECTING: Final = (50_000, 20, 50)
"""New objects after which Python looks for cycles among the young, and how rarely among others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What the command line asks for.

    Attributes:
        designs: Folder of design folders.
        shared: Folder of the catalogues.
        output: Where the docs folder and the site go.
        only: Names of design folders; empty for all.
        systems: Editions to build.
        settings: Parameters with values of their own, as formulas.
        effort: How long to look for layouts with fewer sheets.
        jobs: Worker processes.
        site: Whether mkdocs runs at the end.
        routed: Whether sheets are laid out for a router as well; a check needs none.
        followed: Whether the pages follow panels that measure otherwise.
    """

    designs: Path
    shared: Path
    output: Path
    only: tuple[str, ...]
    systems: tuple[System, ...]
    settings: Mapping[str, str]
    effort: Effort
    jobs: int
    site: bool
    routed: bool = True
    followed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of one plan, of a design as it stands or of one of its sizes."""

    slug: str
    plans: Mapping[System, Plan]
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What was done.

    Attributes:
        outcomes: Of every design asked for, and of its sizes.
        problems: Of the catalogues and the library as a whole.
        files: How many files each plan has, pages left aside.
        site: The folder of the site, where it was built.
    """

    outcomes: tuple[Outcome, ...] = ()
    problems: tuple[Problem, ...] = ()
    files: Mapping[str, int]
    site: Path | None = None

    @property
    def all_problems(self) -> tuple[Problem, ...]:
        """Everything that was found, each once: the sizes of a design share most of its faults."""
        found = (p for outcome in self.outcomes for p in outcome.problems)
        return tuple(dict.fromkeys((*self.problems, *found)))


class StageFaultError(Exception):
    """A fault of ours while one design was being built; the cause is chained."""


def check_library(request: Request, progress: Progress) -> Report:
    """Compute and check plans; write nothing."""
    return compute_library(replace(request, routed=False), progress)


def compute_library(request: Request, progress: Progress) -> Report:
    """Compute plans with everything asked for; write nothing."""
    targets = find_targets(request.designs)
    problems, _, goods = _read_common(request, targets)
    if problems or goods is None:
        return Report(problems=problems, files={})
    with _workers(request.jobs) as pool:
        return Report(outcomes=_compute(request, targets, goods, pool, progress), files={})


def build_library(request: Request, progress: Progress) -> Report:
    """Compute plans, write those without problems, and build the site.

    A plan with problems keeps the pages and files it had before.
    """
    targets = find_targets(request.designs)
    problems, library, goods = _read_common(request, targets)
    if problems or goods is None:
        return Report(problems=problems, files={})
    docs = request.output / "docs"
    with _workers(request.jobs) as pool:
        outcomes = _compute(request, targets, goods, pool, progress)
        written = _write(outcomes, docs, pool, progress)
        measured = _follow(request, targets, goods, outcomes, written, pool, progress)
    entries = _entries(request, targets, outcomes, written, measured)
    write_library(
        docs,
        entries,
        title=library.title,
        says=library.says,
        address=library.address,
        published={SCHEMA_PATH: schema_json(), DESIGN_SCHEMA_PATH: design_schema_json()},
    )
    site = None
    if request.site and entries:
        progress("site")
        site = run_mkdocs(request.output, max(entry.date for entry in entries))
    files = {
        slug: sum(len(one.paths()) for one in artifacts.values())
        for slug, artifacts in written.items()
    }
    return Report(outcomes=outcomes, files=files, site=site)


def _read_common(
    request: Request, targets: tuple[Target, ...]
) -> tuple[tuple[Problem, ...], LibraryFile, Catalogue | None]:
    log = ProblemLog()
    library = read_library_file(request.designs, log)
    goods = _read_goods(request, library, log)
    found = tuple(target.slug for target in targets)
    for name in request.only:
        if name not in found:
            log.problems.append(_no_design(request.designs, name, found))
    if not found:
        log.problems.append(_no_design(request.designs, "", found))
    return sort_problems(log.problems), library, goods


def _read_goods(request: Request, library: LibraryFile, log: ProblemLog) -> Catalogue | None:
    """Return the catalogue with the library's prices, limits and offcuts."""
    catalogue = read_catalogue(request.shared, log)
    return None if catalogue is None else stock_up(catalogue, library.shop, log)


def _no_design(folder: Path, name: str, found: tuple[str, ...]) -> Problem:
    path = folder / name / DESIGN_FILE if name else folder / "<name>" / DESIGN_FILE
    hint = f"designs there: {', '.join(found)}" if found else "write one: kerfolio new shelf"
    return make_problem(
        "D115", Place(file=str(path), line=1, column=1), why="there is no such file", hint=hint
    )


def collect_rarely() -> None:
    """Let this process look for cycles of objects less often.

    A plan is made of many small values and has no cycles: looking for them took 15 % of a build.
    """
    gc.set_threshold(*COLLECTING)


@contextmanager
def _workers(jobs: int) -> Iterator[Executor | None]:
    """Give a pool of worker processes, or None where one process is to do it all."""
    if jobs <= 1:
        yield None
        return
    context = get_context("spawn")
    with ProcessPoolExecutor(jobs, context, initializer=collect_rarely) as pool:
        yield pool


def _compute(
    request: Request,
    targets: tuple[Target, ...],
    goods: Catalogue,
    pool: Executor | None,
    progress: Progress,
) -> tuple[Outcome, ...]:
    only = request.only
    asked = [one for one in targets if not only or one.slug in only or one.design in only]
    results: dict[tuple[str, System], tuple[Plan | None, tuple[Problem, ...]]] = {
        (one.slug, system): (None, one.problems)
        for one in asked
        for system in request.systems
        if one.problems
    }
    calls = [
        ((one.slug, system), (request, one.design, one.size, system, goods))
        for one in asked
        for system in request.systems
        if not one.problems
    ]
    for task, result in _run(pool, compute_one, calls):
        progress(f"{task[0]}, {task[1]} computed")
        results[task] = result
    outcomes = {one.slug: _outcome(one.slug, request.systems, results) for one in asked}
    return tuple(_of_a_size(one, outcomes) for one in asked)


def _of_a_size(target: Target, outcomes: Mapping[str, Outcome]) -> Outcome:
    """Return the outcome of a target; what is wrong in a size only says so."""
    outcome = outcomes[target.slug]
    if not target.size:
        return outcome
    known = outcomes[target.design].problems if target.design in outcomes else ()
    note = f"in the size `{target.size}`"
    problems = (one if one in known else _marked(one, note) for one in outcome.problems)
    return replace(outcome, problems=tuple(problems))


def compute_one(
    request: Request, slug: str, size: str, system: System, goods: Catalogue
) -> tuple[Plan | None, tuple[Problem, ...]]:
    """Return the plan of one design, or of one of its sizes, in one edition; runs in a worker."""
    design, problems = read_variant(request.designs, slug, size, request.settings)
    if design is None:
        return None, problems
    return build_plan(design, goods, system, request.effort, routed=request.routed)


def _outcome(
    slug: str,
    systems: tuple[System, ...],
    results: Mapping[tuple[str, System], tuple[Plan | None, tuple[Problem, ...]]],
) -> Outcome:
    """Put the editions of a design together; what is wrong in one edition only says so."""
    found = {system: results[slug, system] for system in systems}
    everywhere = set.intersection(*(set(problems) for _, problems in found.values()))
    problems = [
        problem
        if problem in everywhere or len(systems) == 1
        else _marked(problem, f"in the {system} edition")
        for system, (_, listed) in found.items()
        for problem in listed
    ]
    plans = {system: plan for system, (plan, _) in found.items() if plan is not None}
    return Outcome(slug=slug, plans=plans, problems=sort_problems(problems))


def _marked(problem: Problem, note: str) -> Problem:
    return replace(problem, notes=(*problem.notes, Note(text=note)))


def _write(
    outcomes: tuple[Outcome, ...], docs: Path, pool: Executor | None, progress: Progress
) -> dict[str, dict[System, Artifacts]]:
    """Write the files of every plan that came out in all editions asked for."""
    calls = [
        ((outcome.slug, system), (plan, plan_folder(docs, outcome.slug)))
        for outcome in outcomes
        if not outcome.problems
        for system, plan in outcome.plans.items()
    ]
    written: dict[str, dict[System, Artifacts]] = {}
    for (slug, system), artifacts in _run(pool, write_plan_files, calls):
        progress(f"{slug}, {system} drawn and written")
        written.setdefault(slug, {})[system] = artifacts
    return written


def _follow(
    request: Request,
    targets: tuple[Target, ...],
    goods: Catalogue,
    outcomes: tuple[Outcome, ...],
    written: Mapping[str, Mapping[System, Artifacts]],
    pool: Executor | None,
    progress: Progress,
) -> dict[str, dict[System, Measured]]:
    """Return what the pages say for panels that measure otherwise."""
    plans = {outcome.slug: outcome.plans for outcome in outcomes}
    wanted = [one for one in targets if request.followed and one.slug in written]
    entries = {one.slug: make_entry(plans[one.slug], written[one.slug]) for one in wanted}
    calls = [
        (
            (one.slug, system),
            (request, one, goods, plans[one.slug][system], artifacts, entries[one.slug]),
        )
        for one in wanted
        for system, artifacts in written[one.slug].items()
    ]
    measured: dict[str, dict[System, Measured]] = {}
    for (slug, system), found in _run(pool, follow_one, calls):
        progress(f"{slug}, {system} followed for other panels")
        measured.setdefault(slug, {})[system] = found
    return measured


def follow_one(
    request: Request,
    target: Target,
    goods: Catalogue,
    plan: Plan,
    artifacts: Artifacts,
    entry: Entry,
) -> Measured:
    """Return what the page of one plan says for other panels; runs in a worker."""
    design, _ = read_variant(request.designs, target.design, target.size, request.settings)
    assert design is not None
    return follow_thickness(design, goods, plan, artifacts, entry, request.effort)


def _run(
    pool: Executor | None,
    work: Callable[..., Result],
    calls: Iterable[tuple[Key, tuple[object, ...]]],
) -> Iterator[tuple[Key, Result]]:
    """Yield each result with its key as it comes; a fault of ours names the key it struck."""
    if pool is None:
        for key, arguments in calls:
            try:
                result = work(*arguments)
            except Exception as error:
                raise StageFaultError(f"{work.__name__} of {key}") from error
            yield key, result
        return
    waiting: dict[Future[Result], Key] = {
        pool.submit(work, *arguments): key for key, arguments in calls
    }
    for future in as_completed(waiting):
        try:
            result = future.result()
        except Exception as error:
            raise StageFaultError(f"{work.__name__} of {waiting[future]}") from error
        yield waiting[future], result


def _entries(
    request: Request,
    targets: tuple[Target, ...],
    outcomes: tuple[Outcome, ...],
    written: Mapping[str, Mapping[System, Artifacts]],
    measured: Mapping[str, Mapping[System, Measured]],
) -> list[Entry]:
    """Write the pages of the plans built and return the entries of all that have pages."""
    docs = request.output / "docs"
    entries: dict[str, Entry] = {}
    designs = {target.slug: target.design for target in targets}
    plans = {outcome.slug: outcome.plans for outcome in outcomes}
    for slug in sorted(written):
        built = {system: plans[slug][system] for system in SYSTEMS if system in written[slug]}
        source = (request.designs / designs[slug] / DESIGN_FILE).read_bytes()
        entries[slug] = write_plan_pages(docs, built, written[slug], source, measured.get(slug))
    slugs = _kept_slugs(targets, docs)
    for slug in slugs:
        entry = read_entry(docs, slug)
        if slug not in entries and entry is not None:
            entries[slug] = entry
    remove_plans(docs, slugs)
    return [entries[slug] for slug in slugs if slug in entries]


def _kept_slugs(targets: tuple[Target, ...], docs: Path) -> tuple[str, ...]:
    """Return the plans that stay; of a design whose sizes are not known, those it had before."""
    slugs = {target.slug: None for target in targets}
    unknown = {target.design for target in targets if not target.sizes_known}
    for path in sorted((docs / "plans").glob("*/")):
        entry = read_entry(docs, path.name)
        if entry is not None and entry.design in unknown:
            slugs[path.name] = None
    return tuple(slugs)
