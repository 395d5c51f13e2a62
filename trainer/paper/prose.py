"""Markdown as plain values: blocks of runs, each a piece of text with its style. What is not known here stands as text."""

from __future__ import annotations

from html.parser import HTMLParser

from msgspec import Struct, field
from msgspec.structs import replace

from trainer.text.markdown import to_html

__all__ = ["Paragraph", "Run", "paragraphs", "paragraphs_of_html"]

_STYLES = {"strong": "strong", "em": "emphasis"}
_HEADINGS = frozenset({"h2", "h3", "h4"})


class Run(Struct, frozen=True):
    """Text in one style: "", "strong" or "emphasis"."""

    text: str
    style: str = ""


class Paragraph(Struct):
    """Runs that follow each other; `item` says what they are when no plain paragraph: "ul" or "ol" for an item, "h2", "h3"."""

    item: str = ""
    runs: list[Run] = field(default_factory=list)


def paragraphs(markdown: str) -> list[Paragraph]:
    """
    The paragraphs and items of a text.

    >>> paragraphs("Cut **12 in**.")
    [Paragraph(item='', runs=[Run(text='Cut ', style=''), Run(text='12 in', style='strong'), Run(text='.', style='')])]
    """
    return [replace(one, item="") if one.item in _HEADINGS else one for one in paragraphs_of_html(to_html(markdown))]


def paragraphs_of_html(html: str) -> list[Paragraph]:
    """
    The headings, paragraphs and items of clean HTML.

    >>> [one.item for one in paragraphs_of_html("<h2>Marks</h2><p>Two.</p>")]
    ['h2', '']
    """
    reader = _Reader()
    reader.feed(html)
    reader.close()
    return [one for one in reader.found if one.runs]


class _Reader(HTMLParser):
    """Reads the clean HTML that Markdown makes here; a line break inside a paragraph is a space."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[Paragraph] = [Paragraph()]
        self._lists: list[str] = []
        self._styles: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        del attrs
        if tag in {"ul", "ol"}:
            self._lists.append(tag)
        elif tag in _STYLES:
            self._styles.append(_STYLES[tag])
        elif tag in _HEADINGS:
            self.found.append(Paragraph(tag))
        elif tag in {"p", "li"}:
            self.found.append(Paragraph(self._lists[-1] if tag == "li" else ""))

    def handle_endtag(self, tag: str) -> None:
        if tag in {"ul", "ol"}:
            self._lists.pop()
            self.found.append(Paragraph())
        elif tag in _STYLES:
            self._styles.pop()

    def handle_data(self, data: str) -> None:
        text = data.replace("\n", " ")
        if text.strip() or self.found[-1].runs:
            self.found[-1].runs.append(Run(text, self._styles[-1] if self._styles else ""))
