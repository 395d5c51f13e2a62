"""The board of a crew: who may see it, of whom, and what it answers."""

from __future__ import annotations

from datetime import datetime, time, timedelta

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.groups.findings import report
from trainer.groups.membership import leave, set_sharing
from trainer.groups.ready_board import own_jobs, person_ready, ready_board
from trainer.groups.ready_questions import going_stale, soonest, tallies
from trainer.groups.signing import withdraw
from trainer.progress.needs import CheckNeed, Ready, SkillNeed
from trainer.progress.points import Line
from trainer.records.models import AuditLine

SKILLS = ("supports.straps", "bends.offset", "fittings.connectors")
LENA, LEO = ("public-lena".ljust(22, "x"), "public-leo".ljust(22, "x"))


@pytest.fixture
def crew(any_town):
    """The garage crew with lena and leo in it, and one job type of their shop."""
    any_town.join(any_town.crew, "lena", "leo")
    any_town.job_type()
    return any_town


def see(town, name="fred", group=None, **more):
    return town.with_library(name, ready_board, group or town.crew, now=town.now, **more)


def states(board):
    return {person.name: [found.state for found in person.jobs.values()] for person in board.people}


def test_ready_needs_every_skill_and_every_check(crew):
    crew.found_ready("lena", *SKILLS)
    crew.found_ready("leo", *SKILLS[1:])
    assert states(see(crew)) == {"Lena": [Ready.NOT_YET], "Leo": [Ready.NOT_YET]}

    crew.signed("lena")
    crew.signed("leo")
    board = see(crew)

    assert states(board) == {"Lena": [Ready.READY], "Leo": [Ready.NOT_YET]}
    assert [(one.ready, one.due, one.not_yet) for one in tallies(board)] == [(1, 0, 1)]


def test_practice_alone_never_says_ready(crew):
    crew.practise("lena", *["right"] * 12)
    crew.signed("lena")

    assert states(see(crew))["Lena"] == [Ready.NOT_YET]


def test_a_check_that_failed_or_was_withdrawn_does_not_count(crew):
    crew.found_ready("lena", *SKILLS)
    crew.found_ready("leo", *SKILLS)
    crew.signed("leo", passed=False)
    check = crew.signed("lena")
    assert states(see(crew)) == {"Lena": [Ready.READY], "Leo": [Ready.NOT_YET]}

    crew.do("fred", withdraw, crew.crew, check, reason="The wrong stick.", now=crew.now)
    assert states(see(crew))["Lena"] == [Ready.NOT_YET]


def test_a_job_that_asks_for_a_watched_run_takes_no_other(crew):
    crew.job_type("Roof", watched=True, checks=())
    crew.found_ready("lena", *SKILLS)
    crew.found_ready("leo", *SKILLS, watched_by="fred")
    roof = next(job for job in see(crew).jobs if job.name == "Roof")

    found = {person.name: person.jobs[roof.job].state for person in see(crew).people}
    assert found == {"Lena": Ready.NOT_YET, "Leo": Ready.READY}


def test_the_lighter_line_does_not_stand_for_the_strict_one(crew):
    crew.job_type("Carrying", checks=(), skills=dict.fromkeys(SKILLS, Line.LIGHT))
    crew.found_ready("lena", *SKILLS, line="light")

    found = {job.name: see(crew).people[0].jobs[job.job].state for job in see(crew).jobs}
    assert found == {"Carrying": Ready.READY, "Garage": Ready.NOT_YET}


def test_trouble_on_the_job_makes_it_due(crew):
    crew.found_ready("lena", *SKILLS)
    crew.signed("lena")
    told = {"skill": "bends.offset", "kind": "dog-leg", "note": "Two lean.", "now": crew.now}
    crew.with_library("fred", report, crew.crew, LENA, **told)

    board = see(crew)
    assert states(board)["Lena"] == [Ready.DUE]
    assert [(one.part.need.skill, one.until) for one in going_stale(board)] == [("bends.offset", None)]


