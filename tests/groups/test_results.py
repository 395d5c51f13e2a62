from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.groups.membership import leave
from trainer.groups.results import results
from trainer.groups.tries import Came
from trainer.records.models import AuditLine
from trainer.text.words import say


@pytest.fixture
def work(town):
    town.add("mia")
    town.join(town.class_, "lena", "leo", "mia")
    return town.assign("offset-first-mark", "straps-run")


def see(town, work, name="ines"):
    return town.with_library(name, results, work, town.now)


def test_the_leader_sees_who_answered_what(town, work):
    town.answer("lena", town.open("lena", work))
    town.answer("leo", town.open("leo", work), "shrink-subtracted")
    seen = see(town, work)
    lena, leo, mia = seen.people

    assert [person.display_name for person in seen.people] == ["Lena", "Leo", "Mia"]
    assert (lena.lines[0].came, lena.right, lena.answered) == (Came.RIGHT, 1, 1)
    assert (leo.lines[0].came, leo.lines[0].first.mistakes) == (Came.NOT_RIGHT, ("shrink-subtracted",))
    assert leo.lines[0].first.typed.endswith("in")
    assert mia.answered == 0
    assert [(line.answered, line.right, line.with_help) for line in seen.lines] == [(2, 1, 0), (0, 0, 0)]


def test_the_tally_says_how_many_made_each_mistake(town, work):
    for name, given in (("lena", "shrink-subtracted"), ("leo", "shrink-subtracted"), ("mia", "shrink-left-out")):
        town.answer(name, town.open(name, work), given)
    seen = see(town, work)

    assert [say(line.words) for line in seen.tally] == ["2 of 3: shrink subtracted.", "1 of 3: shrink left out."]


def test_one_person_counts_once_however_often_the_mistake_was_made(town, work):
    first = town.open("lena", work)
    town.answer("lena", first, "shrink-subtracted")
    town.answer("lena", first)
    town.answer("lena", town.open("lena", work, new_numbers=True), "shrink-subtracted")

    assert [(line.people, line.of) for line in see(town, work).tally] == [(1, 1)]


def test_after_the_due_date_nothing_changes_any_more(town, work):
    problem = town.open("lena", work)
    town.after(days=5).answer("lena", problem, "shrink-subtracted")
    seen = see(town, work)

    assert seen.people[0].answered == 0
    assert seen.tally == ()


def test_who_has_left_stays_in_the_results_of_what_he_did(town, work):
    town.answer("lena", town.open("lena", work))
    for name in ("lena", "mia"):
        town.do(name, leave, town.class_, town.now)
    seen = see(town, work)

    assert [(person.display_name, person.is_member) for person in seen.people] == [("Leo", True), ("Lena", False)]


def test_who_came_back_is_a_member_again(town, work):
    town.do("lena", leave, town.class_, town.now)
    town.after(hours=1).join(town.class_, "lena")

    assert [person.is_member for person in see(town, work).people] == [True, True, True]


def test_that_the_leader_looked_is_noted_once_a_day_for_each_learner(town, work):
    see(town, work)
    see(town, work)
    with town.database.read() as session:
        noted = session.scalars(select(AuditLine.subject_id).where(AuditLine.what == "looked.assigned")).all()

    assert sorted(noted) == sorted(town.ids[name] for name in ("lena", "leo", "mia"))

    town.after(days=2)
    see(town, work)
    with town.database.read() as session:
        assert len(session.scalars(select(AuditLine.id).where(AuditLine.what == "looked.assigned")).all()) == 6


def test_learners_and_strangers_see_no_results(town, work):
    with pytest.raises(NotAllowedError):
        see(town, work, "lena")
    for name in ("fred", "ada", "stranger"):
        with pytest.raises(NotFoundError):
            see(town, work, name)
