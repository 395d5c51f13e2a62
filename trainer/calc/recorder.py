"""What a traced calculation tells its steps to: one writes them down, the other goes on with another value."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct, field

from trainer.calc.formula import Formula, Operands
from trainer.calc.message import Message
from trainer.calc.step import Step

__all__ = ["Recorder", "Turn", "Turner"]

#: What to go on with at a step: its formula, the numbers in it, and the value that it truly has.
Turn = Callable[[Formula, Operands, float], float]


class Recorder(Struct):
    """Collects the steps of one run of a twin."""

    lines: list[Step] = field(default_factory=list)

    def note(self, about: str, id: str, /, *rests_on: str, **params: object) -> None:  # noqa: A002 - as in `note`
        """Write a sentence down."""
        self.lines.append(Step(about, "", "", None, "", Message(id, params), rests_on))

    def step(self, formula: Formula, operands: Operands, value: float | None) -> float | None:
        """Write one line and give the value back; None is no result, and a constant no calculation."""
        if value is not None and formula.names:
            filled = formula.filled(operands, value)
            self.lines.append(Step(formula.target, formula.written, filled, float(value), formula.unit))
        return value


class Turner(Struct, frozen=True):
    """Stands in the recorder's place and may change a step's value."""

    turn: Turn

    def note(self, about: str, id: str, /, *rests_on: str, **params: object) -> None:  # noqa: A002 - as in `note`
        """Sentences are not wanted."""

    def step(self, formula: Formula, operands: Operands, value: float | None) -> float | None:
        """What to go on with; a count stays a whole number, as what follows may count with it."""
        if value is None or not formula.names:
            return value
        turned = self.turn(formula, operands, value)
        return round(turned) if isinstance(value, int) else turned
