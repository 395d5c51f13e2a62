"""Every calculation by name."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.offset import OFFSET

__all__ = ["CATALOGUE", "Calculation", "Input", "Kind", "Output"]

#: Every calculation by its name. The tests hold each against its function's signature and its result's fields.
CATALOGUE: Mapping[str, Calculation] = MappingProxyType({entry.name: entry for entry in (OFFSET,)})
