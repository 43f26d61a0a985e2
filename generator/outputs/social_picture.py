"""The card of a plan, shown where somebody sends its link: PNG of 1200 by 630 pixels."""

import json
from pathlib import Path
from typing import Any, Final

import typst

from generator.model.plan import Plan
from generator.outputs.booklet.typeset import FONTS, TypesettingError, find_fonts
from generator.telling.buying_tables import make_facts

TEMPLATE: Final = Path(__file__).resolve().parents[2] / "site_templates" / "social" / "card.typ"
WIDTH_PX, HEIGHT_PX = 1200, 630
PPI: Final = 144.0
"""Two pixels for each point of the template."""

TOLD: Final = ("Overall size", "Pieces", "Time")
"""Figures that help somebody who has not seen the plan."""


def draw_social_picture(plan: Plan, drawing: bytes) -> bytes:
    """Return the card as PNG; the same plan gives the same bytes.

    Args:
        plan: In one edition.
        drawing: The SVG of the finished piece.

    Raises:
        TypesettingError: The template and its data do not make a card.
    """
    story = plan.edition.story
    facts = [[name, value] for name, value in make_facts(plan) if name in TOLD]
    data = {"title": story.title, "summary": story.summary, "facts": facts, "fonts": list(FONTS)}
    inputs: Any = {
        "main.typ": TEMPLATE.read_bytes(),
        "card.json": json.dumps(data).encode("ascii"),
        "drawing.svg": drawing,
    }
    try:
        compiler = typst.Compiler(inputs, font_paths=find_fonts())
        png, warnings = compiler.compile_with_warnings(format="png", ppi=PPI)
    except typst.TypstError as error:
        raise TypesettingError(f"{error.message} {error.diagnostic}") from error
    if warnings or not isinstance(png, bytes):
        raise TypesettingError("; ".join(one.message for one in warnings) or "more than one page")
    return png
