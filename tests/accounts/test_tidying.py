"""What is held for a while only goes when its time is over, and nothing else does."""

from __future__ import annotations

from contextlib import closing, contextmanager
from datetime import timedelta

import pytest
from sqlalchemy import func, select

from trainer.accounts import sessions, tidying
from trainer.accounts.audit import LOOKED_KINDS, RECORD_KINDS
from trainer.accounts.keeping import Keeping
from trainer.accounts.tidying import look, tidy
from trainer.records.engine import Database
from trainer.records.models import (
    AuditLine,
    Base,
    CalendarFeed,
    HalfSignIn,
    SecondFactor,
    SignInSession,
    Throttle,
)
from trainer.text.sentences import english

DAY = timedelta(days=1)
KEEPING = Keeping(sessions.SignInLife(idle=14 * DAY, longest=60 * DAY, kept=7 * DAY), looks=365 * DAY, log=730 * DAY)
#: Of each kind, what `lived_in` leaves that is over.
OVER = {
    "sign-ins": 3,
    "half-sign-ins": 1,
    "unfinished-apps": 1,
    "calendars": 1,
    "guesses": 1,
    "looks": 2,
    "notes": 2,
}
#: Two looks and two other notes are over; those that a record rests on never are.
NOTES = (
    ("looked.practice", 364),
    ("looked.practice", 366),
    ("exported.own", 366),
    ("group.joined", 366),
    ("group.joined", 731),
    ("password.reset", 731),
    ("hours.confirmed", 5000),
    ("key.ruled", 5000),
)

#: Notes of neither a look nor a record.
OTHER_KINDS = {
    *("appointed", "calendar", "dismissed", "group", "outside", "password", "person", "second-factor", "share", "site"),
    "work",
}


@pytest.fixture
def lived_in(place, now):
    """A site with some rows of each kind that are over, and some that only just are not."""
    people = place.person
    with place.database.write() as session:
        for days, more in [
            (1, {}),
            (59, {"last_seen_at": now - 13 * DAY}),
            (30, {"revoked_at": now - 6 * DAY, "last_seen_at": now - 6 * DAY}),
            (30, {"revoked_at": now - 8 * DAY, "last_seen_at": now - 8 * DAY}),
            (30, {"last_seen_at": now - 22 * DAY}),
            (68, {"last_seen_at": now - 8 * DAY}),
        ]:
            began = now - days * DAY
            row = SignInSession(person_id=people["kim"].id, token_hash=f"{days}{more}"[:64], created_at=began)
            row.last_seen_at, row.expires_at = more.get("last_seen_at", began), began + 60 * DAY
            row.revoked_at = more.get("revoked_at")
            session.add(row)
        for minutes in (5, 15):
            began = now - timedelta(minutes=minutes)
            half = {"created_at": began, "expires_at": began + timedelta(minutes=10)}
            session.add(HalfSignIn(token_hash=str(minutes), person_id=people["kim"].id, **half))
        for who, days, confirmed in [("kim", 8, True), ("ana", 8, False), ("ines", 6, False)]:
            row = SecondFactor(person_id=people[who].id, salt="s", key_mark="k", begun_at=now - days * DAY)
            row.confirmed_at, row.last_step = (row.begun_at, 1) if confirmed else (None, None)
            session.add(row)
        for days in (None, 6, 8):
            ended = None if days is None else now - days * DAY
            feed = {"person_id": people["kim"].id, "token_hash": str(days), "made_at": now - 90 * DAY}
            session.add(CalendarFeed(**feed, ended_at=ended))
        for level in (0.0, 3.0):
            until = now + level * timedelta(minutes=5)
            guess = {"kind": "pair", "subject": str(level), "level": level, "updated_at": now, "expires_at": until}
            session.add(Throttle(**guess))
        session.add_all(AuditLine(at=now - days * DAY, what=what, subject_id=people["kim"].id) for what, days in NOTES)
    return place.database


def rows(database):
    with database.read() as session:
        return {
            table.name: session.scalars(select(table.c.id).order_by(table.c.id)).all()
            for table in Base.metadata.sorted_tables
        }


