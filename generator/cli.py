"""The command line: arguments, progress, printing and exit codes; nothing else prints."""

import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import NoReturn, TypeVar, cast

import click
from rich.console import Console

from generator.comparison import Compared, compare_library
from generator.design.schema import design_schema_json
from generator.library import (
    Report,
    Request,
    StageFaultError,
    build_library,
    check_library,
    collect_rarely,
)
from generator.model.cutting import EFFORTS, Effort
from generator.model.words import count_fasteners
from generator.pages.explanations import STARTERS, find_explanation, list_codes
from generator.problem_text import format_problem
from generator.serving import PortError, serve_library
from generator.starters import write_starter
from generator.units import SYSTEMS, System

Result = TypeVar("Result")

DONE, PROBLEMS, USAGE, OUR_FAULT = 0, 1, 2, 3
ROOT = Path(__file__).resolve().parent.parent


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def main() -> None:
    """Turn a folder of furniture designs into a site of plans to build from.

    Exit codes: 0 done, 1 problems in a design, 2 wrong command line, 3 a fault of the generator.
    """
    collect_rarely()


def _common(command: Callable[..., None]) -> Callable[..., None]:
    options = (
        click.argument("plans", nargs=-1),
        click.option("--designs", type=click.Path(path_type=Path), default=Path("designs"),
                     show_default=True, help="Folder of design folders."),
        click.option("--shared", type=click.Path(path_type=Path), default=None,
                     help="Folder of the catalogues; by default the one beside the generator."),
        click.option("--edition", type=click.Choice(SYSTEMS), multiple=True,
                     help="Build one edition only."),
        click.option("--effort", type=click.Choice(EFFORTS), default="normal", show_default=True,
                     help="How long to look for layouts with fewer sheets."),
        click.option("--jobs", type=click.IntRange(1, 64), default=2, show_default=True,
                     help="Worker processes."),
        click.option("--set", "settings", multiple=True, metavar="NAME=VALUE",
                     help="Give a parameter another value."),
    )  # fmt: skip
    for option in reversed(options):
        command = option(command)
    return command


@main.command()
@_common
@click.option("--output", type=click.Path(path_type=Path), default=Path("build"),
              show_default=True, help="Where the site is written.")  # fmt: skip
@click.option("--no-site", is_flag=True, help="Write the Markdown, but do not run mkdocs.")
def build(output: Path, no_site: bool, **asked: object) -> None:
    """Build the whole library, or the named PLANS."""
    request = _request(asked, output=output, site=not no_site)
    _finish(_guarded(lambda: build_library(request, _progress())), request)


@main.command()
@_common
def check(**asked: object) -> None:
    """Compute and check designs; write nothing."""
    request = _request(asked, output=Path("build"), site=False)
    _finish(_guarded(lambda: check_library(request, _progress())), request)


@main.command()
@_common
@click.option("--against", type=click.Path(path_type=Path), default=Path("build"),
              show_default=True, help="A folder that `build` wrote.")  # fmt: skip
@click.option("--every", is_flag=True, help="A line for each value that changed.")
def compare(against: Path, every: bool, **asked: object) -> None:
    """Say what changed in every plan against the published one; write nothing."""
    request = _request(asked, output=against, site=False)
    report, compared = _guarded(lambda: compare_library(request, _progress(), every=every))
    for one in compared:
        click.echo(f"{one.slug}, {one.system}: {_compared_words(one)}")
        for line in one.lines:
            click.echo(f"  {line}")
    broken = tuple(outcome for outcome in report.outcomes if outcome.problems)
    _finish(replace(report, outcomes=broken), request)


@main.command()
@_common
@click.option(
    "--output",
    type=click.Path(path_type=Path),
    default=Path("build"),
    show_default=True,
    help="Where the site is written.",
)
@click.option("--port", type=click.IntRange(0, 65535), default=8000, show_default=True,
              help="Of this machine; 0 for any that is free.")  # fmt: skip
def serve(output: Path, port: int, **asked: object) -> None:
    """Build the site, show it at an address of this machine, and follow every change."""
    request = replace(_request(asked, output=output, site=True), followed=False)

    def tell(report: Report, address: str) -> None:
        _say(report, request)
        click.echo(f"{address} follows your changes; stop with Ctrl-C")

    try:
        serve_library(request, port, lambda one: build_library(one, _progress()), tell)
    except KeyboardInterrupt:
        sys.exit(DONE)
    except PortError as error:
        raise click.UsageError(str(error)) from error
    except Exception as error:  # our own faults end here and nowhere else
        _our_fault(error)


@main.command()
@click.argument("name")
@click.option(
    "--designs",
    type=click.Path(path_type=Path),
    default=Path("designs"),
    show_default=True,
    help="Folder of design folders.",
)
@click.option("--like", type=click.Choice(STARTERS), default=STARTERS[0], show_default=True,
              help="What it begins as.")  # fmt: skip
