from __future__ import annotations

import string
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from trainer.calc.length import nearest, read_length, write_length
from trainer.calc.message import InputError

FORTY_AND_A_HALF = [
    "3' 4-1/2\"", "3'4-1/2\"", "3' 4 1/2\"", "3'4 1/2", "3'-4-1/2\"", "3' - 4 1/2\"", "3 ' 4 1/2 \"", "3′ 4½″", "3’4½”",
    "3‘ 4 ½ “", "3`4.5", "3'4 1/2''", "3′4 1/2′′", "3ʹ4.5ʺ", "3 ft 4 1/2 in", "3ft4-1/2in", "3 ft. 4-1/2 in.",
    "3 FT 4.5 IN", "3 feet 4 1/2 inches", "3 foot 4½ inch", "3 feet and 4.5 inches",
    "40 1/2", "40-1/2", "40 - 1/2", "40 1 / 2", '40-1/2"', "40½", "40 ½ in", "40-½", "40.5", "40.50", "40.5''", "40.5 ins",
    "40.5 ins.", "40.5inches", "40 1⁄2", "40 1∕2", "40–1/2", "40—1/2 in", "40.5-in", "  40.5\t", "\u00a040.5\u00a0in", "81/2",
    "3.375 ft", "3 3/8 ft", "3-3/8 '", "1028.7 mm", "1028.7mm", "102.87 cm", "1.0287 m", "1.0287 metres", "102.87 centimeters",
]  # fmt: skip


@pytest.mark.parametrize("text", FORTY_AND_A_HALF)
def test_every_way_of_writing_forty_and_a_half_inches_is_read(text):
    assert read_length(text).inches == Fraction(81, 2)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ('5/8"', Fraction(5, 8)),
        ("5/8", Fraction(5, 8)),
        ("⅝", Fraction(5, 8)),
        (".5", Fraction(1, 2)),
        ("12.", 12),
        ("0", 0),
        ("3'", 36),
        ("3 ft", 36),
        ("5 1/2 ft", 66),
        ("0' 6\"", 6),
        ("3' 0\"", 36),
        ("3' 11-15/16\"", Fraction(767, 16)),
        ("7/3 in", Fraction(7, 3)),
        ("1028 mm", Fraction(1028 * 10, 254)),
        ("1.028 m", Fraction(1028 * 10, 254)),
        ("1,028 mm", Fraction(1028 * 10, 254)),
        ("1,028.7 mm", Fraction(81, 2)),
        ("1,028", 1028),
        ("12,192 mm", 480),
        ("1,219,200 mm", 48000),
        ("1,000 1/2 in", Fraction(2001, 2)),
    ],
)
def test_other_lengths_are_read_exactly(text, inches):
    assert read_length(text).inches == inches


def test_a_bare_number_takes_the_unit_that_is_asked_for():
    assert read_length("12").inches == 12
    assert read_length("12", bare_unit="ft").inches == 144
    assert read_length('12"', bare_unit="ft").inches == 12


