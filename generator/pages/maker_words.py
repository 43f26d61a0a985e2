"""The maker's words as HTML that can do no harm to a page; headings stand below those of it."""

from html import escape

from generator.telling.maker_words import BlockKind, Node, SpanKind, parse_maker_markdown

TAGS: dict[BlockKind | SpanKind, str] = {
    "paragraph": "p",
    "list": "ul",
    "numbered": "ol",
    "item": "li",
    "quote": "blockquote",
    "strong": "strong",
    "emphasis": "em",
    "literal": "code",
}
SINGLE: dict[BlockKind | SpanKind, str] = {"rule": "<hr>", "break": "<br>"}
LOWER_HEADINGS = 3
"""How many levels a maker's headings move down; there are no more than six."""


def format_maker_markdown(text: str) -> str:
    """Return prose written by a maker as HTML blocks; empty text gives nothing."""
    return "\n".join(_format(node) for node in parse_maker_markdown(text))


def _format(node: Node | str) -> str:
    if isinstance(node, str):
        return escape(node, quote=False)
    inner = "".join(_format(one) for one in node.inner)
    if node.kind in SINGLE:
        return SINGLE[node.kind]
    if node.kind == "code":
        return f"<pre><code>{inner}\n</code></pre>"
    if node.kind == "link":
        return f'<a href="{escape(node.link)}" rel="noopener noreferrer">{inner}</a>'
    level = min(node.level + LOWER_HEADINGS, 6)
    tag = f"h{level}" if node.kind == "heading" else TAGS[node.kind]
    return f"<{tag}>{inner}</{tag}>"
