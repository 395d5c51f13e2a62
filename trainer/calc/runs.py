"""
Reads a run, from box to box: `60 ft, 12 in + 40 ft + 12 in, 3x 9 ft 6 in`. Inches.

Commas part the stretches between two boxes, cabinets or conduit bodies. A stretch is its developed length, or its legs
with `+` between: each `+` is a 90, the legs measured to its back.
"""

from __future__ import annotations

import re

from msgspec import Struct

from trainer.calc.length import read_length, write_length
from trainer.calc.message import InputError, Message
from trainer.calc.number import Refusal

__all__ = ["Legs", "read_run"]

LONGEST_LIST = 400
MOST_STRETCHES = 100

_EXAMPLE = "60 ft, 12 in + 40 ft + 12 in, 3x 9 ft 6 in"
_REPEATED = re.compile(r"\(?([0-9]{1,3})(?:\) ?| ?[x×*] ?)(.*)")


class Legs(Struct, frozen=True):
    """
    A stretch of tube between two terminations.

    Args:
        lengths: Of its legs, to the backs of the 90s between them [in]; of a straight stretch its length.
    """

    lengths: tuple[float, ...]

    @property
    def bends(self) -> int:
        """How many 90s it has."""
        return len(self.lengths) - 1

    def message(self) -> Message:
        """The stretch as a sentence."""
        legs = " + ".join(write_length(leg, feet=True) for leg in self.lengths)
        return Message("runs.legs", {"legs": legs})

    def __str__(self) -> str:
        """As it can be typed."""
        return " + ".join(write_length(leg) for leg in self.lengths)


def read_run(text: str) -> tuple[Legs, ...]:
    """
    Read the stretches of a run.

    Args:
        text: As typed, at most 400 characters; commas, semicolons or lines between stretches.

    Raises:
        InputError: With the stretch that can't be read.

    >>> [str(legs) for legs in read_run("2x 10 ft, 12 + 40 ft")]
    ['120 in', '120 in', '12 in + 480 in']
    """
    refusal = Refusal(text, Message("runs.accepted"), _EXAMPLE)
    if len(text) > LONGEST_LIST:
        raise refusal.because("input.list-too-long", limit=LONGEST_LIST)
    stretches: list[Legs] = []
    for item in re.split(r"[,;\n]", text.lower()):
        times, one = _times(" ".join(item.split()))
        if times == 0:
            raise refusal.because("input.no-times", item=item.strip())
        if len(stretches) + times > MOST_STRETCHES:
            raise refusal.because("input.too-many-items", limit=MOST_STRETCHES)
        stretches += [_legs(one, refusal)] * times
    return tuple(stretches)


def _times(item: str) -> tuple[int, str]:
    match = _REPEATED.fullmatch(item)
    if match is None:
        return 1, item
    inner = match[2].strip()
    return int(match[1]), inner[1:-1] if inner.startswith("(") and inner.endswith(")") else inner


def _legs(item: str, refusal: Refusal) -> Legs:
    try:
        lengths = tuple(float(read_length(leg).inches) for leg in item.split("+"))
    except InputError as error:
        raise refusal.because("runs.not-understood", item=item, problem=error.reason) from None
    if min(lengths) <= 0:
        raise refusal.because("runs.no-length", item=item)
    return Legs(lengths)
