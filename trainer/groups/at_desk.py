"""A new password for a learner who stands at the desk and has forgotten the old one, by who leads the class."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import LearnerRef, NotAllowedError, learner_seen_by, led_by
from trainer.accounts.actor import Actor
from trainer.accounts.passwords import SITE_PASSWORDS, Passwords
from trainer.accounts.people import reset_password
from trainer.accounts.sharing import Shared
from trainer.calc.message import Message
from trainer.records.locks import lock_person
from trainer.records.models import Group, Membership, Person

__all__ = ["AtDesk", "reset_at_desk", "who_is_at_desk"]


class AtDesk(Struct, frozen=True):
    """A learner, and what the learner signs in with; `why_not` says why no password may be given here, None where one may."""

    learner: LearnerRef
    sign_in_name: str
    why_not: Message | None


def who_is_at_desk(session: Session, actor: Actor, group_public_id: str, person_public_id: str) -> AtDesk:
    """
    A learner of a group, and whether its leader may give a new password.

    Whoever sets a password could come in as that person. So a leader may only for somebody who learns in this very
    school or shop and nowhere else, has never belonged elsewhere, and leads and looks after nothing; and who came to
    this leader: whom a list put in, somebody else may have taught so far. A group that is put away is nobody's desk.

    Raises:
        NotFoundError: When the one who asks does not belong to the group, or the person never learned in it.
        NotAllowedError: When he does not lead the group.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    person = session.get_one(Person, learner.person_id)
    return AtDesk(learner, person.sign_in_name or "", _why_not(session, actor, learner, person))


def reset_at_desk(
    session: Session,
    actor: Actor,
    group_public_id: str,
    person_public_id: str,
    now: datetime,
    *,
    passwords: Passwords = SITE_PASSWORDS,
) -> tuple[AtDesk, str]:
    """
    Give a learner a one-time password and end all sessions; the learner can read who did it.

    Returns:
        The learner, and the password, which is stored nowhere.

    Raises:
        NotFoundError: As `who_is_at_desk`.
        NotAllowedError: When he does not lead the group, or may not for this person.
    """
    found = who_is_at_desk(session, actor, group_public_id, person_public_id)
    lock_person(session, found.learner.person_id)
    # Read again under the lock: what the person belongs to may have changed.
    found = who_is_at_desk(session, actor, group_public_id, person_public_id)
    if found.why_not is not None:
        raise NotAllowedError(found.why_not)
    once = reset_password(session, found.learner.person_id, now, by_id=actor.person_id, passwords=passwords)
    return found, once


def _why_not(session: Session, actor: Actor, learner: LearnerRef, person: Person) -> Message | None:
    names = {"person": learner.display_name, "group": learner.group.name}
    if person.deleted_at is not None or not learner.is_member:
        return Message("groups.desk-left", names)
    if learner.group.archived_at is not None:
        return Message("groups.put-away", {"group": learner.group.name})
    if person.is_invented or person.id == actor.person_id:
        return Message("groups.sample-stays" if person.is_invented else "groups.desk-oneself")
    led = Membership.group_id.in_(select(Group.id).where(led_by(actor), Group.archived_at.is_(None)))
    rows = session.execute(select(Membership, led).where(Membership.person_id == person.id)).all()
    memberships = [membership for membership, _ in rows]
    if person.is_site_administrator or any(one.role != "learner" for one in memberships):
        return Message("groups.desk-leads", names)
    if any(one.organisation_id != learner.group.organisation.id for one in memberships):
        return Message("groups.desk-elsewhere", names)
    came = any(is_led and one.ended_at is None and not _is_untold(one) for one, is_led in rows)
    # An account that nobody has used yet holds nothing that a leader could read by it.
    is_unused = person.must_change_password and all(map(_is_untold, memberships))
    return None if came or is_unused else Message("groups.desk-untold", names)


def _is_untold(membership: Membership) -> bool:
    """Whether somebody else put the person in, who has not read yet what the group sees."""
    return membership.added_by_id is not None and membership.told_at is None
