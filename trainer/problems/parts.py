"""A problem family in parts, compiled from its file and ready to be drawn from."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from msgspec import Struct

from trainer.calc.calculation import Calculation
from trainer.calc.expression import Expression
from trainer.problems.hashes import rules_hash, words_hash
from trainer.problems.lines import KeyPath, line_of
from trainer.problems.model import AnswerKind, BenderGroup
from trainer.text.template import Template

if TYPE_CHECKING:
    from trainer.problems.job import Place
    from trainer.problems.shape import FamilyShape

__all__ = ["BenderAsk", "Family", "KnownMistake", "Number", "Parameter", "Statement", "WorkStep"]

Number = float | str


class Parameter(Struct, frozen=True):
    """One or several names that are drawn together, and the rows of values that they may take."""

    names: tuple[str, ...]
    rows: tuple[tuple[Number, ...], ...]

    def draw(self, chance: random.Random) -> zip[tuple[str, Number]]:
        """One row as name and value; takes one number from `chance.random()` and nothing else from it."""
        return zip(self.names, self.rows[int(chance.random() * len(self.rows))], strict=True)


class KnownMistake(Struct, frozen=True):
    """
    A wrong route.

    Args:
        values: Formulas of what it leads to, one for each basis that leads elsewhere; empty for choices.
        option: For choices: the option that it judges wrongly.
        before: For an order: the step that was put before the other, though it comes after it.
        chose: For the bender on the tube: the choices that are wrong together, one tuple for each alternative.
        shows: For places: what the choice shows, a word of the core.
        when: Holds where the route can be taken at all; None for always.
        where: Per drawn name, the words with which it can be taken.
        say: What was done, and what to do instead.
    """

    id: str
    values: tuple[Expression, ...]
    option: str | None
    before: tuple[str, str] | None
    chose: tuple[tuple[str, ...], ...]
    shows: str | None
    when: Expression | None
    where: Mapping[str, tuple[str, ...]]
    say: Template


class Statement(Struct, frozen=True):
    """An option in the family's words; `right` decides by the core's numbers, `value` is a number that `why` tells."""

    id: str
    text: Template
    right: Expression
    why: Template
    at: str = ""
    value: Expression | None = None


class WorkStep(Struct, frozen=True):
    """A step to be put in its place."""

    id: str
    text: Template
    why: Template


class BenderAsk(Struct, frozen=True):
    """
    The bender to be put on the tube.

    Args:
        marks: Output with the marks.
        bend: Which bend is asked for, in the order of bending.
        any_left: Whether any bend that is not made yet may come next.
        groups: What is chosen.
        pencils: Name and place of each pencil mark.
    """

    marks: str
    bend: int
    any_left: bool
    groups: tuple[BenderGroup, ...]
    pencils: tuple[tuple[str, Expression], ...]


@dataclass(frozen=True, eq=False)
class Family:
    """
    A family: its file as validated, and everything in it that is compiled.

    Args:
        file: Name of the file, for errors.
        body: Its text as read; with it the family can be read again for ever.
        shape: The validated file.
        lines: Line of each key.
        calculation: What gives the key.
        unit: Unit of a typed answer; "" for choices.
        tolerance: Largest distance from a key that is right, in `unit`.
        facts: Numbers of the core's tables that formulas and prose name.
        inputs: Texts for the calculation's inputs that are no drawn name, to be filled and read as if typed.
        keep: Conditions that a draw keeps.
        answers: Basis and output of each accepted answer; empty for choices.
        steps: Steps in the right order; empty but for an order.
        orders: Every order of them that is right.
        job: Where it stands in its job; None for a question that stands for itself.
        bender: Where the bender is to be put on the tube; None for every other kind.
    """

    file: str
    body: str
    shape: FamilyShape
    lines: Mapping[KeyPath, int]
    calculation: Calculation
    unit: str
    tolerance: float
    parameters: tuple[Parameter, ...]
    facts: Mapping[str, float]
    inputs: Mapping[str, Template]
    keep: tuple[Expression, ...]
    answers: tuple[tuple[str, str], ...]
    text: Template
    statements: tuple[Statement, ...]
    steps: tuple[WorkStep, ...]
    orders: tuple[tuple[str, ...], ...]
    mistakes: tuple[KnownMistake, ...]
    hints: tuple[Template, ...]
    job: Place | None = None
    bender: BenderAsk | None = None

    def __repr__(self) -> str:
        return f"Family({self.id!r})"

    @property
    def id(self) -> str:
        """Kebab-case, unique; the file's name."""
        return self.shape.id

    @property
    def title(self) -> str:
        """What is asked, in a few words."""
        return self.shape.title

    @property
    def skill(self) -> str:
        """Id of the skill that it exercises."""
        return self.shape.skill

    @property
    def lesson(self) -> str:
        """Id of the lesson to read; "" where there is none yet."""
        return self.shape.lesson or ""

    @property
    def level(self) -> int:
        """1 one step, 2 several, 3 a job."""
        return self.shape.level

    @property
    def later(self) -> bool:
        """Whether it is work of a later year."""
        return self.shape.later

    @property
    def kind(self) -> AnswerKind:
        """How an answer is given."""
        return self.shape.ask.kind

    @property
    def basis(self) -> str:
        """The accepted conventions in one word for the record, "sharp-corner+handbook"; "" where there is only one."""
        return "+".join(self.shape.basis)

    @property
    def figure(self) -> str:
        """Name of the drawing; "" for none."""
        return self.shape.figure or ""

    @property
    def sources(self) -> tuple[str, ...]:
        """Where the rules and figures come from that the question stands on."""
        return tuple(self.shape.sources)

    @property
    def phrases(self) -> Mapping[str, Mapping[str, str]]:
        """Per drawn name, the phrase for each of its words."""
        return self.shape.phrases

    @cached_property
    def rules_hash(self) -> str:
        """Hash of what decides about right and wrong; statistics hang on it."""
        return rules_hash(self.shape)

    @cached_property
    def words_hash(self) -> str:
        """Hash of everything else."""
        return words_hash(self.shape)

    def line(self, *path: str | int) -> int:
        """Line of a key of the file, or of what stands around it."""
        return line_of(self.lines, path)
