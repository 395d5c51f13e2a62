"""What is kept of people's readiness: true at once after whatever happens, and not worked out again while nothing does."""

from __future__ import annotations

import pytest

from trainer.groups import kept_ready
from trainer.groups.findings import report, withdraw
from trainer.groups.job_types import end_job_type
from trainer.groups.membership import leave, set_sharing
from trainer.groups.ready_board import ready_board
from trainer.groups.ready_questions import answers_of, going_stale, soonest, tallies
from trainer.groups.ready_rows import readiness_of_people
from trainer.groups.registrations import end_own, enter_own, own_registrations
from trainer.groups.signing import withdraw as withdraw_check
from trainer.progress.needs import Ready

SKILLS = ("supports.straps", "bends.offset", "fittings.connectors")
LENA = "public-lena".ljust(22, "x")


@pytest.fixture
def crew(any_town):
    any_town.join(any_town.crew, "lena", "leo")
    any_town.job_type()
    any_town.found_ready("lena", *SKILLS)
    any_town.found_ready("leo", *SKILLS)
    return any_town


@pytest.fixture
def worked_out(monkeypatch):
    """Whom readiness was worked out for, turn by turn."""
    turns = []

    def note(session, library, people, places, *, at):
        turns.append(len(people))
        return readiness_of_people(session, library, people, places, at=at)

    monkeypatch.setattr(kept_ready, "readiness_of_people", note)
    return turns


def see(town):
    return town.with_library("fred", ready_board, town.crew, now=town.now)


def states(town):
    return {one.name: [job.state for job in one.jobs.values()] for one in see(town).people}


def test_a_second_look_works_nothing_out_again(crew, worked_out):
    first, second = see(crew), see(crew)

    assert worked_out == [2]
    assert answers_of(first).tallies == answers_of(second).tallies == tuple(tallies(second))
    assert answers_of(second).moves == tuple(soonest(second))
    assert answers_of(second).stale == tuple(going_stale(second))


def test_an_answer_works_out_its_person_only(crew, worked_out):
    see(crew)
    crew.practise("lena", "one-too-many")
    see(crew)

    assert worked_out == [2, 1]


def check(crew):
    return crew.signed("lena")


def withdrawn(crew):
    crew.do("fred", withdraw_check, crew.crew, crew.signed("lena"), reason="The wrong stick.", now=crew.now)


def told(crew):
    more = {"skill": "bends.offset", "kind": "dog-leg", "note": "Two lean.", "now": crew.now}
    return crew.with_library("fred", report, crew.crew, LENA, **more)


def taken_back(crew):
    crew.do("fred", withdraw, crew.crew, told(crew), reason="Another man's.", now=crew.now)


def card(crew):
    crew.do("lena", enter_own, what="registration", words="Apprentice, 1", expires_on="2027-06-30", now=crew.now)


def no_card(crew):
    card(crew)
    (line,) = crew.do("lena", own_registrations, crew.now)
    crew.do("lena", end_own, line.public_id, crew.now)


@pytest.mark.parametrize("happens", [check, withdrawn, told, taken_back, card, no_card])
def test_what_is_kept_equals_what_would_be_worked_out(crew, happens):
    crew.job_type("With a card", registration="registration", checks=())
    see(crew)
    happens(crew)

    kept = states(crew)
    kept_ready._KEPT.clear()
    assert kept == states(crew)


def test_each_event_shows_at_once(crew):
    assert states(crew)["Lena"] == [Ready.NOT_YET]
    signed = crew.signed("lena")
    assert states(crew)["Lena"] == [Ready.READY]
    finding = told(crew)
    assert states(crew)["Lena"] == [Ready.DUE]
    crew.do("fred", withdraw, crew.crew, finding, reason="Another man's.", now=crew.now)
    assert states(crew)["Lena"] == [Ready.READY]
    crew.do("fred", withdraw_check, crew.crew, signed, reason="The wrong stick.", now=crew.now)
    assert states(crew)["Lena"] == [Ready.NOT_YET]


def test_what_runs_out_meanwhile_is_due(crew, worked_out):
    crew.signed("lena")
    assert states(crew)["Lena"] == [Ready.READY]
    crew.after(days=89, hours=1)

    assert states(crew)["Lena"] == [Ready.DUE]
    assert len(worked_out) == 2


def test_other_job_types_are_asked_at_once(crew):
    crew.signed("lena")
    job = see(crew).jobs[0].job
    crew.job_type("Roof", checks=())
    assert states(crew)["Lena"] == [Ready.READY, Ready.READY]

    crew.do("otto", end_job_type, crew.shop, job, crew.now)
    assert [one.name for one in see(crew).jobs] == ["Roof"]
    assert [one.name for one in answers_of(see(crew)).tallies] == ["Roof"]


def test_who_leaves_or_closes_is_gone_from_the_answers(crew):
    assert answers_of(see(crew)).tallies[0].people == 2
    crew.do("leo", set_sharing, crew.crew, "readiness", crew.now, shared=False)
    assert answers_of(see(crew)).tallies[0].people == 1
    crew.do("lena", leave, crew.crew, crew.now)
    assert see(crew).people == ()
