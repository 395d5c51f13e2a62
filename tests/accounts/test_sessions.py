"""Signed-in browsers: how long they live, who sees and ends them."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy import func, select

from trainer.accounts.actor import actor_for
from trainer.accounts.sessions import end_sessions, list_sessions, revoke, sign_out, touch
from trainer.records.models import SignInSession

DAY = timedelta(days=1)


@pytest.fixture
def kim(any_database, make_person):
    with any_database.write() as session:
        return make_person(session)


@pytest.fixture
def token(any_database, kim, try_to_sign_in):
    assert kim
    with any_database.write() as session:
        return try_to_sign_in(session).token


@pytest.fixture
def is_in(any_database):
    """Whether a token opens anything at a moment."""

    def ask(token, moment):
        with any_database.read() as session:
            return actor_for(session, token, moment) is not None

    return ask


@pytest.fixture
def use(any_database):
    """Note that a session is in use at a moment."""

    def note(token, moment):
        with any_database.write() as session:
            touch(session, token, moment)

    return note


def test_an_unused_session_ends_after_fourteen_days(token, is_in, now):
    assert is_in(token, now + 14 * DAY - timedelta(seconds=1))
    assert not is_in(token, now + 14 * DAY)


def test_a_session_in_use_ends_sixty_days_after_sign_in(token, is_in, use, now):
    for day in range(0, 60, 10):
        use(token, now + day * DAY)

    assert is_in(token, now + 60 * DAY - timedelta(seconds=1))
    use(token, now + 60 * DAY - timedelta(seconds=1))
    assert not is_in(token, now + 60 * DAY)


def test_using_a_session_that_is_over_does_not_revive_it(token, is_in, use, now):
    use(token, now + 15 * DAY)

    assert not is_in(token, now + 15 * DAY)


def test_a_use_is_noted_once_an_hour_and_reading_writes_nothing(any_database, token, use, now):
    def due(moment):
        with any_database.read() as session:
            return actor_for(session, token, moment).touch_due

    assert not due(now + timedelta(minutes=60))
    assert due(now + timedelta(minutes=61))
    use(token, now + timedelta(minutes=61))
    assert not due(now + timedelta(minutes=62))


def test_signing_out_ends_this_session_only(any_database, token, is_in, try_to_sign_in, now):
    with any_database.write() as session:
        other = try_to_sign_in(session).token
        sign_out(session, token, now)

    assert not is_in(token, now)
    assert is_in(other, now)


@pytest.mark.parametrize("odd", ["", "x", "\x00", "\ud800", "x" * 1_000_000, "' OR 1=1 --"])
def test_an_odd_token_opens_and_ends_nothing(any_database, token, is_in, now, odd):
    with any_database.write() as session:
        sign_out(session, odd, now)
        touch(session, odd, now)

    assert not is_in(odd, now)
    assert is_in(token, now)


def test_a_longer_token_that_begins_like_a_real_one_opens_nothing(token, is_in, now):
    assert not is_in(token + "x", now)
    assert not is_in(token[:-1], now)


def test_the_hash_that_is_stored_opens_nothing(any_database, token, is_in, now):
    assert token
    with any_database.read() as session:
        stored = session.scalars(select(SignInSession.token_hash)).one()

    assert not is_in(stored, now)


def test_a_person_sees_the_live_sessions_with_their_devices(any_database, kim, token, try_to_sign_in, now):
    with any_database.write() as session:
        over = try_to_sign_in(session, device="an old phone").token
        sign_out(session, over, now)
        try_to_sign_in(session, device="school\x1b[31m computer\u202e " + "x" * 500, now=now + DAY)
    with any_database.read() as session:
        lines = list_sessions(session, kim.id, now + DAY, token)

    assert [(line.device[:20], line.is_this_one) for line in lines] == [
        ("school[31m computer ", False),
        ("a phone", True),
    ]
    assert all(len(line.device) <= 120 for line in lines)
    assert [line.last_seen_at for line in lines] == [now + DAY, now]


def test_a_person_ends_one_of_the_own_sessions(any_database, kim, token, is_in, now):
    with any_database.write() as session:
        (line,) = list_sessions(session, kim.id, now)
        revoke(session, kim.id, line.public_id, now)

    assert not is_in(token, now)


def test_nobody_ends_another_persons_session(any_database, kim, token, is_in, make_person, now):
    with any_database.write() as session:
        other = make_person(session, "other.name")
        (line,) = list_sessions(session, kim.id, now)
        revoke(session, other.id, line.public_id, now)

    assert is_in(token, now)


@pytest.mark.parametrize("odd", ["", "no-such", "\x00", "\ud800"])
def test_an_odd_name_of_a_session_ends_nothing(any_database, kim, token, is_in, now, odd):
    with any_database.write() as session:
        revoke(session, kim.id, odd, now)

    assert is_in(token, now)


def test_all_sessions_can_be_ended_at_once(any_database, kim, token, is_in, try_to_sign_in, now):
    with any_database.write() as session:
        other = try_to_sign_in(session).token
        end_sessions(session, kim.id, now)

    assert not is_in(token, now)
    assert not is_in(other, now)


def test_sessions_long_over_are_cleared_away_at_the_next_sign_in(any_database, token, try_to_sign_in, now):
    assert token
    with any_database.write() as session:
        try_to_sign_in(session, now=now + 68 * DAY)
    with any_database.read() as session:
        assert session.scalar(select(func.count()).select_from(SignInSession)) == 1
