"""Reads stretches of a run, each from where to where: `42-1/2 in to 49 in, 80 to 87`. Inches."""

from __future__ import annotations

import re

from msgspec import Struct

from trainer.calc.length import read_length, write_length
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.number import Refusal

__all__ = ["Stretch", "read_stretches"]

LONGEST_LIST = 400

_EXAMPLE = "42 in to 49 in, 80 in to 87 in"
_TO = re.compile(r"\bto\b|[–—]|\.\.")


class Stretch(Struct, frozen=True):
    """
    A stretch of a run.

    Args:
        start: Where it begins, from the start of the run [in].
        end: Where it ends [in].
    """

    start: float
    end: float

    def message(self) -> Message:
        """The stretch as a sentence."""
        return Message("stretches.stretch", {"start": Quantity(self.start, "in"), "end": Quantity(self.end, "in")})

    def __str__(self) -> str:
        """As it can be typed."""
        return f"{write_length(self.start)} to {write_length(self.end)}"


def read_stretches(text: str) -> tuple[Stretch, ...]:
    """
    Read stretches.

    Args:
        text: As typed, with commas, semicolons or lines between, at most 400 characters.

    Raises:
        InputError: With the stretch that can't be read, or that ends before it begins.

    >>> [str(stretch) for stretch in read_stretches("42-1/2 to 49, 6 ft 8 in to 7 ft 3 in")]
    ['42-1/2 in to 49 in', '80 in to 87 in']
    """
    refusal = Refusal(text, Message("stretches.accepted"), _EXAMPLE)
    if len(text) > LONGEST_LIST:
        raise refusal.because("input.list-too-long", limit=LONGEST_LIST)
    return tuple(_stretch(" ".join(item.split()), refusal) for item in re.split(r"[,;\n]", text.lower()))


def _stretch(item: str, refusal: Refusal) -> Stretch:
    ends = _TO.split(item)
    if len(ends) != 2:
        raise refusal.because("stretches.two-ends", item=item)
    try:
        start, end = (float(read_length(one).inches) for one in ends)
    except InputError as error:
        raise refusal.because("stretches.not-understood", item=item, problem=error.reason) from None
    if end <= start:
        raise refusal.because("stretches.backward", item=item)
    return Stretch(start, end)
