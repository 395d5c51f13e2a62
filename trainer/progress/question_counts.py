"""
What is counted of first tries, so that a question can be judged without reading its answers again.

Everything is a whole number and a sum over tries, so that the counts that grow answer by answer and those made from all
answers at once are the same to the last one. People, and how many of them went one wrong way, are counted once each.

| part | name | value | counted | hits |
| --- | --- | --- | --- | --- |
| tries | | | first tries, given up ones too | |
| people | | | people who made them | |
| answered | | | those not given up | right ones |
| wrong | | | wrong ones, known mistakes too | |
| sum | expected, spread, level, square | | sums in billionths | of the level: over right ones |
| mistake | its id | | answers that show it | |
| choice | id of a wrong one | | answers to which it was offered | that took it |
| number, word | name of what was drawn | what was drawn | answers | right ones |
| route | in what way | value, or what was chosen | people who went it | |
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import isclose
from typing import NamedTuple

from msgspec import Struct, field

from trainer.problems.model import CHOOSING, FINDING, ONE, AnswerKind
from trainer.problems.parts import Family
from trainer.progress.effect import GAVE_UP

__all__ = [
    "AT",
    "BILLION",
    "CHOSEN",
    "OFF",
    "TIMES",
    "Count",
    "Counts",
    "FirstTry",
    "Part",
    "added_by",
    "counted",
    "counted_each",
]

BILLION = 10**9
"""Chances and levels are summed in billionths [logit]."""

CHOSEN, AT, OFF, TIMES = "chosen", "at", "off", "times"
"""Ways to a wrong answer: the same choice, the same value, as far from the key, as many times the key."""


class Part(NamedTuple):
    """What is counted: a line of the table above."""

    what: str
    name: str = ""
    value: str = ""


class Count(NamedTuple):
    """How many, and how many among them."""

    counted: int
    hits: int = 0


Counts = Mapping[Part, Count]


class FirstTry(Struct, frozen=True):
    """
    A first try without a hint.

    Args:
        person_id: Whose.
        verdict: The verdict that counts.
        mistakes: Known mistakes that it shows.
        value: As read.
        typed: As typed.
        expected: Chance of a right answer, before it.
        level: Level of the person before it [logit].
        key: The first accepted value.
        numbers: The drawn numbers and words.
        wrong_choices: Of what could be chosen, the ids of what no accepted answer holds.
    """

    person_id: int
    verdict: str
    mistakes: tuple[str, ...]
    value: object
    typed: str
    expected: float
    level: float
    key: object = None
    numbers: Mapping[str, object] = field(default_factory=dict)
    wrong_choices: tuple[str, ...] = ()

    @property
    def right(self) -> bool:
        """Whether it was right."""
        return self.verdict == "right"


def counted(family: Family, tries: Iterable[FirstTry]) -> dict[Part, Count]:
    """The counts of these tries at one question, in any order."""
    by_person = sorted(tries, key=lambda one: one.person_id)
    return counted_each(("", family, one) for one in by_person).get("", {})


def counted_each(tries: Iterable[tuple[str, Family, FirstTry]]) -> dict[str, dict[Part, Count]]:
    """
    The counts of many questions at once.

    Args:
        tries: Hash of the rules, family and try, those of one person after the other.
    """
    sums: dict[str, dict[Part, list[int]]] = defaultdict(dict)
    person_id, seen = None, set[tuple[str, Part]]()
    for rules, family, one in tries:
        if one.person_id != person_id:
            person_id, seen = one.person_id, set()
        for part, count in _of_each(family, one):
            _take(sums[rules], part, count)
        for part in _of_person(family, one):
            if (rules, part) not in seen:
                seen.add((rules, part))
                _take(sums[rules], part, Count(1))
    return {rules: {part: Count(*both) for part, both in of.items()} for rules, of in sums.items()}


def _take(sums: dict[Part, list[int]], part: Part, count: Count) -> None:
    both = sums.setdefault(part, [0, 0])
    both[0] += count.counted
    both[1] += count.hits


def added_by(family: Family, one: FirstTry, before: Sequence[FirstTry]) -> dict[Part, Count]:
    """
    By how much one more try moves the counts.

    Args:
        family: Its family.
        one: The try.
        before: The earlier tries of the same person at the same rules.
    """
    known = {part for earlier in before for part in _of_person(family, earlier)}
    new = {part: Count(1) for part in _of_person(family, one) if part not in known}
    return dict(_of_each(family, one)) | new


def _of_each(family: Family, one: FirstTry) -> Iterator[tuple[Part, Count]]:
    """What every try adds; each part once."""
    yield Part("tries"), Count(1)
    if one.verdict == GAVE_UP:
        return
    yield Part("answered"), Count(1, int(one.right))
    if one.verdict in {"wrong", "known-mistake"}:
        yield Part("wrong"), Count(1)
    expected, level = round(one.expected * BILLION), round(one.level * BILLION)
    yield Part("sum", "expected"), Count(expected)
    yield Part("sum", "spread"), Count(round(one.expected * (1 - one.expected) * BILLION))
    yield Part("sum", "level"), Count(level, level if one.right else 0)
    yield Part("sum", "square"), Count(round(one.level * one.level * BILLION))
    yield from ((Part("mistake", mistake), Count(1)) for mistake in dict.fromkeys(one.mistakes))
    if family.kind in ONE | FINDING | {AnswerKind.CHOICES}:
        taken = {*_chosen(one)}
        yield from (
            (Part("choice", choice), Count(1, int(choice in taken))) for choice in dict.fromkeys(one.wrong_choices)
        )
    for name, value in one.numbers.items():
        what, text = ("number", repr(float(value))) if isinstance(value, int | float) else ("word", str(value))
        yield Part(what, name, text), Count(1, int(one.right))


def _of_person(family: Family, one: FirstTry) -> Iterator[Part]:
    """What is counted once for a person, however often he does it."""
    yield Part("people")
    if one.verdict == "wrong":
        yield from _routes(family, one)


def _routes(family: Family, one: FirstTry) -> Iterator[Part]:
    """What could have been done alike in other numbers: the same value, as far from the key, or as many times it."""
    if family.kind in CHOOSING:
        yield Part("route", CHOSEN, one.typed)
        return
    if not isinstance(one.value, int | float):
        return
    value = float(one.value)
    yield _route(AT, value)
    if not isinstance(one.key, int | float) or isclose(value, one.key):
        return
    yield _route(OFF, value - one.key)
    if one.key:
        yield _route(TIMES, value / one.key)


def _route(name: str, value: float) -> Part:
    # Rounded it may be 0 from below, which is written in another way.
    return Part("route", name, repr(round(value, 2) + 0.0))


def _chosen(one: FirstTry) -> Iterable[str]:
    """What an answer chose."""
    return (one.value,) if isinstance(one.value, str) else one.value if isinstance(one.value, list | tuple) else ()
