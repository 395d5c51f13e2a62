"""
Signing hands-on checks, the second judge, and taking a signature back.

A signed check is never changed: a correction is a withdrawal and a new check. Each signature and withdrawal is noted for
the learner to read. Who may do what: head of `trainer.groups.hands_on`; what becomes of signatures when a naming ends:
head of `trainer.groups.signers`.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from zoneinfo import ZoneInfo

from msgspec import Struct, to_builtins
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, NotAllowedError, group_led_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.calc.message import InputError, Message
from trainer.groups.hands_on import locked_check, one_check
from trainer.groups.looks import note_looks
from trainer.problems.hands_on import Judgement, Reading, judge
from trainer.progress.hands_on import Check
from trainer.records.models import CheckSigning, CheckWithdrawal, HandsOnCheck, Signer

__all__ = ["SECOND_JUDGED", "LedCheck", "led_check", "note_check", "sign", "withdraw"]

#: Of each kind, the first so many that an organisation signs may be judged twice.
SECOND_JUDGED = 3
LONGEST_NOTE = 400


class LedCheck(Struct, frozen=True):
    """
    A check as a leader of the group meets it.

    Args:
        group: The group.
        check: The check.
        may_sign: Whether he may sign it now, as the first or as the second judge.
        why_not: Why not; None where he may, or where nothing is left to sign.
        may_withdraw: Whether he may withdraw it.
    """

    group: GroupRef
    check: Check
    may_sign: bool
    why_not: Message | None
    may_withdraw: bool


def led_check(session: Session, actor: Actor, group_public_id: str, public_id: str, now: datetime) -> LedCheck:
    """
    One check, for a leader of its group. That he looked is noted.

    Raises:
        NotFoundError: When the group is not his to know of, or has no such check.
        NotAllowedError: When he does not lead it.
    """
    group = group_led_by(session, actor, group_public_id)
    check = one_check(session, group, public_id)
    note_looks(session, actor, group.id, [check.person_id], what="looked.check", now=now)
    why_not = _why_not(session, actor, group, check, now)
    to_sign = check.state == "open" or _wants_second(session, group, check)
    signed = any(one.signed_by_id == actor.person_id for one in check.signings)
    may_withdraw = bool(check.signings) and check.withdrawal is None and (signed or _owns(actor, group))
    return LedCheck(group, check, to_sign and why_not is None, why_not if to_sign else None, may_withdraw)


def sign(
    session: Session,
    actor: Actor,
    group_public_id: str,
    public_id: str,
    *,
    measured: Mapping[str, Reading],
    steps: Mapping[str, bool],
    remark: str = "",
    now: datetime,
) -> Judgement:
    """
    Sign a check, passed or not. Signed by the same person already, nothing changes.

    Args:
        session: A write session.
        actor: Who signs.
        group_public_id: The check's group.
        public_id: The check.
        measured: A reading for every value of the sheet.
        steps: Yes or no for every step of the sheet.
        remark: What the judge adds, at most 400 characters.
        now: This moment.

    Raises:
        NotFoundError: When the group is not his to know of, or has no such check.
        NotAllowedError: When he may not sign it; `reason` says why.
        InputError: With `field` "remark", when that is too long.
        KeyError: When something of the sheet was not judged.
    """
    group = group_led_by(session, actor, group_public_id)
    row = locked_check(session, group, public_id)
    check = one_check(session, group, public_id)
    for one in check.signings:
        if one.signed_by_id == actor.person_id:
            return one.judgement
    if check.state != "open" and not _wants_second(session, group, check):
        raise NotAllowedError(Message("checks.signed-already"))
    if why_not := _why_not(session, actor, group, check, now):
        raise NotAllowedError(why_not)
    naming = _naming(session, actor, group, check)
    if naming is None:
        raise NotAllowedError(Message("checks.not-named"))
    said = _read_words(remark, "remark", least=0)
    judged = judge(check.sheet, measured, steps)
    session.add(
        CheckSigning(
            check_id=row.id,
            judge=len(check.signings) + 1,
            signer_id=naming.id,
            signed_by_id=actor.person_id,
            signed_at=now,
            measured={one.id: to_builtins(measured[one.id]) for one in check.sheet.measured},
            steps={one.id: steps[one.id] for one in check.sheet.steps},
            passed=judged.passed,
            note=said,
        )
    )
    note_check(session, actor, (group, check), "check.signed", now)
    return judged


def withdraw(
    session: Session, actor: Actor, group_public_id: str, public_id: str, *, reason: str, now: datetime
) -> None:
    """
    Let a signed check count no longer; what was signed stays to be read.

    Raises:
        NotFoundError: When the group is not his to know of, or has no such check.
        NotAllowedError: When he neither signed it nor owns the organisation, or nothing is signed.
        InputError: With `field` "reason", when there is none or it is too long.
    """
    group = group_led_by(session, actor, group_public_id)
    row = locked_check(session, group, public_id)
    check = one_check(session, group, public_id)
    signed = any(one.signed_by_id == actor.person_id for one in check.signings)
    if not check.signings or not (signed or _owns(actor, group)):
        raise NotAllowedError(Message("checks.not-yours-to-withdraw"))
    said = _read_words(reason, "reason", least=1)
    if check.withdrawal is not None:
        return
    session.add(CheckWithdrawal(check_id=row.id, reason=said, withdrawn_by_id=actor.person_id, withdrawn_at=now))
    note_check(session, actor, (group, check), "check.withdrawn", now)


def _why_not(session: Session, actor: Actor, group: GroupRef, check: Check, now: datetime) -> Message | None:
    """Why this leader may not sign, whatever the check's own state."""
    if check.person_id == actor.person_id:
        return Message("checks.not-own")
    if any(one.signed_by_id == actor.person_id for one in check.signings):
        return Message("checks.second-is-another")
    naming = _naming(session, actor, group, check)
    if naming is None:
        return Message("checks.not-named")
    if naming.expires_on < now.astimezone(ZoneInfo(group.organisation.time_zone)).date():
        return Message("checks.licence-over", {"day": naming.expires_on.isoformat()})
    return None


