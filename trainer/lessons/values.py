"""The values that a lesson's prose names: worked out by the core each time, for the edition that is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from trainer.calc.calculation import Calculation
from trainer.calc.tables import table
from trainer.lessons.model import Example, Lesson

__all__ = ["fact", "inputs_of", "lesson_values", "values_of"]

EDITION = "edition"


def fact(path: str) -> float | None:
    """
    The number at `file.group.key` of the core's tables, members of a list by their place; None when there is none.

    >>> fact("cutting.stick.length"), fact("cutting.stick.colour")
    (120.0, None)
    """
    name, *keys = path.split(".")
    try:
        value: Any = table(name)
        for key in keys:
            value = value[int(key) if isinstance(value, list) else key]
    except (FileNotFoundError, KeyError, TypeError, ValueError, IndexError):
        return None
    return float(value) if isinstance(value, int | float) else None


def inputs_of(calculation: Calculation, inputs: Mapping[str, str], edition: str) -> dict[str, object]:
    """
    Inputs read from their texts, with the edition where the calculation takes one.

    Raises:
        InputError: With `field` set.
    """
    takes_edition = any(given.name == EDITION for given in calculation.inputs)
    typed = {EDITION: edition, **inputs} if takes_edition else dict(inputs)
    return calculation.read(typed)


def values_of(calculation: Calculation, inputs: Mapping[str, object], result: object) -> dict[str, object]:
    """
    Inputs and outputs by name: numbers and words; a list of numbers as `name_1`, `name_2`, ...

    Args:
        calculation: Whose they are.
        inputs: Its inputs, read.
        result: Its result.
    """
    outputs = {name: value for name, (value, _unit) in calculation.results(result).items()}
    return dict(_plain({**inputs, **outputs}))


def _plain(values: Mapping[str, object]) -> Iterator[tuple[str, object]]:
    for name, value in values.items():
        if isinstance(value, int | float | str) and not isinstance(value, bool):
            yield name, value
        elif isinstance(value, tuple) and all(isinstance(part, int | float) for part in value):
            yield from ((f"{name}_{place}", part) for place, part in enumerate(value, start=1))


def _example_values(example: Example, edition: str) -> Iterator[tuple[str, object]]:
    inputs = inputs_of(example.calculation, example.inputs, edition)
    result = example.calculation.solve(inputs)
    for name, value in values_of(example.calculation, inputs, result).items():
        yield f"{example.name}_{name}", value


def lesson_values(lesson: Lesson, edition: str = "2023") -> dict[str, object]:
    """
    Everything that the prose of a lesson may name: its facts, and each example's values as "<example>_<value>".

    Raises:
        InputError: When the core refuses an example.
    """
    values: dict[str, object] = dict(lesson.facts)
    for example in lesson.examples.values():
        values.update(_example_values(example, edition))
    return values
