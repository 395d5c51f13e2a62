"""Hints, one at a time, in the order of the family."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.progress.proof_answer import refuse_help_beside_proof
from trainer.progress.room import refuse_help_in_the_room
from trainer.progress.sitting import sit_down
from trainer.records.locks import lock_person

__all__ = ["WITHOUT_HINTS", "hint"]

WITHOUT_HINTS = frozenset({"proof", "placement"})
"""Contexts of problems that come without hints."""


def hint(
    session: Session, library: Library, person_id: int, public_id: str, nth: int | None = None, *, now: datetime
) -> int:
    """
    Show the next hint of an open problem.

    Args:
        session: A write session.
        library: The content.
        person_id: Whose problem it is.
        public_id: The problem.
        nth: The hint asked for, from 1, as the form has it: the same form sent twice shows one hint. None is the next.
        now: This moment.

    Returns:
        How many hints are shown now; unchanged once the problem is closed or all are shown; none in a proof run or a placement run.

    Raises:
        NotFoundError: When the person has no such problem.
        NotAllowedError: While a question of a proof run is open, and while work in the room lasts.
    """
    lock_person(session, person_id)
    sitting = sit_down(session, library, person_id, public_id)
    row = sitting.row
    if row.context in WITHOUT_HINTS:
        return 0
    refuse_help_beside_proof(session, row)
    refuse_help_in_the_room(sitting.room_ends, now)
    following = row.hints_shown + 1
    if sitting.open and following <= len(sitting.problem.hints) and nth in {None, following}:
        row.hints_shown = following
    return row.hints_shown
