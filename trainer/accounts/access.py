"""
Fetching is the check: who wants something of another person's, or of a group, gets it from here or not at all.

    who asks                        the group   its work    a member's record in it
    learner, while a member         yes         yes         none but the own
    instructor or foreman of it     leads       leads       what the member shares with the group
    owner of the organisation       leads       leads       the same
    anybody after leaving           no          no          only the own problems; the group keeps what was made under it
    site administrator              no          no          no
    anybody else                    no          no          no

What is in doubt about a key: `trainer.accounts.claim_access`.

Two errors. `NotFoundError`: there is no such thing, or the actor may not even know of it. `NotAllowedError`: the actor
knows of it, and still may not have it.
"""

from __future__ import annotations

from typing import Any, TypeVar

from sqlalchemy import ColumnElement, Select, and_, exists, false, select, union_all
from sqlalchemy.orm import InstrumentedAttribute, Session, aliased

from trainer.accounts.actor import LEADING_ROLES, Actor
from trainer.accounts.refs import (
    GroupRef,
    LearnerRef,
    OrganisationRef,
    ProblemRef,
    SetRef,
    WorkRef,
    find_group,
    find_organisation,
    find_problem,
    find_set,
    find_work,
)
from trainer.accounts.sharing import Shared, shared_with
from trainer.calc.message import Message
from trainer.records.models import (
    AssignedFamily,
    AssignedWork,
    Group,
    Membership,
    Organisation,
    Person,
    Problem,
    ProblemSet,
    Share,
)
from trainer.records.types import is_public_id

__all__ = [
    "GroupRef",
    "LearnerRef",
    "NotAllowedError",
    "NotFoundError",
    "OrganisationRef",
    "ProblemRef",
    "SetRef",
    "WorkRef",
    "assigned_work_led_by",
    "assigned_work_to",
    "given_to",
    "group_led_by",
    "group_of_member",
    "learner_seen_by",
    "organisation_of_staff",
    "organisation_owned_by",
    "own_problem",
    "problem_seen_by",
    "problem_set_of_staff",
]

Found = TypeVar("Found")


class NotFoundError(LookupError):
    """There is no such thing, or the actor may not know of it."""


class NotAllowedError(PermissionError):
    """
    The actor knows of the thing, and still may not have it.

    Attributes:
        reason: What to tell the actor.
    """

    def __init__(self, reason: Message) -> None:
        super().__init__(reason.id)
        self.reason = reason


def own_problem(session: Session, actor: Actor, public_id: str) -> ProblemRef:
    """A problem that was issued to the actor, whatever has become of the group that it was for."""
    return _found(find_problem(session, _named(Problem.public_id, public_id), Problem.person_id == actor.person_id))


def organisation_of_staff(session: Session, actor: Actor, public_id: str) -> OrganisationRef:
    """An organisation in which the actor may make groups: as its owner, or as an instructor or foreman of it."""
    of_all = Organisation.id.in_(_open(actor, Membership.organisation_id).where(Membership.group_id.is_(None)))
    return _found(find_organisation(session, _named(Organisation.public_id, public_id), of_all))


def problem_set_of_staff(session: Session, actor: Actor, public_id: str) -> SetRef:
    """A problem set of an organisation in which the actor may make groups, and not put away."""
    of_all = Organisation.id.in_(_open(actor, Membership.organisation_id).where(Membership.group_id.is_(None)))
    kept = ProblemSet.put_away_at.is_(None)
    return _found(find_set(session, _named(ProblemSet.public_id, public_id), kept, of_all))


def organisation_owned_by(session: Session, actor: Actor, public_id: str) -> OrganisationRef:
    """
    An organisation that the actor owns.

    Raises:
        NotFoundError: When the actor does not belong to it at all.
        NotAllowedError: When the actor belongs to it in another role.
    """
    this_one = _named(Organisation.public_id, public_id)
    owned = find_organisation(session, this_one, Organisation.id.in_(_owned(actor)))
    if owned is None:
        known = find_organisation(session, this_one, Organisation.id.in_(_open(actor, Membership.organisation_id)))
        raise NotAllowedError(Message("access.owners-only", {"organisation": _found(known).name}))
    return owned


