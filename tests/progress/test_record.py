from __future__ import annotations

from datetime import UTC, datetime

from trainer.progress.record import skills_of, skills_of_people, words_for
from trainer.progress.skill import SkillState
from trainer.text.words import say

NOON = datetime(2026, 9, 7, 12, 0, tzinfo=UTC)


def line(desk, skill="supports.straps"):
    with desk.database.read() as session:
        return next(one for one in skills_of(session, desk.library, desk.person_id, desk.now) if one.skill == skill)


def test_the_sentence_for_a_shop_owner_is_the_printed_one():
    """The worked example of the model in words: after eight answers on three days."""
    state = SkillState(level=1.364, variance=0.585, holding_days=12.5, counted=8, last_at=NOON)

    assert say(words_for("Offsets", state, answered_days=3, days=0.0)) == (
        "Offsets: about 8 right of 10 today, likely between 5 and 9. From 8 answers on 3 days. "
        "Left alone, about 7 of 10 in a month."
    )


def test_every_skill_with_questions_has_a_line_in_the_order_of_the_shelf_also_before_the_first_answer(desk):
    with desk.database.read() as session:
        lines = skills_of(session, desk.library, desk.person_id, desk.now)

    assert [one.skill for one in lines] == list(desk.library.skills)
    assert say(lines[0].words) == "Supports: not begun."
    assert (lines[0].counted, lines[0].days, lines[0].last_at, lines[0].chance) == (0, 0, None, None)


def test_below_five_answers_no_number_is_said(desk):
    desk.practise(*["right"] * 4, family_id="straps-run")
    early = line(desk)

    assert say(early.words) == "Supports: too early to say, with 4 answers so far."
    assert (early.chance, early.low, early.high, early.in_a_month) == (None, None, None, None)
    assert (early.counted, early.days) == (4, 1)


def test_from_five_answers_on_it_says_how_many_and_on_how_many_days(desk):
    desk.practise("right", "right", "one-too-many", family_id="straps-run")
    desk.after(days=3).practise("right", family_id="straps-run")
    desk.after(days=9).practise("right", "right", family_id="straps-run")
    known = line(desk)

    assert (known.counted, known.days) == (6, 3)
    assert known.low < known.chance < known.high
    assert known.in_a_month < known.chance
    assert "From 6 answers on 3 days." in say(known.words)


def test_days_fade_the_number_without_anything_being_written(desk):
    desk.practise(*["right"] * 8, family_id="straps-run")
    today = line(desk).chance
    desk.after(days=60)

    assert line(desk).chance < today


def test_a_mistake_of_the_present_is_named(desk):
    desk.practise("one-too-many", "one-too-many", family_id="straps-run")

    assert line(desk).mistakes == ("one too many",)


def test_where_both_ends_are_the_same_tenth_no_range_is_said():
    state = SkillState(level=6.0, variance=0.2, holding_days=90.0, counted=200, last_at=NOON)

    assert say(words_for("Offsets", state, answered_days=80, days=0.0)) == (
        "Offsets: about 10 right of 10 today. From 200 answers on 80 days. Left alone, about 10 of 10 in a month."
    )


def test_several_people_are_read_at_once_and_each_for_himself(desk, another_desk):
    desk.practise(*["right"] * 6, family_id="straps-run")
    with desk.database.read() as session:
        people = [desk.person_id, another_desk.person_id]
        lines = skills_of_people(session, desk.library, people, desk.now)

    assert [one.counted for one in lines[desk.person_id]] == [6, 0, 0]
    assert [one.counted for one in lines[another_desk.person_id]] == [0, 0, 0]
