"""One member as leaders see them."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.groups.assigned import withdraw
from trainer.groups.member import member, member_problem, member_skill
from trainer.groups.membership import leave, set_sharing
from trainer.groups.tries import Came
from trainer.progress import practice
from trainer.records.models import AuditLine

LENA = "public-lena".ljust(22, "x")
STRAPS = "supports.straps"


def see(town, who, group):
    return town.with_library(who, member, group, LENA, now=town.now)


def evidence(town, who, group, skill=STRAPS):
    return town.with_library(who, member_skill, group, LENA, skill=skill, now=town.now)


def open_problem(town, who, group, problem):
    return town.with_library(who, member_problem, group, LENA, problem_public_id=problem, now=town.now)


def share(town, group, what, *, shared=True):
    town.do("lena", set_sharing, group, what, town.now, shared=shared)


def looks(town):
    with town.database.read() as session:
        what = select(AuditLine.what).where(AuditLine.subject_id == town.ids["lena"], AuditLine.what.like("looked.%"))
        return sorted(session.scalars(what))


def practised(town):
    """A problem of practice, answered with a known mistake."""
    with town.database.write() as session:
        who = town.ids["lena"]
        problem = practice.issue(session, town.library, who, family_id="straps-run", now=town.now, edition="2023")
    town.answer("lena", problem, "one-too-many")
    return problem


@pytest.fixture
def in_class(town):
    town.join(town.class_, "lena")
    return town


@pytest.fixture
def in_crew(town):
    town.join(town.crew, "lena")
    return town


def test_a_class_sees_its_own_work_and_no_skills(any_town):
    any_town.join(any_town.class_, "lena")
    work = any_town.assign("straps-run", "offset-spacing")
    problem = any_town.open("lena", work)
    any_town.answer("lena", problem, "one-too-many")

    found = see(any_town, "ines", any_town.class_)

    assert found.skills is None
    (seen,) = found.works
    assert (seen.work, seen.title) == (work, "Offsets for Thursday")
    assert [line.best.came for line in seen.lines] == [Came.NOT_RIGHT, Came.NOT_BEGUN]
    assert (seen.lines[0].best.problem, seen.lines[0].best.first.mistakes) == (problem, ("one-too-many",))
    assert looks(any_town) == ["looked.assigned"]


def test_a_crew_sees_skills_too(in_crew):
    in_crew.practise("lena", *["right"] * 6)

    found = see(in_crew, "fred", in_crew.crew)

    assert [line.counted for line in found.skills] == [6, 0, 0]
    assert looks(in_crew) == ["looked.assigned", "looked.readiness"]


def test_slips_that_come_back_show_only_with_practice(in_crew):
    in_crew.practise("lena", "one-too-many", "one-too-many")
    assert see(in_crew, "fred", in_crew.crew).skills[0].mistakes == ()

    share(in_crew, in_crew.crew, "practice")
    assert see(in_crew, "fred", in_crew.crew).skills[0].mistakes == ("one too many",)


def test_withdrawn_work_is_shown_no_more(in_class):
    work = in_class.assign("straps-run")
    in_class.do("ines", withdraw, work, in_class.now)

    assert see(in_class, "ines", in_class.class_).works == ()


def test_after_leaving_the_groups_own_work_stays_and_all_else_closes(in_crew):
    work = in_crew.assign("straps-run", who="fred", group=in_crew.crew)
    in_crew.answer("lena", in_crew.open("lena", work))
    in_crew.do("lena", leave, in_crew.crew, in_crew.now)

    found = see(in_crew, "fred", in_crew.crew)

    assert (found.learner.is_member, found.shares, found.skills) == (False, frozenset(), None)
    assert found.works[0].lines[0].best.came is Came.RIGHT
    with pytest.raises(NotAllowedError):
        evidence(in_crew, "fred", in_crew.crew)


def test_nobody_else_sees_a_member(in_class):
    with pytest.raises(NotAllowedError):
        see(in_class, "lena", in_class.class_)
    for name in ("fred", "otto", "ada", "stranger"):
        with pytest.raises(NotFoundError):
            see(in_class, name, in_class.class_)
    with pytest.raises(NotFoundError):
        in_class.with_library("ines", member, in_class.class_, "public-leo".ljust(22, "x"), now=in_class.now)


def test_evidence_says_what_was_typed_only_with_practice(in_crew):
    practised(in_crew)
    (line,) = evidence(in_crew, "fred", in_crew.crew).answers
    assert (line.verdict, line.typed, line.mistakes) == ("known-mistake", "", ())

    share(in_crew, in_crew.crew, "practice")
    (line,) = evidence(in_crew, "fred", in_crew.crew).answers
    assert line.typed.isdigit()
    assert line.mistakes == ("one too many",)


def test_what_was_typed_in_the_groups_own_work_shows_without_practice(in_crew):
    work = in_crew.assign("straps-run", who="fred", group=in_crew.crew)
    problem = in_crew.open("lena", work)
    in_crew.answer("lena", problem, "one-too-many")

    found = evidence(in_crew, "fred", in_crew.crew)

    assert found.answers[0].typed.isdigit()
    assert found.can_open == {problem}


def test_evidence_needs_readiness_and_a_skill_that_there_is(in_class):
    with pytest.raises(NotAllowedError):
        evidence(in_class, "ines", in_class.class_)
    share(in_class, in_class.class_, "readiness")
    assert evidence(in_class, "ines", in_class.class_).answers == ()
    with pytest.raises(NotFoundError):
        evidence(in_class, "ines", in_class.class_, skill="no.such")


def test_a_problem_of_the_groups_work_is_shown_as_it_was(in_class):
    problem = in_class.open("lena", in_class.assign("straps-run"))
    in_class.answer("lena", problem, "one-too-many")

    found = open_problem(in_class, "ines", in_class.class_, problem)

    assert (found.learner.display_name, found.page.public_id) == ("Lena", problem)
    assert [one.verdict for one in found.page.attempts] == ["known-mistake"]
    assert looks(in_class) == ["looked.assigned"]


def test_a_problem_of_practice_is_shown_with_practice_only(in_crew):
    problem = practised(in_crew)
    assert evidence(in_crew, "fred", in_crew.crew).can_open == frozenset()
    with pytest.raises(NotAllowedError):
        open_problem(in_crew, "fred", in_crew.crew, problem)

    share(in_crew, in_crew.crew, "practice")

    assert evidence(in_crew, "fred", in_crew.crew).can_open == {problem}
    assert open_problem(in_crew, "fred", in_crew.crew, problem).page.public_id == problem
    assert looks(in_crew) == ["looked.practice", "looked.readiness"]


def test_another_groups_work_stays_closed_even_with_practice(in_crew):
    in_crew.join(in_crew.class_, "lena")
    problem = in_crew.open("lena", in_crew.assign("straps-run"))
    in_crew.answer("lena", problem)
    share(in_crew, in_crew.crew, "practice")

    assert evidence(in_crew, "fred", in_crew.crew).can_open == frozenset()
    with pytest.raises(NotFoundError):
        open_problem(in_crew, "fred", in_crew.crew, problem)
