"""Every calculation by name."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from trainer.calc.bend_total import BEND_TOTAL
from trainer.calc.calculation import Calculation, Output
from trainer.calc.cut_plan import CUT_PLAN
from trainer.calc.fitting_choice import FITTING_CHOICE
from trainer.calc.inputs import Input, Kind
from trainer.calc.offset import OFFSET
from trainer.calc.straps import STRAP_COUNT
from trainer.calc.stub_up import STUB_UP

__all__ = ["CATALOGUE", "Calculation", "Input", "Kind", "Output"]

_ALL = (OFFSET, STUB_UP, BEND_TOTAL, STRAP_COUNT, CUT_PLAN, FITTING_CHOICE)

#: Every calculation by its name. The tests hold each against its function's signature and its result's fields.
CATALOGUE: Mapping[str, Calculation] = MappingProxyType({entry.name: entry for entry in _ALL})
