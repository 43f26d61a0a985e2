"""The page of every problem code, and the starter design: texts that stand in site_templates."""

from generator.pages.templates import TEMPLATES
from generator.problems import CODES


def list_codes() -> tuple[str, ...]:
    """Return all codes, sorted."""
    return tuple(sorted(CODES))


def find_explanation(code: str) -> str | None:
    """Return the page of a code as Markdown; None for an unknown code."""
    if code not in CODES:
        return None
    return (TEMPLATES / "problems" / f"{code}.md").read_text(encoding="utf-8")


def read_starter() -> str:
    """Return the text of the starter design; the word TITLE stands for its title."""
    return (TEMPLATES / "starter" / "design.yml").read_text(encoding="utf-8")
