from __future__ import annotations

from random import Random

import pytest
from msgspec.structs import replace
from sqlalchemy import select

from trainer.progress.constants import CURRENT
from trainer.progress.replay import rebuild, rebuild_all, replay
from trainer.progress.states import as_state
from trainer.records.models import Answer, Grading, MistakeHistory, SkillState


def live(desk, problems=60):
    """Weeks of practice by chance: all kinds of answers, hints, gaps, steps, lessons."""
    draw = Random(11)
    for nth in range(problems):
        lesson = {"family_id": "offset-shrink", "context": "lesson", "lesson_id": "offset-bends"}
        problem = desk.after(hours=draw.choice([0.05, 0.1, 9, 30, 200])).issue(**(lesson if nth % 9 == 4 else {}))
        if draw.random() < 0.2:
            desk.hint(problem)
        routes = [route.id for route in desk.problem(problem).mistakes]
        for _ in range(draw.choice([0, 0, 1, 2])):
            desk.answer(problem, desk.wrong(problem, draw.choice(routes)) if routes and draw.random() < 0.6 else "1")
        if draw.random() < 0.8:
            desk.answer(problem, desk.right(problem))
        else:
            draw.choice([desk.give_up, desk.show_steps])(problem)


def turns(row):
    return row.last_turn, tuple(row.recent_families)


def kept(desk):
    """All that the record holds, to the last bit."""
    states = [
        (
            row.skill,
            row.level.hex(),
            row.variance.hex(),
            row.holding_days.hex(),
            row.counted,
            row.last_at,
            row.lapsed_at,
            turns(row),
        )
        for row in desk.rows(SkillState)
    ]
    histories = [
        (row.family_id, row.mistake_id, row.skill, row.bits, row.seen, row.right_at, row.right_before_at)
        for row in desk.rows(MistakeHistory)
    ]
    return sorted(states), sorted(histories)


def test_the_fold_over_gradings_finds_the_same_bits(any_desk):
    live(any_desk)
    with any_desk.database.read() as session:
        states = replay(session, any_desk.person_id).states

    assert states == {row.skill: as_state(row) for row in any_desk.rows(SkillState) if row.counted}
    assert len(any_desk.rows(Answer)) > 60


def test_rebuilding_changes_nothing_where_nothing_was_regraded(any_desk):
    live(any_desk)
    before = kept(any_desk)
    with any_desk.database.write() as session:
        rebuild(session, any_desk.person_id)

    assert kept(any_desk) == before


def test_a_record_that_was_lost_comes_back(any_desk):
    live(any_desk, 20)
    before = kept(any_desk)
    with any_desk.database.write() as session:
        for table in (SkillState, MistakeHistory):
            for row in session.scalars(select(table)):
                session.delete(row)
    with any_desk.database.write() as session:
        rebuild(session, any_desk.person_id)

    assert kept(any_desk) == before


def test_each_answer_kept_the_level_that_its_update_began_with(desk):
    """A replay that strays would be seen at the first answer where it does."""
    live(desk)
    with desk.database.read() as session:
        answers = session.scalars(select(Answer).order_by(Answer.sequence)).all()

    assert answers[0].start_level == 0.3
    assert len({answer.start_level for answer in answers}) > 10


def test_a_later_grading_counts_instead_of_the_first(desk):
    problem = desk.issue(family_id="offset-spacing")
    desk.answer(problem, "1 in")
    with desk.database.write() as session:
        first = session.scalars(select(Grading)).one()
        session.add(Grading(answer_id=first.answer_id, sequence=2, verdict="right", mistakes=[], graded_at=desk.now))
    with desk.database.write() as session:
        rebuild(session, desk.person_id)

    assert desk.rows(SkillState)[0].level > 0.6
    assert desk.show(problem).last.verdict == "right"
    assert desk.rows(MistakeHistory)[0].right_at == desk.now


def test_a_skill_with_a_turn_and_no_answer_keeps_its_turn(desk):
    desk.issue(skill="bends.offset")
    before = kept(desk)
    with desk.database.write() as session:
        rebuild(session, desk.person_id)

    assert kept(desk) == before


def test_everybody_is_rebuilt(desk, another_desk):
    desk.practise("right", "right", family_id="straps-run")
    another_desk.practise("one-too-many", family_id="straps-run")
    before = kept(desk), kept(another_desk)
    with desk.database.write() as session:
        assert rebuild_all(session) == 2

    assert (kept(desk), kept(another_desk)) == before


def test_each_answer_is_folded_with_the_table_that_its_update_used(desk, monkeypatch):
    desk.practise("right", family_id="straps-run")
    quick = replace(CURRENT, gain=0.9)
    monkeypatch.setattr("trainer.progress.replay.VERSIONS", {1: quick, 2: CURRENT})
    with desk.database.read() as session:
        level = replay(session, desk.person_id).states["supports.straps"].level

    assert level - desk.rows(SkillState)[0].level == pytest.approx(0.9 - 0.12)
