"""Guessing is slow; a class behind one address is not."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import func, select

from trainer.accounts import throttle
from trainer.accounts.sign_in import Refused, SignedIn
from trainer.records.models import Throttle
from trainer.text.words import say

SECOND, MINUTE = timedelta(seconds=1), timedelta(minutes=1)
CLASSROOM = "198.51.100.7"
RIGHT, WRONG = "four plain words here", "wrong password"


@pytest.fixture(autouse=True)
def kim(database, make_person):
    with database.write() as session:
        make_person(session)
    return database


@pytest.fixture
def attempt(database, try_to_sign_in):
    """One request: a try to sign in, in a transaction of its own."""

    def one(name="kim.lee", password=WRONG, **others):
        with database.write() as session:
            return try_to_sign_in(session, name, password, **others)

    return one


def test_six_wrong_passwords_are_looked_at_and_then_not_even_the_right_one(attempt):
    waits = [attempt().wait for _ in range(6)]
    seventh = attempt(password=RIGHT)

    assert waits == [timedelta(0)] * 6
    assert isinstance(seventh, Refused)
    assert seventh.wait == 5 * MINUTE
    assert say(seventh.reason) == "Too many tries. Wait 5 minutes, then try again; nothing is lost."


def test_a_refused_try_does_not_lengthen_the_wait(attempt, now):
    for _ in range(6):
        attempt()
    for _ in range(50):
        attempt(now=now + MINUTE)

    assert attempt(now=now + MINUTE).wait == 4 * MINUTE
    assert isinstance(attempt(password=RIGHT, now=now + 5 * MINUTE), SignedIn)


def test_after_a_while_there_is_one_more_try_and_not_six(attempt, now):
    for _ in range(6):
        attempt()
    later = now + 5 * MINUTE

    assert attempt(now=later).wait == timedelta(0)
    assert attempt(now=later).wait == 5 * MINUTE


def test_one_address_guesses_at_one_name_about_a_hundred_times_in_eight_hours(attempt, now):
    looked_at = sum(attempt(now=now + minute * MINUTE).wait == timedelta(0) for minute in range(0, 8 * 60, 4))

    assert 96 <= looked_at <= 6 + 96


def test_a_right_password_forgives_the_wrong_ones_before(attempt):
    for _ in range(5):
        attempt()
    assert isinstance(attempt(password=RIGHT), SignedIn)

    assert [attempt().wait for _ in range(6)] == [timedelta(0)] * 6


def test_a_name_is_one_name_however_it_is_written(attempt):
    for name in ("kim.lee", "KIM.LEE", " Kim.Lee ", "kím.lee", "ｋｉｍ.lee", "kim.LEE"):
        attempt(name)

    assert attempt().wait > timedelta(0)


def test_an_unknown_name_is_slowed_like_a_known_one(attempt):
    known = [attempt("kim.lee") for _ in range(8)]
    unknown = [attempt("no.such") for _ in range(8)]

    assert known == unknown


def test_another_address_is_not_held_up_by_a_few_wrong_tries_elsewhere(attempt):
    for _ in range(10):
        attempt()

    assert isinstance(attempt(password=RIGHT, address="203.0.113.9"), SignedIn)


def test_many_machines_together_are_slowed_at_one_name(attempt):
    looked_at = [attempt(address=f"203.0.113.{number}").wait == timedelta(0) for number in range(40)]

    assert sum(looked_at) == 30


def test_many_machines_do_not_keep_a_person_from_the_usual_place(attempt, now):
    attempt(password=RIGHT, address=CLASSROOM)
    for number in range(40):
        attempt(address=f"203.0.113.{number}", now=now + timedelta(days=20))

    assert isinstance(attempt(password=RIGHT, address=CLASSROOM, now=now + timedelta(days=20)), SignedIn)
    assert isinstance(attempt(password=RIGHT, address="203.0.113.99", now=now + timedelta(days=20)), Refused)


def test_a_class_of_thirty_behind_one_address_gets_in_though_each_mistypes_twice(database, make_person, attempt):
    names = [f"learner{number}" for number in range(30)]
    with database.write() as session:
        for name in names:
            make_person(session, name)
    for password in ("mistyped once", "mistyped again"):
        assert {attempt(name, password, address=CLASSROOM).wait for name in names} == {timedelta(0)}

    assert all(isinstance(attempt(name, RIGHT, address=CLASSROOM), SignedIn) for name in names)


def test_four_classes_in_a_row_mistyping_name_and_password_get_in(database, make_person, try_to_sign_in):
    for lesson in range(4):
        names = [f"class{lesson}.{number}" for number in range(30)]
        with database.write() as session:
            for number, name in enumerate(names):
                make_person(session, name)
                if number % 2:
                    try_to_sign_in(session, f"{name}x", RIGHT, address=CLASSROOM)
                try_to_sign_in(session, name, "mistyped", address=CLASSROOM)
                assert isinstance(try_to_sign_in(session, name, RIGHT, address=CLASSROOM), SignedIn)


def test_one_machine_that_tries_many_names_is_slowed(attempt):
    looked_at = [attempt(f"name{number}", address=CLASSROOM).wait == timedelta(0) for number in range(120)]

    assert sum(looked_at) == 100
    assert isinstance(attempt(password=RIGHT, address=CLASSROOM), Refused)
    assert isinstance(attempt(password=RIGHT, address="203.0.113.9"), SignedIn)


def test_one_machine_that_tries_many_names_holds_up_nobody_who_has_signed_in_there(attempt, now):
    attempt(password=RIGHT, address=CLASSROOM)
    for number in range(120):
        attempt(f"name{number}", address=CLASSROOM, now=now + MINUTE)

    assert isinstance(attempt(password=RIGHT, address=CLASSROOM, now=now + 2 * MINUTE), SignedIn)


def test_signing_in_with_an_own_account_does_not_forgive_guesses_at_others(attempt, database, make_person):
    with database.write() as session:
        make_person(session, "own.account")
    for number in range(100):
        attempt(f"name{number}", address=CLASSROOM)
        if number % 10 == 0:
            attempt("own.account", RIGHT, address=CLASSROOM)

    assert attempt("name200", address=CLASSROOM).wait > timedelta(0)


def test_a_whole_ipv6_network_is_one_address(attempt):
    for number in range(6):
        attempt(address=f"2001:db8:1:2::{number:x}")

    assert attempt(address="2001:db8:1:2:ffff::1").wait > timedelta(0)
    assert attempt(address="2001:db8:1:3::1").wait == timedelta(0)


@pytest.mark.parametrize("address", ["", "unknown", "x" * 10_000, "192.0.2.1, 203.0.113.4", "\x00", "fe80::1%eth0"])
def test_an_odd_address_counts_as_any_other(attempt, address):
    for _ in range(6):
        attempt(address=address)

    assert attempt(address=address).wait > timedelta(0)


def test_a_clock_that_goes_back_opens_nothing(attempt, now):
    for _ in range(6):
        attempt()

    assert attempt(now=now - timedelta(days=1)).wait > timedelta(0)


def test_the_table_names_neither_people_nor_addresses(kim, attempt):
    attempt(address=CLASSROOM)
    with kim.read() as session:
        subjects = session.scalars(select(Throttle.subject)).all()

    assert len(subjects) == 3
    assert not [subject for subject in subjects if "kim" in subject or "198" in subject.split(".")]
    assert {len(subject) for subject in subjects} == {64}


def test_what_has_leaked_empty_is_removed_by_the_next_write(kim, attempt, now):
    for number in range(20):
        attempt(f"name{number}")
    attempt("later", now=now + timedelta(hours=2))
    with kim.read() as session:
        assert session.scalar(select(func.count()).select_from(Throttle)) == 3


def test_a_success_keeps_only_the_memory_of_the_place(kim, attempt):
    attempt()
    attempt(password=RIGHT)
    with kim.read() as session:
        assert session.scalars(select(Throttle.kind)).all() == ["known"]


def test_wrong_join_codes_are_slowed_too(database, now):
    waits = []
    for _ in range(22):
        with database.write() as session:
            waits.append(throttle.wait(session, throttle.JOIN, "person 1", now))
            if not waits[-1]:
                throttle.failed(session, throttle.JOIN, "person 1", now)

    assert waits == [timedelta(0)] * 20 + [MINUTE] * 2
    with database.write() as session:
        assert throttle.wait(session, throttle.JOIN, "person 2", now) == timedelta(0)


def test_a_clock_that_was_ahead_and_is_set_back_makes_nobody_wait_until_that_time_comes(attempt, now):
    ahead = now + timedelta(days=400)
    for _ in range(6):
        attempt(now=ahead)

    assert attempt(now=now).wait == 5 * MINUTE
    assert isinstance(attempt(password=RIGHT, now=now + 5 * MINUTE), SignedIn)
