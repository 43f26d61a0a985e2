"""The templates of the site: strict about missing values, everything escaped unless said."""

import re
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from generator.pages.maker_words import format_maker_markdown

TEMPLATES = Path(__file__).resolve().parents[2] / "site_templates"
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
    environment.filters["prose"] = lambda text: Markup(format_maker_markdown(text))
    return environment


def render(name: str, **values: object) -> bytes:
    """Return a filled-in template as UTF-8."""
    return read_templates().get_template(name).render(**values).encode("utf-8")


def escape_markdown(text: str) -> Markup:
    """Return plain words for a line of Markdown, where neither HTML nor Markdown acts on them."""
    flat = " ".join(text.split())
    safe = flat.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return Markup(MARKDOWN_SIGNS.sub(_escape_sign, safe))


def _escape_sign(match: re.Match[str]) -> str:
    """Signs as numbered entities: neither Markdown nor its extensions see them."""
    return f"&#{ord(match[1])};"
