"""What a family's calculation is given for drawn numbers."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from trainer.calc.inputs import Input, Kind
from trainer.problems.parts import Family

__all__ = ["calculation_values"]


def calculation_values(family: Family, numbers: Mapping[str, float | str], edition: str) -> dict[str, object]:
    """What a family's calculation is given: drawn values under the inputs' names, texts filled in, the edition."""
    values: dict[str, object] = {}
    for given in family.calculation.inputs:
        if given.name in numbers:
            value = numbers[given.name]
            values[given.name] = int(value) if given.kind is Kind.COUNT and not isinstance(value, str) else value
        elif given.name in family.inputs:
            values[given.name] = _read(given, family.inputs[given.name].fill(numbers, family.phrases))
        elif given.name == "edition":
            values[given.name] = edition
    return values


@lru_cache(maxsize=4096)
def _read(given: Input, text: str) -> object:
    """What a filled text says; draws come back to the same texts, and reading takes longer than computing."""
    return given.read(text)
