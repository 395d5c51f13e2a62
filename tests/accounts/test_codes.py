"""Codes of an app and codes on paper."""

from __future__ import annotations

from base64 import b32encode
from datetime import UTC, datetime, timedelta

import pytest

from trainer.accounts.codes import (
    app_address,
    app_secret,
    grouped,
    key_mark,
    new_paper_codes,
    new_salt,
    step_of,
    written,
)
from trainer.accounts.passwords import CHEAP_PASSWORDS

#: RFC 6238, appendix B, the rows of SHA-1: seconds since 1970 and eight digits, of which an app with six shows the last.
RFC_SECRET = b32encode(b"12345678901234567890").decode()
RFC_ROWS = [
    (59, "94287082"),
    (1111111109, "07081804"),
    (1111111111, "14050471"),
    (1234567890, "89005924"),
    (2000000000, "69279037"),
    (20000000000, "65353130"),
]
KEY, OTHER_KEY = "k" * 40, "o" * 40


@pytest.mark.parametrize(("seconds", "digits"), RFC_ROWS)
def test_the_codes_are_those_of_the_standard(seconds, digits):
    moment = datetime.fromtimestamp(seconds, UTC)

    assert step_of(RFC_SECRET, digits[2:], moment, after=None) == seconds // 30


@pytest.mark.parametrize(("off", "taken"), [(-60, False), (-30, True), (0, True), (30, True), (60, False)])
def test_a_clock_may_be_one_step_off(off, taken):
    moment = datetime.fromtimestamp(1111111111 + off, UTC)

    assert (step_of(RFC_SECRET, "050471", moment, after=None) is not None) == taken


def test_no_step_is_taken_that_is_not_after_the_last():
    moment = datetime.fromtimestamp(1111111111, UTC)
    step = 1111111111 // 30

    assert step_of(RFC_SECRET, "050471", moment, after=step - 1) == step
    assert step_of(RFC_SECRET, "050471", moment, after=step) is None
    assert step_of(RFC_SECRET, "050471", moment, after=step + 1) is None


def test_spaces_in_a_code_do_not_matter():
    assert step_of(RFC_SECRET, " 050 471 ", datetime.fromtimestamp(1111111111, UTC), after=None)


@pytest.mark.parametrize(
    "odd", ["", "05047", "0504711", "٠٥٠٤٧١", "05047x", "\x00", "\ud800", "0" * 1_000_000, "-50471"]
)
def test_an_odd_code_is_wrong_and_nothing_else(odd):
    assert step_of(RFC_SECRET, odd, datetime.fromtimestamp(1111111111, UTC), after=None) is None
    assert written(odd) is None


def test_the_secret_hangs_on_key_and_salt_and_neither_is_in_it():
    salt = new_salt()
    secret = app_secret(KEY, salt)

    assert len(secret) == 32
    assert secret == app_secret(KEY, salt)
    assert len({secret, app_secret(OTHER_KEY, salt), app_secret(KEY, new_salt())}) == 3
    assert key_mark(KEY, salt) != key_mark(OTHER_KEY, salt)
    assert key_mark(KEY, salt).upper() not in secret


def test_the_address_for_the_app_names_site_and_person():
    address = app_address(RFC_SECRET, "kim.lee", "Tubing Trainer")

    assert address == f"otpauth://totp/Tubing%20Trainer:kim.lee?secret={RFC_SECRET}&issuer=Tubing%20Trainer"


def test_ten_codes_on_paper_differ_and_are_not_kept_as_they_are():
    shown, kept = new_paper_codes(CHEAP_PASSWORDS)

    assert len({*shown}) == len({one.tag for one in kept}) == 10
    assert all(len(code) == 19 and written(code) for code in shown)
    assert not any(written(code)[4:] in one.code_hash for code in shown for one in kept)


def test_a_code_on_paper_is_read_however_it_is_written():
    (code, *_), _ = new_paper_codes(CHEAP_PASSWORDS)

    assert written(code) == written(f" {code.upper().replace('-', '  ')} ") == code.replace("-", "")
    assert grouped(written(code), "-") == code


def test_the_time_of_a_moment_counts_in_whatever_zone_it_is_written():
    moment = datetime.fromtimestamp(1111111111, UTC).astimezone(tz=None)

    assert step_of(RFC_SECRET, "050471", moment + timedelta(0), after=None) == 1111111111 // 30
