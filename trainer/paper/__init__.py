"""
Sheets as PDF: a document of blocks in plain values, typeset by a short-lived process of its own.

What people wrote travels as data and is set as text, never read as markup. The same document at the same moment gives
the same bytes. Nothing here knows the database, the web or the clock.
"""

from __future__ import annotations

from trainer.paper.blocks import (
    Blanks,
    Block,
    Cautions,
    Choices,
    Column,
    Document,
    Facts,
    Figure,
    Heading,
    Large,
    NewPage,
    Prose,
    Room,
    Sheet,
    Signature,
    Slip,
    Slips,
    Table,
    Text,
    Together,
    Words,
)
from trainer.paper.drawings import for_print
from trainer.paper.typesetting import TypesettingError, typeset

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
    "TypesettingError",
    "Words",
    "for_print",
    "typeset",
]
