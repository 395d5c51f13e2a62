"""
What a sheet is made of: each block is a plain value; `templates/document.typ` sets each of them.

Every text is set letter by letter as it stands. Only `Prose` reads Markdown and `Text` HTML, and they know no more of them
than paragraphs, lists, strong and emphasized words; `Text` knows headings too.
"""

from __future__ import annotations

from msgspec import Struct

__all__ = [
    "Blanks",
    "Block",
    "Cautions",
    "Choices",
    "Column",
    "Document",
    "Facts",
    "Figure",
    "Heading",
    "Large",
    "NewPage",
    "Prose",
    "Room",
    "Sheet",
    "Signature",
    "Slip",
    "Slips",
    "Table",
    "Text",
    "Together",
    "Words",
]


class Heading(Struct, frozen=True):
    """A heading: rank 1 or 2 below the title, 0 for the title of one person's pages."""

    words: str
    rank: int = 1


class Words(Struct, frozen=True):
    """A paragraph of plain text; a soft one is set smaller, for remarks."""

    words: str
    soft: bool = False


class Prose(Struct, frozen=True):
    """Paragraphs and lists in Markdown, of the program's own writing."""

    markdown: str


class Text(Struct, frozen=True):
    """Headings, paragraphs and lists as the clean HTML of a lesson's prose; anything else in it stands as text."""

    html: str


class Column(Struct, frozen=True):
    """A column of a table: its head, how wide it is beside the others, whether its cells are numbers."""

    head: str
    share: float = 1
    is_number: bool = False


class Table(Struct, frozen=True):
    """
    A table; its head stands again on each page that it runs over.

    Args:
        columns: Its columns.
        rows: A text for each column, in each row.
        to_write_in: Rows are high enough for a pen.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    to_write_in: bool = False


class Figure(Struct, frozen=True):
    """
    A drawing, already in print styles (`for_print`).

    Args:
        svg: The drawing.
        told: What it shows, for who cannot see it.
        share: Part of the page's width that it takes, above 0, up to 1.
    """

    svg: str
    told: str
    share: float = 0.8


class Facts(Struct, frozen=True):
    """Names with their values, below each other: (name, value) each; a small drawing may stand beside them."""

    rows: tuple[tuple[str, str], ...]
    code: Figure | None = None


class Large(Struct, frozen=True):
    """A few signs that are read from across a room, such as a code."""

    words: str


class Slip(Struct, frozen=True):
    """
    A slip for one person.

    Args:
        title: Whose it is.
        rows: (name, value) each; a value is set in a face whose letters are not mistaken for each other.
        code: A small drawing beside them.
        below: What to do with it.
    """

    title: str
    rows: tuple[tuple[str, str], ...]
    code: Figure
    below: str


class Slips(Struct, frozen=True):
    """Slips to be cut apart along dashed lines, two side by side."""

    slips: tuple[Slip, ...]


class Blanks(Struct, frozen=True):
    """Lines to write on, each behind its name and what is asked there ("" for nothing)."""

    rows: tuple[tuple[str, str], ...]


class Signature(Struct, frozen=True):
    """Lines to write on side by side, each above its name."""

    names: tuple[str, ...]


class Cautions(Struct, frozen=True):
    """Safety lines in a frame."""

    title: str
    lines: tuple[str, ...]


class Choices(Struct, frozen=True):
    """What can be chosen: (letter, Markdown of a single line) each; short ones stand in two columns."""

    rows: tuple[tuple[str, str], ...]


class Room(Struct, frozen=True):
    """Empty squared paper, so many inches high."""

    inches: float


class NewPage(Struct, frozen=True):
    """What follows begins a page."""


class Together(Struct, frozen=True):
    """Blocks that stay on one page."""

    blocks: tuple[Block, ...]


class Sheet(Struct, frozen=True):
    """
    Pages of one person: they begin a page, are counted by themselves, and bear name and code at the top of each.

    Args:
        name: Whose it is.
        code: By which it is found again.
        page_words: How its pages are counted, with {page} and {pages} in it.
        blocks: What it holds.
    """

    name: str
    code: str
    page_words: str
    blocks: tuple[Block, ...]


Block = (
    Heading
    | Words
    | Prose
    | Text
    | Facts
    | Table
    | Figure
    | Large
    | Slips
    | Blanks
    | Choices
    | Signature
    | Cautions
    | Room
    | NewPage
    | Together
    | Sheet
)


class Document(Struct, frozen=True):
    """
    One sheet, or several.

    Args:
        title: What it is; stands at its top and in the file.
        below: A line below the title; "" for none.
        mark: A warning at the top of every page, as that all in it is invented; "" for none.
        foot: Stands at the foot of every page, before the number of the page.
        page_words: How pages are counted, with {page} and {pages} in it.
        blocks: What it holds.
        language: Language tag of its words.
    """

    title: str
    below: str
    mark: str
    foot: str
    page_words: str
    blocks: tuple[Block, ...]
    language: str = "en"
