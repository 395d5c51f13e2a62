"""
Points set by a leader: over what the rule gives, or by hand for whoever had no phone. Each is a row of its own with its
reason; it can be taken back, and the learner reads all of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from msgspec import Struct
from sqlalchemy import func, insert, select
from sqlalchemy.orm import Session

from trainer.accounts.access import WorkRef, assigned_work_led_by, assigned_work_to, learner_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import LearnerRef
from trainer.accounts.sharing import Shared
from trainer.calc.message import InputError, Message
from trainer.groups.lines import WorkLine, lines_of
from trainer.groups.looks import note_looks
from trainer.groups.points import PersonPoints, marks_at, points_of, set_aside_lines
from trainer.groups.results import LOOKED, LineCount, PersonResults
from trainer.groups.results import results as results_of
from trainer.groups.tries import Best, best_of, tries_at
from trainer.library.shelf import Library
from trainer.progress.called import called
from trainer.records.locks import lock_person
from trainer.records.models import AssignedFamily, ResultMark

__all__ = [
    "AS_WORKED_OUT",
    "CHOICES",
    "OwnPoints",
    "PersonWork",
    "own_points",
    "person_work",
    "result_rows",
    "set_marks",
]

AS_WORKED_OUT = "rule"
"""Says of a line that it counts as the rule has it; what was set before is taken back."""

CHOICES: Mapping[str, float] = {"0": 0.0, "0.5": 0.5, "1": 1.0}
"""Points that can be set, as a form sends them."""

LONGEST_REASON = 300
EXPORTED = "exported.results"


class PersonWork(Struct, frozen=True):
    """One person at one piece of work: its lines, what came of each, and the points."""

    work: WorkRef
    learner: LearnerRef
    lines: tuple[WorkLine, ...]
    best: tuple[Best, ...]
    points: PersonPoints


class OwnPoints(Struct, frozen=True):
    """One's own points at a piece of work."""

    kind: str
    points: PersonPoints


def person_work(
    session: Session, library: Library, actor: Actor, work_public_id: str, person_public_id: str, *, now: datetime
) -> PersonWork:
    """
    What one person has in a piece of work, for who leads its group. That he looked is noted.

    Raises:
        NotFoundError: When the work is not his to know of, or the person never learned in its group.
        NotAllowedError: When he does not lead it.
    """
    work = assigned_work_led_by(session, actor, work_public_id)
    learner = learner_seen_by(session, actor, work.group.public_id, person_public_id, Shared.ASSIGNED)
    note_looks(session, actor, work.group.id, [learner.person_id], what=LOOKED, now=now)
    lines = tuple(lines_of(session, library, [work.id]).get(work.id, ()))
    tries = tries_at(session, [work.id], learner.person_id)
    best = tuple(best_of([one for one in tries if one.position == line.position], work.due_at) for line in lines)
    points = points_of(
        work.kind,
        tries,
        [line.position for line in lines],
        work.due_at,
        marks=marks_at(session, work.id, learner.person_id).get(learner.person_id, {}),
        set_aside=set_aside_lines(session, work.id),
    )
    return PersonWork(work, learner, lines, best, points)


def set_marks(
    session: Session,
    library: Library,
    actor: Actor,
    work_public_id: str,
    person_public_id: str,
    *,
    wanted: Mapping[int, str],
    reason: str,
    now: datetime,
) -> int:
    """
    Set the points of lines, or take back what was set. What is as it was already is left alone.

    Args:
        session: A write session.
        library: The content.
        actor: Who leads the group.
        work_public_id: The work.
        person_public_id: Whose points.
        wanted: By line one of `CHOICES`, or AS_WORKED_OUT.
        reason: As typed; the person reads it.
        now: This moment.

    Returns:
        How many lines were changed.

    Raises:
        As `person_work`.
        InputError: With `field` "reason" or "points".
    """
    work = assigned_work_led_by(session, actor, work_public_id)
    # Before the marks are read: of two who set them at once the second finds what the first one set.
    lock_person(
        session, learner_seen_by(session, actor, work.group.public_id, person_public_id, Shared.ASSIGNED).person_id
    )
    found = person_work(session, library, actor, work_public_id, person_public_id, now=now)
    text = _read_reason(reason)
    rows = []
    for line, best, points in zip(found.lines, found.best, found.points.lines, strict=True):
        choice = wanted.get(line.position, AS_WORKED_OUT)
        if choice != AS_WORKED_OUT and choice not in CHOICES:
            raise _refused("work.mark", choice, "work.mark-accepted", "0.5", "points")
        now_set = points.mark.points if points.mark else None
        new = CHOICES.get(choice)
        if new != now_set:
            how = "taken-back" if new is None else "override" if best.first else "by-hand"
            rows.append({"position": line.position, "how": how, "points": new})
    if rows:
        _write(session, found, rows, {"reason": text, "set_at": now, "set_by_id": actor.person_id})
        what = "result.marked" if any(row["how"] != "taken-back" for row in rows) else "result.mark-taken-back"
        note(
            session,
            what=what,
            now=now,
            actor_id=actor.person_id,
            subject_id=found.learner.person_id,
            group_id=found.work.group.id,
        )
    return len(rows)


