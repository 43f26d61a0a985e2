"""The pages of one plan: what it is and which files there are, and one page for each edition."""

from collections.abc import Mapping
from pathlib import Path

from generator.files import remove_others, write_file
from generator.model.artifacts import Artifacts
from generator.model.measured import Measured
from generator.model.plan import Plan
from generator.pages.edition_page import edition_page
from generator.pages.entries import (
    ENTRY_FILE,
    UNIT_WORDS,
    Entry,
    make_entry,
    plan_folder,
    write_entry,
)
from generator.pages.file_list import make_files
from generator.pages.followed import publish_pages
from generator.pages.neighbours import keep_links
from generator.pages.templates import render
from generator.telling.buying_tables import make_facts
from generator.telling.router_words import router_sentences
from generator.units import SYSTEMS, System

SOURCE_FILE = "design.yml"
"""Beside the pages of a plan: the file its maker wrote."""


def write_plan_pages(
    docs: Path,
    plans: Mapping[System, Plan],
    artifacts: Mapping[System, Artifacts],
    source: bytes,
    measured: Mapping[System, Measured] | None = None,
) -> Entry:
    """Write the pages of one plan and delete what its folder held before and is no longer made.

    Args:
        docs: The Markdown source of the site.
        plans: The plan in the editions that were built, at least one.
        artifacts: What `outputs` wrote for each of them, already in the plan's folder.
        source: The design file, published beside the pages.
        measured: What each page says for other panels; nothing where that was not looked for.

    Returns:
        What the library index says of it.
    """
    entry = make_entry(plans, artifacts)
    folder = plan_folder(docs, entry.slug)
    pages = {"index.md": _index_page(entry, plans, artifacts)}
    for system in SYSTEMS:
        if system in plans:
            page = edition_page(entry, plans[system], artifacts[system])
            found = (measured or {}).get(system, Measured())
            pages |= publish_pages(page, found, entry, system)
    for name, body in pages.items():
        path = folder / name
        write_file(path, keep_links(path, body) if path.suffix == ".md" else body)
    write_file(folder / SOURCE_FILE, source)
    write_entry(docs, entry)
    made = [path for one in artifacts.values() for path in one.paths()]
    remove_others(folder, (*made, *pages, ENTRY_FILE, SOURCE_FILE))
    return entry


def remove_plans(docs: Path, keep: tuple[str, ...]) -> tuple[str, ...]:
    """Delete the folders of plans whose designs are gone; return their slugs."""
    plans = docs / "plans"
    found = sorted(path.name for path in plans.iterdir()) if plans.is_dir() else []
    gone = tuple(slug for slug in found if slug not in keep)
    for slug in gone:
        remove_others(plan_folder(docs, slug), ())
        plan_folder(docs, slug).rmdir()
    return gone


def _index_page(
    entry: Entry, plans: Mapping[System, Plan], artifacts: Mapping[System, Artifacts]
) -> bytes:
    return render(
        "plan.md.j2",
        entry=entry,
        story=plans[entry.editions[0].system].edition.story,
        picture=artifacts[entry.editions[0].system].finished,
        card=artifacts[entry.editions[0].system].card,
        editions=tuple(
            _in_short(plans[one.system], artifacts[one.system]) for one in entry.editions
        ),
    )


def _in_short(plan: Plan, artifacts: Artifacts) -> dict[str, object]:
    """Return what the first page of a plan says of one edition."""
    return {
        "system": plan.edition.system,
        "unit": UNIT_WORDS[plan.edition.system],
        "facts": make_facts(plan),
        "router": router_sentences(plan),
        "router_sheets": artifacts.router,
        "files": make_files(artifacts),
    }
