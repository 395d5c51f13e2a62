"""Codes and references of problems."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.calc.message import InputError
from trainer.problems.codes import ALPHABET, LENGTH, new_code, read_code, read_reference
from trainer.text.words import error_text


@pytest.fixture
def codes():
    choose = random.Random(1).choice
    return [new_code(choose) for _ in range(300)]


def test_a_code_has_eight_signs_none_of_which_is_mistaken_for_another(codes):
    assert len(set(codes)) == 300
    assert all(len(code) == LENGTH == 8 for code in codes)
    assert not set("01IO") & set(ALPHABET)
    assert len(ALPHABET) == 32


def test_a_new_code_is_by_chance():
    assert new_code() != new_code()


def test_a_code_is_read_as_people_copy_it(codes):
    for code in codes:
        assert read_code(f" {code[:4].lower()} - {code[4:]} ") == code


def test_any_one_wrong_sign_is_noticed(codes):
    for code in codes[:20]:
        for place in range(LENGTH):
            for sign in ALPHABET.replace(code[place], ""):
                with pytest.raises(InputError):
                    read_code(code[:place] + sign + code[place + 1 :])


def test_most_swaps_of_two_neighbours_are_noticed(codes):
    swapped = [
        code[:place] + code[place + 1] + code[place] + code[place + 2 :]
        for code in codes
        for place in range(LENGTH - 1)
        if code[place] != code[place + 1]
    ]
    passed = sum(_is_read(code) for code in swapped)

    assert passed < 0.05 * len(swapped)


def _is_read(code):
    try:
        return bool(read_code(code))
    except InputError:
        return False


@pytest.mark.parametrize("typed", ["", "2222", "222222222", "2222222O", "2222-222!", "é" * 8, "A" * 4000])
def test_what_is_no_code_is_refused_with_an_example_that_is_one(typed):
    with pytest.raises(InputError) as caught:
        read_code(typed)

    assert read_code(caught.value.example) == caught.value.example
    assert "Example" in error_text(caught.value)


@pytest.mark.parametrize(
    ("typed", "read"),
    [("offset-spacing", ("offset-spacing", None)), ("offset-spacing#0", ("offset-spacing", 0)), (" a#12 ", ("a", 12))],
)
def test_a_reference_is_a_family_and_perhaps_a_seed(typed, read):
    assert read_reference(typed) == read


@pytest.mark.parametrize("typed", ["a#", "a#x", "a#-1", "a#1.5", "a#" + "9" * 40, "a#١", "a#1#2"])
def test_a_seed_is_a_whole_number(typed):
    with pytest.raises(InputError) as caught:
        read_reference(typed)

    assert "a#17" in error_text(caught.value)


@given(st.text(max_size=60))
def test_nothing_that_is_typed_for_a_code_raises_another_error(typed):
    _is_read(typed)
