"""What one check sets: the task, the marks, the limits. Plain values that are kept with the check."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct, to_builtins

__all__ = ["MarkLine", "Measure", "Sheet", "StepLine"]

#: So near to a limit counts as on it: what floats leave behind [in, deg].
_FORGIVEN = 1e-6


class MarkLine(Struct, frozen=True):
    """A mark that the learner works out, and every right place of it: basis ("" where there is one only) and inches."""

    say: str
    values: tuple[tuple[str, float], ...]


class Measure(Struct, frozen=True):
    """
    Something that is measured.

    Args:
        id: Its name in records.
        label: What it is.
        hint: How it is measured.
        unit: "in", "deg" or "straps".
        rule: "near", "most" or "least".
        value: What is asked.
        limit: Give or take, where the rule is "near".
    """

    id: str
    label: str
    hint: str
    unit: str
    rule: str
    value: float
    limit: float

    def holds(self, read: float) -> bool:
        """
        Whether a value that was read keeps the limit.

        >>> Measure("rise", "Rise", "", "in", "near", 6, 0.125).holds(6.125)
        True
        >>> Measure("gap", "Gap", "", "in", "least", 0.25, 0).holds(0.1875)
        False
        """
        if self.rule == "near":
            return abs(read - self.value) <= self.limit + _FORGIVEN
        if self.rule == "most":
            return read <= self.value + _FORGIVEN
        return read >= self.value - _FORGIVEN


class StepLine(Struct, frozen=True):
    """Something that one sees; a critical one that was not done so fails the check."""

    id: str
    say: str
    critical: bool


class Sheet(Struct, frozen=True):
    """
    One check as it was set.

    Args:
        kind: Id of its kind.
        title: What the trade calls the task.
        trade_size: Of the tube.
        bender: The shoe that the marks are reckoned for, as the shop calls it; "" for a usual hand bender.
        text: The task in words, Markdown.
        pieces: Tube that it uses up [in].
        figure: Name of the drawing, "" for none.
        figure_inputs: What it draws.
        marks: What the learner works out.
        measured: What the judge measures.
        steps: What the judge sees.
        sources: Where rules and limits come from.
    """

    kind: str
    title: str
    trade_size: str
    bender: str
    text: str
    pieces: tuple[float, ...]
    figure: str
    figure_inputs: Mapping[str, str | float]
    marks: tuple[MarkLine, ...]
    measured: tuple[Measure, ...]
    steps: tuple[StepLine, ...]
    sources: tuple[str, ...]

    def to_json(self) -> dict[str, Any]:
        """As JSON takes it."""
        kept: dict[str, Any] = to_builtins(self)
        return kept

    @classmethod
    def from_json(cls, kept: Mapping[str, Any]) -> Sheet:
        """The sheet that was kept; floats come back to the last bit."""
        marks = tuple(
            MarkLine(one["say"], tuple((basis, value) for basis, value in one["values"])) for one in kept["marks"]
        )
        return cls(
            **{
                **kept,
                "pieces": tuple(kept["pieces"]),
                "marks": marks,
                "measured": tuple(Measure(**one) for one in kept["measured"]),
                "steps": tuple(StepLine(**one) for one in kept["steps"]),
                "sources": tuple(kept["sources"]),
            }
        )
