"""Fixtures of the core's tests."""

from __future__ import annotations

import importlib
import sys

import pytest
from hypothesis import settings

from trainer.calc.inputs import Kind
from trainer.calc.layout_draw import DRAWS
from trainer.calc.message import InputError

# A slow machine fails no test.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")


@pytest.fixture
def refused():
    """Call something that must refuse its input; gives the InputError."""

    def call(function, *arguments, **named):
        with pytest.raises(InputError) as caught:
            function(*arguments, **named)
        return caught.value

    return call


@pytest.fixture(scope="session")
def outcome():
    """Call something that may refuse its input; gives its result, or the InputError."""

    def call(function, *arguments):
        try:
            return function(*arguments)
        except InputError as error:
            return error

    return call


#: What is drawn for kinds that are no plain numbers, awkward more often than not.
TEXTS = {
    Kind.CONDUCTORS: ("1 #1/0 THHN", "2 #2 XHHW", "3 #8 THHN", "22 #14 THHN", "3 #4/0 THHN, 1 #4 bare", "3 #6 RHW"),
    Kind.SIZES: ("none", "1 #12", "8 #12, 2 #14", "5 #10", "12 #14", "3 #6, 1 #18", "2 #4"),
    Kind.BOX: ("4 x 1-1/2 square", "FS 2 gang", "20.3 cu in", "3 x 2 x 2-1/2 device", "FD"),
    Kind.PRESENT: ("yes", "no", "3"),
    Kind.ENTRIES: (
        "3 left to 3 right",
        "3 left to 2 top, 2 left to 2 bottom",
        "2 back to 2 left, 4 top splice",
        "3 left A B, 2 top A, 2 right B",
        ", ".join(["6 left to 6 top"] * 8),
    ),
    Kind.SECTIONS: (
        "200 ft",
        "90 bend r 2 ft",
        "100 ft, 45 bend, 50 ft up",
        "33 ft 4 in down 20 deg, 22.5 bend r 18 in, 7 ft",
        "500 ft down, 3 ft",
    ),
    Kind.CONTINUOUS: ("yes", "no", "7.3 A", "40 A"),
    Kind.RATING: ("60", "75 C", "194 F"),
    Kind.YES_NO: ("yes", "no"),
    Kind.RUN: (
        "60 ft",
        "12 in + 40 ft + 12 in, 3x 9 ft 6 in",
        "20 ft, 20 ft 4 in",
        "2 ft + 3 ft + 30 ft + 3 ft + 2 ft",
    ),
    Kind.WAYS: (
        "30 in ahead, 20 in up, 16 in left",
        "2 ft up, 3 ft right, 18 in down, 40 in ahead",
        "12 ahead, 11-3/8 left, 24 up",
        "1 ft ahead, 14 in back",
    ),
    Kind.STRETCHES: ("42 to 49", "3 ft to 4 ft 1 in, 80 to 87-1/2"),
    Kind.SHOE: ("1/2", "3/4", "1", "3/4 take-up 6-1/8 in radius 5.1 in", "1 take-up 8 in gain 4-1/8 in back 4 in"),
}


def drawn_number(given, rng):
    """A number in the input's range, one in three a whole sixteenth."""
    low = given.least if given.least is not None else (given.above or 0.0)
    high = next((bound for bound in (given.below, given.most) if bound is not None), low + 30_000.0)
    value = low + min(high - low, rng.choice((3, 40, 40, 40, 200, 30_000))) * (1 - rng.random())
    if given.kind == Kind.COUNT:
        return round(value) or 1
    return round(value * 16 + 1) / 16 if rng.random() < 0.3 else value


def drawn(given, rng):
    """A value of an input, as a number or as typed."""
    if given.kind in TEXTS:
        return rng.choice(TEXTS[given.kind])
    if given.choices:
        return rng.choice(given.choices)
    if given.kind in {Kind.LENGTHS, Kind.ANGLES}:
        return tuple(drawn_number(given, rng) for _ in range(rng.randrange(1, 9)))
    if given.kind == Kind.TRADE_SIZE:
        return rng.choice(("1/2", "3/4", "1"))
    return drawn_number(given, rng)


def draw_strap_places(rng):
    """A run that can be held: a place near each end and some between, now and then with a box and a bend."""
    run = rng.randrange(8, 30) * 12.0
    places = {rng.randrange(1, 7) * 6.0, run - rng.randrange(1, 7) * 6.0, run / 2 + 12}
    places |= {rng.randrange(2, int(run / 12) - 1) * 12.0 for _ in range(5)}
    values = {"run_length": run, "places": tuple(places)}
    if rng.random() < 0.3:
        values["bends"] = f"{run / 3} to {run / 3 + 8}"
    return values


#: Whole sets of inputs that go together, for calculations that refuse nearly everything else.
TOGETHER = {**DRAWS, "strap_places": draw_strap_places}


@pytest.fixture(scope="session")
def draw_values():
    """
    Draw values for a calculation: every input that is needed, and some of the others. Some will be refused; of bends,
    half are drawn as for the proof, so that they go together; of others a third is the example with one input changed.
    """

    def draw(calculation, rng, share=0.5):
        if calculation.name in TOGETHER and rng.random() < 0.5:
            return TOGETHER[calculation.name](rng)
        if rng.random() < 0.3:
            changed = rng.choice(calculation.inputs)
            return {**calculation.example_inputs, changed.name: drawn(changed, rng)}
        left_in = [given for given in calculation.inputs if not given.optional or rng.random() < share]
        return {given.name: drawn(given, rng) for given in left_in}

    return draw


@pytest.fixture
def example_with(monkeypatch):
    """
    What a calculation says to its own example, worked out by a core that is loaded anew with changed tables.

    Takes its name, and what makes of a file's name and content the content that is read.
    """

    def work_out(name, change):
        kept = {key: sys.modules.pop(key) for key in list(sys.modules) if key.startswith("trainer.calc")}
        try:
            tables = importlib.import_module("trainer.calc.tables")
            plain = tables.table
            monkeypatch.setattr(tables, "table", lambda file: change(file, plain(file)))
            calculation = importlib.import_module("trainer.calc.catalogue").CATALOGUE[name]
            return repr(calculation.solve(calculation.example_inputs))
        except KeyError as missing:  # A number that is a name too, such as the 75 of a 75 C column.
            return f"no {missing}"
        finally:
            for key in [key for key in sys.modules if key.startswith("trainer.calc")]:
                del sys.modules[key]
            sys.modules.update(kept)

    return work_out
