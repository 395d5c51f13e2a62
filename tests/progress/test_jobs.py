"""A job from its first part to its last: what is carried on, what it is judged on, and what stays on record."""

from __future__ import annotations

from datetime import timedelta

import pytest

from trainer.accounts.access import NotFoundError
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.progress.jobs import leave_part, next_part
from trainer.progress.replay import replay
from trainer.progress.states import as_state, states_of
from trainer.progress.today import Kind, today
from trainer.records.models import Problem
from trainer.text.words import say

from .conftest import Desk

JOB = "rolling-offset-out-of-a-rack"


@pytest.fixture(scope="module")
def library():
    return Library(content_root())


@pytest.fixture
def desk(database, library):
    return Desk(database, library)


def leave(desk, part):
    with desk.database.write() as session:
        return leave_part(session, desk.library, desk.person_id, part, desk.now)


def go_on(desk, part):
    leave(desk, part)
    with desk.database.write() as session:
        return next_part(session, desk.library, desk.person_id, part, now=desk.now)


def begin(desk):
    return desk.issue(family_id=f"{JOB}.true-offset")


def test_a_wrong_first_part_is_carried_on_and_the_second_is_judged_on_it(desk):
    first = begin(desk)
    drawn = desk.problem(first)
    # Pat adds rise and roll, is told so, and goes on with what he has.
    desk.answer(first, desk.wrong(first, "added-up"))
    second = go_on(desk, first)
    own = drawn.numbers["rise"] + drawn.numbers["roll"]
    part = desk.problem(second)

    assert (part.family_id, part.seed) == (f"{JOB}.spacing", drawn.seed)
    assert part.numbers["depth"] == own
    assert {name: part.numbers[name] for name in drawn.numbers} == drawn.numbers

    # What follows from his own number is right, and the page says whose it is and what he found.
    desk.answer(second, desk.right(second))
    page = desk.show(second)

    assert page.last.verdict == "right"
    assert (page.job.nth, page.job.parts, page.job.last) == (2, len(desk.library.jobs[JOB].parts), False)
    assert page.job.said == ()
    assert [(one.nth, one.right, one.goes_on) for one in page.job.found] == [(1, False, True)]
    assert page.job.found[0].html == f"{own:g} in"
    assert f"{own:g} in deep" in page.text_html

    # The third part goes by the same number. After the last there is nothing to go on to.
    part = third = go_on(desk, second)
    assert desk.problem(third).numbers["depth"] == own
    while not desk.show(part).job.last:
        desk.give_up(part)
        part = go_on(desk, part)
    with pytest.raises(NotFoundError):
        go_on(desk, part)


def test_replay_finds_the_same_record_after_a_job(desk):
    first = begin(desk)
    desk.answer(first, desk.wrong(first, "added-up"))
    second = go_on(desk, first)
    desk.answer(second, desk.right(second))
    with desk.database.read() as session:
        kept = {skill: as_state(row) for skill, row in states_of(session, desk.person_id).items() if row.counted}

        assert replay(session, desk.person_id).states == kept


def test_a_part_that_was_given_up_goes_on_with_what_it_comes_to(desk):
    first = begin(desk)
    desk.give_up(first)
    part = desk.problem(go_on(desk, first))

    assert part.numbers["depth"] == pytest.approx(desk.problem(first).keys[0].value, abs=1 / 32)
    assert (16 * part.numbers["depth"]).is_integer()


def test_a_number_that_cannot_be_worked_with_is_set_aside_and_the_page_says_so(desk):
    first = begin(desk)
    desk.answer(first, "90 ft")
    second = go_on(desk, first)
    part = desk.problem(second)

    assert part.numbers["depth"] == pytest.approx(desk.problem(first).keys[0].value, abs=1 / 32)
    assert say(desk.show(second).job.said[0]).startswith("Part 1: this part can’t be worked with your 1080 in.")


def test_a_part_without_an_answer_is_not_left(desk):
    first = begin(desk)

    assert not leave(desk, first)
    assert desk.show(first).open
    assert go_on(desk, first) == first


def test_the_next_part_is_issued_once(desk):
    first = begin(desk)
    desk.answer(first, desk.right(first))
    second = go_on(desk, first)

    assert go_on(desk, first) == second
    assert len(desk.rows(Problem)) == 2


def test_a_part_that_is_asked_for_begins_its_job(desk):
    assert desk.problem(desk.issue(family_id=f"{JOB}.far-mark")).family_id == f"{JOB}.true-offset"


def test_a_job_that_was_left_is_offered_for_a_while(desk):
    first = begin(desk)
    desk.answer(first, desk.right(first))

    def offered():
        with desk.database.read() as session:
            return today(session, desk.library, desk.person_id, desk.now).first

    assert (offered().kind, offered().problem) == (Kind.JOB, first)
    assert (
        say(offered().why)
        == f"You left this job after a part of it: part 2 of {len(desk.library.jobs[JOB].parts)} comes next."
    )

    desk.now += timedelta(days=15)
    assert offered().kind is not Kind.JOB


def test_the_program_begins_a_job_and_never_in_the_middle(desk):
    for _ in range(12):
        part = desk.issue(skill="bends.rolling")
        assert "." not in desk.problem(part).family_id or desk.problem(part).family_id.endswith(".true-offset")
        desk.give_up(part)
