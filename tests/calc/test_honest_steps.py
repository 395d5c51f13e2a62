"""
Every printed line of worked arithmetic is true as printed: worked out by a reader with the printed numbers, it gives
the printed result, to within half of its last place. Drawn over thousands of lines of every calculation, and worked out by functions of the test's own.
"""

from __future__ import annotations

import math
import random

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.inputs import Kind
from trainer.calc.message import InputError
from trainer.calc.step import write_number

RUNS = 400

READER = {
    "__builtins__": {},
    "pi": math.pi,
    "sin": lambda angle: math.sin(angle * math.pi / 180),
    "cos": lambda angle: math.cos(angle * math.pi / 180),
    "tan": lambda angle: math.tan(angle * math.pi / 180),
    "csc": lambda angle: 1 / math.sin(angle * math.pi / 180),
    "asin": lambda ratio: math.asin(ratio) * 180 / math.pi,
    "acos": lambda ratio: math.acos(ratio) * 180 / math.pi,
    "atan": lambda ratio: math.atan(ratio) * 180 / math.pi,
    "sqrt": math.sqrt,
    "abs": abs,
    "min": min,
    "max": max,
    "round_up": lambda value: math.ceil(round(value, 8)),
    "round_down": lambda value: math.floor(round(value, 8)),
}


def drawn(given, rng):
    """A value of an input, awkward more often than not; the example where a kind cannot be drawn."""
    if given.kind in {Kind.CHOICE, Kind.TRADE_SIZE} and given.choices:
        return rng.choice(given.choices)
    if given.kind in {Kind.LENGTHS, Kind.ANGLES}:
        return tuple(number(given, rng) for _ in range(rng.randrange(1, 9)))
    if given.kind in {Kind.LENGTH, Kind.ANGLE, Kind.NUMBER}:
        return number(given, rng)
    return given.read(given.example)


def number(given, rng):
    """A number in the input's range, one in three a whole sixteenth."""
    low = given.least if given.least is not None else (given.above or 0.0)
    high = next((bound for bound in (given.below, given.most) if bound is not None), low + 200.0)
    value = low + min(high - low, 400.0) * rng.random()
    return round(value * 16 + 1) / 16 if rng.random() < 0.3 else value


def runs_of(calculation):
    """Steps of many runs, with inputs that the calculation takes."""
    rng = random.Random(calculation.name)
    for _ in range(RUNS):
        values = {
            given.name: drawn(given, rng) for given in calculation.inputs if not given.optional or rng.random() < 0.6
        }
        try:
            yield calculation.trace(values)[1]
        except InputError:
            continue  # Out of range together, such as a near bend off the tube.


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_every_printed_line_is_true_as_printed(name):
    lines = [line for run in runs_of(CATALOGUE[name]) for line in run if line.value is not None]

    for line in lines:
        worked_out = eval(line.filled, READER)  # noqa: S307
        assert abs(worked_out - float(write_number(line.value))) < 0.50001e-4, line


def test_thousands_of_lines_are_drawn():
    lines = sum(len(run) for run in runs_of(CATALOGUE["offset"]))

    assert lines > 2000


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_steps_and_result_come_from_the_same_run(name):
    calculation = CATALOGUE[name]
    values = calculation.read(calculation.example_inputs)

    traced, lines = calculation.trace(values)

    assert traced == calculation.solve(values)
    assert lines