def gone(before, after):
    """How many rows of which tables are there no more."""
    lost = {name: len({*before[name]} - {*after[name]}) for name in before}
    return {name: count for name, count in lost.items() if count}


def counts(told):
    return {one.kind: one.rows for one in told}


def test_what_is_over_goes_and_no_other_row(lived_in, now):
    before = rows(lived_in)

    told = tidy(lived_in, KEEPING, now)

    assert counts(told) == OVER
    assert gone(before, rows(lived_in)) == {
        "sign_in_session": 3,
        "half_sign_in": 1,
        "second_factor": 1,
        "calendar_feed": 1,
        "throttle": 1,
        "audit_line": 4,
    }


def test_looking_says_the_same_and_removes_nothing(lived_in, now):
    before = rows(lived_in)

    with lived_in.read() as session:
        told = look(session, KEEPING, now)

    assert counts(told) == OVER
    assert rows(lived_in) == before


def test_it_leaves_one_line_in_the_log_and_none_where_nothing_was_over(lived_in, now):
    tidy(lived_in, KEEPING, now)

    assert counts(tidy(lived_in, KEEPING, now)) == dict.fromkeys(OVER, 0)
    with lived_in.read() as session:
        query = select(AuditLine.at, AuditLine.actor_id, AuditLine.detail).where(AuditLine.what == "site.tidied")
        assert session.execute(query).all() == [(now, None, OVER)]


def test_notes_that_are_kept_without_end_stay(lived_in, now):
    before = rows(lived_in)

    told = tidy(lived_in, Keeping(KEEPING.life, looks=None, log=None), now)

    assert counts(told).keys() == OVER.keys() - {"looks", "notes"}
    assert "audit_line" not in gone(before, rows(lived_in))


def test_of_each_kind_of_note_it_is_settled_how_long_it_is_kept():
    """A new kind belongs to a record, or to those that go; nobody may forget to say which."""
    named = {sentence.split(".")[1] for sentence in english() if sentence.startswith("audit.")}
    assert named <= {*LOOKED_KINDS, *RECORD_KINDS, *OTHER_KINDS}
    assert not {*LOOKED_KINDS} & {*RECORD_KINDS} | {*OTHER_KINDS} & {*LOOKED_KINDS, *RECORD_KINDS}


def test_many_rows_go_some_at_a_time(lived_in, now, monkeypatch):
    monkeypatch.setattr(tidying, "AT_ONCE", 2)
    with lived_in.write() as session:
        session.add_all(AuditLine(at=now - 400 * DAY, what="looked.work") for _ in range(7))

    assert counts(tidy(lived_in, KEEPING, now))["looks"] == 9


@contextmanager
def meanwhile(database, act):
    """Another process does something just before the first removal."""
    begin, done = Database.write, []

    @contextmanager
    def first_act(self):
        if not done:
            done.append(True)
            with closing(Database(database.url)) as other, begin(other) as session:
                act(session)
        with begin(self) as session:
            yield session

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Database, "write", first_act)
        yield


def test_what_is_in_use_again_by_then_stays(lived_in, now):
    """Somebody guesses anew between the look at a count that has leaked empty and its removal."""

    def guess(session):
        row = session.scalars(select(Throttle).where(Throttle.level == 0)).one()
        row.level, row.expires_at = 1.0, now + DAY

    with meanwhile(lived_in, guess):
        told = tidy(lived_in, KEEPING, now)

    assert counts(told)["guesses"] == 0
    with lived_in.read() as session:
        assert session.scalar(select(func.count(Throttle.id))) == 2


def test_what_another_transaction_holds_is_left_for_the_next_time(postgres_database, now):
    with postgres_database.write() as session:
        for subject in "ab":
            guess = {"kind": "pair", "subject": subject, "level": 0.0, "updated_at": now, "expires_at": now}
            session.add(Throttle(**guess))
    with postgres_database.write() as session:
        session.scalars(select(Throttle).where(Throttle.subject == "a").with_for_update()).one()

        assert counts(tidy(postgres_database, KEEPING, now))["guesses"] == 1
    with postgres_database.read() as session:
        assert session.scalars(select(Throttle.subject)).all() == ["a"]
