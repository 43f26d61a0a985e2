"""The booklet of a plan: its cover, its contents, and everything in a builder's order."""

from collections.abc import Mapping
from datetime import date

from generator.model.artifacts import Artifacts
from generator.model.edition import Story
from generator.model.plan import Plan
from generator.outputs.booklet.cutting_sections import buying_items, cutting_items, part_items
from generator.outputs.booklet.drawings import Drawings
from generator.outputs.booklet.items import Item, heading, picture, prose
from generator.outputs.booklet.joining_sections import (
    assembly_items,
    closing_items,
    drilling_items,
)
from generator.outputs.booklet.paper import PAPERS, Paper
from generator.outputs.booklet.typeset import FONTS, typeset
from generator.outputs.scene import Scene
from generator.telling.advice import FIRST_CAUTIONS, make_advice
from generator.telling.buying_tables import make_facts
from generator.units import System

EDITION_WORDS: Mapping[System, str] = {"imperial": "in inches", "metric": "in millimetres"}


def booklet_name(plan: Plan) -> str:
    """Return the name of the file: ``booklet-letter.pdf`` or ``booklet-a4.pdf``."""
    return f"booklet-{PAPERS[plan.edition.system].name}.pdf"


def booklet_pdf(plan: Plan, artifacts: Artifacts, scenes: Mapping[str, Scene]) -> bytes:
    """Return the booklet of a plan.

    Args:
        plan: In one edition; that chooses the paper.
        artifacts: What there is beside the booklet.
        scenes: All its drawings, by path.
    """
    drawings = Drawings(scenes=scenes)
    data = booklet_data(plan, artifacts, drawings)
    return typeset("booklet", data, drawings.used, plan.edition.story.date)


def booklet_data(plan: Plan, artifacts: Artifacts, drawings: Drawings) -> dict[str, object]:
    """Return everything the template reads, ready for JSON."""
    story, paper = plan.edition.story, PAPERS[plan.edition.system]
    day = date.fromisoformat(story.date)
    return {
        "title": story.title,
        "edition": EDITION_WORDS[plan.edition.system],
        "summary": story.summary,
        "made_by": story.made_by,
        "date": [day.year, day.month, day.day],
        "fonts": list(FONTS),
        "paper": paper.told(),
        "cover": picture(drawings.figure(artifacts.assembled), paper.room),
        "facts": [list(row) for row in make_facts(plan)],
        "first_cautions": list(FIRST_CAUTIONS),
        "first_cautions_head": "Before you saw",
        "imprint": _imprint(story),
        "foot": f"Revision {story.revision} of {story.date}. Scales hold where this page is "
        "printed at 100 %.",
        "items": _items(plan, artifacts, drawings, paper),
    }


def _items(plan: Plan, artifacts: Artifacts, drawings: Drawings, paper: Paper) -> list[Item]:
    advice, room = make_advice(plan), paper.room
    return [
        *_first_items(plan, artifacts, drawings, paper),
        *buying_items(plan, advice),
        *cutting_items(plan, artifacts, drawings, room, advice),
        *part_items(plan, artifacts, drawings, room, advice),
        *drilling_items(plan, advice),
        *assembly_items(plan, artifacts, drawings, room, advice),
        *closing_items(plan, artifacts, drawings, room, advice),
    ]


def _first_items(plan: Plan, artifacts: Artifacts, drawings: Drawings, paper: Paper) -> list[Item]:
    """Return what the piece is: the maker's words, the exploded view and the three views."""
    views = drawings.figure(artifacts.three_views, states_scale=True)
    return [
        heading("What you will build", new_page=True),
        prose(plan.edition.story.about),
        picture(
            drawings.figure(artifacts.exploded),
            paper.room,
            "Every piece with the letter of its part.",
        ),
        picture(views, paper.room, "The piece seen square on, with its overall sizes."),
    ]


def _imprint(story: Story) -> list[str]:
    made = f" Made by: {story.made_by}." if story.made_by else ""
    licence = f" Licence: {story.licence}." if story.licence else ""
    return [f"Revision {story.revision} of {story.date}.{made}{licence}"]
