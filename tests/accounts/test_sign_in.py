"""Signing in and changing the password."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import select

from trainer.accounts.actor import actor_for
from trainer.accounts.passwords import CHEAP_PASSWORDS, SITE_PASSWORDS
from trainer.accounts.people import delete_person, reset_password
from trainer.accounts.sign_in import PasswordChanged, Refused, SignedIn, change_password
from trainer.calc.message import InputError
from trainer.records.models import Person, SignInSession
from trainer.text.words import say

RIGHT = "four plain words here"
NEW = "five other plain words there"


@pytest.fixture(autouse=True)
def kim(any_database, make_person):
    with any_database.write() as session:
        return make_person(session)


@pytest.fixture
def attempt(any_database, try_to_sign_in):
    def one(*name_and_password, **others):
        with any_database.write() as session:
            return try_to_sign_in(session, *name_and_password, **others)

    return one


@pytest.fixture
def change(any_database, kim, now):
    def one(old, new, keep_token=None):
        with any_database.write() as session:
            return change_password(session, kim.id, old, new, now, keep_token=keep_token, passwords=CHEAP_PASSWORDS)

    return one


def who(database, token, now):
    with database.read() as session:
        return actor_for(session, token, now)


def test_the_right_name_and_password_open_a_session(any_database, kim, attempt, now):
    signed_in = attempt()

    assert isinstance(signed_in, SignedIn)
    assert signed_in.person_id == kim.id
    assert not signed_in.must_change_password
    assert who(any_database, signed_in.token, now).person_id == kim.id


@pytest.mark.parametrize(
    ("name", "password"),
    [
        ("kim.lee", "wrong"),
        ("kim.lee", ""),
        ("kim.lee", RIGHT + " "),
        ("kim.lee", RIGHT.upper()),
        ("kim.lee", "x" * 1_000_000),
        ("no.such", RIGHT),
        ("", ""),
        ("x" * 1_000_000, RIGHT),
        ("kim.lee\x00", RIGHT),
        ("' OR 1=1 --", RIGHT),
        ("kim\ud800", RIGHT),
        ("kim.lee", "\ud800"),
    ],
)
def test_anything_else_is_refused_in_the_same_words(attempt, name, password):
    refused = attempt(name, password)

    assert refused == attempt("another.name", "another password")
    assert isinstance(refused, Refused)
    assert say(refused.reason).startswith("That name and that password do not go together.")


def test_the_name_may_be_written_as_a_phone_writes_it(attempt):
    assert isinstance(attempt(" Kim.Lee "), SignedIn)


def test_only_the_hash_of_the_token_is_stored(any_database, attempt):
    token = attempt().token
    with any_database.read() as session:
        row = session.scalars(select(SignInSession)).one()

    assert token not in {str(value) for value in vars(row).values()}
    assert len(token) >= 43


def test_each_sign_in_has_a_token_of_its_own_and_ends_the_browsers_last_one(any_database, attempt, now):
    first = attempt()
    elsewhere = attempt()
    second = attempt(old_token=first.token)

    assert len({first.token, elsewhere.token, second.token}) == 3
    assert who(any_database, first.token, now) is None
    assert who(any_database, elsewhere.token, now)
    assert who(any_database, second.token, now)


def test_a_failed_sign_in_leaves_the_browsers_session_alone(any_database, attempt, now):
    first = attempt()
    attempt("kim.lee", "wrong", old_token=first.token)

    assert who(any_database, first.token, now)


def test_a_password_stored_with_old_parameters_is_stored_anew(any_database, attempt):
    assert isinstance(attempt(passwords=SITE_PASSWORDS), SignedIn)
    with any_database.read() as session:
        stored = session.scalars(select(Person.password_hash)).one()

    assert "$m=19456,t=2,p=1$" in stored
    assert isinstance(attempt(passwords=SITE_PASSWORDS), SignedIn)


def test_a_deleted_person_cannot_sign_in(any_database, kim, attempt, now):
    with any_database.write() as session:
        delete_person(session, kim.id, now)

    assert attempt() == attempt("no.such")


def test_a_changed_password_is_in_force_and_ends_the_other_sessions(any_database, attempt, change, now):
    here, elsewhere = attempt(), attempt()

    assert change(RIGHT, NEW, keep_token=here.token) == PasswordChanged()
    assert who(any_database, here.token, now)
    assert who(any_database, elsewhere.token, now) is None
    assert isinstance(attempt("kim.lee", RIGHT), Refused)
    assert isinstance(attempt("kim.lee", NEW), SignedIn)


def test_the_old_password_must_be_right(attempt, change):
    refused = change("wrong", NEW)

    assert say(refused.reason) == "That is not your present password."
    assert isinstance(attempt(), SignedIn)


def test_a_weak_new_password_is_refused_and_nothing_changes(attempt, change):
    with pytest.raises(InputError) as refused:
        change(RIGHT, "short")

    assert refused.value.field == "new_password"
    assert isinstance(attempt(), SignedIn)


def test_guessing_the_old_password_at_an_open_browser_is_slowed(change):
    refused = [change("wrong", NEW) for _ in range(7)]

    assert [one.wait for one in refused] == [timedelta(0)] * 6 + [timedelta(minutes=5)]
    assert isinstance(change(RIGHT, NEW), Refused)


def test_a_one_time_password_must_be_changed_for_another(any_database, kim, attempt, change, now):
    before = attempt()
    with any_database.write() as session:
        once = reset_password(session, kim.id, now, passwords=CHEAP_PASSWORDS)

    assert who(any_database, before.token, now) is None
    signed_in = attempt("kim.lee", once)
    assert signed_in.must_change_password
    assert who(any_database, signed_in.token, now).must_change_password
    with pytest.raises(InputError):
        change(once, once)
    change(once, NEW, keep_token=signed_in.token)
    assert not who(any_database, signed_in.token, now).must_change_password
