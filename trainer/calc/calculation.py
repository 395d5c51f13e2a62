"""One calculation of the catalogue: a function with what it takes, what it gives, sources, cautions and an example."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Mapping
from difflib import get_close_matches
from typing import Any

from msgspec import Struct

from trainer.calc.cautions import cautions_for
from trainer.calc.inputs import Input
from trainer.calc.message import InputError, Message
from trainer.calc.step import Step
from trainer.calc.trace import Turn, retrace, trace

__all__ = ["Calculation", "Output"]


class Output(Struct, frozen=True):
    """
    One output of a calculation: a field of its result.

    Args:
        name: The field's name.
        unit: Its unit; "" for words, yes or no, and lists of marks, cuts or fittings.
        basis: Which convention it follows, where conventions differ: "sharp-corner", "handbook" or "arc".
        optional: Whether it can be None.
    """

    name: str
    unit: str = ""
    basis: str = ""
    optional: bool = False


class Calculation(Struct, frozen=True):
    """
    A calculation by name.

    Args:
        name: As typed in the shell and named in question files.
        function: The plain function; keyword arguments named like the inputs, a frozen dataclass as result.
        inputs: What it takes, in the function's order.
        outputs: What it gives, in the order of the result's fields.
        sources: Where its rules and figures come from.
        area: Subject of its cautions, see `trainer.calc.cautions`.
        example_inputs: Typed texts for an example that runs.
    """

    name: str
    function: Callable[..., Any]
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    sources: tuple[str, ...]
    area: str
    example_inputs: Mapping[str, str]

    @property
    def example(self) -> str:
        """A line for the shell that works."""
        words = [shlex.quote(f"{name}={text}") for name, text in self.example_inputs.items()]
        return " ".join(["trainer solve", self.name, *words])

    @property
    def cautions(self) -> tuple[Message, ...]:
        """What to mind before doing this with the hands."""
        return cautions_for(self.area)

    @property
    def required_inputs(self) -> tuple[str, ...]:
        """Names of the inputs that have to be given: what a question must draw or fix."""
        return tuple(given.name for given in self.inputs if not given.optional)

    def input(self, name: str) -> Input:
        """
        The input of this name.

        Raises:
            InputError: When there is none, with the nearest name.
        """
        for given in self.inputs:
            if given.name == name:
                return given
        raise self._unknown(name)

    def read(self, typed: Mapping[str, str]) -> dict[str, object]:
        """
        Values of typed texts; an empty text of an optional input is one left out.

        Raises:
            InputError: With `field` set, for the first input that is unknown, missing or can't be read.
        """
        return self._values({name: text for name, text in typed.items() if text.strip() or not self._may_miss(name)})

    def solve(self, values: Mapping[str, object]) -> Any:
        """
        The result for these values (numbers in the inputs' units, or texts as typed): a frozen dataclass.

        Raises:
            InputError: With `field` set.
        """
        return self.function(**self._values(values))

    def trace(self, values: Mapping[str, object]) -> tuple[Any, list[Step]]:
        """As `solve`, with the worked steps."""
        return trace(self.function, **self._values(values))

    def retrace(self, values: Mapping[str, object], turn: Turn) -> Any:
        """As `solve`, going on at each step with what `turn` makes of it: see `trainer.calc.trace.retrace`."""
        return retrace(self.function, turn, **self._values(values))

    def results(self, result: object) -> dict[str, tuple[Any, str]]:
        """Each output by name: value and unit."""
        return {output.name: (getattr(result, output.name), output.unit) for output in self.outputs}

    def _may_miss(self, name: str) -> bool:
        return self.input(name).optional

    def _values(self, given: Mapping[str, object]) -> dict[str, object]:
        values = {name: self.input(name).value(value) for name, value in given.items() if value is not None}
        for name in self.required_inputs:
            if name not in values:
                missing = self.input(name)
                raise missing.refuse(Message("input.missing"), "")
        return values

    def _unknown(self, name: str) -> InputError:
        names = [given.name for given in self.inputs]
        near = get_close_matches(name[:60], names, n=1)
        reason = Message("input.unknown-near", {"near": near[0]}) if near else Message("input.unknown")
        accepted = Message("input.one-of", {"choices": ", ".join(names)})
        return InputError(reason, given=name[:60], accepted=accepted, example=self.example, field=name[:60])
