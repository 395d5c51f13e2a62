"""
Field findings: who leads a class or crew reports what the job showed of a member, and withdraws what was a mistake.

The member reads each of them, by whom, and what it changed. Leaders of the group where it was reported see it; leaders
of another group see it with readiness.
"""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import (
    LearnerRef,
    NotAllowedError,
    NotFoundError,
    group_led_by,
    learner_seen_by,
)
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note as note_line
from trainer.accounts.sharing import Shared, shared_with
from trainer.calc.message import InputError, Message
from trainer.groups.looks import note_looks
from trainer.groups.names import read_line
from trainer.library.shelf import Library
from trainer.progress.field import Finding, FindingKind, findings_about
from trainer.records.locks import lock_person, locked
from trainer.records.models import FieldFinding
from trainer.records.types import is_public_id, new_public_id

__all__ = [
    "LONGEST_NOTE",
    "FindingsPage",
    "finding_to_withdraw",
    "findings_page",
    "locked_finding",
    "note_finding",
    "report",
    "withdraw",
]

LONGEST_NOTE = 300


class FindingsPage(Struct, frozen=True):
    """A member, and the findings about him or her that the one who asks may see, the newest first."""

    learner: LearnerRef
    findings: tuple[Finding, ...]


def findings_page(
    session: Session, actor: Actor, group_public_id: str, person_public_id: str, now: datetime
) -> FindingsPage:
    """
    The findings about a member: all with readiness, else those that were reported in this group. That he looked is noted.

    Raises:
        NotFoundError: When the group is not his to know of, or the person never learned in it.
        NotAllowedError: When he does not lead it.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    shares = shared_with(session, learner.person_id, learner.group.id) if learner.is_member else frozenset()
    everywhere = Shared.READINESS in shares
    what = f"looked.{(Shared.READINESS if everywhere else Shared.ASSIGNED).value}"
    note_looks(session, actor, learner.group.id, [learner.person_id], what=what, now=now)
    found = findings_about(session, learner.person_id, group_id=None if everywhere else learner.group.id)
    return FindingsPage(learner, tuple(found))


def report(
    session: Session,
    library: Library,
    actor: Actor,
    group_public_id: str,
    person_public_id: str,
    *,
    skill: str,
    kind: str,
    note: str,
    now: datetime,
) -> str:
    """
    Report what the job showed of a member's skill.

    Args:
        session: A write session.
        library: The content.
        actor: Who reports; leads the group.
        group_public_id: The class or crew.
        person_public_id: The member.
        skill: Id of the skill.
        kind: A `FindingKind`.
        note: A line about it, as typed; 1 to 300 characters.
        now: This moment.

    Returns:
        Public id of the finding.

    Raises:
        NotFoundError: When the group is not his to know of, or the person never learned in it.
        NotAllowedError: When he does not lead it, the member has left, or it is himself.
        InputError: With `field` "kind", "skill" or "note".
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    if learner.person_id == actor.person_id:
        raise NotAllowedError(Message("field.oneself"))
    if not learner.is_member:
        raise NotAllowedError(Message("field.has-left", {"person": learner.display_name, "group": learner.group.name}))
    found, of_skill = _read_kind(kind), _read_skill(library, skill)
    line = read_line(note, field="note", example="Two offsets on the east wall lean.", longest=LONGEST_NOTE)
    # A run that is decided at this very moment comes before or after the finding, never beside it.
    lock_person(session, learner.person_id)
    row = FieldFinding(
        public_id=new_public_id(),
        person_id=learner.person_id,
        group_id=learner.group.id,
        skill=of_skill,
        kind=found.value,
        note=line,
        reported_by_id=actor.person_id,
        reported_at=now,
    )
    session.add(row)
    note_finding(session, actor, row, "finding.reported", now)
    return row.public_id


def finding_to_withdraw(
    session: Session, actor: Actor, group_public_id: str, person_public_id: str, finding_public_id: str
) -> tuple[LearnerRef, Finding]:
    """
    A finding of one's own, to be withdrawn.

    Raises:
        NotFoundError: When there is no such finding about this member in the group.
        NotAllowedError: When somebody else reported it, or it is withdrawn already.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    found = findings_about(session, learner.person_id, group_id=learner.group.id)
    one = next((finding for finding in found if finding.public_id == finding_public_id), None)
    if one is None:
        raise NotFoundError
    _refuse_withdrawal(actor, one.reported_by_id, one.withdrawn_at)
    return learner, one


def withdraw(
    session: Session,
    actor: Actor,
    group_public_id: str,
    finding_public_id: str,
    *,
    reason: str,
    now: datetime,
) -> None:
    """
    Withdraw a finding that one reported oneself; it stays to be read, with the reason.

    Raises:
        NotFoundError: When there is no such finding in the group.
        NotAllowedError: When somebody else reported it, or it is withdrawn already.
        InputError: With `field` "reason".
    """
    row = locked_finding(session, actor, group_public_id, finding_public_id)
    _refuse_withdrawal(actor, row.reported_by_id, row.withdrawn_at)
    row.withdrawn_reason = read_line(reason, field="reason", example="It was another man's pipe.", longest=LONGEST_NOTE)
    row.withdrawn_at = now
    note_finding(session, actor, row, "finding.withdrawn", now)


def locked_finding(session: Session, actor: Actor, group_public_id: str, public_id: str) -> FieldFinding:
    """The row of a finding in a group that the actor leads: what two do to it at once goes one after the other."""
    group = group_led_by(session, actor, group_public_id)
    if not is_public_id(public_id):
        raise NotFoundError
    query = select(FieldFinding).where(FieldFinding.public_id == public_id, FieldFinding.group_id == group.id)
    row = session.scalar(locked(query))
    if row is None:
        raise NotFoundError
    return row


def _refuse_withdrawal(actor: Actor, reported_by_id: int, withdrawn_at: datetime | None) -> None:
    if reported_by_id != actor.person_id:
        raise NotAllowedError(Message("field.not-yours"))
    if withdrawn_at is not None:
        raise NotAllowedError(Message("field.withdrawn-already"))


def _read_kind(kind: str) -> FindingKind:
    if kind not in {*FindingKind}:
        raise InputError(
            Message("field.kind"),
            given=kind[:40],
            accepted=Message("field.kind-accepted"),
            example=FindingKind.DOG_LEG.value,
            field="kind",
        )
    return FindingKind(kind)


def _read_skill(library: Library, skill: str) -> str:
    if skill not in library.skills:
        raise InputError(
            Message("field.skill"),
            given=skill[:40],
            accepted=Message("field.skill-accepted"),
            example=next(iter(library.skills)),
            field="skill",
        )
    return skill


def note_finding(session: Session, actor: Actor, row: FieldFinding, what: str, now: datetime) -> None:
    """Note for the person to read what was done about a finding."""
    note_line(
        session,
        what=what,
        now=now,
        actor_id=actor.person_id,
        subject_id=row.person_id,
        group_id=row.group_id,
        detail={"kind": row.kind, "skill": row.skill},
    )
