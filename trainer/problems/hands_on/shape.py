"""The form of a kind's file; an unknown key is refused. Lengths are inches, angles degrees."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from trainer.problems.shape import DrawShape, Id, Line, Name, Part, Text

__all__ = ["KindShape", "MarkShape", "MeasureShape", "StepShape", "WorkShape"]


class WorkShape(Part):
    """
    A calculation of the core, `{ id = "jog", calculation = "offset", inputs = { depth = "depth" } }`.

    An input is one of the known names, or a text as a learner would type it; known names in braces are filled in first,
    `legs = "{first}, {second}"`. Its outputs that are numbers are known afterwards as `jog_spacing`, `jog_first_mark`, ...
    """

    id: Name
    calculation: Name
    inputs: dict[Name, str]
    #: Formulas over what is known once this is worked out, for the calculations behind it.
    known: dict[Name, Line] = Field(default_factory=dict)


class MarkShape(Part):
    """A mark that the learner works out: every value that is right, by name; a basis that has none is left out."""

    say: Line
    values: list[Name]


class MeasureShape(Part):
    """
    Something that the judge measures.

    `rule`: "near" (value, give or take limit), "most" (no more than value), "least" (no less). Value and limit are formulas
    over the known names.
    """

    id: Id
    label: Line
    hint: Line
    unit: Literal["in", "deg", "straps"] = "in"
    rule: Literal["near", "most", "least"] = "near"
    value: Line
    limit: Line = "0"


class StepShape(Part):
    """Something that one sees: done so or not. A critical one that was not fails the whole check."""

    id: Id
    say: Line
    critical: bool = False


class KindShape(Part):
    """
    A kind of check.

    Known names: what is drawn; `facts`, paths into the core's tables; how near a piece is held (`TOLERANCES` of `compiling.py`);
    `outside_diameter`, `take_up`, `radius` and `gain` of the shoe (not for sizes without one); outputs of `work` and
    its own `known`; then `known`, formulas in their order.
    """

    id: Id
    title: Line
    lesson: Id
    #: Subjects of the safety lines that go with it (`calc.cautions.AREAS`).
    cautions: list[Name]
    sizes: list[str]
    text: Text
    sources: list[Line]
    draw: DrawShape
    facts: dict[Name, Line] = Field(default_factory=dict)
    work: list[WorkShape] = Field(default_factory=list)
    known: dict[Name, Line] = Field(default_factory=dict)
    #: Pieces of tube that one learner uses up, by name: the sticks are counted from them.
    pieces: list[Name]
    #: The figure that goes with the task, and the work whose inputs it draws.
    figure: Name | None = None
    figure_of: Name | None = None
    marks: list[MarkShape] = Field(default_factory=list)
    measured: list[MeasureShape]
    #: Steps of `shared_steps.toml` by id, before the kind's own.
    shared: list[Id] = Field(default_factory=list)
    steps: list[StepShape] = Field(default_factory=list)
