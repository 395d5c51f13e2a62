from __future__ import annotations

from copy import copy
from datetime import timedelta

from msgspec.structs import replace

from trainer.progress.lessons import mark_read
from trainer.progress.today import DueWork, Kind, today
from trainer.text.words import say


def due(desk, days_left):
    due_at = desk.now + timedelta(days=days_left)
    return DueWork("work", "Offsets for Thursday", "Tuesday class", due_at, "America/Chicago", days_left, 1, 4)


def look(desk, *works):
    with desk.database.read() as session:
        return today(session, desk.library, desk.person_id, desk.now, due=works)


def test_a_newcomer_practises_the_skill_that_is_taught_first(desk):
    first = look(desk).first

    assert (first.kind, first.skill, first.title) == (Kind.PRACTICE, "supports.straps", "Supports")
    assert say(first.why) == "“Supports” is new to you."


def test_an_open_problem_comes_before_everything(desk):
    problem = desk.issue()
    found = look(desk, due(desk, 0))

    assert (found.first.kind, found.first.problem) == (Kind.GO_ON, problem)
    assert found.first.title == desk.show(problem).title
    assert [thing.kind for thing in found.others] == [Kind.ASSIGNED, Kind.PRACTICE, Kind.PLACEMENT]


def test_work_that_is_open_in_the_room_comes_before_even_that(desk):
    desk.issue()
    found = look(desk, due(desk, 0), replace(due(desk, 9), in_the_room=True, work="together"))

    assert (found.first.kind, found.first.work) == (Kind.ASSIGNED, "together")
    assert say(found.first.why) == "Open now in the room, Tuesday class: 3 of 4 still to answer."
    assert [thing.kind for thing in found.others][:2] == [Kind.GO_ON, Kind.ASSIGNED]


def test_assigned_work_that_is_due_soon_comes_next(desk):
    first = look(desk, due(desk, 3)).first

    assert (first.kind, first.work, first.title) == (Kind.ASSIGNED, "work", "Offsets for Thursday")
    assert say(first.why) == "Tuesday class expects it in 3 days: 3 of 4 still to answer."
    assert say(look(desk, due(desk, 0)).first.why).startswith("Tuesday class expects it today")


def test_assigned_work_that_has_time_waits_behind_practice(desk):
    found = look(desk, due(desk, 4))

    assert found.first.kind is Kind.PRACTICE
    assert found.others[-1].work == "work"


def test_the_lesson_of_a_new_skill_is_read_before_its_questions(desk):
    desk.practise(*["right"] * 3, skill="supports.straps")
    found = look(desk)

    assert (found.first.kind, found.first.lesson, found.first.minutes) == (Kind.LESSON, "offset-bends", 5)
    assert say(found.first.why) == "“Offsets” is new to you. Read this first; the questions come after it."
    assert found.others[0].skill == "bends.offset"


def test_a_lesson_once_read_makes_room_for_practice(desk):
    desk.practise(*["right"] * 3, skill="supports.straps")
    with desk.database.write() as session:
        mark_read(session, desk.library, desk.person_id, "offset-bends", desk.now)

    assert (look(desk).first.kind, look(desk).first.skill) == (Kind.PRACTICE, "bends.offset")


def test_practice_is_what_the_chooser_would_issue(desk):
    for _ in range(6):
        desk.practise("right")
    first = look(desk).first
    desk.issue()

    assert desk.show(look(desk).first.problem).skill == first.skill


def test_a_shelf_without_questions_asks_for_nothing(desk, library):
    desk.library = copy(library)
    desk.library.__dict__ |= {"families": {}, "_of_skill": {}}

    assert look(desk).first is None
