"""One worked step of a calculation, as the step tracer records it."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.message import Message

__all__ = ["Step", "write_number"]


class Step(Struct, frozen=True):
    """
    One line of worked arithmetic, or one sentence where a table or a search says its own step.

    Args:
        name: The quantity that is worked out, such as "spacing".
        formula: The formula with names, "depth / sin(angle)"; empty for a sentence.
        filled: The same with the learner's numbers, "6 / sin(30)"; empty for a sentence.
        value: The result, not rounded; None for a sentence.
        unit: Unit of the result.
        note: The sentence, for look-ups and searches; for arithmetic an optional remark.
        rests_on: Quantities that a sentence draws on, so that the steps behind a word are found; arithmetic names
            them in its formula.
    """

    name: str
    formula: str
    filled: str
    value: float | None
    unit: str
    note: Message | None = None
    rests_on: tuple[str, ...] = ()

    @property
    def sides(self) -> tuple[str, ...]:
        """
        What stands between the name and the result: the formula, and the numbers where they say more than it or the result.

        >>> Step("couplings", "sum(in_stretches)", "2", 2.0, "couplings").sides
        ('sum(in_stretches)',)
        >>> Step("rise", "depth / 2", "3 / 2", 1.5, "in").sides
        ('depth / 2', '3 / 2')
        """
        sides = [self.formula] if self.formula else []
        if self.filled != self.formula and not self._is_result(self.filled):
            sides.append(self.filled)
        return tuple(sides)

    def _is_result(self, written: str) -> bool:
        """Whether the result reads the same: a length does not, which is shown as on the tape."""
        return self.value is not None and self.unit != "in" and written == write_number(self.value)


def write_number(value: float, places: int = 4) -> str:
    """
    A number as it is printed in a worked step: at most so many decimals, no zeros at the end.

    Four decimals hold every sixteenth of an inch exactly.

    >>> write_number(12.0), write_number(0.1875), write_number(15.67875)
    ('12', '0.1875', '15.6788')
    """
    written = f"{value:.{places}f}".rstrip("0").rstrip(".") if places else f"{value:.0f}"
    return "0" if written in {"-0", ""} else written
