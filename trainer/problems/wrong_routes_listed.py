"""The wrong routes that a problem offers: at each of its steps, at each thing given, and at the answer."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from trainer.calc.inputs import Input, Kind
from trainer.problems.facts import fact
from trainer.problems.model import AnswerKind
from trainer.problems.wrong_routes import Attempt, Place, Route
from trainer.problems.wrong_routes_changes import changes

__all__ = ["routes"]

#: Rows of a drawn entry up to which each is tried in another's place.
MOST_ROWS = 6
#: Shares of a bore that people mix up, by how many conductors they are for.
SHARES = ("raceway.fill.one", "raceway.fill.two", "raceway.fill.over_two", "raceway.fill.nipple")


def routes(on: Attempt) -> Iterator[Route]:
    """Every route of a problem; the same slip has the same Route with other numbers."""
    yield from _at_steps(on)
    yield from _at_given(on)
    yield from _at_answer(on)


def _at_steps(on: Attempt) -> Iterator[Route]:
    before: list[str] = []
    for formula, operands in on.steps:
        own = formula.written
        for change in changes(own):
            yield Route(Place.STEP, formula.target, change.did, change.formula, own)
        for name in (name for name, number in operands.items() if not isinstance(number, tuple)):
            for other in _alike(on, name, before, _basis(on, formula.target)):
                yield Route(Place.STEP, formula.target, f"{other} taken for {name}", _with(own, name, other), own)
            for share in _other_shares(operands[name]):
                did = f"{share:g} % taken for {name}"
                yield Route(Place.STEP, formula.target, did, _with(own, name, f"{share:g}"), own)
        before.append(formula.target)


def _other_shares(number: object) -> list[float]:
    """The other shares of a bore where a number is one; else none."""
    shares = [share for share in map(fact, SHARES) if share is not None]
    return [share for share in shares if share != number] if number in shares else []


def _alike(on: Attempt, name: str, before: Sequence[str], basis: str) -> Iterator[str]:
    """What was given or worked out before in the same unit as one number, and on the same basis as the step."""
    given = [one.name for one in on.family.calculation.inputs if one.name in on.values]
    for other in dict.fromkeys([*given, *before]):
        same = on.units.get(name) and on.units.get(other) == on.units[name]
        if same and other != name and other in on.numbers and _basis(on, other) in {"", basis}:
            yield other


def _basis(on: Attempt, name: str) -> str:
    """The convention that a number follows; "" for one that is the same on all."""
    return next((output.basis for output in on.family.calculation.outputs if output.name == name), "")


def _with(formula: str, name: str, other: str) -> str:
    """A formula with another name in the place of one."""
    return re.sub(rf"\b{name}\b", other, formula)


def _at_given(on: Attempt) -> Iterator[Route]:
    for parameter in on.family.parameters:
        now = tuple(on.problem.numbers[name] for name in parameter.names)
        if len(parameter.rows) <= MOST_ROWS:
            for row in parameter.rows:
                if row != now:
                    words = ", ".join(f"{part:g}" if isinstance(part, float) else part for part in row)
                    yield _otherwise(
                        parameter.names[0], f"taken for {words}", dict(zip(parameter.names, row, strict=True))
                    )
        name, count = parameter.names[0], now[0]
        if len(parameter.names) == 1 and _counts(on, name) and isinstance(count, float):
            yield _otherwise(name, "one too many counted", {name: count + 1})
            yield _otherwise(name, "one too few counted", {name: count - 1})
    for given in on.family.calculation.inputs:
        if given.name in on.values and given.name not in on.problem.numbers and given.name != "edition":
            yield from _at_input(given, on.values[given.name])


def _counts(on: Attempt, name: str) -> bool:
    """Whether a drawn name is a number of things, and neither a length nor an angle."""
    kinds = [given.kind for given in on.family.calculation.inputs if given.name == name]
    whole = all(isinstance(part, float) and part.is_integer() for row in _rows(on, name) for part in row)
    return whole and (not kinds or kinds[0] is Kind.COUNT)


def _rows(on: Attempt, name: str) -> Iterator[tuple[float | str, ...]]:
    return (row for parameter in on.family.parameters if parameter.names == (name,) for row in parameter.rows)


def _at_input(given: Input, now: object) -> Iterator[Route]:
    """What the family fixes or puts together: another choice, yes for no, a list with something left out."""
    read = given.value(now)
    if isinstance(read, bool):
        yield _otherwise(given.name, "yes for no, or no for yes", {given.name: not read})
    elif given.kind is Kind.CHOICE:
        for choice in given.choices:
            if choice != read:
                yield _otherwise(given.name, f"taken for {choice}", {given.name: choice})
    elif isinstance(read, tuple) and len(read) > 1:
        once = tuple(dict.fromkeys(read))
        yield _otherwise(given.name, "each different one counted once", {given.name: once})
        for at, words in ((0, "first"), (len(read) - 1, "last")):
            yield _otherwise(given.name, f"the {words} one left out", {given.name: read[:at] + read[at + 1 :]})


def _otherwise(name: str, did: str, given: Mapping[str, object]) -> Route:
    return Route(Place.GIVEN, name, did, given=tuple(given.items()))


def _at_answer(on: Attempt) -> Iterator[Route]:
    unit, kind = on.family.unit, on.family.kind
    yield Route(Place.ANSWER, "", "doubled", "2 * answer")
    if kind is AnswerKind.COUNT:
        yield Route(Place.ANSWER, "", "one too many", "answer + 1")
        yield Route(Place.ANSWER, "", "one too few", "answer - 1")
    else:
        yield Route(Place.ANSWER, "", "halved", "answer / 2")
    if unit == "in":
        feet = "12 * round_down(answer / 12) + 1.2 * (answer - 12 * round_down(answer / 12))"
        yield Route(Place.ANSWER, "", "inches over whole feet taken for tenths of a foot", feet)
    bases = {"", *(basis for basis, _ in on.family.answers)}
    for name, others in on.units.items():
        if others == unit and name in on.numbers and name not in on.answers and _basis(on, name) in bases:
            for did, formula in (
                ("given for", name),
                ("added to", f"answer + {name}"),
                ("taken off", f"answer - {name}"),
            ):
                yield Route(Place.ANSWER, "", f"{name} {did} it", formula, basis=_basis(on, name))
