"""The sheet to sign at a toolbox talk: what it is about, its cautions, and lines for everybody who is there."""

from __future__ import annotations

from collections.abc import Sequence

from trainer.accounts.actor import Actor
from trainer.calc.message import Message
from trainer.lessons.model import Lesson
from trainer.paper import Cautions, Column, Document, Heading, Signature, Table, Words
from trainer.text.words import say
from trainer.web.language import gettext, language
from trainer.web.papers.sheet import document

__all__ = ["sign_in_paper"]


def sign_in_paper(lesson: Lesson, cautions: Sequence[Message], lines: int, reader: Actor) -> Document:
    """
    One sheet for one talk.

    Args:
        lesson: What it is about.
        cautions: Safety lines that are read out.
        lines: For how many people.
        reader: Who holds it.
    """
    columns = (
        Column(gettext("No."), 0.35, is_number=True),
        Column(gettext("Name"), 2.2),
        Column(gettext("Crew or class"), 1.6),
        Column(gettext("Signature"), 2.2),
    )
    blocks = (
        Words(lesson.about),
        Signature((gettext("Day"), gettext("Place"), gettext("Held by"), gettext("Minutes"))),
        Cautions(gettext("Caution"), tuple(say(one, language()) for one in cautions)),
        Heading(gettext("I was there, and I understood what was said")),
        Table(columns, tuple((str(line), "", "", "") for line in range(1, lines + 1)), to_write_in=True),
    )
    title = gettext("Sign-in sheet: %(lesson)s") % {"lesson": lesson.title}
    return document(title, "", blocks, reader)
