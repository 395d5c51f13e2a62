"""Where in the code book a question about a run is answered: article and section, or the table at the back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_down

__all__ = ["CODE_PLACE", "EDITIONS", "SUBJECTS", "CodePlace", "code_place"]

_BOOK = table("code_book")
_PLACES: Mapping[str, Mapping[str, Any]] = {row["subject"]: row for row in _BOOK["places"]["rows"]}
_EARLIER = {(row["subject"], row["edition"]): row for row in _BOOK["earlier"]["rows"]}
_BACK: Mapping[str, int] = {row["subject"]: row["number"] for row in _BOOK["back"]["rows"]}

#: The chapter with the tables at the back of the book.
_LAST_CHAPTER = 9

EDITIONS = ("2017", "2020", "2023")
#: What can be looked up, in the order of the table.
SUBJECTS = (*_PLACES, *_BACK)

SUBJECT = Input("subject", Kind.CHOICE, "straps", choices=SUBJECTS)
EDITION = Input("edition", Kind.CHOICE, "2023", optional=True, choices=EDITIONS)


class CodePlace(Struct, frozen=True):
    """
    A place in the code book.

    Args:
        chapter: Its chapter.
        article: Its article; 0 for a table at the back.
        section: The section in that article; 0 for a table at the back.
        subsection: The letter behind the section, 1 for (A), 2 for (B); 0 where there is none.
        table_number: The number of a table at the back; 0 for a section.
        is_table: Whether it is a table.
        reference: As it is written, "358.30(A)" or "Chapter 9, Table 4".
    """

    chapter: int
    article: int
    section: int
    subsection: int
    table_number: int
    is_table: bool
    reference: str


@steps(chapter="count")
def code_place(subject: str, edition: str = "2023") -> CodePlace:
    """
    Look up where a question is answered.

    Args:
        subject: What the question is about.
        edition: Edition of NFPA 70; some sections have moved.

    Raises:
        InputError: When a word is no choice.

    Source: NFPA 70-2017, 2020 and 2023, the sections and tables named.

    >>> code_place("straps").reference, code_place("bend-degrees", "2020").reference
    ('358.30(A)', '358.26')
    """
    SUBJECT.check(subject)
    EDITION.check(edition)
    what = Message(f"code_place.subject.{subject}")
    if subject in _BACK:
        number = _BACK[subject]
        reference = f"Chapter {_LAST_CHAPTER}, Table {number}"
        note("table_number", "code_place.back", what=what, reference=reference)
        return CodePlace(_LAST_CHAPTER, 0, 0, 0, number, True, reference)
    row = _PLACES[subject] | _EARLIER.get((subject, edition), {})
    article, section, is_table = row["article"], row["section"], row.get("is_table", False)
    reference = _written(row)
    note("article", "code_place.found", what=what, reference=reference, edition=edition)
    chapter = round_down(article / 100)
    note("section", "code_place.section", "article", section=section)
    for other in EDITIONS:
        elsewhere = _written(_PLACES[subject] | _EARLIER.get((subject, other), {}))
        if elsewhere != reference:
            note("section", "code_place.moved", edition=other, reference=elsewhere)
    return CodePlace(chapter, article, section, _letter(row["part"]), 0, is_table, reference)


def _letter(part: str) -> int:
    """The place in the alphabet of the letter that `part` begins with, "(B)(1)"; 0 where it is empty."""
    return ord(part[1]) - ord("A") + 1 if part else 0


def _written(row: Mapping[str, Any]) -> str:
    number = f"{row['article']}.{row['section']}{row['part']}"
    return f"Table {number}" if row.get("is_table") else number


CODE_PLACE = Calculation(
    name="code_place",
    function=code_place,
    inputs=(SUBJECT, EDITION),
    outputs=(
        Output("chapter", "count"),
        Output("article", "count"),
        Output("section", "count"),
        Output("subsection", "count"),
        Output("table_number", "count"),
        Output("is_table"),
        Output("reference"),
    ),
    sources=(_BOOK["places"]["source"], _BOOK["earlier"]["source"]),
    area="support",
    example_inputs={"subject": "straps"},
)
