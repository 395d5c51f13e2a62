"""The kinds of assigned work: in the room, at home, on paper; the same numbers for all; more time for one."""

from __future__ import annotations

from datetime import date

import pytest
from sqlalchemy import select

from trainer.accounts.access import NotAllowedError, NotFoundError
from trainer.calc.message import InputError
from trainer.groups.assigned import FamilyCount, assign, work_given_to
from trainer.groups.learner_work import due_work, learner_work
from trainer.groups.more_time import give_more_time, more_time
from trainer.groups.room import end_room, open_room
from trainer.groups.sheets import make_sheets
from trainer.groups.tries import Came
from trainer.progress import practice
from trainer.records.models import Problem

TODAY = date(2026, 9, 7)
KEY = "6f1c1f0e-3a5d-4a41-9c33-2f6f0a6f7c11"


@pytest.fixture
def room(any_town):
    any_town.join(any_town.class_, "lena", "leo")
    return any_town


def give(town, *families, **more):
    asked = [FamilyCount(family) for family in families or ("offset-spacing", "straps-run")]
    wanted = {"title": "Offsets", "families": asked, "due_on": TODAY, "edition": "2023", "now": town.now} | more
    return town.with_library("ines", assign, town.class_, **wanted)


def opened(town, *families, **more):
    work = give(town, *families, kind="room", **more)
    town.do("ines", open_room, work, town.now)
    return work


def end(town, work):
    town.do("ines", end_room, work, town.after(minutes=20).now)
    return town.after(minutes=1)


def seen(town, name, problem, **more):
    with town.database.read() as session:
        return practice.show(session, town.library, town.ids[name], problem, **more)


def row(town, problem):
    with town.database.read() as session:
        found = session.scalars(select(Problem).where(Problem.public_id == problem)).one()
        session.expunge(found)
        return found


def mine(town, name, work):
    return town.with_library(name, learner_work, work, town.now)


def test_what_a_form_gives_twice_counts_once(room):
    assert give(room, form_key=KEY) == give(room, form_key=KEY)
    assert len(room.do("ines", work_given_to, room.class_)) == 1


@pytest.mark.parametrize("day", [date(9999, 12, 31), date(2028, 9, 7), date(1, 1, 1), date(2026, 9, 6)])
def test_a_day_out_of_reach_is_refused_with_one_that_would_do(town, day):
    with pytest.raises(InputError) as refused:
        give(town, due_on=day)

    assert (refused.value.field, refused.value.example) == ("due_on", "2026-09-08")


def test_the_same_numbers_for_all_are_the_same_line_by_line_and_try_by_try(room):
    work = give(room, "offset-spacing", "offset-spacing", same_numbers=True)
    first = {name: [room.open(name, work, line) for line in (1, 2)] for name in ("lena", "leo")}
    again = {}
    for name, problems in first.items():
        room.answer(name, problems[0])
        again[name] = room.open(name, work, 1, new_numbers=True)
    seeds = {name: [row(room, one).seed for one in [*problems, again[name]]] for name, problems in first.items()}

    assert seeds["lena"] == seeds["leo"]
    assert len(set(seeds["lena"])) == 3


def test_other_numbers_for_each_differ(room):
    work = give(room, "offset-spacing")

    assert row(room, room.open("lena", work)).seed != row(room, room.open("leo", work)).seed


def test_the_room_is_shut_until_it_is_opened(room):
    work = give(room, kind="room")
    with pytest.raises(NotAllowedError):
        room.open("lena", work)
    assert room.with_library("lena", due_work, room.now) == []
    room.do("ines", open_room, work, room.now)

    assert row(room, room.open("lena", work)).context == "assigned"
    assert mine(room, "lena", work).in_the_room


def test_in_the_room_one_answer_closes_a_problem_and_the_key_waits_for_the_end(room):
    work = opened(room)
    problem = room.open("lena", work)
    room.answer("lena", problem, "12 in")
    page = seen(room, "lena", problem, now=room.now)

    assert not page.open
    assert page.waits
    assert (page.steps, page.accepted) == ((), ())
    assert room.open("lena", work, new_numbers=True) == problem
    assert seen(room, "lena", problem).accepted  # what its leader sees
    end(room, work)
    assert seen(room, "lena", problem, now=room.now).steps


def test_in_the_room_nobody_is_helped(room):
    problem = room.open("lena", opened(room))
    with room.database.write() as session:
        who = room.ids["lena"]
        with pytest.raises(NotAllowedError):
            practice.hint(session, room.library, who, problem, now=room.now)
        with pytest.raises(NotAllowedError):
            practice.show_steps(session, room.library, who, problem, room.now)