def group_of_member(session: Session, actor: Actor, public_id: str) -> GroupRef:
    """A group that the actor learns in."""
    return _found(find_group(session, _named(Group.public_id, public_id), _learns_in(actor)))


def group_led_by(session: Session, actor: Actor, public_id: str) -> GroupRef:
    """
    A group that the actor leads, as its instructor or foreman or as owner of its organisation.

    Raises:
        NotFoundError: When the actor does not belong to it at all.
        NotAllowedError: When the actor learns in it.
    """
    led = find_group(session, _named(Group.public_id, public_id), led_by(actor))
    if led is None:
        raise _leaders_only(group_of_member(session, actor, public_id))
    return led


def assigned_work_to(session: Session, actor: Actor, public_id: str) -> WorkRef:
    """Work that was given to a group in which the actor learns, and not withdrawn; nor is the group put away."""
    return _found(find_work(session, given_to(actor, public_id)))


def given_to(actor: Actor, work_public_id: str) -> ColumnElement[bool]:
    """
    The condition of `assigned_work_to`, for a query around that reads work and group, and more beside them.

    Raises:
        NotFoundError: When what is asked for cannot be a name.
    """
    in_force = AssignedWork.withdrawn_at.is_(None), Group.archived_at.is_(None)
    return and_(_named(AssignedWork.public_id, work_public_id), *in_force, _learns_in(actor))


def assigned_work_led_by(session: Session, actor: Actor, public_id: str) -> WorkRef:
    """
    Work that was given to a group that the actor leads, withdrawn or not.

    Raises:
        NotFoundError: When the actor does not belong to the group at all.
        NotAllowedError: When the actor learns in it.
    """
    led = find_work(session, _named(AssignedWork.public_id, public_id), led_by(actor))
    if led is None:
        known = find_work(session, _named(AssignedWork.public_id, public_id), _learns_in(actor))
        raise _leaders_only(_found(known).group)
    return led


def learner_seen_by(
    session: Session, actor: Actor, group_public_id: str, person_public_id: str, what: Shared
) -> LearnerRef:
    """
    A learner of a group, for someone who leads it and wants to see one part of the learner's record.

    For assigned work that is everybody who ever learned in the group, since its results stay the group's record; it
    opens work of this group only. For all else only members who share it now.

    Raises:
        NotFoundError: When the actor does not belong to the group, or the person never learned in it.
        NotAllowedError: When the actor does not lead the group, or the learner does not share this.
    """
    group = group_led_by(session, actor, group_public_id)
    query = select(Person, _is_learner(group), _shares(what, group))
    found = query.where(_named(Person.public_id, person_public_id), _learned_in(group))
    person, is_member, shares = _found(session.execute(found).one_or_none())
    learner = LearnerRef(person.id, person.public_id, person.display_name, is_member, what, group)
    if what is not Shared.ASSIGNED and not (is_member and shares):
        raise _not_shared(learner, what)
    return learner


