"""
Wrong routes to the answer of a numeric family, each a turn taken on the calculation's own way: at a step that it writes
down, at what it is given, or with the answer when it is there. There is no second formula: the core runs again and goes
on from the slip.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import TypeGuard

from msgspec import Struct, field

from trainer.calc.formula import Formula, Operands
from trainer.calc.message import InputError
from trainer.problems.given import calculation_values
from trainer.problems.model import Problem
from trainer.problems.parts import Family
from trainer.problems.wrong_routes_changes import work_out

__all__ = ["FAILURES", "Attempt", "Place", "Route", "attempt", "leads_to"]

#: How a calculation with a turned number may fail: the route then leads nowhere with these numbers.
FAILURES = (InputError, ArithmeticError, ValueError, TypeError, LookupError, AssertionError, NameError)

#: How many times too large or too small a value may be for somebody to write it down.
BELIEVED = 16


class Place(StrEnum):
    """Where a route leaves the way."""

    STEP = "step"
    GIVEN = "given"
    ANSWER = "answer"


class Route(Struct, frozen=True):
    """
    A wrong route.

    Args:
        place: Where it leaves the way.
        name: The step or the input; "" at the answer.
        did: What is done otherwise, in words.
        formula: For a step and the answer: what is worked out there.
        instead_of: For a step: its own formula.
        given: For an input: names and what they are taken for.
        basis: At the answer: the only convention on which it can be taken; "" for every one.
    """

    place: Place
    name: str
    did: str
    formula: str = ""
    instead_of: str = ""
    given: tuple[tuple[str, object], ...] = ()
    basis: str = ""


class Attempt(Struct, frozen=True):
    """
    One problem and the way to its answer.

    Args:
        values: What the calculation is given.
        numbers: Every number by name: given, drawn, facts, outputs.
        units: Unit of those that have one.
        steps: Formula and operands of each step, in order.
        answers: The right value of each accepted answer, by its output.
    """

    family: Family
    problem: Problem
    values: Mapping[str, object]
    numbers: Mapping[str, float]
    units: Mapping[str, str]
    steps: tuple[tuple[Formula, Operands], ...]
    answers: Mapping[str, float] = field(default_factory=dict)


def attempt(family: Family, problem: Problem) -> Attempt:
    """The right way through a problem, with all that routes may turn at."""
    values = calculation_values(family, problem.numbers, problem.edition)
    steps: list[tuple[Formula, Operands]] = []

    def take_down(formula: Formula, operands: Operands, value: float) -> float:
        steps.append((formula, operands))
        return value

    family.calculation.retrace(values, take_down)
    units = {given.name: given.unit for given in family.calculation.inputs if given.unit}
    units |= {output.name: output.unit for output in family.calculation.outputs if output.unit}
    drawn = {**values, **problem.numbers, **problem.outputs}
    numbers = {name: float(value) for name, value in drawn.items() if _is_number(value)}
    answers = {output: numbers[output] for _, output in family.answers if output in numbers}
    return Attempt(family, problem, values, numbers, units, tuple(steps), answers)


def _is_number(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool)


def leads_to(route: Route, on: Attempt) -> Mapping[str, float]:
    """
    Where a route leads, by the output that it should have been; only outputs that it changes, and values that somebody
    could take for an answer: above zero, and not so far off that nobody would believe them.
    """
    try:
        led = dict(_led(route, on))
    except FAILURES:
        return {}
    return {
        output: value
        for output, value in led.items()
        if _believable(value, on.answers[output]) and not math.isclose(value, on.answers[output], abs_tol=1e-9)
    }


def _believable(value: float, right: float) -> bool:
    return value > 0 and right / BELIEVED <= value <= max(right, 1) * BELIEVED


def _led(route: Route, on: Attempt) -> Iterator[tuple[str, float]]:
    if route.place is Place.ANSWER:
        for basis, output in on.family.answers:
            if output in on.answers and route.basis in {"", basis}:
                yield output, float(work_out(route.formula, {**on.numbers, "answer": on.answers[output]}))
        return
    result = _turned(route, on) if route.place is Place.STEP else _given_otherwise(route, on)
    for output in on.answers:
        value = getattr(result, output)
        if _is_number(value):
            yield output, float(value)


def _turned(route: Route, on: Attempt) -> object:
    def turn(formula: Formula, operands: Operands, value: float) -> float:
        if (formula.target, formula.written) != (route.name, route.instead_of):
            return value
        return work_out(route.formula, {**on.numbers, **operands})

    return on.family.calculation.retrace(on.values, turn)


def _given_otherwise(route: Route, on: Attempt) -> object:
    """The calculation with another drawn row, which its texts are filled with again, or with another input."""
    otherwise = dict(route.given)
    drawn: dict[str, float | str] = {**on.problem.numbers}
    drawn |= {name: value for name, value in otherwise.items() if name in drawn and isinstance(value, float | str)}
    values = calculation_values(on.family, drawn, on.problem.edition)
    values |= {name: value for name, value in otherwise.items() if name not in drawn}
    return on.family.calculation.solve(values)
