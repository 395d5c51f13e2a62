"""What comes in from work in the room: the tally right to the person, what there is to say, and who needs help."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from trainer.accounts.access import NotAllowedError, group_led_by
from trainer.calc.message import Message
from trainer.groups.assigned import FamilyCount, assign, withdraw
from trainer.groups.gets_wrong import got_wrong
from trainer.groups.membership import leave
from trainer.groups.room import end_room, open_room, room
from trainer.text.words import say

from .conftest import MONDAY
from .test_statements import see

NAMES = [f"learner-{nth}" for nth in range(8)]
#: Known mistakes of the two families, whatever numbers are drawn.
SINE, ONE_TOO_MANY = "sine-for-cosecant", "one-too-many"


@pytest.fixture
def full(any_town):
    """A class of eight, and work that is open in the room: two questions on offsets, one on straps."""
    town = any_town
    for name in NAMES:
        town.add(name)
    town.join(town.class_, *NAMES)
    asked = [FamilyCount("offset-spacing", 2), FamilyCount("straps-run")]
    more = {"title": "Tonight", "families": asked, "due_on": date(2026, 9, 7), "kind": "room", "same_numbers": True}
    town.work = town.with_library("ines", assign, town.class_, **more, edition="2023", now=town.now)
    town.do("ines", open_room, town.work, town.now)
    return town


def answer(town, names, given, position=1):
    for name in names:
        town.answer(name, town.open(name, town.work, position), given)


def comes_in(town):
    return town.with_library("ines", room, town.work, town.now)


@pytest.mark.parametrize(("minutes", "due"), [(0, 1), (718, 1), (719.5, 2)])
def test_it_lasts_until_the_end_of_the_day_on_which_it_is_opened(town, minutes, due):
    town.join(town.class_, "lena")
    work = town.assign("straps-run", kind="room", due_in=6)
    # It is noon in Chicago, twelve hours before midnight.
    town.after(minutes=minutes)
    town.do("ines", open_room, work, town.now)

    found = town.with_library("ines", room, work, town.now)
    assert found.state == "open"
    assert found.work.due_at == MONDAY.replace(hour=4, minute=59) + timedelta(days=due)


def test_nothing_has_come_in_yet(full):
    found = comes_in(full)

    assert (found.state, found.people, found.begun, found.answers) == ("open", 8, 0, 0)
    assert (found.slips, found.helped) == ((), ())
    assert len(found.not_begun) == 8


def test_the_tally_counts_people_and_leads_with_the_most_frequent(full):
    answer(full, NAMES[:5], SINE)
    answer(full, NAMES[5:], "right")
    answer(full, NAMES[:1], SINE, position=2)
    answer(full, NAMES[:2], ONE_TOO_MANY, position=3)
    answer(full, NAMES[2:3], "right", position=3)
    found = comes_in(full)

    counts = [(slip.line.mistake, slip.line.people, slip.line.of) for slip in found.slips]
    assert counts == [(SINE, 5, 8), (ONE_TOO_MANY, 2, 3)]
    assert say(found.slips[0].line.words).startswith("5 of 8")
    assert [(line.answered, line.right) for line in found.lines] == [(8, 3), (1, 0), (3, 1)]
    assert (found.begun, found.done, found.answers) == (8, 1, 12)


def test_the_wall_tells_no_mistake_of_a_question_that_somebody_is_still_at(full):
    answer(full, NAMES[:7], SINE)
    answer(full, NAMES[:7], "right", position=2)
    answer(full, NAMES, ONE_TOO_MANY, position=3)
    assert [one.mistake for one in comes_in(full).wall] == [ONE_TOO_MANY]

    answer(full, NAMES[7:], "right")
    assert [one.mistake for one in comes_in(full).wall] == [ONE_TOO_MANY]
    answer(full, NAMES[7:], "right", position=2)
    assert [one.mistake for one in comes_in(full).wall] == [ONE_TOO_MANY, SINE]


def test_once_it_is_ended_the_wall_tells_every_mistake(full):
    answer(full, NAMES[:1], SINE)
    assert comes_in(full).wall == ()
    full.do("ines", end_room, full.work, full.now)

    assert [one.mistake for one in comes_in(full).wall] == [SINE]


def test_what_there_is_to_say_is_what_the_program_says(full):
    answer(full, NAMES[:1], SINE)
    found = comes_in(full)

    assert "You multiplied by the sine" in found.slips[0].say_html


def test_who_needs_help_is_named_with_the_reason(full):
    answer(full, NAMES[:1], SINE)
    answer(full, NAMES[:1], SINE, position=2)
    answer(full, NAMES[1:2], SINE)
    full.open(NAMES[2], full.work)
    full.after(minutes=7)
    found = comes_in(full)

    assert [one.display_name for one in found.helped] == ["Learner-0", "Learner-2"]
    assert [why.id for why in found.helped[0].why] == ["room.not-right", "room.twice"]
    assert found.helped[1].why == (Message("room.stuck", {"nth": 1, "minutes": 7}),)


def test_who_has_answered_is_not_stuck(full):
    answer(full, NAMES[:1], "right")
    full.after(minutes=7)

    assert comes_in(full).helped == ()


def test_the_screen_sends_no_more_statements_when_more_answer(full):
    few = see(full, "ines", room, full.work, full.now)
    answer(full, NAMES[:6], SINE)
    answer(full, NAMES[:6], ONE_TOO_MANY, position=3)

    assert see(full, "ines", room, full.work, full.now) == few == 6


def test_work_that_was_taken_back_has_no_screen(full):
    full.do("ines", withdraw, full.work, full.now)
    with pytest.raises(NotAllowedError):
        comes_in(full)


def test_what_the_class_gets_wrong_has_most_people_first(full):
    answer(full, NAMES[:2], SINE)
    answer(full, NAMES[2:], "right")
    answer(full, NAMES[:3], ONE_TOO_MANY, position=3)
    with full.database.read() as session:
        group = group_led_by(session, full.actor("ines"), full.class_)
        found = got_wrong(session, full.library, group, full.now)

    assert [(one.family_id, one.wrong, one.of) for one in found] == [("straps-run", 3, 3), ("offset-spacing", 2, 8)]
    assert say(found[0].slips[0]).startswith("3 of 3")


def test_who_has_left_is_in_the_room_no_more(full):
    answer(full, NAMES[:2], SINE)
    full.do(NAMES[0], leave, full.class_, full.now)

    found = comes_in(full)
    assert (found.people, found.begun, found.answers) == (7, 1, 1)
    assert [(line.people, line.of) for line in (one.line for one in found.slips)] == [(1, 1)]
    assert found.lines[0].answered == 1


def test_ended_by_a_slip_it_goes_on_until_somebody_answers_as_practice(full):
    problem = full.open(NAMES[0], full.work)
    full.do("ines", end_room, full.work, full.now)
    full.after(minutes=1)
    full.do("ines", open_room, full.work, full.now)
    assert comes_in(full).state == "open"

    full.do("ines", end_room, full.work, full.now)
    full.after(minutes=1)
    full.answer(NAMES[0], problem, SINE)
    with pytest.raises(NotAllowedError) as refused:
        full.do("ines", open_room, full.work, full.now)
    assert "as practice since it was ended" in say(refused.value.reason)
    assert comes_in(full).answers == 0
