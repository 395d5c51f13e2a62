"""The plain values of a problem: what is asked, what is accepted, what a learner's answer is judged to be."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from msgspec import Struct, field

from trainer.calc.message import Message
from trainer.calc.strap_run import StrapRun

__all__ = [
    "CHOOSING",
    "FINDING",
    "LETTERED",
    "ONE",
    "SEVERAL",
    "AnswerKind",
    "BenderGroup",
    "Key",
    "MistakeValue",
    "Option",
    "Problem",
    "Value",
    "Verdict",
    "VerdictKind",
]

#: A float in the family's unit, the id of an option, a sorted tuple of option ids, a tuple of steps in their order, or of one choice
#: from each group.
Value = float | str | tuple[str, ...]


class AnswerKind(StrEnum):
    """How an answer is given."""

    LENGTH = "length"
    NUMBER = "number"
    COUNT = "count"
    CHOICE = "choice"
    CHOICES = "choices"
    ORDER = "order"
    BENDER = "bender"
    PLACES = "places"
    FAULT = "fault"
    FAULTS = "faults"


#: Kinds that are answered with what is shown; the others are typed.
CHOOSING = frozenset(
    {
        *(AnswerKind.CHOICE, AnswerKind.CHOICES, AnswerKind.ORDER, AnswerKind.BENDER, AnswerKind.PLACES),
        *(AnswerKind.FAULT, AnswerKind.FAULTS),
    }
)
#: Kinds that take any number of what is shown.
SEVERAL = frozenset({AnswerKind.CHOICES, AnswerKind.PLACES, AnswerKind.FAULTS})
#: Kinds that take one of what is shown.
ONE = frozenset({AnswerKind.CHOICE, AnswerKind.FAULT})
#: Kinds that ask what is wrong in a drawing.
FINDING = frozenset({AnswerKind.FAULT, AnswerKind.FAULTS})
#: Kinds whose options stand lettered in the drawing, in its order.
LETTERED = frozenset({AnswerKind.PLACES, *FINDING})


class BenderGroup(StrEnum):
    """What is chosen when the bender is put on the tube, in the order in which it is asked."""

    MARK = "mark"
    REFERENCE = "reference"
    HOOK = "hook"
    ROLL = "roll"


class VerdictKind(StrEnum):
    """What an answer is judged to be."""

    RIGHT = "right"
    ROUNDED = "rounded-too-far"
    MISTAKE = "known-mistake"
    UNIT = "wrong-unit"
    WRONG = "wrong"
    UNREADABLE = "unreadable"


class Key(Struct, frozen=True):
    """One accepted answer, not rounded; `basis` names the convention it follows ("" when there is only one)."""

    value: Value
    basis: str = ""


class MistakeValue(Struct, frozen=True):
    """What a known wrong route leads to with these numbers, and what to say (Markdown, filled in)."""

    id: str
    value: Value
    say: str


class Option(Struct, frozen=True):
    """
    One thing to choose.

    Args:
        text: Markdown.
        why: Why it is or isn't an answer (Markdown).
        from_core: Text and reason as the core's messages; None where the family says both in its own words.
    """

    id: str
    text: str
    why: str = ""
    from_core: tuple[Message, Message] | None = None


class Problem(Struct, frozen=True):
    """
    One drawn instance of a family.

    Args:
        family_id: The family's id; with `seed`, `rules_hash` and `edition` it can be drawn again.
        numbers: The drawn parameters by name: floats in the core's unit (inches, degrees) or words.
        outputs: The calculation's numbers with them, which hints and explanations quote.
        text: The question, Markdown with the numbers filled in.
        unit: Unit in which a bare number is understood ("in", "deg", "straps", ""); "" for choices.
        tolerance: Largest distance from a key that is right, in `unit`; 0 for counting.
        options: What can be chosen, in the order shown; empty for typed answers.
        hints: Markdown, filled in, in the order in which they are offered.
        run: Of places to choose: the run that they lie on, against which a choice is held.
    """

    family_id: str
    title: str
    skill: str
    lesson: str
    level: int
    rules_hash: str
    words_hash: str
    seed: int
    edition: str
    numbers: Mapping[str, float | str]
    text: str
    kind: AnswerKind
    unit: str
    tolerance: float
    keys: tuple[Key, ...]
    mistakes: tuple[MistakeValue, ...]
    options: tuple[Option, ...] = ()
    hints: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    outputs: Mapping[str, float] = field(default_factory=dict)
    run: StrapRun | None = None

    def route_taken(self, mistake: str, value: object) -> MistakeValue | None:
        """The wrong route of a known mistake; where it leads to several values, the one nearest to what was given."""
        routes = [route for route in self.mistakes if route.id == mistake]
        return min(routes, key=lambda route: _apart(route.value, value), default=None)


def _apart(one: object, other: object) -> float:
    """How far two values lie apart; what is chosen lies nowhere."""
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other)
    return 0.0


class Verdict(Struct, frozen=True):
    """
    What an answer was judged to be.

    Args:
        kind: See VerdictKind.
        value: The answer as read; None when it could not be read.
        mistakes: Ids of the known mistakes whose value it is (two may share one).
        reason: What to say about it, when `kind` alone does not: how it could be read, which unit was meant.
        basis: Basis of the key that it met, when right.
    """

    kind: VerdictKind
    value: Value | None
    mistakes: tuple[str, ...] = ()
    reason: Message | None = None
    basis: str = ""
