"""An answer put on record: its row, its grading, and all that it moves."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.calc.message import Message
from trainer.library.shelf import Library
from trainer.problems.model import Verdict, VerdictKind
from trainer.problems.store import message_to_json
from trainer.progress.constants import CURRENT
from trainer.progress.effect import GAVE_UP, tried_at
from trainer.progress.habits import note_mistakes
from trainer.progress.learning import Learned, learn, learn_difficulty
from trainer.progress.question_tally import count_first_try
from trainer.progress.sitting import Sitting
from trainer.records import models

__all__ = ["Given", "put_on_record"]


class Given(Struct, frozen=True):
    """
    What someone handed in.

    Args:
        key: Key of the form.
        typed: The text as typed; ids with commas for several choices; "" when given up.
        verdict: What it was judged to be; None when given up.
        instead: The verdict that goes on record where the key was found wrong; "" else.
    """

    key: str
    typed: str
    verdict: Verdict | None
    instead: str = ""


def put_on_record(
    session: Session, library: Library, sitting: Sitting, given: Given, *, person: models.Person, now: datetime
) -> models.Grading:
    """
    Write an answer, its grading and what follows from them.

    Args:
        session: A write session.
        library: The content.
        sitting: The person at an open problem.
        given: What was handed in; readable, or given up.
        person: The person, locked.
        now: This moment.
    """
    row = sitting.row
    attempt = 1 + sitting.answered
    grading = _instead(given.instead, now) if given.instead else _grading(given.verdict, now)
    tried = tried_at(attempt, hints=row.hints_shown, steps=row.steps_shown)
    learnt = learn(session, library, sitting, grading.verdict, tried, now=now)
    person.answers_given += 1
    answer = _answer(row, given, learnt, attempt=attempt, sequence=person.answers_given, now=now)
    session.add(answer)
    session.flush()
    grading.answer_id = answer.id
    session.add(grading)
    if attempt == 1 and not given.instead:
        right = grading.verdict == VerdictKind.RIGHT
        could_show = [mistake.id for mistake in sitting.problem.mistakes]
        note_mistakes(session, row, could_show, shown=grading.mistakes, right=right, at=now)
    if given.verdict is not None and not given.instead:
        learn_difficulty(session, sitting, learnt, tried, verdict=grading.verdict, now=now)
    count_first_try(session, sitting, answer, grading, person=person)
    return grading


def _grading(verdict: Verdict | None, now: datetime) -> models.Grading:
    if verdict is None:
        return models.Grading(sequence=1, verdict=GAVE_UP, mistakes=[], reason=None, basis="", graded_at=now)
    return models.Grading(
        sequence=1,
        verdict=verdict.kind.value,
        mistakes=list(verdict.mistakes),
        reason=message_to_json(verdict.reason) if verdict.reason else None,
        basis=verdict.basis,
        graded_at=now,
    )


def _instead(verdict: str, now: datetime) -> models.Grading:
    """The grading that a ruling about the key puts in place of any other."""
    reason = message_to_json(Message(f"keys.{verdict}"))
    return models.Grading(sequence=1, verdict=verdict, mistakes=[], reason=reason, basis="", graded_at=now)


def _answer(
    row: models.Problem, given: Given, learnt: Learned, *, attempt: int, sequence: int, now: datetime
) -> models.Answer:
    value = given.verdict.value if given.verdict else None
    return models.Answer(
        problem_id=row.id,
        person_id=row.person_id,
        answer_key=given.key,
        sequence=sequence,
        attempt=attempt,
        typed=given.typed,
        value_read=list(value) if isinstance(value, tuple) else value,
        hints_seen=row.hints_shown,
        steps_seen=row.steps_shown,
        answered_at=now,
        difficulty=learnt.difficulty,
        chance_before=learnt.expected,
        weight=learnt.effect.weight,
        start_level=learnt.before.level,
        days=learnt.days,
        lucky=learnt.lucky,
        constants_version=CURRENT.version,
    )
