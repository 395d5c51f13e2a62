"""One number found twice: by the core, and in a way that shares no formula with it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.message import Message

__all__ = ["Check", "Method", "Values"]

#: Inputs of a calculation by name, as it takes them.
Values = Mapping[str, Any]

#: Checks of one result; nothing where its inputs are not of the kind that the second method can take.
Method = Callable[[Values, Any], Iterable["Check"]]


class Check(Struct, frozen=True):
    """
    One number, and the same by a second method.

    Args:
        method: How the second number is found.
        name: What it is of: an output, an input that must come out again, or a measure of the bent tube.
        unit: Of both.
        core: What the core says, or was asked for.
        other: What the second method says.
        within: How far apart they may be; None where they are known to differ, and it is shown by how much.
    """

    method: Message
    name: str
    unit: str
    core: float
    other: float
    within: float | None

    @property
    def residue(self) -> float:
        """How much more the second method says."""
        return self.other - self.core

    @property
    def holds(self) -> bool | None:
        """Whether both say the same; None where they need not."""
        return None if self.within is None else abs(self.residue) <= self.within + 1e-9
