"""The templates of the site: strict about missing values, everything escaped unless said."""

import re
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from generator.pages.html_tables import format_cut_groups, format_table, link_line
from generator.pages.maker_words import format_maker_markdown

TEMPLATES = Path(__file__).resolve().parents[2] / "site_templates"
LONGEST_ALT = 240
"""Characters: what is longer is tiring to listen to on the way through a page."""

MARKDOWN_SIGNS = re.compile(r"([\\`*_{}\[\]()#+\-.!|~^=:])")


@cache
def read_templates() -> Environment:
    """Return the environment that holds every template of the site."""
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["md"] = escape_markdown
    environment.filters["table"] = format_table
    environment.filters["cut_groups"] = format_cut_groups
    environment.filters["labels"] = link_line
    environment.filters["short"] = shorten_alt
    environment.filters["prose"] = lambda text: Markup(format_maker_markdown(text))
    return environment


def render(name: str, **values: object) -> bytes:
    """Return a filled-in template as UTF-8."""
    return read_templates().get_template(name).render(**values).encode("utf-8")


def shorten_alt(text: str) -> str:
    """Return whole sentences of what a picture shows; all of them stand in the drawing itself."""
    if len(text) <= LONGEST_ALT:
        return text
    end = text.rfind(". ", 0, LONGEST_ALT)
    return f"{text[: end + 1] if end > 0 else text[:LONGEST_ALT]} The drawing tells the rest."


def escape_markdown(text: str) -> Markup:
    """Return plain words for a line of Markdown, where neither HTML nor Markdown acts on them."""
    flat = " ".join(text.split())
    safe = flat.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return Markup(MARKDOWN_SIGNS.sub(_escape_sign, safe))


def _escape_sign(match: re.Match[str]) -> str:
    """Signs as numbered entities: neither Markdown nor its extensions see them."""
    return f"&#{ord(match[1])};"
