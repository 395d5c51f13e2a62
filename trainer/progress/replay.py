"""
The record rebuilt from the answers: skill states and memories of mistakes are a fold over gradings in sequence.

An answer keeps what its update used, so the fold finds the same bits. Where a later grading has replaced a verdict, it
finds the record as it is with the later one. Turns are read from the issued problems.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from trainer.problems.model import VerdictKind
from trainer.progress.constants import VERSIONS
from trainer.progress.effect import effect_of, tried_at
from trainer.progress.evidence import latest_gradings
from trainer.progress.habits import keep_history
from trainer.progress.mistakes import History, remember
from trainer.progress.skill import SkillState, fresh, update
from trainer.progress.states import keep, new_row, take_turn
from trainer.records import models
from trainer.records.locks import lock_person

__all__ = ["Replayed", "rebuild", "rebuild_all", "replay", "states_after"]


@dataclass(frozen=True, slots=True)
class MistakeKey:
    """Which memory: a known mistake of a family, and the skill that it counts for."""

    skill: str
    family_id: str
    mistake_id: str


@dataclass(slots=True)
class Replayed:
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
    replayed = Replayed()
    query = latest_gradings().where(models.Answer.person_id == person_id).order_by(models.Answer.sequence)
    for answer, grading, problem in session.execute(query):
        _fold_state(replayed, answer, grading, problem)
        if answer.attempt == 1:
            _fold_mistakes(replayed, answer, grading, problem)
    return replayed


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
    lock_person(session, person_id)
    replayed = replay(session, person_id)
    for table in (models.SkillState, models.MistakeHistory):
        session.execute(delete(table).where(table.person_id == person_id))
    rows = _turns(session, person_id)
    for skill, state in replayed.states.items():
        keep(rows.setdefault(skill, new_row(person_id, skill)), state)
    session.add_all(rows.values())
    session.add_all(_history_row(person_id, key, history) for key, history in replayed.histories.items())
    session.flush()
    return replayed


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
        replayed.states[problem.skill] = after


def _fold_mistakes(replayed: Replayed, answer: models.Answer, grading: models.Grading, problem: models.Problem) -> None:
    right = grading.verdict == VerdictKind.RIGHT
    for mistake in {mistake["id"] for mistake in problem.drawn["mistakes"]}:
        key = MistakeKey(problem.skill, problem.family_id, mistake)
        history = replayed.histories.get(key, History())
        shown = mistake in grading.mistakes
        replayed.histories[key] = remember(history, shown=shown, right=right, at=answer.answered_at)


def _turns(session: Session, person_id: int) -> dict[str, models.SkillState]:
    """New rows that know the turns of each skill: the person's problems in the order of issue."""
    rows: dict[str, models.SkillState] = {}
    query = select(models.Problem.skill, models.Problem.family_id).where(models.Problem.person_id == person_id)
    for turn, (skill, family_id) in enumerate(session.execute(query.order_by(models.Problem.id)), start=1):
        take_turn(rows.setdefault(skill, new_row(person_id, skill)), family_id, turn)
    return rows


def _history_row(person_id: int, key: MistakeKey, history: History) -> models.MistakeHistory:
    row = models.MistakeHistory(
        person_id=person_id, skill=key.skill, family_id=key.family_id, mistake_id=key.mistake_id
    )
    keep_history(row, history)
    return row
