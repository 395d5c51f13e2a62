"""A question of a proof run or a placement run, in numbers of its own."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from trainer.library.versions import pin
from trainer.problems.draw import draw
from trainer.problems.family import Family
from trainer.problems.store import store
from trainer.progress.issue import seed_for
from trainer.progress.issued import note_turn, problem_row
from trainer.progress.states import states_of
from trainer.records.locks import lock_person

__all__ = ["ask_in_run"]


def ask_in_run(session: Session, person_id: int, family: Family, *, now: datetime, edition: str, **place: Any) -> str:
    """
    Issue a question of a run.

    Args:
        session: A write session.
        person_id: To whom.
        family: What is asked.
        now: This moment.
        edition: Edition of the rules, pinned into the question.
        place: The run that it belongs to: context and proof_run_id or placement_run_id.

    Returns:
        Public id of the problem.
    """
    person = lock_person(session, person_id)
    version = pin(session, family, now)
    person.problems_issued += 1
    seed = seed_for(person.public_id, person.problems_issued)
    drawn = store(draw(family, seed, edition=edition))
    row = problem_row(session, family, version, person.id, seed=seed, edition=edition, drawn=drawn, now=now, **place)
    session.add(row)
    note_turn(session, states_of(session, person.id), row, person)
    session.flush()
    return row.public_id