def test_left_alone_it_goes_stale_and_the_board_says_when(crew):
    crew.found_ready("lena", *SKILLS, days_ago=70)
    crew.signed("lena")
    (first, *_) = stale = going_stale(see(crew))

    assert len(stale) == 3
    assert first.until == crew.now + timedelta(days=20)
    assert first.jobs == ("Garage",)
    assert going_stale(see(crew), timedelta(days=19)) == []
    later = see(crew, when=lambda zone: datetime.combine(crew.now.date() + timedelta(days=21), time(6), zone))
    assert states(later)["Lena"] == [Ready.DUE]


def test_what_two_job_types_ask_for_goes_stale_when_the_first_of_them_says_so(crew):
    crew.job_type("Attic", valid_days=75, checks=())
    crew.found_ready("lena", *SKILLS, days_ago=70)
    crew.signed("lena")
    days = timedelta(days=1)

    stale = going_stale(see(crew))
    assert {(one.until, one.jobs) for one in stale} == {(crew.now + 5 * days, ("Attic", "Garage"))}
    crew.after(days=6)
    assert {(one.until, one.jobs) for one in going_stale(see(crew))} == {(None, ("Attic", "Garage"))}


def test_the_thing_that_makes_most_ready_stands_first(crew):
    crew.found_ready("lena", *SKILLS)
    crew.found_ready("leo", *SKILLS[1:])
    first, second = soonest(see(crew))

    assert isinstance(first.need, CheckNeed)
    assert first.completes == (("Lena", "Garage"),)
    assert first.helps == 1
    assert isinstance(second.need, SkillNeed)
    assert (second.completes, second.helps) == ((), 1)


def test_who_does_not_show_readiness_stands_by_name_only(crew):
    crew.do("leo", set_sharing, crew.crew, "readiness", crew.now, shared=False)
    board = see(crew)

    assert [one.name for one in board.people] == ["Lena"]
    assert board.closed == ("Leo",)
    with pytest.raises(NotAllowedError):
        one(crew, LEO)


def one(town, person, name="fred"):
    job = see(town).jobs[0].job
    return town.with_library(name, person_ready, town.crew, person, job=job, now=town.now)


def test_one_member_and_one_job(crew):
    crew.found_ready("lena", *SKILLS)
    learner, found = one(crew, LENA)

    assert (learner.display_name, found.state) == ("Lena", Ready.NOT_YET)
    assert [part.state for part in found.parts] == [*[Ready.READY] * 3, Ready.NOT_YET]
    with pytest.raises(NotFoundError):
        crew.with_library("fred", person_ready, crew.crew, LENA, job="x" * 22, now=crew.now)


def test_after_leaving_nobody_is_on_the_board(crew):
    crew.do("lena", leave, crew.crew, crew.now)

    assert [one.name for one in see(crew).people] == ["Leo"]


def test_who_looked_at_whom_is_noted_once_a_day(crew):
    see(crew)
    see(crew)
    with crew.database.read() as session:
        noted = session.scalars(select(AuditLine.subject_id).where(AuditLine.what == "looked.readiness")).all()

    assert sorted(noted) == sorted([crew.ids["lena"], crew.ids["leo"]])


def test_nobody_else_sees_it(crew):
    with pytest.raises(NotAllowedError):
        see(crew, "lena")
    for name in ("ines", "ada", "stranger"):
        with pytest.raises(NotFoundError):
            see(crew, name)


def test_a_learner_reads_his_own_of_each_place(crew):
    crew.join(crew.class_, "lena")
    crew.found_ready("lena", *SKILLS)
    actor = crew.actor("lena")
    with crew.database.read() as session:
        (shop,) = own_jobs(session, crew.library, actor, crew.now)

    assert (shop.organisation, len(shop.jobs)) == ("Corner shop", 1)
    assert [part.state for part in shop.jobs[0].missing] == [Ready.NOT_YET]
