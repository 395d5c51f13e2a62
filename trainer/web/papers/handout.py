"""Handouts: a lesson, or the tables of a unit, for a wall or a hand without a phone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from trainer.accounts.actor import Actor
from trainer.calc.cautions import cautions_for
from trainer.calc.step import Step
from trainer.lessons.html import Shown, ShownCautions, ShownDrawing, ShownProse, ShownTable, ShownTryIt, ShownWork
from trainer.lessons.model import Lesson
from trainer.paper import Block, Cautions, Column, Document, Heading, Table, Text, Together, Words
from trainer.text.words import say
from trainer.web.language import gettext, language
from trainer.web.papers.sheet import document, figure
from trainer.web.templating import arithmetic, worked_value

__all__ = ["lesson_paper", "tables_paper"]


def lesson_paper(lesson: Lesson, blocks: Sequence[Shown], reader: Actor) -> Document:
    """A lesson as it stands on its page, without what needs a phone."""
    set_blocks = [one for block in blocks for one in _set(block)]
    return document(lesson.title, lesson.about, [*set_blocks, *_sources(lesson)], reader)


def tables_paper(title: str, tables: Sequence[dict[str, Any]], rules: Sequence[str], reader: Actor) -> Document:
    """
    The tables of a unit.

    Args:
        title: Title of the unit.
        tables: Each with "title", "columns" (heading, whether numbers), "rows", "source" and "checked".
        rules: Local rules that hold for the reader, as sentences.
        reader: Who takes it.
    """
    blocks: list[Block] = [Words(gettext("Here: %(rule)s") % {"rule": rule}) for rule in rules]
    for one in tables:
        source = gettext("Source: %(source)s (%(checked)s)") % {"source": one["source"], "checked": one["checked"]}
        columns = tuple(Column(head, is_number=number) for head, number in one["columns"])
        rows = tuple(tuple(str(cell) for cell in row) for row in one["rows"])
        blocks += [Heading(one["title"]), Table(columns, rows), Words(source, soft=True)]
    lines = tuple(say(one, language()) for one in cautions_for(""))
    return document(
        gettext("Tables: %(unit)s") % {"unit": title}, "", [*blocks, Cautions(gettext("Caution"), lines)], reader
    )


def _set(block: Shown) -> Iterator[Block]:
    """A block of a lesson on paper; a problem to try needs its own numbers, so it is left to the phone."""
    match block:
        case ShownProse(html=html):
            yield Text(html)
        case ShownDrawing(svg=svg, caption=caption):
            yield Together((figure(svg, share=0.72), Text(f"<p><em>{caption}</em></p>")) if caption else (figure(svg),))
        case ShownWork(html=html, steps=steps, said=said):
            yield Heading(gettext("Worked example"), 2)
            yield Text(html)
            yield from (one for step in steps for one in _step(step))
            yield from (Words(one) for one in said)
        case ShownTable(caption=caption, columns=columns, rows=rows):
            heads = tuple(Column(head, is_number=number) for head, number in columns)
            yield Together((Words(caption), Table(heads, rows)))
        case ShownCautions(sentences=sentences):
            yield Cautions(gettext("Caution"), sentences)
        case ShownTryIt():
            return


def _step(step: Step) -> Iterator[Block]:
    if step.value is not None:
        parts = [arithmetic(one) for one in (step.name, *step.sides)] if step.formula else []
        yield Words(" = ".join(one for one in (*parts, worked_value(step)) if one))
    if step.note:
        yield Words(say(step.note, language()), soft=step.value is not None)


def _sources(lesson: Lesson) -> Iterator[Block]:
    yield Heading(gettext("Where this comes from"))
    from_memory = gettext(" (from memory, not looked up)")
    rows = tuple(
        (one.fact, one.source + (from_memory if one.checked == "from memory" else "")) for one in lesson.sources
    )
    yield Table((Column(gettext("What is said")), Column(gettext("Source"))), rows)
