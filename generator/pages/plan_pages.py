"""The pages of one plan: what it is, and everything to build it in each edition."""

from collections.abc import Mapping
from pathlib import Path

from generator.files import remove_others, write_file
from generator.model.artifacts import Artifacts, Picture
from generator.model.cutting import Layout
from generator.model.plan import Plan
from generator.model.words import fasteners_word
from generator.pages.entries import (
    ENTRY_FILE,
    UNIT_WORDS,
    Entry,
    make_entry,
    plan_folder,
    write_entry,
)
from generator.pages.file_list import make_files
from generator.pages.neighbours import keep_links
from generator.pages.templates import render
from generator.telling.advice import make_advice
from generator.telling.buying_tables import (
    make_bits,
    make_facts,
    make_sheets_bought,
    make_shopping,
    make_tools,
)
from generator.telling.checked import checked_sentences, warning_rows
from generator.telling.cutting_tables import (
    board_offcuts,
    board_words,
    layout_words,
    lifting_words,
    make_blanks,
    make_cut_list,
    make_cut_order,
    make_settings,
    offcut_words,
    settings_words,
)
from generator.telling.fitting_tables import finish_sentences, make_edging
from generator.telling.housing_tables import make_housings
from generator.telling.joinery_tables import (
    make_holes,
    make_screws,
    make_steps,
)
from generator.telling.pull_table import make_pulls
from generator.telling.router_words import router_sentences
from generator.telling.shop_tables import tell_shop
from generator.telling.strength_words import strength_sentences
from generator.telling.tables import make_table
from generator.units import SYSTEMS, System


def write_plan_pages(
    docs: Path, plans: Mapping[System, Plan], artifacts: Mapping[System, Artifacts]
) -> Entry:
    """Write the pages of one plan and delete what its folder held before and is no longer made.

    Args:
        docs: The Markdown source of the site.
        plans: The plan in the editions that were built, at least one.
        artifacts: What `outputs` wrote for each of them, already in the plan's folder.

    Returns:
        What the library index says of it.
    """
    entry = make_entry(plans, artifacts)
    folder = plan_folder(docs, entry.slug)
    pages = {"index.md": _index_page(entry, plans, artifacts)}
    for system in SYSTEMS:
        if system in plans:
            pages[f"{system}.md"] = _edition_page(entry, plans[system], artifacts[system])
    for name, body in pages.items():
        path = folder / name
        write_file(path, keep_links(path, body))
    write_entry(docs, entry)
    made = [path for one in artifacts.values() for path in one.paths()]
    remove_others(folder, (*made, *pages, ENTRY_FILE))
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
    systems = tuple(plans[one.system] for one in entry.editions)
    story = systems[0].edition.story
    return render(
        "plan.md.j2",
        entry=entry,
        story=story,
        picture=artifacts[entry.editions[0].system].assembled,
        facts_rows=tuple((UNIT_WORDS[plan.edition.system], make_facts(plan)) for plan in systems),
    )


def _edition_page(entry: Entry, plan: Plan, artifacts: Artifacts) -> bytes:
    story = plan.edition.story
    return render(
        "edition.md.j2",
        entry=entry,
        story=story,
        system=plan.edition.system,
        unit=UNIT_WORDS[plan.edition.system],
        artifacts=artifacts,
        advice=make_advice(plan),
        facts_rows=make_facts(plan),
        shopping=make_shopping(plan),
        sheets_bought=make_sheets_bought(plan),
        tools=make_tools(plan),
        bits=make_bits(plan),
        edging=make_edging(plan),
        finish=finish_sentences(plan),
        cut_list=make_cut_list(plan),
        blanks=make_blanks(plan),
        layouts=_layouts(plan, artifacts),
        lifting=lifting_words(plan),
        boards=tuple(
            (board_words(plan, number, len(artifacts.boards)), picture)
            for number, picture in enumerate(artifacts.boards, start=1)
        ),
        board_offcuts=board_offcuts(plan),
        settings=(settings_words(plan), make_settings(plan)),
        shop=tell_shop(plan),
        housings=make_housings(plan),
        cut_order=make_cut_order(plan),
        part_sheets=tuple(
            (plan.parts.part(label), pictures) for label, pictures in artifacts.parts
        ),
        screws=make_screws(plan),
        driven=fasteners_word(plan.joinery.fasteners),
        holes=make_holes(plan),
        pulls=make_pulls(plan),
        steps=make_steps(plan, artifacts.steps),
        checked=checked_sentences(plan),
        strength=strength_sentences(plan),
        warnings=warning_rows(plan),
        files=(router_sentences(plan), make_files(artifacts, entry.slug)),
        revisions=make_table("Revisions", ("Revision", "What changed"), story.changes),
    )


def _layouts(plan: Plan, artifacts: Artifacts) -> tuple[tuple[Layout, str, str, Picture], ...]:
    """Return every sheet with its caption, what of it is worth keeping, and its drawing."""
    return tuple(
        (layout, layout_words(plan, layout), offcut_words(plan, layout), picture)
        for layout, picture in zip(plan.cutting.layouts, artifacts.layouts, strict=True)
    )
