"""The catalogue held against the functions that it names: signatures, result fields, docstrings, examples."""

from __future__ import annotations

import inspect
import re
import shlex
from types import NoneType, UnionType
from typing import Union, get_args, get_origin, get_type_hints

import pytest
from msgspec import Struct
from msgspec.structs import fields

from trainer.calc.catalogue import CATALOGUE, find_calculation
from trainer.calc.cautions import AREAS
from trainer.calc.inputs import Kind
from trainer.calc.shoes import Shoe
from trainer.calc.units import UNITS

TYPES = {
    Kind.LENGTH: float,
    Kind.ANGLE: float,
    Kind.NUMBER: float,
    Kind.COUNT: int,
    Kind.CHOICE: str,
    Kind.TRADE_SIZE: str,
    Kind.SHOE: Shoe,
    Kind.LENGTHS: tuple[float, ...],
    Kind.ANGLES: tuple[float, ...],
    Kind.YES_NO: bool,
}

each = pytest.mark.parametrize("entry", CATALOGUE.values(), ids=list(CATALOGUE))


def parts_of(hint):
    """The types of a union; of any other hint just itself."""
    return set(get_args(hint)) if get_origin(hint) in {Union, UnionType} else {hint}


def result_type(entry):
    return get_type_hints(entry.function)["return"]


@each
def test_inputs_are_the_functions_parameters(entry):
    parameters = inspect.signature(entry.function).parameters

    assert [given.name for given in entry.inputs] == list(parameters)
    for given in entry.inputs:
        assert given.optional == (parameters[given.name].default is not inspect.Parameter.empty), given.name


@each
def test_each_input_has_the_type_of_its_parameter(entry):
    hints = get_type_hints(entry.function)
    for given in entry.inputs:
        expected = TYPES.get(given.kind)
        assert expected is None or expected in parts_of(hints[given.name]), given.name


@each
def test_outputs_are_the_results_fields(entry):
    result = result_type(entry)

    assert issubclass(result, Struct)
    assert result.__struct_config__.frozen
    assert [output.name for output in entry.outputs] == [field.name for field in fields(result)]


@each
def test_an_output_is_optional_where_its_field_can_be_none(entry):
    hints = get_type_hints(result_type(entry))
    for output in entry.outputs:
        assert output.optional == (NoneType in parts_of(hints[output.name])), output.name


@each
def test_numbers_have_a_unit_and_words_have_none(entry):
    hints = get_type_hints(result_type(entry))
    for output in entry.outputs:
        kinds = parts_of(hints[output.name]) - {NoneType}
        assert output.unit in UNITS
        if kinds <= {float, tuple[float, ...]}:
            assert output.unit or output.name in {"ratio", "ratio_with_ovality", "weight_correction"}, output.name
        elif kinds <= {bool, str} or any(get_origin(kind) is tuple for kind in kinds - {tuple[float, ...]}):
            assert not output.unit, output.name


@each
def test_the_docstring_names_every_argument_and_its_source(entry):
    doc = entry.function.__doc__
    for name in inspect.signature(entry.function).parameters:
        assert re.search(rf"^        {name}: ", doc, re.MULTILINE), name
    for section in ("Args:", "Raises:", "Source: "):
        assert f"    {section}" in doc


@each
def test_the_example_line_runs_and_its_steps_agree(entry):
    words = shlex.split(entry.example)

    assert words[:3] == ["trainer", "solve", entry.name]
    values = entry.read(dict(word.split("=", 1) for word in words[3:]))
    result, steps = entry.trace(values)
    assert result == entry.solve(values) == entry.solve(entry.example_inputs)
    assert steps
    assert list(entry.results(result)) == [output.name for output in entry.outputs]


@each
def test_each_inputs_example_is_taken(entry):
    for given in entry.inputs:
        given.read(given.example)


@each
def test_it_has_sources_and_cautions(entry):
    assert all(entry.sources)
    assert entry.area in AREAS
    assert entry.cautions[0].id == f"caution.{entry.area}.1"


@each
def test_steps_are_arithmetic_with_a_unit_or_a_sentence(entry):
    _, steps = entry.trace(entry.example_inputs)
    for step in steps:
        assert (step.note is None) == (step.value is not None) == bool(step.formula) == bool(step.filled)
        assert step.unit in UNITS


def test_a_name_is_found_and_an_unknown_one_gets_the_nearest(refused):
    assert find_calculation("offset") is CATALOGUE["offset"]
    assert refused(find_calculation, "stub-up").reason.params == {"near": "stub_up"}
    assert refused(find_calculation, "x" * 500).reason.id == "solve.unknown"
    assert refused(find_calculation, "").reason.id == "solve.no-calculation"


def test_what_is_missing_unknown_or_out_of_range_names_its_input(refused):
    offset = CATALOGUE["offset"]

    assert refused(offset.read, {"depth": "6"}).field == "angle"
    assert refused(offset.read, {"depth": " ", "angle": "30"}).field == "depth"
    assert refused(offset.read, {"dept": "6"}).reason.params == {"near": "depth"}
    assert refused(offset.read, {"zzz": "6"}).reason.id == "input.unknown"
    assert refused(offset.solve, {"depth": 6.0, "angle": 95.0}).field == "angle"
    assert refused(offset.solve, {"depth": "6 deg", "angle": 30.0}).field == "depth"


def test_an_empty_optional_input_is_one_left_out():
    offset = CATALOGUE["offset"]

    assert offset.read({"depth": "6", "angle": "30", "distance": " ", "hook": ""}) == {"depth": 6.0, "angle": 30.0}
    assert offset.solve({"depth": 6.0, "angle": 30.0, "distance": None}).first_mark is None


def test_what_a_question_has_to_give():
    assert CATALOGUE["offset"].required_inputs == ("depth", "angle")