def own_points(session: Session, library: Library, actor: Actor, work_public_id: str) -> OwnPoints:
    """
    One's own points at assigned work.

    Raises:
        NotFoundError: When no such work was given to the one who asks.
    """
    work = assigned_work_to(session, actor, work_public_id)
    lines = lines_of(session, library, [work.id]).get(work.id, [])
    points = points_of(
        work.kind,
        tries_at(session, [work.id], actor.person_id),
        [line.position for line in lines],
        work.due_at,
        marks=marks_at(session, work.id, actor.person_id).get(actor.person_id, {}),
        set_aside=set_aside_lines(session, work.id),
    )
    return OwnPoints(work.kind, points)


def result_rows(
    session: Session, library: Library, actor: Actor, work_public_id: str, now: datetime
) -> tuple[str, list[str], list[list[str | float | None]]]:
    """
    The results of a piece of work to take along; noted for every learner in them, each time.

    Returns:
        Title of the work, columns, a row for each person.

    Raises:
        As `results`.
    """
    found = results_of(session, library, actor, work_public_id, now)
    people = [person.id for person in found.people]
    note_looks(session, actor, found.work.group.id, people, what=EXPORTED, now=now, again_after=timedelta())
    inside = f"In the {found.work.group.kind}"
    columns = ["Name", inside, *(f"{line.position}. {line.title}" for line in found.lines)]
    columns += ["Answered", "Points", "Of", "Known mistakes", "Set by hand"]
    rows: list[list[str | float | None]] = [
        [
            person.display_name,
            "yes" if person.is_member else "has left",
            *(line.value for line in person.points.lines),
            person.answered,
            person.points.total,
            person.points.of,
            _mistakes(person, found.lines, library),
            "; ".join(
                f"{line.position}: {points.mark.reason}"
                for line, points in zip(found.lines, person.points.lines, strict=True)
                if points.mark
            ),
        ]
        for person in found.people
    ]
    return found.work.title, columns, rows


def _mistakes(person: PersonResults, lines: Sequence[LineCount], library: Library) -> str:
    """The known mistakes of the first answers that count, each behind the number of its question."""
    return "; ".join(
        f"{line.position}: {called(mistake, library.families.get(line.family_id))}"
        for line, best in zip(lines, person.lines, strict=True)
        if best.first
        for mistake in best.first.mistakes
    )


def _write(session: Session, found: PersonWork, rows: list[dict[str, Any]], common: Mapping[str, object]) -> None:
    line, table = AssignedFamily, ResultMark
    of_person = (table.assigned_family_id == line.id) & (table.person_id == found.learner.person_id)
    query = (
        select(line.position, line.id, func.coalesce(func.max(table.sequence), 0))
        .outerjoin(table, of_person)
        .where(line.assigned_work_id == found.work.id)
        .group_by(line.position, line.id)
    )
    at = {position: (line_id, last) for position, line_id, last in session.execute(query)}
    new = []
    for row in rows:
        line_id, last = at[row.pop("position")]
        new.append(
            {**row, **common, "assigned_family_id": line_id, "person_id": found.learner.person_id, "sequence": last + 1}
        )
    session.execute(insert(table), new)


def _read_reason(typed: str) -> str:
    text = " ".join((typed or "").split())
    if text and len(text) <= LONGEST_REASON:
        return text
    said = "work.reason-long" if text else "work.reason-empty"
    raise _refused(said, text, "work.reason-accepted", "Measured it right at the bench.", "reason")


def _refused(reason: str, given: str, accepted: str, example: str, field: str) -> InputError:
    most = {"most": LONGEST_REASON}
    return InputError(
        Message(reason), given=given[:400], accepted=Message(accepted, most), example=example, field=field
    )
