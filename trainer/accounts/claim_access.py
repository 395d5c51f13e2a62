"""
Fetching is the check, for keys in doubt: who answers a claim, and whose answers stand behind what is said of a question.

A claim about assigned work goes to who leads its group; one about a proof run to who leads a group with which the person
shares readiness; any other to who leads a group with which the person shares practice. What nobody leads goes to the
site administrator, who sees the problem and what was sent, and neither the name nor the record.
"""

from __future__ import annotations

from msgspec import Struct
from sqlalchemy import ColumnElement, Exists, and_, case, exists, false, or_, select, true, union_all
from sqlalchemy.orm import Session, aliased

from trainer.accounts.access import NotAllowedError, NotFoundError, led_by
from trainer.accounts.actor import Actor
from trainer.calc.message import Message
from trainer.records.joins import problems_of_lines
from trainer.records.models import (
    Answer,
    AssignedFamily,
    AssignedWork,
    ContentVersion,
    Group,
    KeyClaim,
    Membership,
    Person,
    Problem,
    Share,
)
from trainer.records.types import is_public_id

__all__ = [
    "ClaimRef",
    "answers_claims",
    "asked_beyond",
    "claim_to",
    "claims_to",
    "counted_for",
    "may_rule",
    "shown_by_name",
]


class ClaimRef(Struct, frozen=True):
    """A claim that was fetched; `by_name` says whether the one who asks may know whose it is."""

    id: int
    public_id: str
    problem: str
    person_id: int
    by_name: bool


def shown_by_name(actor: Actor) -> ColumnElement[bool]:
    """
    That the actor may see the problem of the query around, with the name of its person.

    Asked of few problems, each by its own key: a list of all that was given in the actor's groups would be made first.
    """
    given = (
        select(AssignedFamily.id)
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .join(Group, Group.id == AssignedWork.group_id)
        .where(AssignedFamily.id == Problem.assigned_family_id, led_by(actor))
        .correlate(Problem)
    )
    return or_(given.exists(), _unassigned_and_shared(actor))


def counted_for(actor: Actor) -> ColumnElement[bool]:
    """That the problem of the query around is counted, without a name, in what the actor reads about questions."""
    if actor.is_site_administrator:
        return true()
    # Asked of all answers, of which the actor's are few: the problems of his groups come first, found from the groups on.
    given, done = aliased(Problem), aliased(Problem)
    of_groups = (
        select(given.id)
        .join(AssignedFamily, problems_of_lines(given))
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .join(Group, Group.id == AssignedWork.group_id)
        .where(led_by(actor))
    )
    of_people = (
        select(done.id)
        .join(Share, Share.person_id == done.person_id)
        .join(Group, Group.id == Share.group_id)
        .where(led_by(actor), Share.ended_at.is_(None), Share.what == _part(done), done.context != "assigned")
    )
    return Problem.id.in_(union_all(of_groups, of_people))


def _unassigned_and_shared(actor: Actor) -> ColumnElement[bool]:
    led = select(Group.id).where(led_by(actor))
    return and_(Problem.assigned_family_id.is_(None), _shared(Share.group_id.in_(led)))


def claims_to(actor: Actor) -> ColumnElement[bool]:
    """That the claim about the problem of the query around is the actor's to answer."""
    unled = and_(Problem.assigned_family_id.is_(None), ~_shared(true()))
    return or_(shown_by_name(actor), unled if actor.is_site_administrator else false())


def claim_to(session: Session, actor: Actor, public_id: str) -> ClaimRef:
    """
    A claim that is the actor's to answer.

    Raises:
        NotFoundError: When there is no such claim, or it goes to somebody else.
    """
    if not is_public_id(public_id):
        raise NotFoundError
    query = (
        select(KeyClaim, Problem.public_id, shown_by_name(actor))
        .join(Problem, Problem.id == KeyClaim.problem_id)
        .where(KeyClaim.public_id == public_id, claims_to(actor))
    )
    found = session.execute(query).one_or_none()
    if found is None:
        raise NotFoundError
    claim, problem, by_name = found
    return ClaimRef(claim.id, claim.public_id, problem, claim.person_id, bool(by_name))


def answers_claims(actor: Actor) -> bool:
    """Whether claims may come to the actor at all."""
    return bool(actor.leads or actor.owns or actor.is_site_administrator)


def may_rule(actor: Actor) -> None:
    """
    Who decides about keys: who leads a class or crew, owns a school or shop, or looks after the site. Outside of one's own
    schools and shops only the last does: `asked_beyond`.

    Raises:
        NotAllowedError: For anybody else.
    """
    if not answers_claims(actor):
        raise NotAllowedError(Message("keys.leaders-only"))


def asked_beyond(session: Session, actor: Actor, rules: str) -> bool:
    """
    Whether a question was answered outside of the schools and shops in which the actor leads or owns, by real people.

    Args:
        session: Any session.
        actor: Who would decide about its key.
        rules: Hash of its rules.
    """
    own = [one.organisation_id for one in (*actor.leads, *actor.owns)]
    given = (
        select(AssignedFamily.id)
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .join(Group, Group.id == AssignedWork.group_id)
        .where(Group.organisation_id.in_(own))
    )
    members = select(Membership.person_id).where(Membership.organisation_id.in_(own), Membership.ended_at.is_(None))
    within = case(
        (Problem.assigned_family_id.is_(None), Problem.person_id.in_(members)),
        else_=Problem.assigned_family_id.in_(given),
    )
    answered = (
        select(Problem.id)
        .join(ContentVersion, ContentVersion.id == Problem.content_version_id)
        .join(Answer, Answer.problem_id == Problem.id)
        .join(Person, Person.id == Problem.person_id)
        .where(ContentVersion.rules_hash == rules, Person.is_invented.is_(False), ~within)
    )
    return session.scalar(answered.limit(1)) is not None


def _shared(where: ColumnElement[bool]) -> Exists:
    """That the person of the query around shares, with such a group, the part to which the problem belongs."""
    part = Share.what == _part(Problem)
    return exists().where(Share.person_id == Problem.person_id, part, Share.ended_at.is_(None), where)


def _part(problem: type[Problem]) -> ColumnElement[str]:
    """With which part of a person's record a problem that was not given is shared."""
    return case((problem.context == "proof", "readiness"), else_="practice")
