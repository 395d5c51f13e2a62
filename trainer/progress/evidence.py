"""The answers behind a line of the record, newest first."""

from __future__ import annotations

from datetime import datetime
from typing import Any, TypeVar

from msgspec import Struct
from sqlalchemy import ColumnElement, Select, func, select
from sqlalchemy.orm import Session, aliased

from trainer.library.shelf import Library
from trainer.progress.called import called
from trainer.progress.effect import effect_of, tried_at
from trainer.records import models

__all__ = ["EvidenceLine", "answered_by_real_people", "as_graded", "evidence", "latest_gradings"]

SomeSelect = TypeVar("SomeSelect", bound="Select[*tuple[Any, ...]]")


class EvidenceLine(Struct, frozen=True):
    """
    One answer on record.

    Args:
        answered_at: When.
        problem: Public id of the problem.
        code: Its short code.
        family_id: Its family.
        title: Title of the family.
        context: Why it was issued: "practice", "lesson", "assigned", ...
        attempt: Which try at this problem.
        hints: Hints seen before it.
        typed: The answer as typed.
        verdict: The verdict that counts.
        mistakes: Known mistakes that it shows, in words.
        counts: Whether it moved the skill.
    """

    answered_at: datetime
    problem: str
    code: str
    family_id: str
    title: str
    context: str
    attempt: int
    hints: int
    typed: str
    verdict: str
    mistakes: tuple[str, ...]
    counts: bool


def evidence(session: Session, library: Library, person_id: int, skill: str, *, limit: int = 50) -> list[EvidenceLine]:
    """The newest answers of a person on a skill, at most `limit`."""
    query = (
        latest_gradings()
        .where(models.Answer.person_id == person_id, models.Problem.skill == skill)
        .order_by(models.Answer.sequence.desc())
        .limit(limit)
    )
    return [_line(library, *row) for row in session.execute(query)]


def latest_gradings() -> Select[models.Answer, models.Grading, models.Problem]:
    """Answers with the grading that counts, which is the latest, and their problem."""
    return as_graded(select(models.Answer, models.Grading, models.Problem))


def as_graded(columns: SomeSelect) -> SomeSelect:
    """The same of some of their columns."""
    later = aliased(models.Grading)
    newest = select(func.max(later.sequence)).where(later.answer_id == models.Answer.id).scalar_subquery()
    return (
        columns.select_from(models.Answer)
        .join(models.Problem, models.Problem.id == models.Answer.problem_id)
        .join(
            models.Grading,
            (models.Grading.answer_id == models.Answer.id) & (models.Grading.sequence == newest),
        )
    )


def answered_by_real_people() -> ColumnElement[bool]:
    """That an answer of the query around was not made up for a sample class, which says nothing about a question."""
    # Asked of each answer: a list of the invented would be made of all people first.
    invented = select(models.Person.id).where(models.Person.id == models.Answer.person_id, models.Person.is_invented)
    return ~invented.correlate(models.Answer).exists()


def _line(library: Library, answer: models.Answer, grading: models.Grading, problem: models.Problem) -> EvidenceLine:
    family = library.families.get(problem.family_id)
    return EvidenceLine(
        answer.answered_at,
        problem.public_id,
        problem.code,
        problem.family_id,
        family.title if family else problem.family_id,
        problem.context,
        answer.attempt,
        answer.hints_seen,
        answer.typed,
        grading.verdict,
        tuple(called(mistake, family) for mistake in grading.mistakes),
        effect_of(grading.verdict, tried_at(answer.attempt, hints=answer.hints_seen, steps=answer.steps_seen)).counts,
    )
