"""The page of one edition: everything to build a plan in inches, or in millimetres."""

from collections.abc import Mapping

from generator.model.artifacts import Artifacts, Picture
from generator.model.cutting import Layout
from generator.model.plan import Plan
from generator.model.words import fasteners_word
from generator.pages.entries import UNIT_WORDS, Entry
from generator.pages.file_list import make_take_away
from generator.pages.followed import PANEL_SIGN
from generator.pages.structured_data import describe_as_how_to
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
    make_cut_groups,
    make_cut_list,
    make_settings,
    offcut_words,
    settings_words,
)
from generator.telling.fitting_tables import finish_sentences, make_edging
from generator.telling.housing_tables import make_housings
from generator.telling.joinery_tables import make_holes, make_screws, make_steps
from generator.telling.part_uses import find_uses
from generator.telling.pull_table import make_pulls
from generator.telling.shop_tables import tell_shop
from generator.telling.strength_words import strength_sentences
from generator.telling.tables import make_table


def edition_page(entry: Entry, plan: Plan, artifacts: Artifacts) -> bytes:
    """Return the page as Markdown, in the order in which a builder needs things.

    `PANEL_SIGN` stands where a reader enters what was measured; `publish_pages` writes that.
    """
    story = plan.edition.story
    return render(
        "edition.md.j2",
        entry=entry,
        story=story,
        system=plan.edition.system,
        unit=UNIT_WORDS[plan.edition.system],
        artifacts=artifacts,
        labels=frozenset(part.label for part in plan.parts.parts),
        uses=find_uses(plan),
        advice=make_advice(plan),
        facts_rows=make_facts(plan),
        how_to=describe_as_how_to(plan),
        take=make_take_away(artifacts),
        **_buying(plan),
        **_cutting(plan, artifacts),
        **_building(plan, artifacts),
        checked=checked_sentences(plan),
        strength=strength_sentences(plan),
        warnings=warning_rows(plan),
        revisions=make_table("Revisions", ("Revision", "What changed"), story.changes),
        panel_sign=PANEL_SIGN,
    )


def _buying(plan: Plan) -> Mapping[str, object]:
    return {
        "shopping": make_shopping(plan),
        "sheets_bought": make_sheets_bought(plan),
        "tools": make_tools(plan),
        "bits": make_bits(plan),
    }


def _cutting(plan: Plan, artifacts: Artifacts) -> Mapping[str, object]:
    return {
        "cut_list": make_cut_list(plan),
        "blanks": make_blanks(plan),
        "plain_blanks": not any(any(blank.allowance_mm) for blank in plan.cutting.blanks),
        "layouts": _layouts(plan, artifacts),
        "lifting": lifting_words(plan),
        "boards": tuple(
            (board_words(plan, number, len(artifacts.boards)), picture)
            for number, picture in enumerate(artifacts.boards, start=1)
        ),
        "board_offcuts": board_offcuts(plan),
        "settings": (settings_words(plan), make_settings(plan)),
        "shop": tell_shop(plan),
        "housings": make_housings(plan),
        "cut_order": make_cut_groups(plan),
        "part_sheets": tuple(
            (plan.parts.part(label), pictures) for label, pictures in artifacts.parts
        ),
    }


def _layouts(plan: Plan, artifacts: Artifacts) -> tuple[tuple[Layout, str, str, Picture], ...]:
    """Return every sheet with its caption, what of it is worth keeping, and its drawing."""
    return tuple(
        (layout, layout_words(plan, layout), offcut_words(plan, layout), picture)
        for layout, picture in zip(plan.cutting.layouts, artifacts.layouts, strict=True)
    )


def _building(plan: Plan, artifacts: Artifacts) -> Mapping[str, object]:
    return {
        "edging": make_edging(plan),
        "screws": make_screws(plan),
        "driven": fasteners_word(plan.joinery.fasteners),
        "holes": make_holes(plan),
        "pulls": make_pulls(plan),
        "steps": make_steps(plan, artifacts.steps),
        "finish": finish_sentences(plan),
    }
