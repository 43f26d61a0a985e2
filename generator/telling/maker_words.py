"""The maker's Markdown as a small tree of blocks and words, for pages and booklets alike.

HTML in it stays text, pictures become their own words, and links lead to the web or by mail or
are dropped: what comes out can do no harm wherever it is set.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape
from typing import Literal
from urllib.parse import urlsplit
from xml.etree.ElementTree import Element

from markdown import Markdown
from markdown.util import AMP_SUBSTITUTE

BlockKind = Literal["paragraph", "heading", "list", "numbered", "item", "quote", "code", "rule"]
SpanKind = Literal["strong", "emphasis", "literal", "link", "break"]

LINK_SCHEMES = ("http", "https", "mailto")
MOST_LEVELS = 12
"""How deep lists and quotations go; what is nested deeper is told on the last level."""

SPANS: dict[str, SpanKind] = {
    "strong": "strong",
    "em": "emphasis",
    "code": "literal",
    "a": "link",
    "br": "break",
}
BLOCKS: dict[str, BlockKind] = {
    "p": "paragraph",
    "ul": "list",
    "ol": "numbered",
    "li": "item",
    "blockquote": "quote",
    "pre": "code",
    "hr": "rule",
    **dict.fromkeys(("h1", "h2", "h3", "h4", "h5", "h6"), "heading"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A block or a span of words.

    Attributes:
        kind: What it is; of a ``code`` block the inner is one text with its line ends.
        inner: Texts and nodes in their order.
        level: Of a heading, 1 to 6.
        link: Where a link leads.
    """

    kind: BlockKind | SpanKind
    inner: "tuple[Node | str, ...]" = ()
    level: int = 0
    link: str = ""


def parse_maker_markdown(text: str) -> tuple[Node, ...]:
    """Return prose written by a maker as blocks; empty text gives none."""
    if not text.strip():
        return ()
    converter = Markdown()
    converter.preprocessors.deregister("html_block")
    converter.inlinePatterns.deregister("html")
    converter.inlinePatterns.deregister("entity")
    lines = text.split("\n")
    for preprocessor in converter.preprocessors:
        lines = preprocessor.run(lines)
    root = converter.parser.parseDocument(lines).getroot()
    assert root is not None
    for processor in converter.treeprocessors:
        changed = processor.run(root)
        root = root if changed is None else changed
    return tuple(node for node in _inner(root, 0) if isinstance(node, Node))


def _inner(element: Element, depth: int) -> Iterator[Node | str]:
    """Yield what an element holds; line ends between blocks are no text."""
    holds_blocks = any(child.tag in BLOCKS for child in element)
    yield from _words(element.text, holds_blocks)
    for child in element:
        yield from _nodes(child, depth)
        yield from _words(child.tail, holds_blocks)


def _words(text: str | None, beside_blocks: bool) -> Iterator[str]:
    words = unescape((text or "").replace(AMP_SUBSTITUTE, "&"))
    words = words.strip("\n") if beside_blocks else words
    if words.strip() or (words and not beside_blocks):
        yield words


def _nodes(element: Element, depth: int) -> Iterator[Node | str]:
    tag = str(element.tag)
    if tag == "img":
        yield from _words(element.get("alt"), False)
    elif tag == "pre":
        yield Node(kind="code", inner=("".join(_inner_text(element)).rstrip("\n"),))
    elif tag in BLOCKS and depth < MOST_LEVELS:
        level = int(tag[1]) if BLOCKS[tag] == "heading" else 0
        yield Node(kind=BLOCKS[tag], inner=tuple(_inner(element, depth + 1)), level=level)
    elif tag == "a":
        yield from _link(element, depth)
    elif tag in SPANS:
        yield Node(kind=SPANS[tag], inner=tuple(_inner(element, depth)))
    else:
        yield from _inner(element, depth)


def _inner_text(element: Element) -> Iterator[str]:
    for text in element.itertext():
        yield from _words(text, False)


def _link(element: Element, depth: int) -> Iterator[Node | str]:
    link = unescape(element.get("href", "").replace(AMP_SUBSTITUTE, "&"))
    inner = tuple(_inner(element, depth))
    if _is_safe(link):
        yield Node(kind="link", inner=inner, link=link)
    else:
        yield from inner


def _is_safe(link: str) -> bool:
    try:
        return urlsplit(link).scheme.lower() in LINK_SCHEMES
    except ValueError:
        return False
