"""
Steps to be put in order: which orders are right, which slip an order shows, and how the page sends one.

The page sends a number for each step ("2:ream"), a person at the keyboard types letters or ids in their order.
"""

from __future__ import annotations

import random
import re
from collections.abc import Collection, Sequence
from itertools import combinations, permutations

from trainer.problems.drawn import DrawnOption
from trainer.problems.misfit import Misfit

__all__ = ["in_places", "made_before", "orders", "right_from_the_start", "shuffled", "with_before"]

Order = tuple[str, ...]
#: A step with its place as the page sends it; the place is missing where none was chosen.
PLACED = re.compile(r"([1-9][0-9]?):([a-z0-9-]+)")
TRIES = 50


def orders(steps: Sequence[str], free: Collection[tuple[str, str]]) -> tuple[Order, ...]:
    """
    Every order that is right, the file's own first.

    Args:
        steps: Ids in the right order.
        free: Pairs whose order does not matter.

    >>> orders(["cut", "ream", "dress"], [("ream", "dress")])
    (('cut', 'ream', 'dress'), ('cut', 'dress', 'ream'))
    """
    loose = {frozenset(pair) for pair in free}
    settled = [pair for pair in combinations(steps, 2) if frozenset(pair) not in loose]
    return tuple(one for one in permutations(steps) if all(made_before(one, *pair) for pair in settled))


def made_before(order: Sequence[str], first: str, second: str) -> bool:
    """Whether an order puts one step before another."""
    return order.index(first) < order.index(second)


def with_before(order: Sequence[str], first: str, second: str) -> Order:
    """
    The order with one step pulled forward to just before another.

    >>> with_before(("mark", "cut", "ream"), "ream", "cut")
    ('mark', 'ream', 'cut')
    """
    others = [step for step in order if step != first]
    at = others.index(second)
    return (*others[:at], first, *others[at:])


def right_from_the_start(order: Sequence[str], right: Collection[Sequence[str]]) -> int:
    """How many steps stand right before the first wrong one, held against the accepted order that is nearest."""
    return max(
        next((at for at, (one, other) in enumerate(zip(order, key, strict=True)) if one != other), len(order))
        for key in right
    )


def shuffled(chance: random.Random, right: Sequence[Order]) -> tuple[DrawnOption, ...]:
    """The steps in an order by chance that is none of the right ones."""
    for _ in range(TRIES):
        left = list(right[0])
        shown = tuple(left.pop(int(chance.random() * len(left))) for _ in range(len(left)))
        if shown not in right:
            return tuple(DrawnOption(step) for step in shown)
    raise Misfit("every order is a right one")


def in_places(sent: Sequence[str]) -> tuple[str, ...]:
    """
    Steps by the number that each was given; as sent where that is not each number from 1 once.

    >>> in_places(["2:ream", "1:cut"]), in_places(["1:ream", "1:cut"]), in_places(["5-1/2"])
    (('cut', 'ream'), ('1:ream', '1:cut'), ('5-1/2',))
    """
    found = [match for one in sent if (match := PLACED.fullmatch(one))]
    steps = {int(match[1]): match[2] for match in found}
    if len(found) != len(sent) or sorted(steps) != list(range(1, len(sent) + 1)):
        return tuple(sent)
    return tuple(steps[place] for place in sorted(steps))
