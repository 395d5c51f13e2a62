"""Names to sign in with and names to be read, as phones and people really type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.accounts.names import fold_sign_in_name, read_display_name, read_sign_in_name
from trainer.calc.message import InputError
from trainer.text.words import error_text


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("kim.lee", "kim.lee"),
        ("Kim.Lee", "kim.lee"),
        ("  KIM.LEE\t", "kim.lee"),
        ("José.García", "jose.garcia"),
        ("Jose\u0301.Garci\u0301a", "jose.garcia"),
        ("Straße", "strasse"),
        ("ｋｉｍ２", "kim2"),
        ("İbrahim", "ibrahim"),
        ("a-b_c.d", "a-b_c.d"),
        ("abc", "abc"),
        ("a" * 40, "a" * 40),
    ],
)
def test_a_sign_in_name_is_folded_to_plain_small_letters(typed, name):
    assert read_sign_in_name(typed) == name


@pytest.mark.parametrize(
    ("typed", "what"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("\u0301", "empty"),
        ("ab", "length"),
        ("a" * 41, "length"),
        ("a" * 1_000_000, "length"),
        ("kim lee", "characters"),
        ("kim@lee", "characters"),
        (".kim", "characters"),
        ("kim.", "characters"),
        ("kim..lee", "characters"),
        ("1kim", "characters"),
        ("кіm.lee", "characters"),
        ("kim\x00lee", "characters"),
        ("kim\nlee", "characters"),
        ("<b>kim</b>", "characters"),
        ("łukasz", "characters"),
        ("kim\ud800", "characters"),
        ("kim\u202elee", "characters"),
    ],
)
def test_a_sign_in_name_that_cannot_be_used_is_refused_with_the_reason(typed, what):
    with pytest.raises(InputError) as refused:
        read_sign_in_name(typed)

    assert refused.value.reason.id == f"accounts.sign-in-name-{what}"
    assert refused.value.field == "sign_in_name"
    assert "kim.lee" in error_text(refused.value)
    assert read_sign_in_name(refused.value.example)


@given(st.text())
def test_folding_twice_is_folding_once(text):
    assert fold_sign_in_name(fold_sign_in_name(text)) == fold_sign_in_name(text)


@given(st.text())
def test_a_name_that_is_taken_is_found_however_it_is_written(text):
    try:
        name = read_sign_in_name(text)
    except InputError:
        return
    assert fold_sign_in_name(text.upper()) == name == fold_sign_in_name(name)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Kim Lee", "Kim Lee"),
        ("  Kim \n Lee  ", "Kim Lee"),
        ("Jose\u0301", "José"),
        ("Łukasz O'Neil-Brown Jr. 2", "Łukasz O'Neil-Brown Jr. 2"),
        ("李小龙", "李小龙"),
        ("x" * 80, "x" * 80),
    ],
)
def test_a_display_name_may_be_in_any_script(typed, name):
    assert read_display_name(typed) == name


@pytest.mark.parametrize(
    ("typed", "what"),
    [
        ("", "empty"),
        ("  ", "empty"),
        ("123 !", "empty"),
        ("x" * 81, "length"),
        ("x" * 1_000_000, "length"),
        ("Kim\u202eLee", "characters"),
        ("Kim\u200bLee", "characters"),
        ("Kim\x07", "characters"),
        ("Kim\ud800", "characters"),
    ],
)
def test_a_display_name_that_cannot_be_used_is_refused_with_the_reason(typed, what):
    with pytest.raises(InputError) as refused:
        read_display_name(typed)

    assert refused.value.reason.id == f"accounts.display-name-{what}"
    assert error_text(refused.value)
