"""
Markdown to clean HTML: headings of two ranks, paragraphs, lists, emphasis, tables, links. No raw HTML, no images.

Drawings are put in by those who show the page, after cleaning. Nothing here carries a style, a script or an id, so the
result stands under a content security policy without exceptions and may appear twice on a page.
"""

from __future__ import annotations

import re
from functools import lru_cache
from xml.etree.ElementTree import Element

import nh3
from markdown import Markdown
from markdown.extensions import Extension
from markdown.extensions.tables import TableExtension
from markdown.preprocessors import Preprocessor
from markdown.treeprocessors import Treeprocessor

from trainer.text.signs import without_hidden

__all__ = ["inline_html", "to_html"]

PROSE = ("p", "h3", "h4", "ul", "ol", "li", "strong", "em", "code", "pre", "blockquote", "hr", "br", "a")
TABLES = ("table", "thead", "tbody", "tr", "th", "td")
ATTRIBUTES = {"a": {"href", "title"}, "ol": {"start"}}
CELL_CLASSES = {"right": "number", "center": "middle"}
RANKS = {"h1": "h3", "h2": "h3", "h5": "h4", "h6": "h4"}


#: A conductor's size at the head of a line, `#12 THHN`, is no heading: a heading has a space after its signs.
SIZE = re.compile(r"^#(?=\d)")
#: What a browser takes for `//`: it leaves out controls, ends of lines and tabs, and turns a backslash over.
OUT = re.compile(r"[\x00-\x20]*[/\\][\t\r\n]*[/\\]|[\x00-\x20]*\\")


class _Sizes(Preprocessor):
    """Keeps the sign of a conductor's size as it is typed."""

    def run(self, lines: list[str]) -> list[str]:
        return [SIZE.sub(r"\#", line) for line in lines]


class _House(Treeprocessor):
    """Ranks of headings as the pages have them; a column's alignment as a class instead of an attribute."""

    def run(self, root: Element) -> None:
        for element in root.iter():
            element.tag = RANKS.get(element.tag, element.tag)
            side = element.attrib.pop("align", "")
            if side in CELL_CLASSES:
                element.set("class", CELL_CLASSES[side])


class _HouseRules(Extension):
    """What the Markdown of this program may not hold: tags and images stay plain text."""

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 - the library's name
        md.preprocessors.deregister("html_block")
        for pattern in ("html", "image_link", "image_reference", "short_image_ref"):
            md.inlinePatterns.deregister(pattern)
        md.preprocessors.register(_Sizes(md), "sizes", 0)
        md.treeprocessors.register(_House(md), "house", 0)


@lru_cache(maxsize=1024)
def to_html(markdown: str) -> str:
    """
    Clean HTML of a Markdown text; cached, because a long lesson takes some 15 ms.

    >>> to_html("Ream **both** ends.")
    '<p>Ream <strong>both</strong> ends.</p>'
    """
    reader = Markdown(extensions=[TableExtension(use_align_attribute=True), "sane_lists", _HouseRules()])
    return nh3.clean(
        reader.convert(without_hidden(markdown)),
        tags={*PROSE, *TABLES},
        attributes=ATTRIBUTES,
        allowed_classes={"th": set(CELL_CLASSES.values()), "td": set(CELL_CLASSES.values())},
        url_schemes={"https"},
        attribute_filter=_inside_or_https,
        link_rel="noopener noreferrer",
    )


def _inside_or_https(_tag: str, attribute: str, value: str) -> str | None:
    """A link leads to a page of this site or names its scheme; `//host` would do neither, however it is spelled."""
    return None if attribute == "href" and OUT.match(value) else value


def inline_html(markdown: str) -> str:
    """
    The same for a line that stands inside a label or a heading: without the paragraph around it.

    >>> inline_html("a *set-screw* connector")
    'a <em>set-screw</em> connector'
    """
    html = to_html(markdown)
    inside = html.removeprefix("<p>").removesuffix("</p>")
    return html if "<p>" in inside else inside
