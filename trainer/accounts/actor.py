"""Who is asking: the person behind a session, with the memberships that are open at this moment."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import Select, bindparam, exists, select
from sqlalchemy.orm import Session

from trainer.accounts.sessions import USUAL_LIFE, SignInLife, lives, token_hash
from trainer.records.models import Group, Membership, Organisation, Person, SecondFactor, SignInSession

__all__ = ["LEADING_ROLES", "Actor", "ActorMembership", "actor_for", "actor_of_person"]

LEADING_ROLES = ("instructor", "foreman")
"""Roles that lead the group of their membership. (An owner leads every group of the organisation.)"""


_HAS_SECOND_FACTOR = exists().where(SecondFactor.person_id == Person.id, SecondFactor.confirmed_at.is_not(None))


class ActorMembership(Struct, frozen=True):
    """
    An open membership; the parts of the group are None where it is of the whole organisation. It is untold while
    somebody whom others put in has not read yet what the group sees. It wants a second factor where the organisation
    asks that of the role.
    """

    role: str
    organisation_id: int
    organisation_public_id: str
    organisation_name: str
    organisation_kind: str
    time_zone: str
    local_rules: tuple[str, ...]
    group_id: int | None
    group_public_id: str | None
    group_name: str | None
    group_kind: str | None
    group_is_archived: bool
    is_untold: bool = False
    wants_second_factor: bool = False


class Actor(Struct, frozen=True):
    """
    Someone who is signed in.

    Args:
        person_id: The key of the person's rows.
        public_id: The person in addresses.
        sign_in_name: What the person signs in with.
        display_name: What others read.
        is_site_administrator: Looks after the site; opens nobody's record.
        must_change_password: A new password is due before anything else.
        memberships: Those open now, in the order in which they began.
        touch_due: The session's last use should be noted: `sessions.touch`.
        has_second_factor: Sign-in asks for a code.
        proved_at: When the person last showed who it is, at this browser; None where there is none.
    """

    person_id: int
    public_id: str
    sign_in_name: str
    display_name: str
    is_site_administrator: bool
    must_change_password: bool
    memberships: tuple[ActorMembership, ...]
    touch_due: bool = False
    has_second_factor: bool = False
    proved_at: datetime | None = None

    @property
    def owes_second_factor(self) -> bool:
        """Whether a school or shop asks for a second factor that the person has not set up."""
        return not self.has_second_factor and any(one.wants_second_factor for one in self.memberships)

    @property
    def learns_in(self) -> tuple[ActorMembership, ...]:
        """Memberships in classes and crews as a learner."""
        return tuple(one for one in self.memberships if one.role == "learner")

    @property
    def local_rules(self) -> tuple[str, ...]:
        """Ids of the local rules that the person works under: those of the school or shop that was joined last."""
        return self.memberships[-1].local_rules if self.memberships else ()

    @property
    def zone(self) -> ZoneInfo:
        """In which the person's days are counted: that of the school or shop that was joined last."""
        return ZoneInfo(self.memberships[-1].time_zone if self.memberships else "UTC")

    @property
    def leads(self) -> tuple[ActorMembership, ...]:
        """Memberships in classes and crews that the person leads."""
        return tuple(one for one in self.memberships if one.role in LEADING_ROLES and one.group_id is not None)

    @property
    def is_untold(self) -> bool:
        """Whether the person has still to read what a group sees that others put the person into."""
        return any(one.is_untold for one in self.memberships)

    @property
    def owns(self) -> tuple[ActorMembership, ...]:
        """Memberships as owner of an organisation."""
        return tuple(one for one in self.memberships if one.role == "owner")

    @property
    def may_make_groups_in(self) -> tuple[ActorMembership, ...]:
        """Memberships of a whole organisation, which let the person make a class or crew in it."""
        return tuple(one for one in self.memberships if one.group_id is None)


def actor_for(session: Session, token: str, now: datetime, *, life: SignInLife = USUAL_LIFE) -> Actor | None:
    """
    Who is behind a token; None when the session is unknown or over.

    Two queries. Writes nothing.
    """
    moments = {"now": now, "used_after": now - life.idle}
    found = session.execute(_signed_in(), {"token_hash": token_hash(token), **moments}).one_or_none()
    if found is None:
        return None
    person, browser, has_second_factor = found
    return _actor(
        session,
        person,
        touch_due=now - browser.last_seen_at > life.touch_after,
        has_second_factor=has_second_factor,
        proved_at=browser.proved_at or browser.created_at,
    )


@cache
def _signed_in() -> Select[Person, SignInSession, bool]:
    """Who is behind a token: each request asks, so that the statement is built once."""
    return (
        select(Person, SignInSession, _HAS_SECOND_FACTOR)
        .join(SignInSession, SignInSession.person_id == Person.id)
        .where(SignInSession.token_hash == bindparam("token_hash"), lives(bindparam("now"), bindparam("used_after")))
    )


def actor_of_person(session: Session, person_id: int) -> Actor:
    """
    The actor that a person would be when signed in, for the command line and invented people.

    Raises:
        NoResultFound: When there is no such person, or it is deleted.
    """
    alive = select(Person, _HAS_SECOND_FACTOR).where(Person.id == person_id, Person.deleted_at.is_(None))
    person, has_second_factor = session.execute(alive).one()
    return _actor(session, person, touch_due=False, has_second_factor=has_second_factor, proved_at=None)


def _actor(
    session: Session, person: Person, *, touch_due: bool, has_second_factor: bool, proved_at: datetime | None
) -> Actor:
    return Actor(
        person_id=person.id,
        public_id=person.public_id,
        sign_in_name=person.sign_in_name or "",
        display_name=person.display_name,
        is_site_administrator=person.is_site_administrator,
        must_change_password=person.must_change_password,
        memberships=_memberships(session, person.id),
        touch_due=touch_due,
        has_second_factor=has_second_factor,
        proved_at=proved_at,
    )


def _memberships(session: Session, person_id: int) -> tuple[ActorMembership, ...]:
    found = session.execute(_open_memberships(), {"person_id": person_id})
    return tuple(_membership(row, organisation, group) for row, organisation, group in found)


@cache
def _open_memberships() -> Select[Membership, Organisation, Group]:
    """The open memberships of a person; built once, as the statement above."""
    return (
        select(Membership, Organisation, Group)
        .join(Organisation, Organisation.id == Membership.organisation_id)
        .outerjoin(Group, Group.id == Membership.group_id)
        .where(Membership.person_id == bindparam("person_id"), Membership.ended_at.is_(None))
        .order_by(Membership.started_at, Membership.id)
    )


def _membership(row: Membership, organisation: Organisation, group: Group | None) -> ActorMembership:
    return ActorMembership(
        role=row.role,
        organisation_id=organisation.id,
        organisation_public_id=organisation.public_id,
        organisation_name=organisation.name,
        organisation_kind=organisation.kind,
        time_zone=organisation.time_zone,
        local_rules=tuple(organisation.local_rules.split()),
        group_id=group.id if group else None,
        group_public_id=group.public_id if group else None,
        group_name=group.name if group else None,
        group_kind=group.kind if group else None,
        group_is_archived=bool(group and group.archived_at),
        is_untold=row.added_by_id is not None and row.told_at is None,
        wants_second_factor=row.role in organisation.second_factor_for.split(),
    )