def problem_seen_by(
    session: Session, actor: Actor, group_public_id: str, person_public_id: str, problem_public_id: str
) -> ProblemRef:
    """
    A learner's problem, for someone who leads the group: what was assigned in this group, and beyond that what the
    learner shares with it: proof runs with readiness, everything else that is nobody's assigned work with practice.

    Raises:
        NotFoundError: As `learner_seen_by`, or when the problem is not this learner's or is another group's work.
        NotAllowedError: As `learner_seen_by`.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.ASSIGNED)
    issued_to_learner = Problem.person_id == learner.person_id
    problem = _found(find_problem(session, _named(Problem.public_id, problem_public_id), issued_to_learner))
    if problem.assigned_family_id is None:
        part = Shared.READINESS if problem.context == "proof" else Shared.PRACTICE
        _refuse_unless_shared(session, learner, part)
    elif not _assigned_in(session, problem.assigned_family_id, learner.group):
        raise NotFoundError
    return problem


def _refuse_unless_shared(session: Session, learner: LearnerRef, what: Shared) -> None:
    """What is not assigned work is shown only by a member who shares it now."""
    if not learner.is_member or what not in shared_with(session, learner.person_id, learner.group.id):
        raise _not_shared(learner, what)


def _not_shared(learner: LearnerRef, what: Shared) -> NotAllowedError:
    names = {"person": learner.display_name, "group": learner.group.name}
    return NotAllowedError(Message(f"access.{what.value}-not-shared", names))


def _named(column: InstrumentedAttribute[str], public_id: str) -> ColumnElement[bool]:
    """The condition that a thing has this name; what cannot be a name is not asked for, and not found."""
    if not is_public_id(public_id):
        raise NotFoundError
    return column == public_id


def _open(actor: Actor, column: InstrumentedAttribute[Any]) -> Select[tuple[Any]]:
    """A column of the actor's open memberships, as they stand now rather than when the request began."""
    return select(column).where(Membership.person_id == actor.person_id, Membership.ended_at.is_(None))


def _owned(actor: Actor) -> Select[tuple[Any]]:
    return _open(actor, Membership.organisation_id).where(Membership.role == "owner")


def _learns_in(actor: Actor) -> ColumnElement[bool]:
    """The condition that the actor learns in a group."""
    return Group.id.in_(_open(actor, Membership.group_id).where(Membership.role == "learner"))


def led_by(actor: Actor) -> ColumnElement[bool]:
    """
    The condition that the group of the query around is led by the actor.

    It is asked anew of the memberships as they stand now, of those kinds that the actor came with. One list of groups
    rather than two conditions with "or" between them, and no owner's groups for who owns nothing: PostgreSQL expects
    most groups to pass an "or", and all of a school's to be an owner's, and reads everybody's answers on their account.
    """
    led = []
    if actor.leads:
        led.append(_open(actor, Membership.group_id).where(Membership.role.in_(LEADING_ROLES)))
    if actor.owns:
        owned = aliased(Group)
        at = Membership.organisation_id == owned.organisation_id
        led.append(_open(actor, owned.id).join_from(owned, Membership, at).where(Membership.role == "owner"))
    return Group.id.in_(union_all(*led)) if led else false()


def _leaders_only(group: GroupRef) -> NotAllowedError:
    return NotAllowedError(Message("access.leaders-only", {"group": group.name}))


def _learned_in(group: GroupRef) -> ColumnElement[bool]:
    return Person.id.in_(
        select(Membership.person_id).where(Membership.group_id == group.id, Membership.role == "learner")
    )


def _is_learner(group: GroupRef) -> ColumnElement[bool]:
    """That the person of the query around learns in a group now."""
    return exists().where(
        Membership.person_id == Person.id,
        Membership.group_id == group.id,
        Membership.role == "learner",
        Membership.ended_at.is_(None),
    )


def _shares(what: Shared, group: GroupRef) -> ColumnElement[bool]:
    """That the person of the query around shares a part of the record with a group now."""
    return exists().where(
        Share.person_id == Person.id,
        Share.group_id == group.id,
        Share.what == what.value,
        Share.ended_at.is_(None),
    )


def _assigned_in(session: Session, assigned_family_id: int, group: GroupRef) -> bool:
    query = (
        select(AssignedWork.id)
        .join(AssignedFamily, AssignedFamily.assigned_work_id == AssignedWork.id)
        .where(AssignedFamily.id == assigned_family_id, AssignedWork.group_id == group.id)
    )
    return session.scalar(query) is not None


def _found(thing: Found | None) -> Found:
    if thing is None:
        raise NotFoundError
    return thing
