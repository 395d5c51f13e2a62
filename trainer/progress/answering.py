"""
An answer: judged, put on record, and the record moved, all in the one transaction that the caller holds.

The same form sent twice is one answer: its key is unique for the person, and the person is locked before it is looked
up, so that two posts at the same moment queue up.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from enum import StrEnum
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.calc.message import InputError, Message
from trainer.library.shelf import Library
from trainer.problems.check import check
from trainer.problems.model import Verdict, VerdictKind
from trainer.problems.store import message_from_json
from trainer.progress.evidence import latest_gradings
from trainer.progress.proof_answer import closes, count_answer, refuse_help_beside_proof
from trainer.progress.recording import Given, put_on_record
from trainer.progress.room import in_the_room, refuse_help_in_the_room
from trainer.progress.rulings import ruled_instead
from trainer.progress.sitting import Sitting, sit_down
from trainer.progress.watching import leave, nobody_watches
from trainer.records import models
from trainer.records.locks import lock_person

__all__ = ["AnswerResult", "Outcome", "answer", "give_up", "show_steps"]

UTC = ZoneInfo("UTC")

LONGEST = 400
"""Characters of an answer that are kept; nothing that is an answer comes near."""

KEY_LONGEST = 80
EXAMPLE_KEY = "6f1c1f0e-3a5d-4a41-9c33-2f6f0a6f7c11"


class Outcome(StrEnum):
    """What became of a form with an answer."""

    RECORDED = "recorded"
    REPEATED = "repeated"
    UNREADABLE = "unreadable"
    CLOSED = "closed"
    UNATTENDED = "unattended"


class AnswerResult(Struct, frozen=True):
    """
    What became of an answer.

    Args:
        problem: Public id of the problem that it belongs to.
        outcome: Put on record now, on record already under the same key, not readable and so no attempt, too late for a
            problem that is closed, or given to a watched run while nobody watched.
        verdict: The verdict on record, or "unreadable"; None when the answer was not taken.
        typed: What was typed, to be given back to the form.
        closed: Whether the problem is closed now.
        mistakes: Ids of the known mistakes that the answer shows.
        reason: What to say about it, beyond the verdict.
    """

    problem: str
    outcome: Outcome
    verdict: str | None
    typed: str | tuple[str, ...]
    closed: bool
    mistakes: tuple[str, ...] = ()
    reason: Message | None = None


def answer(
    session: Session,
    library: Library,
    person_id: int,
    public_id: str,
    typed: str | Sequence[str],
    *,
    answer_key: str,
    now: datetime,
    zone: ZoneInfo = UTC,
) -> AnswerResult:
    """
    Take an answer to an open problem.

    Args:
        session: A write session.
        library: The content.
        person_id: Who answers.
        public_id: The problem.
        typed: The text as typed, or the ids of the options chosen.
        answer_key: UUID of the form; the same key again gives back the verdict on record and counts nothing.
        now: This moment.
        zone: In which the person's days are counted, for a proof run.

    Raises:
        NotFoundError: When the person has no such problem.
        InputError: When the key is no UUID.
    """
    key = _read_key(answer_key)
    person = lock_person(session, person_id)
    sitting = sit_down(session, library, person_id, public_id, key=key)
    if sitting.repeats is not None:
        return _on_record(session, sitting.repeats)
    given = typed if isinstance(typed, str) else tuple(typed)
    if (refused := _refused(session, sitting, given, now)) is not None:
        return refused
    verdict = _judge(sitting, given)
    if verdict.kind is VerdictKind.UNREADABLE:
        unreadable = verdict.kind.value
        return AnswerResult(public_id, Outcome.UNREADABLE, unreadable, given, closed=False, reason=verdict.reason)
    instead = ruled_instead(sitting.ruling, answered=True)
    if instead or closes(sitting, verdict.kind):
        sitting.row.closed_at = now
    handed_in = Given(key, _text(given), verdict, instead)
    grading = put_on_record(session, library, sitting, handed_in, person=person, now=now)
    if sitting.row.closed_at is not None:
        count_answer(session, sitting.row, grading, now=now, zone=zone)
    elif in_the_room(sitting.room_ends, now):
        sitting.row.closed_at = now
    return _result(sitting.row, _text(given), grading, Outcome.RECORDED)


def give_up(
    session: Session, library: Library, person_id: int, public_id: str, now: datetime, *, zone: ZoneInfo = UTC
) -> AnswerResult:
    """
    Close a problem without the right answer; its page then shows the steps. A second call changes nothing.

    Raises:
        NotFoundError: When the person has no such problem.
    """
    return _surrender(session, library, person_id, public_id, now=now, zone=zone, steps=False)


def show_steps(
    session: Session, library: Library, person_id: int, public_id: str, now: datetime, *, zone: ZoneInfo = UTC
) -> AnswerResult:
    """
    Show the worked steps of an open problem, which gives up the rest of it. A second call changes nothing.

    Raises:
        NotAllowedError: While a question of a proof run is open, unless it is this one; while work in the room lasts.
        NotFoundError: When the person has no such problem.
    """
    return _surrender(session, library, person_id, public_id, now=now, zone=zone, steps=True)


def _surrender(
    session: Session,
    library: Library,
    person_id: int,
    public_id: str,
    *,
    now: datetime,
    zone: ZoneInfo,
    steps: bool,
) -> AnswerResult:
    person = lock_person(session, person_id)
    sitting = sit_down(session, library, person_id, public_id)
    if (refused := _refused(session, sitting, "", now)) is not None:
        return refused
    if steps:
        refuse_help_beside_proof(session, sitting.row)
        refuse_help_in_the_room(sitting.room_ends, now)
    sitting.row.closed_at = now
    handed_in = Given(str(uuid4()), "", None, ruled_instead(sitting.ruling, answered=False))
    grading = put_on_record(session, library, sitting, handed_in, person=person, now=now)
    sitting.row.steps_shown = steps
    count_answer(session, sitting.row, grading, now=now, zone=zone)
    return _result(sitting.row, "", grading, Outcome.RECORDED)


def _refused(session: Session, sitting: Sitting, given: str | tuple[str, ...], now: datetime) -> AnswerResult | None:
    """What to say of an answer that is not taken; None where it is. A question that nobody watches is put aside."""
    if not sitting.open:
        return AnswerResult(sitting.row.public_id, Outcome.CLOSED, None, given, closed=True)
    if sitting.row.proof_run_id is None or not nobody_watches(session, sitting.row.public_id, now):
        return None
    leave(session, sitting.row.proof_run_id, now)
    return AnswerResult(sitting.row.public_id, Outcome.UNATTENDED, None, given, closed=True)


def _read_key(answer_key: str) -> str:
    """The key in its one spelling."""
    try:
        return str(UUID(answer_key[:KEY_LONGEST]))
    except ValueError:
        raise InputError(
            Message("progress.key"),
            given=answer_key[:KEY_LONGEST],
            accepted=Message("progress.key-accepted"),
            example=EXAMPLE_KEY,
        ) from None


def _on_record(session: Session, answer_id: int) -> AnswerResult:
    """What became of an answer."""
    given, grading, problem = session.execute(latest_gradings().where(models.Answer.id == answer_id)).one()
    return _result(problem, given.typed, grading, Outcome.REPEATED)


def _judge(sitting: Sitting, given: str | tuple[str, ...]) -> Verdict:
    if len(_text(given)) > LONGEST:
        return Verdict(VerdictKind.UNREADABLE, None, reason=Message("progress.too-long", {"most": LONGEST}))
    return check(sitting.problem, given)


def _text(given: str | tuple[str, ...]) -> str:
    return given if isinstance(given, str) else ", ".join(given)


def _result(problem: models.Problem, typed: str, grading: models.Grading, outcome: Outcome) -> AnswerResult:
    return AnswerResult(
        problem.public_id,
        outcome,
        grading.verdict,
        typed,
        closed=problem.closed_at is not None,
        mistakes=tuple(grading.mistakes),
        reason=message_from_json(grading.reason) if grading.reason else None,
    )
