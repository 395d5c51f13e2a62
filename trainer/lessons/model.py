"""A lesson as plain values: what stands in front of it, and its blocks in the order of reading."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from msgspec import Struct

from trainer.calc.calculation import Calculation
from trainer.calc.expression import Expression
from trainer.text.template import Template

__all__ = [
    "FENCE",
    "USUAL_ORDER",
    "Block",
    "Cautions",
    "Column",
    "Drawing",
    "Example",
    "Lesson",
    "Prose",
    "Source",
    "Table",
    "TryIt",
    "Work",
    "Wrong",
]

#: The line before a lesson's front matter, and the one after it.
FENCE = "+++"
#: Place in its unit of a lesson that names none.
USUAL_ORDER = 100


class Source(Struct, frozen=True):
    """
    Where something that a lesson says comes from.

    Args:
        fact: What is said.
        source: Standard, manual, textbook; "common practice, no source" where there is none.
        checked: "two sources", "computed" or "from memory".
    """

    fact: str
    source: str
    checked: str


class Example(Struct, frozen=True):
    """
    A job that the core works out whenever it is shown.

    Args:
        name: What the lesson calls it; its values are "<name>_<input or output>" in prose.
        calculation: What works it out.
        inputs: Texts as typed.
        text: What is asked, Markdown with places for values; None for numbers that only prose and drawings use.
    """

    name: str
    calculation: Calculation
    inputs: Mapping[str, str]
    text: Template | None


class Column(Struct, frozen=True):
    """A column of a computed table: name of an input or output, heading, named format."""

    name: str
    heading: str
    format: str


class Prose(Struct, frozen=True):
    """Markdown with places for values."""

    line: int
    text: Template


class Wrong(Struct, frozen=True):
    """A wrong value in a drawing, as a beginner gets it: the output and a formula over the example's values."""

    output: str
    value: Expression


class Drawing(Struct, frozen=True):
    """
    A figure.

    Args:
        line: Of the file.
        figure: Name of the figure.
        example: The example that it draws; "" for a figure that takes a word.
        word: The word that it takes, such as the name of a fitting; "" for one that draws an example.
        wrong: A beginner's value beside the right one.
        caption: Text with places for values; None for none.
    """

    line: int
    figure: str
    example: str
    word: str
    wrong: Wrong | None
    caption: Template | None


class Work(Struct, frozen=True):
    """A worked example: what is asked, and the steps that lead to the outputs named."""

    line: int
    example: str
    outputs: tuple[str, ...]


class Table(Struct, frozen=True):
    """
    A computed table.

    Args:
        line: Of the file.
        caption: What it shows.
        calculation: What gives each row.
        inputs: Texts as typed, the same for all rows.
        vary: The input that changes from row to row.
        over: Its texts.
        columns: What is shown of each row.
    """

    line: int
    caption: str
    calculation: Calculation
    inputs: Mapping[str, str]
    vary: str
    over: tuple[str, ...]
    columns: tuple[Column, ...]


class Cautions(Struct, frozen=True):
    """The cautions of these areas, see `trainer.calc.cautions`."""

    line: int
    areas: tuple[str, ...]


class TryIt(Struct, frozen=True):
    """A problem of this family, to be tried at this place."""

    line: int
    family_id: str


Block = Prose | Drawing | Work | Table | Cautions | TryIt


@dataclass(frozen=True, eq=False)
class Lesson:
    """
    A lesson.

    Args:
        file: Name of the file, for errors.
        body: Its text as read.
        id: Kebab-case, unique; the file's name.
        title: For headings and lists.
        about: What one knows after it, in a sentence.
        unit: Group that it belongs to, such as "bends".
        skills: Skills that it teaches.
        minutes: How long it takes to read with its try-its.
        order: Place among the lessons of its unit, the smallest first.
        later: Whether it is work of a later year.
        blocks: In the order of reading.
        examples: By name.
        facts: Numbers that prose names, by name.
        core_facts: Where in the core's tables those that come from there stand, "file.group.key".
        sources: Where what it says comes from.
    """

    file: str
    body: str
    id: str
    title: str
    about: str
    unit: str
    skills: tuple[str, ...]
    minutes: int
    order: int
    later: bool
    blocks: tuple[Block, ...]
    examples: Mapping[str, Example]
    facts: Mapping[str, float]
    core_facts: tuple[str, ...]
    sources: tuple[Source, ...]

    def __repr__(self) -> str:
        return f"Lesson({self.id!r})"

    @property
    def families(self) -> tuple[str, ...]:
        """Ids of the families of its try-its, in order, each once."""
        return tuple(dict.fromkeys(block.family_id for block in self.blocks if isinstance(block, TryIt)))

    @property
    def cautions(self) -> tuple[str, ...]:
        """Areas whose cautions it shows."""
        shown = [area for block in self.blocks if isinstance(block, Cautions) for area in block.areas]
        return tuple(dict.fromkeys(shown))
