from __future__ import annotations

from copy import copy
from threading import Barrier, Thread

import pytest

from trainer.accounts.access import NotFoundError
from trainer.progress.issue import issue, seed_for
from trainer.records.models import Problem, SkillState


def test_the_first_problem_is_of_the_skill_that_is_taught_first(any_desk):
    any_desk.issue()
    problem = any_desk.rows(Problem)[0]

    assert problem.skill == "supports.straps"
    assert problem.why == {"id": "progress.why.new", "params": {"skill": "Supports"}}
    assert problem.edition == "2023"


def test_an_open_problem_of_the_same_kind_is_given_back(desk):
    first = desk.issue()

    assert desk.issue() == first
    assert desk.issue(skill="supports.straps") == first
    assert len(desk.rows(Problem)) == 1


def test_another_skill_family_or_context_is_another_problem(desk):
    issued = [
        desk.issue(),
        desk.issue(skill="bends.offset"),
        desk.issue(family_id="offset-shrink"),
        desk.issue(family_id="offset-shrink", context="lesson", lesson_id="offset-bends"),
    ]

    assert len(set(issued)) == 4
    assert desk.issue(family_id="offset-shrink", context="lesson", lesson_id="offset-bends") == issued[3]


def test_the_same_person_gets_the_same_numbers_at_the_same_place(desk, another_desk):
    for one in (desk, another_desk):
        one.practise("right", "right", family_id="offset-spacing")
    seeds = [[row.seed for row in one.rows(Problem)] for one in (desk, another_desk)]

    assert seeds[0] == [seed_for("public-pat", 1), seed_for("public-pat", 2)]
    assert seeds[1] == [seed_for("public-sam", 1), seed_for("public-sam", 2)]
    assert seeds[0] != seeds[1]


def test_new_numbers_of_a_family_come_after_the_old_ones_are_done(desk):
    first = desk.practise("right", family_id="offset-spacing")
    second = desk.issue(family_id="offset-spacing")

    assert first != second
    assert desk.problem(first).numbers != desk.problem(second).numbers


def test_a_chosen_skill_has_its_family_chosen_by_the_program(desk):
    desk.practise("right", "right", "right", skill="bends.offset")
    families = [row.family_id for row in desk.rows(Problem)]

    assert len(set(families)) == 3
    assert desk.rows(Problem)[0].why == {"id": "progress.why.asked", "params": {"skill": "Offsets"}}


def test_a_mistake_made_twice_brings_its_family_back_and_says_so(desk):
    desk.practise("spacing-for-shrink", "spacing-for-shrink", family_id="offset-shrink")
    desk.practise("right", family_id="offset-first-mark")
    desk.practise("right", family_id="offset-second-mark")
    desk.practise("right", family_id="offset-spacing")
    desk.issue(skill="bends.offset")
    newest = desk.rows(Problem)[-1]

    assert newest.family_id == "offset-shrink"
    assert newest.why["id"] == "progress.why.mistake"
    assert newest.why["params"]["mistake"] == "spacing for shrink"


def test_turns_and_last_families_are_kept_for_the_choice(desk):
    desk.practise("right", family_id="offset-spacing")
    desk.practise("right", family_id="straps-run")
    desk.practise("right", "right", family_id="offset-shrink")
    turns = {row.skill: (row.last_turn, row.recent_families) for row in desk.rows(SkillState)}

    assert turns == {
        "bends.offset": (4, ["offset-spacing", "offset-shrink", "offset-shrink"]),
        "supports.straps": (2, ["straps-run"]),
    }


def test_the_chooser_alone_visits_every_skill(desk):
    for _ in range(12):
        desk.practise("right")

    assert {row.skill for row in desk.rows(SkillState)} == set(desk.library.skills)


@pytest.mark.parametrize(
    "wanted",
    [
        {"skill": "no.such"},
        {"family_id": "no-such"},
        {"family_id": "\x00"},
        {"family_id": "straps-run", "context": "lesson", "lesson_id": "no-such"},
    ],
)
def test_what_is_not_on_the_shelf_is_not_found(desk, wanted):
    with pytest.raises(NotFoundError):
        desk.issue(**wanted)


def test_a_line_of_assigned_work_that_is_none_is_not_found(desk):
    with pytest.raises(NotFoundError):
        desk.issue(context="assigned", assigned_family_id=99)


def test_codes_are_different(desk):
    desk.practise("right", "right", "right", family_id="straps-run")

    assert len({row.code for row in desk.rows(Problem)}) == 3


def test_a_code_that_is_taken_is_made_again(desk, monkeypatch):
    codes = iter(["22222222", "22222222", "33333333"])
    monkeypatch.setattr("trainer.progress.issued.new_code", lambda: next(codes))
    desk.practise("right", family_id="straps-run")
    desk.issue(family_id="straps-run")

    assert [row.code for row in desk.rows(Problem)] == ["22222222", "33333333"]


def test_a_form_for_a_new_problem_sent_twice_at_once_gives_one(any_desk):
    start, found = Barrier(2), []

    def post():
        start.wait()
        with any_desk.database.write() as session:
            found.append(issue(session, any_desk.library, any_desk.person_id, now=any_desk.now, edition="2023"))

    threads = [Thread(target=post) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(set(found)) == 1
    assert len(any_desk.rows(Problem)) == 1


def test_a_shelf_without_questions_has_no_problem_to_give(desk, library):
    desk.library = copy(library)
    desk.library.__dict__ |= {"families": {}, "_of_skill": {}}

    with pytest.raises(NotFoundError):
        desk.issue()
