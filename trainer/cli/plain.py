"""Results of the core as plain values with their text: what `trainer solve` prints, as JSON or for people."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import StrEnum
from typing import Any

from msgspec import Struct
from msgspec.structs import fields

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.step import Step, write_number
from trainer.text.formats import quantity
from trainer.text.values import value_text
from trainer.text.words import error_text, say

__all__ = ["error_line", "listed", "plain", "solved", "step_text", "valued", "worked"]


def error_line(error: InputError) -> str:
    """The error on one line, without characters that a terminal would obey."""
    return "".join(sign if sign.isprintable() else "?" for sign in error_text(error))


def listed(calculation: Calculation) -> dict[str, Any]:
    """A calculation as the list shows it."""
    return {
        "name": calculation.name,
        "about": say(Message(f"calculation.{calculation.name}")),
        "inputs": [_input(given) for given in calculation.inputs],
        "outputs": [_output(output) for output in calculation.outputs],
        "sources": list(calculation.sources),
        "example": calculation.example,
    }


def _input(given: Input) -> dict[str, Any]:
    return {
        "name": given.name,
        "kind": given.kind.value,
        "unit": given.unit,
        "optional": given.optional,
        "choices": list(given.choices),
        "accepted": say(given.accepted()),
        "example": given.example,
    }


def _output(output: Output) -> dict[str, Any]:
    return {"name": output.name, "unit": output.unit, "basis": output.basis, "optional": output.optional}


def solved(calculation: Calculation, typed: Mapping[str, str]) -> dict[str, Any]:
    """
    The solution for inputs as typed.

    Raises:
        InputError: For an input that can't be used.
    """
    values = calculation.read(typed)
    return worked(calculation, values, *calculation.trace(values))


def worked(calculation: Calculation, values: Mapping[str, Any], result: Any, steps: Sequence[Step]) -> dict[str, Any]:
    """A solution that is there already: inputs, results, steps, sources and cautions."""
    outputs = calculation.results(result)
    return {
        "calculation": calculation.name,
        "inputs": {name: valued(value, calculation.input(name).unit) for name, value in values.items()},
        "results": {name: valued(value, unit) for name, (value, unit) in outputs.items()},
        "steps": [_step(step) for step in steps],
        "sources": list(calculation.sources),
        "cautions": [say(caution) for caution in calculation.cautions],
    }


def valued(value: Any, unit: str) -> dict[str, Any]:
    """A value with its unit and as people write it."""
    return {"value": plain(value), "unit": unit, "text": value_text(value, unit)}


def plain(value: Any) -> Any:
    """The value in JSON's own types; a message as its sentence."""
    match value:
        case Message():
            return say(value)
        case StrEnum():
            return value.value
        case tuple():
            return [plain(part) for part in value]
        case float():
            return round(value, 12)  # Sheds the last bits: 12.000000000000002 helps nobody.
    if isinstance(value, Struct):
        return {part.name: plain(getattr(value, part.name)) for part in fields(value)}
    return value


def _step(step: Step) -> dict[str, Any]:
    value = None if step.value is None else round(step.value, 12)
    return {
        "name": step.name,
        "formula": step.formula,
        "filled": step.filled,
        "value": value,
        "unit": step.unit,
        "text": step_text(step),
    }


def step_text(step: Step) -> str:
    """`spacing = depth / sin(angle) = 6 / sin(22.5) = 15.6788 in`, or the sentence."""
    if step.value is None:
        return say(step.note) if step.note else ""
    return " = ".join((step.name, *step.sides, _exact(step.value, step.unit)))


def _exact(value: float, unit: str) -> str:
    """The result as the next lines go on with it: not to the sixteenth, nor to the tenth of a degree."""
    if unit == "in":
        return f"{write_number(value)} in"
    if unit == "deg":
        return f"{write_number(value)}°"
    return quantity(Quantity(value, unit))
