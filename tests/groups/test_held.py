from __future__ import annotations

import pytest
from msgspec.structs import asdict
from sqlalchemy import select, update
from sqlalchemy.exc import NoResultFound

from trainer.accounts.access import group_led_by
from trainer.groups.attendance import note_day
from trainer.groups.calendar import new_feed
from trainer.groups.findings import report
from trainer.groups.held import LeftGroup, held_about
from trainer.groups.hours import enter
from trainer.groups.looks import note_looks
from trainer.groups.membership import leave
from trainer.groups.processes import ready_made
from trainer.groups.registrations import enter_own
from trainer.progress.watching import Watcher, sit_beside
from trainer.records.models import Group, HandsOnCheck, Membership, Person, PlacementRun, ProofRun

LENA = "public-lena".ljust(22, "x")
LEANS = {"skill": "bends.offset", "kind": "dog-leg", "note": "Two offsets lean."}
WORKED = {"process": ready_made()[0].key, "hours": "2.5", "note": ""}
A_CHECK = {"kind": "offset", "trade_size": "1/2", "seed": 7, "sheet": {}}


def held(town, name):
    with town.database.read() as session:
        return held_about(session, town.ids[name])


def test_a_new_account_holds_nothing(any_town):
    found = held(any_town, "lena")

    counts = {name: value for name, value in asdict(found).items() if name not in {"since", "left"}}
    assert set(counts.values()) == {0}
    assert (found.since, found.left) == (any_town.now, ())


def test_what_others_wrote_and_what_was_entered_is_counted_too(any_town):
    """One of each, and none of it anybody else's."""
    town = any_town
    town.join(town.class_, "lena", "leo")
    town.join(town.crew, "lena")
    today = town.now.date().isoformat()
    finding = town.with_library("ines", report, town.class_, LENA, **LEANS, now=town.now)
    town.do("lena", enter, town.crew, day=today, **WORKED, now=town.now)
    there = {"day": today, "topic": "Offsets", "hours": "2", "there": [LENA]}
    town.do("ines", note_day, town.class_, **there, now=town.now)
    town.do("lena", enter_own, what="registration", words="Apprentice, 815", expires_on="2027-01-31", now=town.now)
    with town.database.write() as session:
        lena, ines = town.ids["lena"], town.ids["ines"]
        group = session.scalar(select(Group.id).where(Group.public_id == town.class_))
        begun = {"line": "strict", "ready_at": 15.0, "difficulties": {}, "started_at": town.now, "watched_by_id": ines}
        run = ProofRun(person_id=lena, skill="bends.offset", **begun)
        check = HandsOnCheck(person_id=lena, group_id=group, issued_by_id=ines, issued_at=town.now, **A_CHECK)
        check.organisation_id = session.scalar(select(Group.organisation_id).where(Group.id == group))
        session.add_all([run, check, PlacementRun(person_id=lena, started_at=town.now)])
        session.flush()
        sit_beside(session, run.id, Watcher(ines, group), town.now)
    town.do("ines", look_at_lena, town.class_)

    found = held(town, "lena")

    assert finding
    one_each = (
        "proof_runs",
        "sittings",
        "placement_runs",
        "checks",
        "findings",
        "hours",
        "attendance",
        "registrations",
    )
    assert {name: getattr(found, name) for name in one_each} == dict.fromkeys(one_each, 1)
    assert found.looks == 1
    assert found.noted > found.looks
    assert {getattr(held(town, "leo"), name) for name in one_each} == {0}


def look_at_lena(session, actor, group):
    """A leader looks at a member's page."""
    found = group_led_by(session, actor, group)
    lena = session.scalar(select(Person.id).where(Person.sign_in_name == "lena"))
    now = session.scalar(select(Person.created_at).where(Person.id == lena))
    note_looks(session, actor, found.id, [lena], what="looked.assigned", now=now)


def test_each_thing_is_counted_once_and_only_for_its_person(any_town):
    town = any_town
    town.practise("lena", "right", "right")
    town.practise("leo", "right")

    found = held(town, "lena")

    assert (found.problems, found.answers, found.skills) == (2, 2, 1)
    assert held(town, "leo").answers == 1


def test_a_group_that_was_left_keeps_the_answers_to_its_own_work(any_town):
    town = any_town
    town.join(town.class_, "lena")
    work = town.assign("straps-run")
    town.answer("lena", town.open("lena", work))
    town.practise("lena", "right")
    town.after(days=1).do("lena", leave, town.class_, town.now)

    assert held(town, "lena").left == (LeftGroup("Tuesday class", "Riverside school", "class", town.now, 1),)


def test_a_group_that_was_joined_again_is_not_left(any_town):
    town = any_town
    town.join(town.class_, "lena")
    town.after(days=1).do("lena", leave, town.class_, town.now)
    town.after(days=1).join(town.class_, "lena")

    assert held(town, "lena").left == ()


def test_the_group_that_was_left_last_comes_first(any_town):
    town = any_town
    for group in (town.crew, town.class_):
        town.join(group, "lena")
        town.after(days=1).do("lena", leave, group, town.now)

    assert [group.name for group in held(town, "lena").left] == ["Tuesday class", "Garage crew"]


def test_nobody_holds_nothing(town):
    town.ids["gone"] = 999_999

    with pytest.raises(NoResultFound):
        held(town, "gone")


def test_a_name_from_a_list_and_the_address_of_a_calendar_are_counted(any_town):
    town = any_town
    town.join(town.class_, "lena", "leo")
    with town.database.write() as session:
        of_lena = update(Membership).where(Membership.person_id == town.ids["lena"])
        session.execute(of_lena.values(roster_name="Lena Example", roster_number="12"))
    town.do("lena", new_feed, now=town.now)

    found = held(town, "lena")
    assert (found.listed, found.calendars) == (1, 1)
    assert (held(town, "leo").listed, held(town, "leo").calendars) == (0, 0)
