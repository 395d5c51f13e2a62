"""Reads the legs of a run in space, each with its direction: `30 in ahead, 20 in up, 16 in left`. Inches."""

from __future__ import annotations

import re
from enum import StrEnum

from msgspec import Struct

from trainer.calc.length import read_length, write_length
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.number import Refusal

__all__ = ["STEPS", "Direction", "Step", "Way", "read_ways"]

LONGEST_LIST = 400
MOST_LEGS = 12

_EXAMPLE = "30 in ahead, 20 in up, 16 in left"


class Direction(StrEnum):
    """Which way a leg runs, for one who looks along the first level stretch of the run."""

    AHEAD = "ahead"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"
    UP = "up"
    DOWN = "down"


Step = tuple[int, int, int]
#: What each word means: a step ahead, left and up.
STEPS: dict[Direction, Step] = {
    Direction.AHEAD: (1, 0, 0),
    Direction.BACK: (-1, 0, 0),
    Direction.LEFT: (0, 1, 0),
    Direction.RIGHT: (0, -1, 0),
    Direction.UP: (0, 0, 1),
    Direction.DOWN: (0, 0, -1),
}

_WORD = re.compile(rf"\b({'|'.join(Direction)})\b")


class Way(Struct, frozen=True):
    """
    A leg.

    Args:
        direction: Which way it runs.
        length: From corner to corner, or from an end to a corner, along the tube's middle [in].
    """

    direction: Direction
    length: float

    def message(self) -> Message:
        """The leg as a sentence."""
        return Message(f"ways.{self.direction}", {"length": Quantity(self.length, "in")})

    def __str__(self) -> str:
        """As it can be typed."""
        return f"{write_length(self.length)} {self.direction}"


def read_ways(text: str) -> tuple[Way, ...]:
    """
    Read legs with their directions.

    Args:
        text: As typed, with commas, semicolons or lines between, at most 400 characters.

    Raises:
        InputError: With the leg that can't be read.

    >>> [str(way) for way in read_ways("2 ft 6 in ahead, up 20 in")]
    ['30 in ahead', '20 in up']
    """
    refusal = Refusal(text, Message("ways.accepted"), _EXAMPLE)
    if len(text) > LONGEST_LIST:
        raise refusal.because("input.list-too-long", limit=LONGEST_LIST)
    legs = re.split(r"[,;\n]", text.lower())
    if len(legs) > MOST_LEGS:
        raise refusal.because("input.too-many-items", limit=MOST_LEGS)
    return tuple(_way(" ".join(leg.split()), refusal) for leg in legs)


def _way(leg: str, refusal: Refusal) -> Way:
    words = _WORD.findall(leg)
    if len(words) != 1:
        raise refusal.because("ways.one-direction", item=leg)
    try:
        length = float(read_length(_WORD.sub(" ", leg).strip()).inches)
    except InputError as error:
        raise refusal.because("ways.not-understood", item=leg, problem=error.reason) from None
    if length <= 0:
        raise refusal.because("ways.no-length", item=leg)
    return Way(Direction(words[0]), length)
