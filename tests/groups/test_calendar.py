"""Due dates behind an address: whose, which, and when the address opens nothing any more."""

from __future__ import annotations

from datetime import timedelta

from sqlalchemy import select

from trainer.accounts.people import delete_person
from trainer.groups.assigned import withdraw
from trainer.groups.calendar import due_dates, end_feed, feed_made_at, new_feed, owner_of_feed
from trainer.groups.membership import leave
from trainer.groups.more_time import give_more_time
from trainer.groups.terms import put_away
from trainer.records.models import CalendarFeed


def owner(town, token):
    with town.database.read() as session:
        return owner_of_feed(session, token)


def dates(town, who):
    return town.do(who, due_dates, town.now)


def titles(town, who):
    return [one.title for one in dates(town, who)]


def test_an_address_opens_its_owner_s_calendar_until_it_is_ended(any_town):
    town = any_town
    assert town.do("lena", feed_made_at) is None
    first = town.do("lena", new_feed, town.now)
    assert owner(town, first).person_id == town.ids["lena"]
    assert town.do("lena", feed_made_at) == town.now

    second = town.after(days=1).do("lena", new_feed, town.now)
    assert (owner(town, first), owner(town, second).person_id) == (None, town.ids["lena"])

    town.do("lena", end_feed, town.now)
    town.do("lena", end_feed, town.now)
    assert owner(town, second) is None
    assert town.do("lena", feed_made_at) is None


def test_the_table_does_not_hold_what_opens_it(town):
    token = town.do("lena", new_feed, town.now)

    with town.database.read() as session:
        stored = session.scalars(select(CalendarFeed.token_hash)).one()
    assert token not in stored
    assert owner(town, stored) is None
    assert owner(town, "") is None


def test_a_deleted_account_has_no_calendar(town):
    token = town.do("lena", new_feed, town.now)
    with town.database.write() as session:
        delete_person(session, town.ids["lena"], town.now)

    assert owner(town, token) is None


def test_a_learner_has_the_own_work_and_a_leader_that_of_the_class(town):
    town.join(town.class_, "lena")
    town.assign("straps-run", title="Straps", due_in=5)
    town.assign("straps-run", title="More straps", due_in=3)

    assert titles(town, "lena") == titles(town, "ines") == ["More straps", "Straps"]
    assert [one.leads for one in dates(town, "lena")] == [False, False]
    assert [one.leads for one in dates(town, "ines")] == [True, True]
    assert titles(town, "fred") == titles(town, "leo") == []


def test_what_is_taken_back_left_put_away_or_long_past_is_gone(town):
    town.join(town.class_, "lena", "leo")
    back, _ = town.assign("straps-run", title="Taken back"), town.assign("straps-run", title="Straps")
    town.do("ines", withdraw, back, town.now)
    assert titles(town, "lena") == ["Straps"]

    town.do("leo", leave, town.class_, town.now)
    assert titles(town, "leo") == []

    town.after(days=40)
    assert titles(town, "lena") == ["Straps"]
    town.after(days=40)
    assert titles(town, "lena") == []

    town.assign("straps-run", title="Late straps")
    town.do("ines", put_away, town.class_, town.now)
    assert titles(town, "lena") == titles(town, "ines") == []


def test_more_time_moves_the_date_of_that_person_only(town):
    town.join(town.class_, "lena", "leo")
    work = town.assign("straps-run")
    (before,) = dates(town, "lena")
    later = (before.due_at + timedelta(days=7)).date()
    town.do("ines", give_more_time, work, "public-lena".ljust(22, "x"), ends_on=later, reason="Flu", now=town.now)

    assert dates(town, "lena")[0].due_at - before.due_at >= timedelta(days=6)
    assert dates(town, "leo")[0].due_at == dates(town, "ines")[0].due_at == before.due_at
