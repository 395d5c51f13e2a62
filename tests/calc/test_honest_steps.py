"""
Steps cannot lie: every printed line of every calculation, over thousands of drawn inputs, is true as printed. Worked out
by a reader with the printed numbers, and with functions of the test's own, it gives the printed result.
"""

from __future__ import annotations

import math
import random
import re

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.message import InputError
from trainer.calc.step import write_number
from trainer.cli.plain import step_text
from trainer.text.words import error_text, say

RUNS = 250

#: Half of the last place that is worked with, and a little for the last bits.
HALF_A_PLACE = 0.50001e-4

READER = {
    "__builtins__": {},
    "pi": math.pi,
    "sin": lambda angle: math.sin(math.radians(angle)),
    "cos": lambda angle: math.cos(math.radians(angle)),
    "tan": lambda angle: math.tan(math.radians(angle)),
    "csc": lambda angle: 1 / math.sin(math.radians(angle)),
    "asin": lambda ratio: math.degrees(math.asin(ratio)),
    "acos": lambda ratio: math.degrees(math.acos(ratio)),
    "atan": lambda ratio: math.degrees(math.atan(ratio)),
    "sqrt": math.sqrt,
    "abs": abs,
    "min": min,
    "max": max,
    "round_up": lambda value: math.ceil(round(value, 8)),
    "round_down": lambda value: math.floor(round(value, 8)),
}

#: Decimals that the printed result of a line may have.
PLACES = {"in": 4, "sq in": 4, "cu in": 4, "%": 2, "lbf": 1, "lbf/ft": 1}


@pytest.fixture(scope="module", params=list(CATALOGUE))
def runs(request, draw_values):
    """A calculation, and values, result, steps and error of many runs."""
    calculation, rng = CATALOGUE[request.param], random.Random(request.param)
    done = []
    for _ in range(RUNS):
        values = draw_values(calculation, rng)
        try:
            done.append((values, *calculation.trace(values), None))
        except InputError as error:
            done.append((values, None, [], error))
    return calculation, done


def lines_of(done):
    return [line for *_, lines, _ in done for line in lines]


def test_many_drawn_inputs_can_be_worked_out(runs):
    _, done = runs

    assert sum(error is None for *_, error in done) > RUNS / 8


def test_every_line_worked_out_as_printed_gives_the_printed_result(runs):
    _, done = runs
    for line in lines_of(done):
        if line.value is not None:
            worked_out = eval(line.filled, READER)  # noqa: S307
            assert abs(worked_out - float(write_number(line.value))) < HALF_A_PLACE, line


def test_the_same_holds_for_the_line_as_the_shell_prints_it(runs):
    _, done = runs
    for line in lines_of(done):
        if line.value is not None:
            name, *sides, result = step_text(line).split(" = ")
            half = 0.5 * 10 ** -PLACES.get(line.unit, 3)
            printed = float(re.match(r"-?[0-9.]+", result)[0])
            # Numbers that read like the result behind them are left out; a length stays, as the tape shows it otherwise.
            repeated = line.unit != "in" and line.filled == result.split()[0].rstrip("%°")
            shown = (line.formula,) if repeated else (line.formula, line.filled)
            assert (name, *sides) == (line.name, *shown)
            assert abs(eval(line.filled, READER) - printed) < half + HALF_A_PLACE, line  # noqa: S307


def test_tracing_changes_no_result(runs):
    calculation, done = runs
    for values, result, _, error in done:
        if error is None:
            assert calculation.solve(values) == result


def test_what_a_line_gives_is_the_result_of_that_name(runs):
    calculation, done = runs
    for _, result, lines, _ in done:
        last = {line.name: line.value for line in lines if line.value is not None}
        for output in calculation.outputs:
            given = getattr(result, output.name, None)
            if given is not None and output.name in last:  # None: worked out, and found to have no room.
                assert last[output.name] == given, output.name


def test_every_message_has_its_words(runs):
    calculation, done = runs
    for _, result, lines, error in done:
        if error is not None:
            assert "Accepted: " in error_text(error)
            continue
        said = [say(line.note) for line in lines if line.note]
        said += [say(part.message()) for part in parts_of(calculation, result)]
        assert all(said)


def parts_of(calculation, result):
    """What says itself among the outputs: marks, cuts, factors, spacings."""
    for output in calculation.outputs:
        value = getattr(result, output.name)
        if isinstance(value, tuple) and not output.unit:
            yield from value


def test_the_example_of_each_calculation_has_steps(runs):
    calculation, _ = runs

    assert calculation.trace(calculation.example_inputs)[1]


def test_thousands_of_lines_are_drawn(draw_values):
    offset, rng = CATALOGUE["offset"], random.Random(1)
    lines = 0
    for _ in range(RUNS):
        try:
            lines += len(offset.trace(draw_values(offset, rng))[1])
        except InputError:
            continue

    assert lines > 1500
