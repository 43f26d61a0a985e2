"""The page of every problem code, and the starter designs: texts that stand in site_templates."""

from generator.pages.templates import TEMPLATES
from generator.problems import CODES

STARTERS = ("shelf", "tray", "box")
"""Designs to start from; the first one where nothing else is asked for."""


def list_codes() -> tuple[str, ...]:
    """Return all codes, sorted."""
    return tuple(sorted(CODES))


def find_explanation(code: str) -> str | None:
    """Return the page of a code as Markdown; None for an unknown code."""
    if code not in CODES:
        return None
    return (TEMPLATES / "problems" / f"{code}.md").read_text(encoding="utf-8")


def read_starter(like: str) -> str:
    """Return the text of one of `STARTERS`; the word TITLE stands for its title."""
    return (TEMPLATES / "starters" / f"{like}.yml").read_text(encoding="utf-8")
