"""The maker's Markdown on a page."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.pages.maker_words import format_maker_markdown
from generator.pages.templates import escape_markdown, read_templates


def test_emphasis_and_lists_are_kept() -> None:
    html = format_maker_markdown("It **leans**.\n\n- one\n- two\n")

    assert "<p>It <strong>leans</strong>.</p>" in html
    assert html.count("<li>") == 2


def test_headings_stand_below_those_of_the_page() -> None:
    assert format_maker_markdown("# Big\n\n### Small") == "<h4>Big</h4>\n<h6>Small</h6>"


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        'a <img src="x" onerror="alert(1)"> b',
        "<div markdown=1>\n\n*x*\n\n</div>",
        "![pixel](https://example.org/p.png)",
        "[go](javascript:alert(1))",
        "[go](JaVaScRiPt:alert(1))",
        "[go](&#106;avascript:alert(1))",
        "<javascript:alert(1)>",
        "[go](//example.org/x)",
        "text { onclick=alert(1) }\n{: onclick=alert(1) }",
        "[go](http://[bad)",
    ],
)
def test_nothing_a_maker_writes_can_run_load_or_mislead(text: str) -> None:
    html = format_maker_markdown(text)

    assert "<script" not in html
    assert "<img" not in html
    assert "<div" not in html
    assert "href=" not in html


def test_a_link_to_the_web_is_kept() -> None:
    html = format_maker_markdown("[wood](https://example.org/wood)")

    assert html == ('<p><a href="https://example.org/wood" rel="noopener noreferrer">wood</a></p>')


@given(st.text(max_size=200))
def test_any_text_can_be_converted(text: str) -> None:
    assert "<script" not in format_maker_markdown(text)


def test_signs_in_a_title_reach_the_reader_as_they_are() -> None:
    template = read_templates().from_string("## {{ title | md }}")

    assert template.render(title="A*b* <i> & {x}") == (
        "## A&#42;b&#42; &lt;i&gt; &amp; &#123;x&#125;"
    )
    assert str(escape_markdown("two\nlines")) == "two lines"
