from __future__ import annotations

from copy import copy

import pytest

from trainer.accounts.access import NotFoundError
from trainer.groups.assigned import withdraw
from trainer.groups.learner_work import due_work, learner_work, work_of_learner
from trainer.groups.tries import Came
from trainer.records.models import Problem


@pytest.fixture
def work(town):
    town.join(town.class_, "lena")
    return town.assign("offset-spacing", "straps-run")


def see(town, name, work):
    return town.with_library(name, learner_work, work, town.now)


def context(town, problem):
    with town.database.read() as session:
        return session.query(Problem).filter_by(public_id=problem).one().context


def test_a_learner_sees_what_was_given_and_how_long_there_is(town, work):
    seen = see(town, "lena", work)

    assert (seen.title, seen.group, seen.time_zone) == ("Offsets for Thursday", "Tuesday class", "America/Chicago")
    assert (seen.days_left, seen.past_due, seen.answered, seen.right) == (3, False, 0, 0)
    assert [(line.position, line.title, line.best.came) for line in seen.lines] == [
        (1, "Spacing of the marks", Came.NOT_BEGUN),
        (2, "Straps of a straight run", Came.NOT_BEGUN),
    ]


def test_opening_a_line_issues_its_problem_and_again_goes_on_where_one_was(any_town):
    town = any_town
    town.join(town.class_, "lena")
    work = town.assign("offset-spacing")
    problem = town.open("lena", work)
    town.answer("lena", problem, "1 in")

    assert context(town, problem) == "assigned"
    assert town.open("lena", work) == problem
    assert see(town, "lena", work).lines[0].open_problem == problem


def test_a_line_that_is_done_is_shown_again_until_new_numbers_are_asked_for(town, work):
    problem = town.open("lena", work)
    town.answer("lena", problem)

    assert town.open("lena", work) == problem
    assert town.open("lena", work, new_numbers=True) != problem


def test_the_best_honest_try_counts(town, work):
    first = town.open("lena", work)
    town.answer("lena", first, "sine-for-cosecant")
    town.answer("lena", first)
    assert see(town, "lena", work).lines[0].best.came is Came.WITH_HELP

    second = town.open("lena", work, new_numbers=True)
    town.answer("lena", second)
    best = see(town, "lena", work).lines[0].best

    assert (best.came, best.problem, best.tries) == (Came.RIGHT, second, 2)
    assert see(town, "lena", work).right == 1


def test_after_the_due_date_a_line_is_plain_practice(town, work):
    town.after(days=5)
    problem = town.open("lena", work)
    town.answer("lena", problem)
    seen = see(town, "lena", work)

    assert context(town, problem) == "practice"
    assert (seen.past_due, seen.days_left, seen.answered) == (True, -2, 0)


def test_a_problem_left_open_over_the_due_date_may_be_finished_and_counts_no_more(town, work):
    problem = town.open("lena", work)
    town.after(days=5)

    assert town.open("lena", work) == problem
    town.answer("lena", problem)
    assert see(town, "lena", work).lines[0].best.came is Came.NOT_BEGUN


def test_work_that_is_open_is_due_and_the_soonest_comes_first(town, work):
    later = town.assign("straps-run", title="Later", due_in=9)
    due = town.with_library("lena", due_work, town.now)

    assert [(one.work, one.days_left, one.done, one.lines) for one in due] == [(work, 3, 0, 2), (later, 9, 0, 1)]

    town.answer("lena", town.open("lena", later))
    assert [one.work for one in town.with_library("lena", due_work, town.now)] == [work]
    assert town.after(days=20).with_library("lena", due_work, town.now) == []


def test_withdrawn_work_is_seen_no_more(town, work):
    town.do("ines", withdraw, work, town.now)

    assert town.with_library("lena", work_of_learner, town.now) == []
    with pytest.raises(NotFoundError):
        town.open("lena", work)


def test_nobody_else_sees_or_opens_it(town, work):
    town.join(town.crew, "leo")
    for name in ("leo", "ines", "stranger"):
        with pytest.raises(NotFoundError):
            see(town, name, work)
        with pytest.raises(NotFoundError):
            town.open(name, work)


def test_a_line_that_is_none_is_not_found(town, work):
    with pytest.raises(NotFoundError):
        town.open("lena", work, position=3)


def test_the_pinned_version_is_asked_whatever_the_shelf_holds_since(town, work):
    town.library = copy(town.library)
    town.library.__dict__ |= {"families": {}, "_of_skill": {}, "_by_version": {}}
    problem = town.open("lena", work)

    assert town.answer("lena", problem).verdict == "right"
    assert see(town, "lena", work).lines[0].title == "Spacing of the marks"
