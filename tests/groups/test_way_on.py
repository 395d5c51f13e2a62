from __future__ import annotations

import pytest

from trainer.groups.assigned import withdraw
from trainer.groups.membership import leave
from trainer.groups.way_on import next_line, way_on
from trainer.progress import practice


@pytest.fixture
def work(town):
    town.join(town.class_, "lena", "leo")
    return town.assign("offset-spacing", "straps-run", "offset-shrink")


def look(town, problem, name="lena"):
    return town.with_library(name, way_on, problem, town.now)


def test_a_problem_of_assigned_work_knows_its_line_and_the_next(town, work):
    found = look(town, town.open("lena", work, 2))

    assert (found.work.work, found.position, found.following) == (work, 2, 3)


def test_after_the_last_line_comes_the_first_that_was_passed_over(town, work):
    town.answer("lena", town.open("lena", work, 1))

    assert look(town, town.open("lena", work, 3)).following == 2


def test_when_every_other_line_has_an_answer_nothing_follows(town, work):
    town.answer("lena", town.open("lena", work, 1))
    town.answer("lena", town.open("lena", work, 2), "1")

    assert look(town, town.open("lena", work, 3)).following is None


def test_work_is_gone_on_with_at_its_first_line_without_an_answer(town, work):
    seen = look(town, town.open("lena", work, 1)).work
    town.answer("lena", town.open("lena", work, 1))

    assert next_line(seen) == 1
    assert next_line(look(town, town.open("lena", work, 2)).work) == 2


@pytest.mark.usefixtures("work")
def test_a_problem_of_practice_has_no_place_in_work(town):
    with town.database.write() as session:
        problem = practice.issue(
            session, town.library, town.ids["lena"], family_id="straps-run", now=town.now, edition="2023"
        )

    assert look(town, problem) is None


def test_nobody_learns_where_another_persons_problem_stands(town, work):
    assert look(town, town.open("lena", work), "leo") is None


def test_there_is_no_way_on_in_a_group_that_one_has_left(town, work):
    problem = town.open("lena", work)
    town.do("lena", leave, town.class_, town.now)

    assert look(town, problem) is None


def test_there_is_no_way_on_in_work_that_was_taken_back(town, work):
    problem = town.open("lena", work)
    town.do("ines", withdraw, work, town.now)

    assert look(town, problem) is None
