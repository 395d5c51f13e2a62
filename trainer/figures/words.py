"""How a figure gets its words: it names a sentence and its parameters, whoever asks for the drawing says it."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from trainer.calc.message import Message, Quantity

__all__ = ["Say", "Words", "angle", "length", "small_length"]

#: Puts a message into words of a language, as `trainer.text.words.say` does.
Say = Callable[[Message], str]


class Words:
    """
    The sentences "figure.<name>" in the reader's language.

    Args:
        say: Puts a message into words.
    """

    def __init__(self, say: Say) -> None:
        self._say = say

    def __call__(self, name: str, **params: object) -> str:
        """The sentence `figure.<name>` with its parameters filled in."""
        return self._say(Message(f"figure.{name}", params))

    def of_core(self, sentence: str, **params: object) -> str:
        """A sentence that the core has already, such as the name of a fitting or the instruction of a mark."""
        return self._say(Message(sentence, params))


def length(inches: float) -> Quantity:
    """A length for a sentence [in]; it is written to the nearest sixteenth."""
    return Quantity(inches, "in")


def small_length(inches: float) -> str:
    """
    A length below an inch [in], such as a drill's, to the nearest sixty-fourth.

    >>> small_length(0.046875)
    '3/64 in'
    """
    return f"{Fraction(inches).limit_denominator(64)} in"


def angle(degrees: float) -> Quantity:
    """An angle for a sentence [deg]."""
    return Quantity(degrees, "deg")