def new(name: str, designs: Path, like: str) -> None:
    """Write a small design called NAME that builds, to start from."""
    try:
        path = write_starter(designs, name, like)
    except ValueError as error:
        raise click.UsageError(str(error)) from error
    click.echo(f"{path} is written. Try: kerfolio check {name} --designs {designs}")


@main.command()
@click.argument("code")
def explain(code: str) -> None:
    """Explain a problem CODE such as J103."""
    text = find_explanation(code.upper())
    if text is None:
        raise click.UsageError(f"there is no code {code}; codes are {', '.join(list_codes())}")
    click.echo(text)


@main.command()
def schema() -> None:
    """Print the JSON Schema of design files, for editors that complete and check while typing."""
    click.echo(design_schema_json().decode("utf-8"), nl=False)


def _request(asked: dict[str, object], *, output: Path, site: bool) -> Request:
    systems = cast(tuple[System, ...], asked["edition"])
    shared = cast(Path | None, asked["shared"])
    return Request(
        designs=cast(Path, asked["designs"]),
        shared=ROOT / "shared" if shared is None else shared,
        output=output,
        only=cast(tuple[str, ...], asked["plans"]),
        systems=systems if systems else SYSTEMS,
        settings=_settings(cast(tuple[str, ...], asked["settings"])),
        effort=cast(Effort, asked["effort"]),
        jobs=cast(int, asked["jobs"]),
        site=site,
    )


def _settings(texts: tuple[str, ...]) -> dict[str, str]:
    settings = {}
    for text in texts:
        name, sign, value = text.partition("=")
        if not sign or not name.strip() or not value.strip():
            raise click.UsageError(f"--set takes NAME=VALUE, such as width=30in, not {text}")
        settings[name.strip()] = value.strip()
    return settings


def _progress() -> Callable[[str], None]:
    """Return a printer of progress: a line each on a terminal, nothing into a pipe."""
    console = Console(stderr=True)
    begun = time.monotonic()

    def show(text: str) -> None:
        if console.is_terminal:
            console.print(f"[dim]{time.monotonic() - begun:5.1f} s[/dim]  {text}", highlight=False)

    return show


def _compared_words(compared: Compared) -> str:
    if compared.state != "changed":
        states = {"same": "no change", "new": "not published yet"}
        return states.get(compared.state, "what is there is no plan of this version")
    words = _count(compared.count, "value") + " changed"
    if not compared.revision:
        return words
    return f"{words}, still revision {compared.revision}: raise it and say why under `changes`"


def _guarded(work: Callable[[], Result]) -> Result:
    """Run the work; a fault of ours is said to be one, with the place of the whole story."""
    try:
        return work()
    except Exception as error:  # our own faults end here and nowhere else
        _our_fault(error)


def _our_fault(error: Exception) -> NoReturn:
    with tempfile.NamedTemporaryFile(
        "w", prefix="kerfolio-", suffix=".txt", delete=False, encoding="utf-8"
    ) as dump:
        dump.write("".join(traceback.format_exception(error)))
    what = str(error) if isinstance(error, StageFaultError) else type(error).__name__
    click.echo(f"internal error: {what}", err=True)
    click.echo(f"This is a fault of the generator, not of your design: {dump.name}", err=True)
    click.echo("".join(traceback.format_exception(error)), err=True)
    sys.exit(OUR_FAULT)


def _finish(report: Report, request: Request) -> NoReturn:
    _say(report, request)
    sys.exit(PROBLEMS if report.all_problems else DONE)


def _say(report: Report, request: Request) -> None:
    for problem in report.all_problems:
        click.echo(format_problem(problem), err=True)
        click.echo("", err=True)
    for outcome in report.outcomes:
        click.echo(_summary(report, outcome.slug))
    if report.site is not None:
        click.echo(f"site: {report.site / 'index.html'}")
    elif not request.site and report.files:
        click.echo(f"pages: {request.output / 'docs'}")


def _summary(report: Report, slug: str) -> str:
    outcome = next(found for found in report.outcomes if found.slug == slug)
    if outcome.problems:
        levels = [problem.level for problem in outcome.problems]
        counts = [_count(levels.count(level), level) for level in ("error", "warning")]
        return f"{slug}: {' and '.join(count for count in counts if count)}. No plan was written."
    figures = []
    for system, plan in outcome.plans.items():
        counts = [
            _count(len(plan.parts.parts), "part"),
            _count(len(plan.cutting.layouts), "sheet"),
            _count(len(plan.cutting.boards), "board"),
            *count_fasteners(plan.joinery.fasteners),
            _count(len(plan.assembly.steps), "step"),
        ]
        figures.append(f"{system} {', '.join(count for count in counts if count)}")
    tail = f"; {_count(report.files[slug], 'file')}" if slug in report.files else ""
    return f"{slug}: {'; '.join(figures)}{tail}"


def _count(number: int, word: str) -> str:
    """Return a count in words, such as ``1 sheet`` or ``3 sheets``; nothing for none."""
    return "" if number == 0 else f"{number} {word}{'' if number == 1 else 's'}"