def test_what_is_answered_after_the_end_counts_no_more_and_is_practice(room):
    work = opened(room)
    problem = room.open("lena", work)
    end(room, work)
    room.answer("lena", problem, "12 in")
    page = seen(room, "lena", problem, now=room.now)

    assert page.open  # as in practice: it can be tried again
    assert mine(room, "lena", work).lines[0].best.first is None
    assert row(room, room.open("lena", work, 2)).context == "practice"


def test_a_room_that_was_ended_by_a_slip_is_opened_again(room):
    work = opened(room)
    end(room, work)
    assert mine(room, "lena", work).past_due
    room.do("ines", open_room, work, room.now)

    assert not mine(room, "lena", work).past_due
    room.answer("lena", room.open("lena", work))
    assert mine(room, "lena", work).lines[0].best.came is Came.RIGHT


def test_a_telephone_that_dies_leaves_the_line_where_it_was(room):
    """Whatever asks again gets the same problem, and what was answered stays answered."""
    work = opened(room)
    room.answer("lena", room.open("lena", work, 1))
    second = room.open("lena", work, 2)

    assert room.open("lena", work, 2) == second
    assert [line.best.came for line in mine(room, "lena", work).lines] == [Came.RIGHT, Came.OPEN]


def test_paper_is_opened_by_who_has_a_sheet_and_has_one_problem_a_line(room):
    work = give(room, kind="paper")
    with pytest.raises(NotAllowedError):
        room.open("lena", work)
    assert not mine(room, "lena", work).opened
    room.with_library("ines", make_sheets, work, room.now)
    problem = room.open("lena", work)
    room.answer("lena", problem)

    assert mine(room, "lena", work).opened
    assert room.open("lena", work, new_numbers=True) == problem


def test_a_sheet_has_the_numbers_that_a_telephone_would_have(room):
    work = give(room, "offset-spacing", same_numbers=True)
    by_phone = row(room, room.open("lena", work)).seed
    room.with_library("ines", make_sheets, work, room.now)

    assert row(room, room.open("leo", work)).seed == by_phone


@pytest.mark.parametrize("step", [open_room, end_room])
def test_only_work_in_the_room_is_opened_and_ended(room, step):
    with pytest.raises(NotAllowedError):
        room.do("ines", step, give(room), room.now)


@pytest.mark.parametrize("step", [open_room, end_room])
def test_only_a_leader_opens_and_ends_it(room, step):
    work = give(room, kind="room")
    with pytest.raises(NotAllowedError):
        room.do("lena", step, work, room.now)
    with pytest.raises(NotFoundError):
        room.do("fred", step, work, room.now)


def more(town, work, name="lena", days=5, reason="On the road."):
    who = f"public-{name}".ljust(22, "x")
    ends_on = date.fromordinal(TODAY.toordinal() + days)
    town.do("ines", give_more_time, work, who, ends_on=ends_on, reason=reason, now=town.now)


def test_more_time_is_for_one_person(room):
    work = give(room)
    more(room, work)
    room.after(days=2)
    for name in ("lena", "leo"):
        room.answer(name, room.open(name, work))

    assert (mine(room, "lena", work).lines[0].best.came, mine(room, "lena", work).more_time) == (Came.RIGHT, True)
    assert (mine(room, "leo", work).lines[0].best.came, mine(room, "leo", work).more_time) == (Came.NOT_BEGUN, False)


def test_who_has_more_time_for_the_room_is_helped_only_after_that(room):
    work = opened(room)
    more(room, work)
    end(room, work)
    problem = room.open("lena", work)

    assert seen(room, "lena", problem, now=room.now).waits
    assert not seen(room, "leo", room.open("leo", work), now=room.now).waits


def test_the_time_given_last_counts(room):
    work = give(room)
    more(room, work, days=5)
    more(room, work, days=3, reason="Back earlier.")
    _, lines = room.do("ines", more_time, work)

    assert [(line.display_name, line.reason) for line in lines] == [("Lena", "Back earlier."), ("Leo", "")]


@pytest.mark.parametrize(("field", "slip"), [("reason", {"reason": " "}), ("ends_on", {"days": 0})])
def test_more_time_needs_a_reason_and_a_later_day(room, field, slip):
    work = give(room)
    with pytest.raises(InputError) as refused:
        more(room, work, **slip)

    assert refused.value.field == field


def test_more_time_is_for_members(room):
    work = give(room)
    with pytest.raises(NotFoundError):
        more(room, work, name="stranger")