def _naming(session: Session, actor: Actor, group: GroupRef, check: Check) -> Signer | None:
    query = select(Signer).where(
        Signer.organisation_id == group.organisation.id,
        Signer.person_id == actor.person_id,
        Signer.kind == check.sheet.kind,
        Signer.ended_at.is_(None),
    )
    return session.scalar(query)


def _wants_second(session: Session, group: GroupRef, check: Check) -> bool:
    """Whether a second judge may still sign: one has, and it is among the first of its kind here."""
    if len(check.signings) != 1 or check.withdrawal is not None:
        return False
    query = (
        select(func.count())
        .select_from(CheckSigning)
        .join(HandsOnCheck, HandsOnCheck.id == CheckSigning.check_id)
        .where(HandsOnCheck.organisation_id == group.organisation.id, HandsOnCheck.kind == check.sheet.kind)
        .where(CheckSigning.judge == 1, CheckSigning.signed_at < check.signings[0].signed_at)
    )
    return session.scalars(query).one() < SECOND_JUDGED


def _owns(actor: Actor, group: GroupRef) -> bool:
    return any(one.organisation_id == group.organisation.id for one in actor.owns)


def note_check(session: Session, actor: Actor, led: tuple[GroupRef, Check], what: str, now: datetime) -> None:
    """Note for the learner to read what was done about a check."""
    group, check = led
    detail = {"kind": check.sheet.title, "size": check.sheet.trade_size}
    who = {"actor_id": actor.person_id, "subject_id": check.person_id, "group_id": group.id}
    note(session, what=what, now=now, detail=detail, **who)


def _read_words(text: str, field: str, *, least: int) -> str:
    words = " ".join(text.split())
    if not least <= len(words) <= LONGEST_NOTE:
        accepted = Message("checks.words-accepted", {"longest": LONGEST_NOTE})
        example = "The tape slipped; bent again."
        raise InputError(Message("checks.words"), given=text[:400], accepted=accepted, example=example, field=field)
    return words
