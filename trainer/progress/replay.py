"""
The record rebuilt from the answers: skill states and memories of mistakes are a fold over gradings in sequence.

An answer keeps what its update used, so the fold finds the same bits. Where a later grading has replaced a verdict, it
finds the record as it is with the later one. Turns hang on no answer, so they stay as they are kept; a record that was
lost gets them from the issued problems.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable

from msgspec import Struct, field
from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from trainer.problems.model import VerdictKind
from trainer.progress.constants import VERSIONS
from trainer.progress.effect import TELLS_NOTHING, effect_of, tried_at
from trainer.progress.evidence import latest_gradings
from trainer.progress.habits import keep_history
from trainer.progress.lapse import with_lapse
from trainer.progress.mistakes import History, remember
from trainer.progress.skill import SkillState, fresh, update
from trainer.progress.states import keep, new_row, take_turn
from trainer.records import models
from trainer.records.locks import locked

__all__ = [
    "MistakeKey",
    "Replayed",
    "rebuild",
    "rebuild_all",
    "rebuild_people",
    "replay",
    "replay_people",
    "states_after",
]


class MistakeKey(Struct, frozen=True):
    """Which memory: a known mistake of a family, and the skill that it counts for."""

    skill: str
    family_id: str
    mistake_id: str


class Replayed(Struct):
    """
    A person's record as the answers give it.

    Args:
        states: Skill states by skill; only skills with a counted answer.
        histories: Memories of known mistakes.
    """

    states: dict[str, SkillState] = field(default_factory=dict)
    histories: dict[MistakeKey, History] = field(default_factory=dict)


def replay(session: Session, person_id: int) -> Replayed:
    """Fold all answers of a person, in sequence; writes nothing."""
    return replay_people(session, [person_id])[person_id]


def replay_people(session: Session, people: Collection[int]) -> dict[int, Replayed]:
    """The same for several people, with one query; writes nothing."""
    folded = {person_id: Replayed() for person_id in people}
    query = latest_gradings().where(models.Answer.person_id.in_(people))
    query = query.order_by(models.Answer.person_id, models.Answer.sequence)
    for answer, grading, problem in session.execute(query):
        replayed = folded[answer.person_id]
        _fold_state(replayed, answer, grading, problem)
        if answer.attempt == 1 and grading.verdict not in TELLS_NOTHING:
            _fold_mistakes(replayed, answer, grading, problem)
    return folded


def states_after(session: Session, person_id: int, skill: str) -> list[SkillState]:
    """The state of one skill after each of its counted answers, in their order; writes nothing."""
    replayed, states = Replayed(), list[SkillState]()
    query = latest_gradings().where(models.Answer.person_id == person_id, models.Problem.skill == skill)
    for answer, grading, problem in session.execute(query.order_by(models.Answer.sequence)):
        _fold_state(replayed, answer, grading, problem)
        state = replayed.states.get(skill)
        if state is not None and (not states or state.counted > states[-1].counted):
            states.append(state)
    return states


def rebuild(session: Session, person_id: int) -> Replayed:
    """
    Replace the kept record of a person by the one that the answers give.

    Args:
        session: A write session.
        person_id: Whose.
    """
    return rebuild_people(session, [person_id])[person_id]


def rebuild_people(session: Session, people: Collection[int]) -> dict[int, Replayed]:
    """The same for several people, with as many statements as for one. They are locked in the order of their ids."""
    person = models.Person
    answered = set()
    for one in session.scalars(locked(select(person).where(person.id.in_(people)).order_by(person.id))):
        one.rebuilt += 1
        if one.answers_given:
            answered.add(one.id)
    folded = replay_people(session, people)
    turns = _turns(session, people, answered)
    for table in (models.SkillState, models.MistakeHistory):
        session.execute(delete(table).where(table.person_id.in_(people)))
    states = [row for one in people for row in _state_rows(turns[one], one, folded[one])]
    histories = [
        _history_row(person_id, key, history)
        for person_id in people
        for key, history in folded[person_id].histories.items()
    ]
    for table, rows in ((models.SkillState, states), (models.MistakeHistory, histories)):
        if rows:
            session.execute(insert(table), [_values(row) for row in rows])
    return folded


def rebuild_all(session: Session) -> int:
    """Rebuild everybody's record, for a new version of the model; how many people that were."""
    people = session.scalars(select(models.Person.id).order_by(models.Person.id)).all()
    for person_id in people:
        rebuild(session, person_id)
        session.expire_all()
    return len(people)


