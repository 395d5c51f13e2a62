"""
Worked steps of the calculations about conductors, boxes and pulls, over drawn inputs: each printed line is true as
printed, each message has its sentence, and tracing changes no result.
"""

import math
import random

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.inputs import Kind
from trainer.calc.message import InputError, Message
from trainer.calc.step import write_number
from trainer.calc.wire_lists import read_conductors
from trainer.text.words import error_text, say

NAMES = (
    *("raceway_fill", "raceway_size", "max_conductors", "jam_ratio"),
    *("box_fill", "box_max_conductors", "pull_box"),
    *("ampacity", "voltage_drop", "ground_size", "thermal_change", "pulling_tension"),
)
RUNS = 150

READER = {
    "__builtins__": {},
    "pi": math.pi,
    "sin": lambda angle: math.sin(math.radians(angle)),
    "cos": lambda angle: math.cos(math.radians(angle)),
    "sqrt": math.sqrt,
    "min": min,
    "max": max,
    "round_down": lambda value: math.floor(round(value, 8)),
}

TEXTS = {
    Kind.CONDUCTORS: ["1 #1/0 THHN", "2 #2 XHHW", "3 #8 THHN", "22 #14 THHN", "3 #4/0 THHN, 1 #4 bare", "3 #6 RHW", "9 #12 THW, 3 #18 THHN"],
    Kind.SIZES: ["none", "1 #12", "8 #12, 2 #14", "5 #10", "12 #14", "3 #6, 1 #18", "2 #4"],
    Kind.BOX: ["4 x 1-1/2 square", "FS 2 gang", "20.3 cu in", "3 x 2 x 2-1/2 device"],
    Kind.PRESENT: ["yes", "no", "3"],
    Kind.ENTRIES: ["3 left to 3 right", "3 left to 2 top, 2 left to 2 bottom", "2 back to 2 left, 4 top splice", "3 left A B, 2 top A, 2 right B", "6 left to 6 top, 6 left to 6 top, 6 left to 6 top, 6 left to 6 top, 6 left to 6 top, 6 left to 6 top, 6 left to 6 top, 6 left to 6 top"],
    Kind.SECTIONS: ["200 ft", "90 bend r 2 ft", "100 ft, 45 bend, 50 ft up", "33 ft 4 in down 20 deg, 22.5 bend r 18 in, 7 ft", "500 ft down, 3 ft"],
    Kind.CONTINUOUS: ["yes", "no", "7.3 A", "40 A"],
    Kind.RATING: ["60", "75 C", "194 F"],
    Kind.YES_NO: ["yes", "no"],
}  # fmt: skip


def drawn(given, rng):
    """A value of an input, typed or as a number."""
    if given.kind in TEXTS:
        return rng.choice(TEXTS[given.kind])
    if given.choices:
        return rng.choice(given.choices)
    low = given.least if given.least is not None else given.above
    number = low + min(given.most - low, rng.choice([3, 40, 400, 30_000])) * (1 - rng.random())
    return round(number) or 1 if given.kind == Kind.COUNT else number


def outcomes(name):
    """Values, result and steps, or the error, of many runs."""
    calculation, rng = CATALOGUE[name], random.Random(name)
    for _ in range(RUNS):
        values = {
            given.name: drawn(given, rng) for given in calculation.inputs if not given.optional or rng.random() < 0.4
        }
        try:
            yield values, *calculation.trace(values), None
        except InputError as error:
            yield values, None, [], error


@pytest.fixture(scope="module", params=NAMES)
def runs(request):
    return CATALOGUE[request.param], list(outcomes(request.param))


def test_most_drawn_inputs_can_be_worked_out(runs):
    _, done = runs

    assert sum(error is None for *_, error in done) > RUNS / 6


def test_every_printed_line_is_true_as_printed(runs):
    _, done = runs
    for _, _, lines, _ in done:
        for line in (line for line in lines if line.value is not None):
            worked_out = eval(line.filled, READER)  # noqa: S307
            assert abs(worked_out - float(write_number(line.value))) < 0.50001e-4, line


def test_tracing_changes_no_result(runs):
    calculation, done = runs
    for values, result, _, error in done:
        if error is None:
            assert calculation.solve(values) == result


def test_what_a_line_gives_is_the_result_of_that_name(runs):
    calculation, done = runs
    outputs = [output.name for output in calculation.outputs]
    for _, result, lines, _ in done:
        last = {line.name: line.value for line in lines if line.value is not None}
        for name in last.keys() & set(outputs):
            assert last[name] == getattr(result, name), name


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
    """What says itself among the outputs: factors, dimensions, spacings."""
    for output in calculation.outputs:
        value = getattr(result, output.name)
        if isinstance(value, tuple) and not output.unit:
            yield from value


def test_every_calculation_says_what_it_is_for():
    for name in NAMES:
        assert say(Message(f"calculation.{name}"))
        for given in CATALOGUE[name].inputs:
            assert say(given.accepted()).endswith(".")


def test_what_is_from_memory_says_so_in_the_sources():
    """The two others stand on tables that had two sources, or are computed."""
    said = {name for name in NAMES if any("from memory" in source for source in CATALOGUE[name].sources)}

    assert set(NAMES) - said == {"box_max_conductors", "thermal_change"}


def test_a_written_list_is_one_that_can_be_typed():
    given = CATALOGUE["raceway_fill"].input("conductors")
    groups = read_conductors("3 #12 THHN, 1 #8 bare solid")

    assert given.read(given.written(groups)) == groups
