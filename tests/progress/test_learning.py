from __future__ import annotations

import pytest
from sqlalchemy import select

from trainer.progress.difficulties import centred_difficulties, difficulty_of
from trainer.progress.habits import active_mistakes
from trainer.records.models import Answer, FamilyDifficulty, MistakeHistory, SkillState


def difficulties(desk):
    with desk.database.read() as session:
        rows = session.scalars(select(FamilyDifficulty).where(FamilyDifficulty.counted > 0))
        return {row.family_id: (row.difficulty, row.counted) for row in rows}


def test_beginners_say_nothing_about_a_family(desk):
    desk.practise(*["right"] * 5, family_id="straps-run")

    assert difficulties(desk) == {}


def test_from_the_sixth_answer_on_a_family_learns(any_desk):
    any_desk.practise(*["right"] * 6, family_id="straps-run")
    difficulty, counted = difficulties(any_desk)["straps-run"]

    assert counted == 1
    assert difficulty == pytest.approx(-0.5 * (1 - any_desk.rows(Answer)[-1].chance_before))


def test_hints_second_tries_giving_up_and_lessons_say_nothing(desk):
    desk.practise(*["right"] * 5, skill="bends.offset")
    hinted = desk.issue(family_id="offset-spacing")
    desk.hint(hinted)
    desk.answer(hinted, desk.right(hinted))
    desk.give_up(desk.issue(family_id="offset-shrink"))
    lesson = desk.issue(family_id="offset-shrink", context="lesson")
    desk.answer(lesson, desk.right(lesson))

    assert difficulties(desk) == {}

    twice = desk.issue(family_id="offset-spacing")
    desk.answer(twice, "1 in")
    desk.answer(twice, desk.right(twice))

    assert difficulties(desk)["offset-spacing"][1] == 1


def test_difficulties_are_read_against_the_mean_of_the_shelf(desk):
    desk.practise(*["right"] * 7, family_id="straps-run")
    with desk.database.read() as session:
        found = centred_difficulties(session, desk.library, ["supports.straps"])
        one = difficulty_of(session, desk.library, desk.library.families["straps-run"])

    assert sum(found.values()) == pytest.approx(0)
    assert found["straps-run"] == one < 0 < found["straps-safe"]


def test_a_new_skill_starts_by_what_the_others_say(desk):
    desk.practise(*["right"] * 8, family_id="straps-run")
    desk.practise("right", family_id="offset-spacing")
    lead = next(row for row in desk.rows(Answer) if row.sequence == 9).start_level - 0.3

    assert 0.1 < lead < 1


def test_a_mistake_that_comes_twice_is_active_until_it_was_right_on_two_days(any_desk):
    any_desk.practise("one-too-many", "one-too-many", family_id="straps-run")
    assert active(any_desk) == {"supports.straps": {"one-too-many": "one too many"}}

    any_desk.practise("right", "right", family_id="straps-run")
    assert active(any_desk)

    any_desk.after(days=1).practise("right", family_id="straps-run")
    assert not active(any_desk)


def active(desk):
    with desk.database.read() as session:
        return active_mistakes(session, desk.person_id)


def test_only_the_first_try_is_remembered(desk):
    problem = desk.issue(family_id="straps-run")
    desk.answer(problem, "1")
    desk.answer(problem, desk.wrong(problem, "one-too-many"))
    row = desk.rows(MistakeHistory)[0]

    assert (row.bits, row.seen) == (0, 1)


def test_every_mistake_that_the_numbers_could_have_shown_is_noted(desk):
    problem = desk.issue(family_id="offset-first-mark")
    desk.answer(problem, desk.wrong(problem, "shrink-subtracted"))
    bits = {row.mistake_id: (row.bits, row.seen) for row in desk.rows(MistakeHistory)}

    assert bits == {"shrink-left-out": (0, 1), "shrink-subtracted": (1, 1)}


def test_a_record_that_was_lost_begins_anew_with_the_next_answer(desk):
    problem = desk.issue(family_id="straps-run")
    with desk.database.write() as session:
        session.delete(session.scalars(select(SkillState)).one())
    desk.answer(problem, desk.right(problem))

    assert [row.counted for row in desk.rows(SkillState)] == [1]