def _fold_state(replayed: Replayed, answer: models.Answer, grading: models.Grading, problem: models.Problem) -> None:
    constants = VERSIONS[answer.constants_version]
    tried = tried_at(answer.attempt, hints=answer.hints_seen, steps=answer.steps_seen)
    effect = effect_of(grading.verdict, tried, in_lesson=problem.context == "lesson", constants=constants)
    before = replayed.states.get(problem.skill) or fresh(answer.start_level, constants)
    after = update(
        before,
        effect,
        difficulty=answer.difficulty,
        days=answer.days,
        lucky=answer.lucky,
        now=answer.answered_at,
        constants=constants,
    )
    if effect.counts:
        replayed.states[problem.skill] = with_lapse(before, after, constants)


def _fold_mistakes(replayed: Replayed, answer: models.Answer, grading: models.Grading, problem: models.Problem) -> None:
    right = grading.verdict == VerdictKind.RIGHT
    for mistake in {mistake["id"] for mistake in problem.drawn["mistakes"]}:
        key = MistakeKey(problem.skill, problem.family_id, mistake)
        history = replayed.histories.get(key, History())
        shown = mistake in grading.mistakes
        replayed.histories[key] = remember(history, shown=shown, right=right, at=answer.answered_at)


def _turns(
    session: Session, people: Collection[int], answered: Collection[int]
) -> dict[int, dict[str, models.SkillState]]:
    """New rows that know the turns of each skill: those that were kept, and for who answered and has none the counted ones."""
    rows: dict[int, dict[str, models.SkillState]] = {person_id: {} for person_id in people}
    table = models.SkillState
    query = select(table.person_id, table.skill, table.last_turn, table.recent_families)
    for person_id, skill, last_turn, families in session.execute(query.where(table.person_id.in_(people))):
        row = rows[person_id][skill] = new_row(person_id, skill)
        row.last_turn, row.recent_families = last_turn, list(families)
    if lost := [person_id for person_id in answered if not rows[person_id]]:
        _count_turns(session, lost, rows)
    return rows


def _count_turns(session: Session, people: Collection[int], rows: dict[int, dict[str, models.SkillState]]) -> None:
    """The turns as each person's problems tell them, in the order of issue. One that was only printed looks like any other."""
    turns = Counter[int]()
    table = models.Problem
    query = select(table.person_id, table.skill, table.family_id).where(table.person_id.in_(people))
    for person_id, skill, family_id in session.execute(query.order_by(table.id)):
        turns[person_id] += 1
        row = rows[person_id].setdefault(skill, new_row(person_id, skill))
        take_turn(row, family_id, turns[person_id])


def _state_rows(rows: dict[str, models.SkillState], person_id: int, replayed: Replayed) -> Iterable[models.SkillState]:
    for skill, state in replayed.states.items():
        keep(rows.setdefault(skill, new_row(person_id, skill)), state)
    return rows.values()


def _values(row: models.SkillState | models.MistakeHistory) -> dict[str, object]:
    """What a new row holds, for an insert of many at once."""
    return {name: value for name, value in vars(row).items() if name in row.__table__.columns}


def _history_row(person_id: int, key: MistakeKey, history: History) -> models.MistakeHistory:
    row = models.MistakeHistory(
        person_id=person_id, skill=key.skill, family_id=key.family_id, mistake_id=key.mistake_id
    )
    keep_history(row, history)
    return row
