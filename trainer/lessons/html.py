"""
A lesson made ready for a page: blocks whose prose is clean HTML and whose drawings, steps and tables are plain values.

Drawings are made by `trainer.figures`, which escapes all that it is given; they are handed over beside the cleaned
prose, never through the cleaner.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from typing import Literal

from msgspec import Struct

from trainer.calc.cautions import cautions_for
from trainer.calc.message import Message
from trainer.calc.step import Step
from trainer.calc.trace import steps_towards
from trainer.figures.catalogue import FIGURES, draw_figure
from trainer.lessons.model import Block, Cautions, Drawing, Lesson, Prose, Table, TryIt, Work
from trainer.lessons.values import inputs_of, lesson_values, values_of
from trainer.problems.parts import Family
from trainer.text.formats import FORMATS
from trainer.text.markdown import inline_html, to_html
from trainer.text.words import say

__all__ = [
    "Shown",
    "ShownCautions",
    "ShownDrawing",
    "ShownProse",
    "ShownTable",
    "ShownTryIt",
    "ShownWork",
    "lesson_html",
]

#: What a table shows where the trade has no common figure.
NONE = "–"


class ShownProse(Struct, frozen=True):
    """Clean HTML of a stretch of prose."""

    html: str
    kind: Literal["prose"] = "prose"


class ShownDrawing(Struct, frozen=True):
    """An `<svg>` element, and its caption as clean HTML ("" for none)."""

    svg: str
    caption: str
    kind: Literal["drawing"] = "drawing"


class ShownWork(Struct, frozen=True):
    """
    A worked example.

    Args:
        html: What is asked, as clean HTML; "" for nothing.
        steps: That lead to the outputs asked for.
        said: Outputs that are no numbers, as sentences: each suitable fitting with its reason.
    """

    html: str
    steps: tuple[Step, ...]
    said: tuple[str, ...]
    kind: Literal["work"] = "work"


class ShownTable(Struct, frozen=True):
    """A computed table: caption, headings with whether their column holds numbers, rows of text."""

    caption: str
    columns: tuple[tuple[str, bool], ...]
    rows: tuple[tuple[str, ...], ...]
    kind: Literal["table"] = "table"


class ShownCautions(Struct, frozen=True):
    """Cautions as sentences in the reader's language."""

    sentences: tuple[str, ...]
    kind: Literal["cautions"] = "cautions"


class ShownTryIt(Struct, frozen=True):
    """A problem family to try, and its title."""

    family_id: str
    title: str
    kind: Literal["try-it"] = "try-it"


Shown = ShownProse | ShownDrawing | ShownWork | ShownTable | ShownCautions | ShownTryIt


def lesson_html(
    lesson: Lesson, families: Mapping[str, Family], *, language: str = "en", edition: str = "2023"
) -> list[Shown]:
    """
    The blocks of a lesson, worked out and drawn now.

    Args:
        lesson: The lesson.
        families: Families by id, for the titles of try-its.
        language: Of messages, cautions and words in drawings.
        edition: Edition of the code for examples that depend on it.

    Raises:
        KeyError: When a try-it names a family that there is not; `check_references` finds it before.
    """
    page = _Page(lesson, families, language, edition, lesson_values(lesson, edition))
    return [page.shown(block, place) for place, block in enumerate(lesson.blocks)]


class _Page(Struct, frozen=True):
    """One lesson on its way to the page."""

    lesson: Lesson
    families: Mapping[str, Family]
    language: str
    edition: str
    values: Mapping[str, object]

    def shown(self, block: Block, place: int) -> Shown:
        """One block."""
        match block:
            case Prose():
                return ShownProse(_under_the_title(to_html(block.text.fill(self.values))))
            case Drawing():
                return self.drawing(block, place)
            case Work():
                return self.work(block)
            case Table():
                return self.table(block)
            case Cautions():
                return ShownCautions(tuple(self.say(caution) for caution in _cautions(block)))
            case TryIt():
                return ShownTryIt(block.family_id, self.families[block.family_id].title)

    def say(self, message: Message) -> str:
        """A message in the reader's language."""
        return say(message, self.language)

    def drawing(self, block: Drawing, place: int) -> ShownDrawing:
        """A figure of an example, or of a word; its place in the lesson keeps ids apart."""
        caption = "" if block.caption is None else inline_html(block.caption.fill(self.values))
        draw = partial(draw_figure, block.figure, say=self.say, key=f"{self.lesson.id}-{place}")
        if block.word:
            return ShownDrawing(draw({FIGURES[block.figure].takes: block.word}), caption)
        example = self.lesson.examples[block.example]
        inputs = inputs_of(example.calculation, example.inputs, self.edition)
        result = example.calculation.solve(inputs)
        numbers = values_of(example.calculation, inputs, result)
        wrong = {} if block.wrong is None else {block.wrong.output: float(block.wrong.value(numbers))}
        return ShownDrawing(draw(inputs, result, wrong=wrong), caption)

    def work(self, block: Work) -> ShownWork:
        """An example with the steps that lead to what is asked."""
        example = self.lesson.examples[block.example]
        inputs = inputs_of(example.calculation, example.inputs, self.edition)
        result, steps = example.calculation.trace(inputs)
        html = "" if example.text is None else to_html(example.text.fill(self.values))
        leading = [step for output in block.outputs for step in steps_towards(steps, output)]
        said = tuple(sentence for output in block.outputs for sentence in self.sentences(getattr(result, output)))
        return ShownWork(html, tuple(step for step in steps if step in leading), said)

    def sentences(self, value: object) -> Iterable[str]:
        """What the members of an output say of themselves; numbers say nothing, they stand in the steps."""
        members = value if isinstance(value, tuple) else ()
        return [self.say(member.message()) for member in members if hasattr(member, "message")]

    def table(self, block: Table) -> ShownTable:
        """A table with one row worked out for each value of the input that varies."""
        columns = tuple((column.heading, place > 0) for place, column in enumerate(block.columns))
        return ShownTable(block.caption, columns, tuple(self.rows(block)))

    def rows(self, block: Table) -> Iterable[tuple[str, ...]]:
        """The rows of a table as texts."""
        for text in block.over:
            inputs = inputs_of(block.calculation, {**block.inputs, block.vary: text}, self.edition)
            values = values_of(block.calculation, inputs, block.calculation.solve(inputs))
            yield tuple(_cell(values.get(column.name), column.format) for column in block.columns)


def _cautions(block: Cautions) -> list[Message]:
    """Those of each area, then those that hold everywhere, each once."""
    general = cautions_for("")
    own = [caution for area in block.areas for caution in cautions_for(area) if caution not in general]
    return [*own, *general]


def _cell(value: object, form: str) -> str:
    return NONE if value is None else FORMATS[form](value)


_RANKS: Sequence[tuple[str, str]] = (("h3", "h2"), ("h4", "h3"))


def _under_the_title(html: str) -> str:
    """A lesson's headings stand right below the page's title: one rank up."""
    for rank, higher in _RANKS:
        html = html.replace(f"<{rank}>", f"<{higher}>").replace(f"</{rank}>", f"</{higher}>")
    return html
