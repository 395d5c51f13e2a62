"""
Options drawn: which are shown, in which order, and which of them are right. The core decides what is right: either it
lists what suits and what doesn't, with its reasons, or its numbers decide about the family's statements.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from msgspec import Struct

from trainer.calc.expression import ExpressionError
from trainer.calc.fitting_choice import JudgedFitting
from trainer.calc.message import Message
from trainer.problems.drawn import DrawnOption
from trainer.problems.misfit import Misfit
from trainer.problems.model import LETTERED, ONE, AnswerKind, Key
from trainer.problems.parts import Family

if TYPE_CHECKING:
    from trainer.problems.shape import OptionsShape

__all__ = ["Choosing", "draw_options"]

Item = TypeVar("Item")


class Choosing(Struct, frozen=True):
    """What is shown, in order, and the ids of the right ones."""

    options: tuple[DrawnOption, ...]
    right: frozenset[str]

    def key(self, kind: AnswerKind) -> Key:
        """The accepted answer: one id, or all right ids sorted."""
        ids = tuple(sorted(self.right))
        return Key(ids[0] if kind in ONE else ids)


def draw_options(family: Family, chance: random.Random, result: Any, known: Mapping[str, float]) -> Choosing:
    """
    The options of one instance.

    Args:
        family: Of a kind that is answered by choosing.
        chance: Gives the numbers that decide.
        result: What the calculation gave.
        known: Every number that a statement may ask about.

    Raises:
        Misfit: When too few are right or wrong with these numbers, or two would read the same.
    """
    shape = family.shape.ask.options
    drawn = _listed(family, shape, chance, result) if shape else _stated(family, chance, known)
    wrong = len(drawn.options) - len(drawn.right)
    if not drawn.right or not wrong:
        raise Misfit("all options right, or none")
    if family.kind in ONE and len(drawn.right) > 1:
        raise Misfit("more than one option right")
    return drawn


def _listed(family: Family, shape: OptionsShape, chance: random.Random, result: Any) -> Choosing:
    right, wrong = list(getattr(result, shape.right)), list(getattr(result, shape.wrong))
    fewest, most = (1, 1) if family.kind in ONE else shape.right_shown
    most = min(most, len(right))
    if most < fewest:
        raise Misfit("too few right options")
    count = fewest + int(chance.random() * (most - fewest + 1))
    shown = _some(chance, right, count)
    ids = frozenset(judged.fitting for judged in shown)
    options = [_judged(judged) for judged in shown + _some(chance, wrong, shape.show - count)]
    return Choosing(tuple(_some(chance, options, len(options))), ids)


def _judged(judged: JudgedFitting) -> DrawnOption:
    return DrawnOption(judged.fitting, (Message(f"fitting.{judged.fitting}"), judged.reason))


def _stated(family: Family, chance: random.Random, known: Mapping[str, float]) -> Choosing:
    count = family.shape.ask.show or len(family.statements)
    # What stands in a drawing is asked about in the drawing's order.
    shown = list(family.statements) if family.kind in LETTERED else _some(chance, family.statements, count)
    try:
        right = frozenset(statement.id for statement in shown if statement.right(known))
    except ExpressionError as error:
        raise Misfit(f"a statement has no truth here: {error.reason.id}") from None
    return Choosing(tuple(DrawnOption(statement.id) for statement in shown), right)


def _some(chance: random.Random, items: Sequence[Item], count: int) -> list[Item]:
    """So many of the items, or all where there are fewer, in an order by chance."""
    left = list(items)
    return [left.pop(int(chance.random() * len(left))) for _ in range(min(count, len(left)))]
