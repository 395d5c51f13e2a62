"""Sitting beside a member at a proof run, and what the board makes of it, on both engines."""

from __future__ import annotations

from datetime import timedelta

import pytest

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.accounts.sharing import Shared
from trainer.groups.asked import asked_of
from trainer.groups.findings import report
from trainer.groups.job_types import keep
from trainer.groups.membership import leave, set_sharing
from trainer.groups.ready_board import own_jobs, ready_board
from trainer.groups.ready_made import JobTypeText
from trainer.groups.watching import end_watch, watch, watching
from trainer.progress.points import Line
from trainer.records.models import ProofRun, SkillState

LENA = "public-lena".ljust(22, "x")
OFFSET = "bends.offset"
TEXT = JobTypeText(
    name="Garage",
    about="",
    supervision="A licensed electrician is on the job.",
    watched=True,
    valid_days=365,
    trade_sizes=(),
    skills={OFFSET: Line.STRICT, "supports.straps": Line.LIGHT, "bends.stub": Line.STRICT},
    checks=(),
    registration="registration",
)


@pytest.fixture
def crew(any_town):
    """Lena in the crew, able at offsets, and a job type that wants watched runs."""
    town = any_town
    town.join(town.crew, "lena")
    town.do("otto", keep, town.shop, None, text=TEXT, now=town.now)
    with town.database.write() as session:
        state = {"level": 3.0, "variance": 0.2, "holding_days": 120.0, "counted": 30, "last_at": town.now}
        lena = town.ids["lena"]
        session.add(SkillState(person_id=lena, skill=OFFSET, last_turn=1, recent_families=[], **state))
    return town


def seen(town):
    found = town.with_library("fred", watching, town.crew, LENA, now=town.now)
    return {one.skill: one for one in found.skills}


def test_a_foreman_sits_down_and_leaves_again(crew):
    assert seen(crew)[OFFSET].can_begin
    crew.with_library("fred", watch, crew.crew, LENA, skill=OFFSET, now=crew.now)

    there = seen(crew)[OFFSET]
    assert (there.beside.watcher, there.beside.ends_at) == ("Fred", crew.now + timedelta(hours=1))
    crew.do("fred", end_watch, crew.crew, LENA, skill=OFFSET, now=crew.now)
    assert seen(crew)[OFFSET].beside is None
    assert seen(crew)[OFFSET].run.watchers == ("Fred",)


def test_a_foreman_leaves_though_the_member_has_closed_readiness_meanwhile(crew):
    crew.with_library("fred", watch, crew.crew, LENA, skill=OFFSET, now=crew.now)
    crew.do("lena", set_sharing, crew.crew, Shared.READINESS, shared=False, now=crew.now)

    crew.do("fred", end_watch, crew.crew, LENA, skill=OFFSET, now=crew.now)
    crew.do("lena", set_sharing, crew.crew, Shared.READINESS, shared=True, now=crew.now)
    assert seen(crew)[OFFSET].beside is None


def test_who_leads_a_group_that_the_member_has_left_ends_no_sitting(crew):
    crew.join(crew.class_, "lena")
    crew.do("lena", leave, crew.class_, crew.now)
    crew.with_library("fred", watch, crew.crew, LENA, skill=OFFSET, now=crew.now)

    with pytest.raises(NotFoundError):
        crew.do("ines", end_watch, crew.class_, LENA, skill=OFFSET, now=crew.now)
    assert seen(crew)[OFFSET].beside.watcher == "Fred"


def test_what_the_job_types_ask_is_found_by_skill(crew):
    with crew.database.read() as session:
        asked = asked_of(session, crew.ids["lena"], [OFFSET, "supports.straps", "cutting.ends"])

    assert {skill: (one.line, one.only_watched) for skill, one in asked.items()} == {
        OFFSET: (Line.STRICT, True),
        "supports.straps": (Line.LIGHT, True),
    }


def test_the_board_shows_the_run_on_its_way_and_the_card_that_is_missing(crew):
    crew.with_library("fred", watch, crew.crew, LENA, skill=OFFSET, now=crew.now)
    board = crew.with_library("fred", ready_board, crew.crew, now=crew.now)
    (found,) = board.people[0].jobs.values()
    (own,) = crew.with_library("lena", own_jobs, crew.now)[0].jobs

    says = {part.says[-1].id for part in own.parts}
    assert {"readiness.no-registration", "readiness.on-its-way"} <= says
    assert [(part.need, part.state) for part in found.parts] == [(part.need, part.state) for part in own.parts]


def test_who_does_not_lead_the_crew_watches_nobody(crew):
    crew.join(crew.crew, "leo")

    with pytest.raises(NotAllowedError):
        crew.with_library("leo", watch, crew.crew, LENA, skill=OFFSET, now=crew.now)


def found_ready(town, *, days_ago, watched=True):
    """A run found Lena ready in offsets, which she has kept up since."""
    at = town.now - timedelta(days=days_ago)
    when = {
        "started_at": at - timedelta(hours=1),
        "ended_at": at,
        "watched_by_id": town.ids["fred"] if watched else None,
    }
    run = {"ready_at": 15.0, "points": 15.4, "counted": 20, "outcome": "ready", "difficulties": {}, "line": "strict"}
    with town.database.write() as session:
        session.add(ProofRun(person_id=town.ids["lena"], skill=OFFSET, **run, **when))


def test_after_an_unwatched_run_has_followed_trouble_on_the_job_a_watched_one_can_be_opened(crew):
    found_ready(crew, days_ago=3)
    assert not seen(crew)[OFFSET].can_begin
    told = {"skill": OFFSET, "kind": "dog-leg", "note": "Two offsets lean."}
    crew.with_library("fred", report, crew.crew, LENA, now=crew.now - timedelta(days=2), **told)
    found_ready(crew, days_ago=1, watched=False)

    assert seen(crew)[OFFSET].can_begin
    assert part(crew).says[0].id == "readiness.finding"
    crew.with_library("fred", watch, crew.crew, LENA, skill=OFFSET, now=crew.now)
    assert seen(crew)[OFFSET].run.refreshes


def test_what_was_shown_longer_ago_than_the_job_type_allows_can_be_shown_again(crew):
    found_ready(crew, days_ago=366)

    assert seen(crew)[OFFSET].can_begin
    assert part(crew).says[0].id == "readiness.too-old"
    crew.with_library("fred", watch, crew.crew, LENA, skill=OFFSET, now=crew.now)
    assert seen(crew)[OFFSET].run.ready_at == 6.0


def part(town):
    """How Lena's own page has it with offsets."""
    (own,) = town.with_library("lena", own_jobs, town.now)[0].jobs
    return next(part for part in own.parts if getattr(part.need, "skill", "") == OFFSET)
