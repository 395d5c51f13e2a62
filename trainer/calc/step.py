"""One worked step of a calculation, as the step tracer records it."""

from __future__ import annotations

from dataclasses import dataclass

from trainer.calc.message import Message

__all__ = ["Step"]


@dataclass(frozen=True, slots=True)
class Step:
    """
    One line of worked arithmetic, or one sentence where a table or a search says its own step.

    Args:
        name: The quantity that is worked out, such as "spacing".
        formula: The formula with names, "depth / sin(angle)"; empty for a sentence.
        filled: The same with the learner's numbers, "6 / sin(30)"; empty for a sentence.
        value: The result, not rounded; None for a sentence.
        unit: Unit of the result.
        note: The sentence, for look-ups and searches; for arithmetic an optional remark.
    """

    name: str
    formula: str
    filled: str
    value: float | None
    unit: str
    note: Message | None = None
