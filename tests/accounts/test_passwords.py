"""How passwords are stored and checked, and which ones are refused."""

from __future__ import annotations

import pytest
from argon2 import Parameters, Type, extract_parameters
from hypothesis import given
from hypothesis import strategies as st

from trainer.accounts.passwords import (
    CHEAP_PASSWORDS,
    SITE_PASSWORDS,
    Check,
    Passwords,
    one_time_password,
    read_new_password,
)
from trainer.calc.message import InputError
from trainer.text.words import error_text

GOOD = "four plain words here"


def test_a_site_stores_argon2id_with_two_passes_over_19_mib_in_one_thread():
    stored = extract_parameters(SITE_PASSWORDS.store(GOOD))

    assert (stored.type, stored.time_cost, stored.memory_cost, stored.parallelism) == (Type.ID, 2, 19 * 1024, 1)
    assert (stored.salt_len, stored.hash_len) == (16, 32)


def test_what_is_stored_fits_the_column_and_is_salted():
    first, second = (SITE_PASSWORDS.store("x" * 200) for _ in range(2))

    assert first != second
    assert len(first) <= 255


@pytest.mark.parametrize("passwords", [SITE_PASSWORDS, CHEAP_PASSWORDS])
def test_the_right_password_is_right_and_any_other_is_wrong(passwords):
    stored = passwords.store(GOOD)

    assert passwords.check(stored, GOOD) is Check.RIGHT
    assert {passwords.check(stored, other) for other in ("", GOOD + " ", GOOD.upper(), GOOD[:-1])} == {Check.WRONG}


def test_a_password_stored_with_other_parameters_is_right_and_outdated():
    assert SITE_PASSWORDS.check(CHEAP_PASSWORDS.store(GOOD), GOOD) is Check.RIGHT_BUT_OUTDATED
    assert SITE_PASSWORDS.check(CHEAP_PASSWORDS.store(GOOD), "wrong") is Check.WRONG


@pytest.mark.parametrize("stored", [None, "", "not a hash", "$argon2id$v=19$m=1"])
def test_where_nothing_usable_is_stored_every_password_is_wrong(stored):
    assert CHEAP_PASSWORDS.check(stored, GOOD) is Check.WRONG


@pytest.mark.parametrize("stored", [None, "real"])
@pytest.mark.parametrize("typed", [GOOD, "", "x" * 1_000_000])
def test_one_password_is_hashed_whether_or_not_there_is_such_a_person(stored, typed, monkeypatch):
    passwords = Passwords(Parameters(Type.ID, 19, 8, 16, 1, 8, 1))
    kept = passwords.store(GOOD)
    passwords.check(None, "the first check prepares what nobody's password is held against")
    verified = []
    real = passwords._hasher

    class Watched:
        check_needs_rehash = real.check_needs_rehash

        @staticmethod
        def verify(hashed, password):
            verified.append(len(password))
            return real.verify(hashed, password)

    monkeypatch.setattr(passwords, "_hasher", Watched)
    passwords.check(stored and kept, typed)

    assert len(verified) == 1
    assert verified[0] <= 800


def test_the_same_characters_are_the_same_password_however_a_keyboard_composes_them():
    stored = CHEAP_PASSWORDS.store("caf\u00e9 au lait twice")

    assert CHEAP_PASSWORDS.check(stored, "cafe\u0301 au lait twice") is Check.RIGHT


@given(st.text(st.characters(), min_size=0, max_size=60))
def test_whatever_was_stored_is_right_again(text):
    assert CHEAP_PASSWORDS.check(CHEAP_PASSWORDS.store(text), text) is Check.RIGHT


@pytest.mark.parametrize(
    "typed",
    [
        GOOD,
        "x7Q!x7Q!pZ",
        "contraseñas muy largas",
        "密码很长的一句话可以吗",
        "  spaces count too  ",
        "ab cd " * 33,
        "kim.lee likes tea",
    ],
)
def test_a_good_password_is_taken_as_it_is(typed):
    assert read_new_password(typed, sign_in_name="kim.lee") == typed


@pytest.mark.parametrize(
    ("typed", "what"),
    [
        ("", "short"),
        ("nine char", "short"),
        ("x y" * 67, "long"),
        ("Kim.Lee", "short"),
        ("kim.lee123", "name"),
        ("KIM.LEE!!!", "name"),
        ("aaaaaaaaaaaa", "common"),
        ("abababababab", "common"),
        ("Password123!", "common"),
        ("1234567890", "common"),
        ("0987654321", "common"),
        ("qwertyuiop", "common"),
        ("Electrician1", "common"),
    ],
)
def test_a_weak_password_is_refused_with_the_reason_and_never_repeated(typed, what):
    with pytest.raises(InputError) as refused:
        read_new_password(typed, sign_in_name="kim.lee")

    assert refused.value.reason.id == f"accounts.password-{what}"
    assert refused.value.given == ""
    assert not typed or typed not in error_text(refused.value) + str(refused.value)


def test_the_present_password_is_no_new_one():
    with pytest.raises(InputError) as refused:
        read_new_password(GOOD, sign_in_name="kim.lee", old=GOOD)

    assert refused.value.reason.id == "accounts.password-same"


def test_a_one_time_password_is_long_random_and_easy_to_read_out():
    many = {one_time_password() for _ in range(200)}

    assert len(many) == 200
    assert all(read_new_password(once, sign_in_name="kim.lee") == once for once in many)
    assert not set("".join(many)) & set("0o1il")
