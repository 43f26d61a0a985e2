"""The maker's Markdown as HTML that can do no harm to a page.

HTML in it is shown as text, pictures become their own words, links lead to the web or by mail or
are dropped, and headings stand below those of the page.
"""

from urllib.parse import urlsplit
from xml.etree.ElementTree import Element

from markdown import Markdown
from markdown.treeprocessors import Treeprocessor

LINK_SCHEMES = ("http", "https", "mailto")
HEADINGS = {"h1": "h4", "h2": "h5", "h3": "h6", "h4": "h6", "h5": "h6"}


def format_maker_markdown(text: str) -> str:
    """Return prose written by a maker as HTML blocks; empty text gives nothing."""
    converter = Markdown(output_format="html")
    converter.preprocessors.deregister("html_block")
    converter.inlinePatterns.deregister("html")
    converter.inlinePatterns.deregister("entity")
    converter.treeprocessors.register(_Tamer(converter), "tame", 5)
    return converter.convert(text)


class _Tamer(Treeprocessor):
    """Takes out of a tree what a maker's words must not hold."""

    def run(self, root: Element) -> None:
        """Change the tree in place."""
        for element in root.iter():
            element.tag = HEADINGS.get(element.tag, element.tag)
            if element.tag == "img":
                _turn_into_words(element)
            elif element.tag == "a" and not _is_safe(element.get("href", "")):
                element.tag = "span"
                element.attrib.clear()
            elif element.tag == "a":
                element.set("rel", "noopener noreferrer")


def _turn_into_words(picture: Element) -> None:
    picture.tag = "span"
    picture.text = picture.get("alt", "")
    picture.attrib.clear()


def _is_safe(link: str) -> bool:
    try:
        return urlsplit(link).scheme.lower() in LINK_SCHEMES
    except ValueError:
        return False
