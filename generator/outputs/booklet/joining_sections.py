"""Sections of a booklet from the first hole on: drilling, assembly, finish, what was checked."""

from collections.abc import Iterator

from generator.model.artifacts import Artifacts
from generator.model.plan import Plan
from generator.model.words import capital, fasteners_word
from generator.outputs.booklet.drawings import Drawings
from generator.outputs.booklet.items import (
    Item,
    Room,
    cautions,
    groups,
    heading,
    picture,
    points,
    prose,
    table,
    text,
)
from generator.telling.advice import Advice
from generator.telling.checked import checked_sentences, warning_rows
from generator.telling.fitting_tables import finish_sentences
from generator.telling.joinery_tables import StepView, make_holes, make_screws, make_steps
from generator.telling.pull_table import make_pulls
from generator.telling.router_words import router_sentences
from generator.telling.strength_words import strength_sentences
from generator.telling.tables import make_table


def drilling_items(plan: Plan, advice: Advice) -> Iterator[Item]:
    """Yield every hole and everything that is driven into one."""
    driven = fasteners_word(plan.joinery.fasteners)
    joined = "," if " and " in driven else " and"
    yield heading(f"Drilling{joined} {driven}")
    yield from (text(line) for line in advice.drilling)
    if plan.joinery.fasteners:
        yield table(make_screws(plan))
    if advice.pulls:
        yield text(advice.pulls)
        yield table(make_pulls(plan))
    if advice.pins:
        yield text(advice.pins)
    holes = make_holes(plan)
    if holes.rows:
        yield table(holes, tick_word="Bored")


def assembly_items(
    plan: Plan, artifacts: Artifacts, drawings: Drawings, room: Room, advice: Advice
) -> Iterator[Item]:
    """Yield the steps of assembly, each with its picture."""
    yield heading("Assembly", new_page=True)
    yield text(advice.assembly)
    for step in make_steps(plan, artifacts.steps):
        yield from _step_items(step, drawings, room)


def closing_items(
    plan: Plan, artifacts: Artifacts, drawings: Drawings, room: Room, advice: Advice
) -> Iterator[Item]:
    """Yield finish, cautions, what was checked, router sheets, files, how the plan came to be."""
    story = plan.edition.story
    yield heading("Finish")
    yield prose(story.finish or advice.finish)
    coats = finish_sentences(plan)
    if coats:
        yield points(coats, ticked=True)
    yield heading("Safety")
    if story.cautions:
        yield cautions(story.cautions)
    yield points(advice.cautions)
    yield heading("What was checked")
    yield points(checked_sentences(plan))
    yield heading("What it carries, and how it stands", 2)
    yield points(strength_sentences(plan))
    warnings = warning_rows(plan)
    if warnings:
        yield heading("Published with these warnings", 2)
        yield points(_warning(*row) for row in warnings)
    yield text(advice.sizes)
    yield from _router_items(plan, artifacts, drawings, room)
    yield from _file_items(plan, artifacts)


def _step_items(step: StepView, drawings: Drawings, room: Room) -> Iterator[Item]:
    yield heading(f"Step {step.order}: {step.title}", 2)
    yield picture(drawings.figure(step.picture), room, stays=True)
    if step.apart:
        yield text(f"Built apart: {step.apart}.")
    lists: tuple[tuple[str, tuple[str, ...]], ...] = (
        ("Fit", step.fits),
        (capital(step.driven), step.screws),
        ("Pins", step.pins),
        ("Hardware", step.hardware),
        ("Glue", step.glued),
    )
    if any(lines for _, lines in lists):
        yield groups(lists, ticked=True, columns=3)
    if step.marks:
        yield heading("Layout lines", 3)
        yield groups(step.marks, ticked=True)
    if step.cautions:
        yield cautions(step.cautions)
    if step.says:
        yield prose(step.says)


def _warning(code: str, what: str, reason: str) -> str:
    accepted = f" Accepted by the maker: {reason}" if reason else ""
    return f"{code} {what}.{accepted}"


def _router_items(
    plan: Plan, artifacts: Artifacts, drawings: Drawings, room: Room
) -> Iterator[Item]:
    """Yield the sheets laid for a router, which most readers do without: so they come late."""
    if not artifacts.router:
        return
    yield heading("Sheets for a router")
    yield points(router_sentences(plan))
    yield from (picture(drawings.figure(one), room) for one in artifacts.router)


def _file_items(plan: Plan, artifacts: Artifacts) -> Iterator[Item]:
    story = plan.edition.story
    rows = (
        (one.path.removeprefix(f"files/{artifacts.system}/"), one.title)
        for one in artifacts.downloads
    )
    yield heading("Files")
    yield text("These files come with the page of this plan, for programs and for a router.")
    yield table(make_table("Files of this edition", ("File", "What it is"), rows))
    if story.changes:
        yield heading("Revisions")
        yield table(make_table("", ("Revision", "What changed"), story.changes))
