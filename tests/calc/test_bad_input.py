"""
Bad input to every input of every calculation: out of range, of a wrong unit, missing, doubled, no number, hostile. Each
gives one clear line that names the input, and nothing is computed.
"""

import pytest
from msgspec.structs import replace

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.inputs import Kind
from trainer.calc.message import InputError
from trainer.text.words import error_text

HOSTILE = (
    "1e9999999",
    "9" * 39,
    "9" * 5000,
    "NaN",
    "-Infinity",
    "1_000",
    "0x10",
    "１２",
    "1/0/0",
    "12\x00",
    "'; DROP TABLE person; --",
    "<script>alert(1)</script>",
    "__import__('os').system('true')",
    "{0.__class__}",
    "%s%s%s%n",
    "../../etc/passwd",
    "(" * 300,
    "3 #12 THHN," * 1000,
    "a" * 100_000,
    "1 " * 300,
)

#: A unit of another kind; for the sections of a pull an angle is a bend.
WRONG_UNIT = {Kind.SECTIONS: "12 lbf", Kind.ANGLE: "12 lbf", Kind.ANGLES: "12 lbf"}


def must_not_run(**_):
    raise AssertionError("something was computed")


INPUTS = [
    pytest.param(replace(CATALOGUE[name], function=must_not_run), given, id=f"{name}-{given.name}")
    for name in CATALOGUE
    for given in CATALOGUE[name].inputs
]
each_input = pytest.mark.parametrize(("calculation", "given"), INPUTS)


def refused(calculation, given, text):
    """The error for this text in the place of a good one; nothing is computed before it."""
    with pytest.raises(InputError) as caught:
        calculation.solve({**calculation.example_inputs, given.name: text})
    return caught.value


def is_clear(error, given):
    """One line with the input's name, what was given, what is accepted and an example that is."""
    line = error_text(error)
    assert error.field == given.name
    assert line.startswith(f"{given.name}: ")
    assert "Accepted: " in line
    assert line.endswith(f"Example: {error.example}")
    assert "\n" not in line
    assert "{" not in line or "{" in error.given
    assert len(line) < 1000
    given.read(error.example)


@each_input
@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_is_refused(calculation, given, text):
    is_clear(refused(calculation, given, text), given)


@each_input
def test_what_is_no_number_and_no_choice_is_refused(calculation, given):
    for text in ("banana", "?", "-", "#", ","):
        is_clear(refused(calculation, given, text), given)


@each_input
def test_a_unit_of_another_kind_is_refused(calculation, given):
    is_clear(refused(calculation, given, WRONG_UNIT.get(given.kind, "12 deg")), given)


@each_input
def test_a_value_typed_twice_is_refused(calculation, given):
    is_clear(refused(calculation, given, f"{given.example} {given.example}"), given)


@each_input
def test_what_lies_out_of_range_is_refused(calculation, given):
    below = [given.least - 1] if given.least is not None else [given.above] if given.above is not None else []
    above = [given.most + 1] if given.most is not None else [given.below] if given.below is not None else []
    for value in (*below, *above):
        typed = f"{value:.0f} {given.unit if given.unit != 'count' else ''}"
        is_clear(refused(calculation, given, typed), given)
        is_clear(refused(calculation, given, float(value)), given)


@each_input
def test_what_is_missing_is_named(calculation, given):
    if given.optional:
        assert calculation.read({**calculation.example_inputs, given.name: " "})
        return
    rest = {name: text for name, text in calculation.example_inputs.items() if name != given.name}
    for typed in (rest, {**rest, given.name: ""}, {**rest, given.name: " \t"}):
        with pytest.raises(InputError) as caught:
            calculation.solve(typed)
        is_clear(caught.value, given)


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_an_unknown_input_is_named_with_its_neighbour(name):
    calculation = replace(CATALOGUE[name], function=must_not_run)
    first = calculation.inputs[0].name

    with pytest.raises(InputError) as caught:
        calculation.solve({**calculation.example_inputs, f"{first}x": "1"})

    assert caught.value.field == f"{first}x"
    assert caught.value.reason.params == {"near": first}
