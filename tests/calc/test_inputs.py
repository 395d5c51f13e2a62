from __future__ import annotations

import pytest

from trainer.calc.catalogue import CATALOGUE
from trainer.calc.inputs import Input, Kind
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.calc.wire_lists import read_conductors

DEPTH = Input("depth", Kind.LENGTH, "6 in", "in", above=0, most=24)
PIECES = Input("pieces", Kind.LENGTHS, "8x47 in, 3x70 in", "in", above=0)
ANGLES = Input("angles", Kind.ANGLES, "90, 90, 30", "deg", above=0, most=180)
HOOK = Input("hook", Kind.CHOICE, "far-end", choices=("far-end", "measured-end"))
SIZE = Input("trade_size", Kind.TRADE_SIZE, "1/2", choices=("1/2", "3/4", "1", "1-1/4"))
COUNT = Input("devices", Kind.COUNT, "2", "count", least=0, below=10)
NIPPLE = Input("nipple", Kind.YES_NO, "yes")
SHOE = Input("shoe", Kind.SHOE, "1/2")


@pytest.mark.parametrize(
    ("given", "text", "value"),
    [
        (DEPTH, "1/2 ft", 6.0),
        (DEPTH, "24", 24.0),
        (PIECES, "47", (47.0,)),
        (PIECES, "8x47 in, 3x70 in", (47.0,) * 8 + (70.0,) * 3),
        (PIECES, "2 x 4', 1 × 3' 4-1/2\"", (48.0, 48.0, 40.5)),
        (PIECES, "2*10; (3) 5 in\n1 @ 2 in", (10.0, 10.0, 5.0, 5.0, 5.0, 2.0)),
        (ANGLES, "90, 90, 30", (90.0, 90.0, 30.0)),
        (ANGLES, "90,90,22.5°", (90.0, 90.0, 22.5)),
        (ANGLES, "2x10", (10.0, 10.0)),
        (HOOK, " Measured END ", "measured-end"),
        (HOOK, "far_end", "far-end"),
        (SIZE, "1/2", "1/2"),
        (SIZE, '3/4"', "3/4"),
        (SIZE, "1 1/4", "1-1/4"),
        (SIZE, "1¼", "1-1/4"),
        (SIZE, "1.25 in", "1-1/4"),
        (COUNT, "3", 3),
        (NIPPLE, "Yes", True),
        (NIPPLE, "n", False),
        (SHOE, "3/4", DEFAULT_SHOES["3/4"]),
    ],
)
def test_each_kind_is_read_in_its_ways(given, text, value):
    assert given.read(text) == value
    assert given.value(text) == value
    assert given.value(value) == value


@pytest.mark.parametrize(
    ("given", "text", "reason"),
    [
        (DEPTH, "0", "input.not-above"),
        (DEPTH, "24-1/16", "input.not-most"),
        (DEPTH, "six", "number.no-digits"),
        (COUNT, "10", "input.not-below"),
        (COUNT, "2.5", "number.not-whole"),
        (PIECES, "8x47, 0", "input.not-above"),
        (PIECES, "8x", "number.empty"),
        (PIECES, "8x47,", "number.empty"),
        (PIECES, "0x47", "input.no-times"),
        (PIECES, "9999x47", "input.too-many-items"),
        (PIECES, "1," * 300, "input.list-too-long"),
        (ANGLES, "90, 200", "input.not-most"),
        (ANGLES, "90 in", "number.other-quantity"),
        (HOOK, "fare end", "input.did-you-mean"),
        (HOOK, "up", "input.no-choice"),
        (HOOK, "x" * 500, "input.no-choice"),
        (SIZE, "2", "input.no-choice"),
        (SIZE, "half", "number.no-digits"),
        (NIPPLE, "maybe", "input.no-choice"),
        (SHOE, "4", "input.no-choice"),
    ],
)
def test_what_is_not_taken_names_the_input(given, text, reason, refused):
    error = refused(given.read, text)

    assert (error.reason.id, error.field, error.example) == (reason, given.name, given.example)


def test_at_least_has_its_own_reason(refused):
    least = Input("kerf", Kind.LENGTH, "1/16 in", "in", least=1)

    assert refused(least.read, "1/2").reason.id == "input.not-least"


def test_each_example_is_taken():
    for given in (DEPTH, PIECES, ANGLES, HOOK, SIZE, COUNT, NIPPLE, SHOE):
        given.read(given.example)


def test_a_value_out_of_range_is_shown_as_it_would_be_typed(refused):
    assert refused(DEPTH.check, 30.0).given == "30 in"
    assert refused(ANGLES.check, (90, 190)).given == "190 deg"
    assert refused(HOOK.check, "up").given == "up"


def test_an_input_left_out_and_a_yes_are_no_numbers():
    DEPTH.check(None)
    Input("odd", Kind.YES_NO, "yes", above=5).check(True)


@pytest.mark.parametrize(
    ("given", "value", "written"),
    [
        (DEPTH, 6.5, "6-1/2 in"),
        (PIECES, (47.0, 3.25), "47 in, 3-1/4 in"),
        (ANGLES, (90, 22.5), "90 deg, 22.5 deg"),
        (NIPPLE, True, "yes"),
        (NIPPLE, False, "no"),
        (SHOE, DEFAULT_SHOES["1"], "1"),
        (HOOK, "far-end", "far-end"),
        (COUNT, 3, "3 count"),
    ],
)
def test_a_written_value_can_be_read_again(given, value, written):
    assert given.written(value) == written
    assert given.read(written) == value


def test_a_written_list_is_one_that_can_be_typed():
    given = CATALOGUE["raceway_fill"].input("conductors")
    groups = read_conductors("3 #12 THHN, 1 #8 bare solid")

    assert given.read(given.written(groups)) == groups
