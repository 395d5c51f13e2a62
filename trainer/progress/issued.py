"""The row of a problem that is issued, and the turn of its skill that goes with it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.problems.codes import new_code
from trainer.problems.family import Family
from trainer.progress.states import new_row, take_turn
from trainer.records import models
from trainer.records.types import new_public_id

__all__ = ["note_turn", "problem_row", "unused_codes"]


def problem_row(
    session: Session,
    family: Family,
    version_id: int,
    person_id: int,
    *,
    seed: int,
    edition: str,
    drawn: Mapping[str, Any],
    now: datetime,
    **place: Any,
) -> models.Problem:
    """
    A row for a problem, not yet in the session.

    Args:
        session: A write session.
        family: The family.
        version_id: Its version on record.
        person_id: To whom.
        seed: With which it was drawn.
        edition: For which it was drawn.
        drawn: What `trainer.problems.store.store` gave.
        now: This moment.
        place: What it is issued for: context, lesson_id, assigned_family_id, why.
    """
    return models.Problem(
        public_id=new_public_id(),
        code=unused_codes(session, 1)[0],
        person_id=person_id,
        content_version_id=version_id,
        family_id=family.id,
        skill=family.skill,
        seed=seed,
        edition=edition,
        basis=family.basis,
        drawn=drawn,
        issued_at=now,
        **place,
    )


def note_turn(
    session: Session, rows: Mapping[str, models.SkillState], problem: models.Problem, person: models.Person
) -> None:
    """
    Count the problem, and note for the choice of later ones that its skill had its turn.

    Args:
        session: A write session.
        rows: The person's rows by skill.
        problem: The problem.
        person: To whom it is issued, locked.
    """
    row = rows.get(problem.skill)
    if row is None:
        row = new_row(problem.person_id, problem.skill)
        session.add(row)
    take_turn(row, problem.family_id, person.problems_issued)


def unused_codes(session: Session, count: int) -> list[str]:
    """So many codes that no problem has; two in some thousand million are alike."""
    while True:
        codes = {new_code() for _ in range(count)}
        used = (
            session.scalar(select(models.Problem.id).where(models.Problem.code.in_(codes)).limit(1)) if codes else None
        )
        if len(codes) == count and used is None:
            return list(codes)
