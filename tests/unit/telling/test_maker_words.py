"""The maker's Markdown as a tree that no writer need be afraid of."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.telling.maker_words import MOST_LEVELS, Node, parse_maker_markdown


def test_words_keep_what_a_maker_emphasises() -> None:
    (paragraph,) = parse_maker_markdown("Turn it **over**, *gently*.")

    assert paragraph == Node(
        kind="paragraph",
        inner=(
            "Turn it ",
            Node(kind="strong", inner=("over",)),
            ", ",
            Node(kind="emphasis", inner=("gently",)),
            ".",
        ),
    )


def test_a_list_in_a_list_keeps_its_words_and_its_spaces() -> None:
    (outer,) = parse_maker_markdown("- use `a < b` here\n    - inner\n")
    (item,) = outer.inner

    assert outer.kind == "list"
    assert item == Node(
        kind="item",
        inner=(
            "use ",
            Node(kind="literal", inner=("a < b",)),
            " here",
            Node(kind="list", inner=(Node(kind="item", inner=("inner",)),)),
        ),
    )


@pytest.mark.parametrize(
    "text", ["[go](javascript:alert(1))", "[go](//example.org/x)", "[go](http://[bad)"]
)
def test_a_link_that_leads_anywhere_else_is_its_words_alone(text: str) -> None:
    assert parse_maker_markdown(text) == (Node(kind="paragraph", inner=("go",)),)


def test_a_mail_address_is_readable_text() -> None:
    (paragraph,) = parse_maker_markdown("<bench@example.org>")

    assert paragraph.inner == (
        Node(kind="link", inner=("bench@example.org",), link="mailto:bench@example.org"),
    )


def test_quotations_end_somewhere() -> None:
    (node,) = parse_maker_markdown(">" * 200 + " deep")
    depth = 0
    inner: Node | str = node
    while isinstance(inner, Node):
        depth += 1
        inner = inner.inner[0]

    assert depth == MOST_LEVELS
    assert "deep" in inner


@given(st.text(max_size=200))
def test_any_text_becomes_blocks(text: str) -> None:
    assert all(isinstance(node, Node) for node in parse_maker_markdown(text))