def test_it_says_whether_and_which_unit_was_typed():
    assert (read_length("40").unit_given, read_length("40").unit) == (False, "in")
    assert (read_length("40 mm").unit_given, read_length("40 mm").unit) == (True, "mm")
    assert (read_length("3' 4").unit_given, read_length("3' 4").unit) == (True, "ft")
    assert read_length(" 3' 4 ").typed == " 3' 4 "


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "number.empty"),
        (" \t\n", "number.empty"),
        ("4 1/0", "number.zero-denominator"),
        ("0/0", "number.zero-denominator"),
        ("4 5/4", "number.fraction-over-one"),
        ("4 4/4", "number.fraction-over-one"),
        ("3' 14\"", "length.inches-over-eleven"),
        ("3' 12\"", "length.inches-over-eleven"),
        ("3.5' 4\"", "length.feet-not-whole"),
        ("3 1/2 ft 4 in", "length.feet-not-whole"),
        ("3 ft 4 mm", "length.units-clash"),
        ("4\" 3'", "length.units-clash"),
        ("1 m 28 mm", "length.units-clash"),
        ("3' 4'", "length.units-clash"),
        ("1'028 mm", "length.units-clash"),
        ("30 deg", "number.other-quantity"),
        ("30°", "number.other-quantity"),
        ("3 straps", "number.other-quantity"),
        ("5 in2", "number.other-quantity"),
        ("3 yards", "number.unknown-unit"),
        ("40 in in", "number.unknown-unit"),
        ("1_000", "number.unknown-unit"),
        ("40 <b>", "number.unknown-unit"),
        ("40 in; DROP", "number.unknown-unit"),
        ("3 4", "number.not-understood"),
        ("3 and 4", "number.not-understood"),
        ("5-8", "number.not-understood"),
        ("40-", "number.not-understood"),
        ("1.2.3", "number.not-understood"),
        ("1/2/3", "number.not-understood"),
        ("3/", "number.not-understood"),
        ("1' 2\" 3", "number.not-understood"),
        ("3 in 4", "length.units-clash"),
        ("about 40", "number.not-understood"),
        ("$40", "number.not-understood"),
        ("+40", "number.not-understood"),
        ("-5", "number.below-zero"),
        ("−5 in", "number.below-zero"),
        ("40,5", "number.comma"),
        ("1,5", "number.comma"),
        ("1,5 in", "number.comma"),
        ("0,125", "number.comma"),
        ("1,02 mm", "number.comma"),
        ("1,0285 mm", "number.comma"),
        ("1028,125 mm", "number.comma"),
        ("1,028,5 mm", "number.comma"),
        ("1.5,028", "number.comma"),
        ("1,000/16", "number.comma"),
        ("3/1,600", "number.comma"),
        ("40-1,500", "number.comma"),
        ("1e5", "number.exponent"),
        ("1e9999999", "number.exponent"),
        ("1.5E-3 in", "number.exponent"),
        ("NaN", "number.no-digits"),
        ("Infinity", "number.no-digits"),
        ("-inf", "number.below-zero"),
        ("４０", "number.no-digits"),
        ("٤٠", "number.no-digits"),
        ("Ⅳ", "number.no-digits"),
        ("'", "number.no-digits"),
        ("1234567890", "number.too-many-digits"),
        ("9" * 41, "number.too-long"),
        ("1" + " " * 1_000_000, "number.too-long"),
    ],
)
def test_what_is_no_length_is_refused_with_its_reason(text, reason, refused):
    error = refused(read_length, text)

    assert (error.reason.id, error.given) == (reason, text)
    assert read_length(error.example)


@given(st.text(max_size=60))
@example("1e9999999")
@example("9" * 39 + "m")
def test_no_text_raises_anything_but_an_input_error(outcome, text):
    read = outcome(read_length, text)

    assert read.given == text if isinstance(read, InputError) else read.inches >= 0


@given(st.text(alphabet=string.digits + " ./-'\"½⅛ftinmc,eE+_²", max_size=40))
def test_no_text_of_likely_signs_raises_anything_but_an_input_error(outcome, text):
    read = outcome(read_length, text)

    assert read.given == text if isinstance(read, InputError) else 0 <= read.inches < 10**12


@given(st.integers(0, 16 * 99_999), st.booleans())
def test_what_is_written_reads_back_to_the_same_sixteenth(sixteenths, feet):
    inches = Fraction(sixteenths, 16)

    assert read_length(write_length(inches, feet=feet)).inches == inches


@given(st.fractions(0, 10_000), st.booleans())
def test_any_length_is_written_to_its_nearest_sixteenth(inches, feet):
    read = read_length(write_length(inches, feet=feet)).inches

    assert read == nearest(inches)
    assert abs(read - inches) <= Fraction(1, 32)


@pytest.mark.parametrize(
    ("inches", "options", "written"),
    [
        (0, {}, "0 in"),
        (0.01, {}, "0 in"),
        (-0.01, {}, "0 in"),
        (12, {}, "12 in"),
        (12.375, {}, "12-3/8 in"),
        (0.625, {}, "5/8 in"),
        (-12.375, {}, "-12-3/8 in"),
        (11.99, {}, "12 in"),
        (11.99, {"feet": True}, "1 ft"),
        (40.5, {"feet": True}, "3 ft 4-1/2 in"),
        (36.25, {"feet": True}, "3 ft 1/4 in"),
        (0, {"feet": True}, "0 in"),
        (-40.5, {"feet": True}, "-3 ft 4-1/2 in"),
        (12.4, {"denominator": 8}, "12-3/8 in"),
        (1 / 32, {}, "1/16 in"),
        (-1 / 32, {}, "-1/16 in"),
    ],
)
def test_lengths_are_written_as_in_the_trade(inches, options, written):
    assert write_length(inches, **options) == written
