"""A kind of hands-on check, compiled from its file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from msgspec import Struct

from trainer.calc.cautions import cautions_for
from trainer.calc.expression import Expression
from trainer.calc.message import Message
from trainer.problems.parts import Parameter
from trainer.text.template import Template

if TYPE_CHECKING:
    from trainer.problems.hands_on.shape import KindShape, MeasureShape, StepShape

__all__ = ["CompiledMeasure", "Kind"]


class CompiledMeasure(Struct, frozen=True):
    """A measured value with its formulas."""

    shape: MeasureShape
    value: Expression
    limit: Expression
    hint: Template


class Kind(Struct, frozen=True):
    """A kind of check; `shape` is its file, the rest compiled from it."""

    shape: KindShape
    parameters: tuple[Parameter, ...]
    keep: tuple[Expression, ...]
    facts: Mapping[str, float]
    between: Mapping[str, tuple[tuple[str, Expression], ...]]
    known: tuple[tuple[str, Expression], ...]
    measured: tuple[CompiledMeasure, ...]
    steps: tuple[tuple[StepShape, Template], ...]
    text: Template

    @property
    def id(self) -> str:
        """Its name in addresses and in records."""
        return self.shape.id

    @property
    def title(self) -> str:
        """What the trade calls the task."""
        return self.shape.title

    @property
    def cautions(self) -> tuple[Message, ...]:
        """Safety lines of its own work, each once; those that hold everywhere come with the page."""
        everywhere = cautions_for("")
        return tuple(one for area in self.shape.cautions for one in cautions_for(area) if one not in everywhere)

    @property
    def sizes(self) -> tuple[str, ...]:
        """Trade sizes in which it is set."""
        return tuple(self.shape.sizes)
