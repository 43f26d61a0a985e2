"""What would change in the library: plans as they are computed now beside those published."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from generator.library import Report, Request, compute_library
from generator.outputs.plan_json import plan_json
from generator.outputs.plan_schema import VERSION
from generator.pages.entries import plan_folder
from generator.telling.changes import find_changes, tell_changes
from generator.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One plan in one edition, as it is and as it was published.

    Attributes:
        state: ``same``, ``changed``, ``new``, or ``unreadable`` where what is there is no plan.
        lines: What changed, a line for each thing of the plan.
        count: How many values changed.
        revision: What the published plan and this one call themselves, where both say the same.
    """

    slug: str
    system: System
    state: str
    lines: tuple[str, ...] = ()
    count: int = 0
    revision: str = ""


def compare_library(
    request: Request, progress: Callable[[str], None], *, every: bool = False
) -> tuple[Report, tuple[Compared, ...]]:
    """Compute plans and say what differs from those published; write nothing.

    Args:
        request: Its output folder is where the published plans are looked for.
        progress: Is told what was done.
        every: Whether each value that changed has a line of its own.

    Returns:
        What the check of the library returns, and one comparison for every plan that came out.
    """
    report = compute_library(request, progress)
    docs = request.output / "docs"
    compared = tuple(
        _compare(outcome.slug, system, json.loads(plan_json(plan)), docs, every)
        for outcome in report.outcomes
        for system, plan in outcome.plans.items()
    )
    return report, compared


def _compare(
    slug: str, system: System, plan: dict[str, object], docs: Path, every: bool
) -> Compared:
    path = plan_folder(docs, slug) / "files" / system / "plan.json"
    if not path.is_file():
        return Compared(slug=slug, system=system, state="new")
    published = _read(path)
    if published is None:
        return Compared(slug=slug, system=system, state="unreadable", lines=(str(path),))
    changes = find_changes(published, plan, system)
    same = published.get("revision") == plan.get("revision")
    return Compared(
        slug=slug,
        system=system,
        state="changed" if changes else "same",
        lines=tell_changes(changes, every=every),
        count=len(changes),
        revision=str(plan.get("revision")) if same else "",
    )


def _read(path: Path) -> dict[str, object] | None:
    """Return a published plan; None where the file is no plan of the version we write."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (ValueError, OSError):
        return None
    return found if isinstance(found, dict) and found.get("version") == VERSION else None
