"""Who is asking: the person behind a session, with the memberships that are open at this moment."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from functools import cache
from typing import Any
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import Connection, Row, Select, bindparam, exists, select
from sqlalchemy.exc import NoResultFound
from sqlalchemy.orm import Session

from trainer.accounts.sessions import USUAL_LIFE, SignInLife, lives, token_hash
from trainer.records.models import Group, Membership, Organisation, Person, SecondFactor, SignInSession

__all__ = ["LEADING_ROLES", "Actor", "ActorMembership", "actor_for", "actor_of_person"]

LEADING_ROLES = ("instructor", "foreman")
"""Roles that lead the group of their membership. (An owner leads every group of the organisation.)"""


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


def actor_for(
    session: Session | Connection, token: str, now: datetime, *, life: SignInLife = USUAL_LIFE
) -> Actor | None:
    """
    Who is behind a token; None when the session is unknown or over.

    One statement, so that no transaction is needed for all of it to be of one moment. Writes nothing.
    """
    moments = {"now": now, "used_after": now - life.idle}
    found = session.execute(_signed_in(), {"token_hash": token_hash(token), **moments}).all()
    if not found:
        return None
    last_seen_at, proved_at, created_at = found[0][-3:]
    return _actor(found, touch_due=now - last_seen_at > life.touch_after, proved_at=proved_at or created_at)


def actor_of_person(session: Session, person_id: int) -> Actor:
    """
    The actor that a person would be when signed in, for the command line and invented people.

    Raises:
        NoResultFound: When there is no such person, or it is deleted.
    """
    found = session.execute(_alive(), {"person_id": person_id}).all()
    if not found:
        raise NoResultFound
    return _actor(found, touch_due=False, proved_at=None)


_PERSON = (
    Person.id,
    Person.public_id,
    Person.sign_in_name,
    Person.display_name,
    Person.is_site_administrator,
    Person.must_change_password,
    exists().where(SecondFactor.person_id == Person.id, SecondFactor.confirmed_at.is_not(None)),
)
_MEMBERSHIP = (
    Membership.role,
    Organisation.id,
    Organisation.public_id,
    Organisation.name,
    Organisation.kind,
    Organisation.time_zone,
    Organisation.local_rules,
    Organisation.second_factor_for,
    Group.id,
    Group.public_id,
    Group.name,
    Group.kind,
    Group.archived_at.is_not(None),
    Membership.added_by_id.is_not(None) & Membership.told_at.is_(None),
)


def _people() -> Select[*tuple[Any, ...]]:
    """People with their open memberships, a row for each of these; whoever has none has one row, without a role."""
    return (
        select(*_PERSON, *_MEMBERSHIP)
        .select_from(Person)
        .outerjoin(Membership, (Membership.person_id == Person.id) & Membership.ended_at.is_(None))
        .outerjoin(Organisation, Organisation.id == Membership.organisation_id)
        .outerjoin(Group, Group.id == Membership.group_id)
        .order_by(Membership.started_at, Membership.id)
    )


@cache
def _signed_in() -> Select[*tuple[Any, ...]]:
    """Who is behind a token: each request asks, so that the statement is built once."""
    browser = SignInSession
    return (
        _people()
        .add_columns(browser.last_seen_at, browser.proved_at, browser.created_at)
        .join(browser, browser.person_id == Person.id)
        .where(browser.token_hash == bindparam("token_hash"), lives(bindparam("now"), bindparam("used_after")))
    )


@cache
def _alive() -> Select[*tuple[Any, ...]]:
    return _people().where(Person.id == bindparam("person_id"), Person.deleted_at.is_(None))


def _actor(rows: Sequence[Row[Any]], *, touch_due: bool, proved_at: datetime | None) -> Actor:
    person_id, public_id, sign_in_name, display_name, looks_after, password_due, has_factor = rows[0][: len(_PERSON)]
    memberships = [row[len(_PERSON) : len(_PERSON) + len(_MEMBERSHIP)] for row in rows]
    return Actor(
        person_id=person_id,
        public_id=public_id,
        sign_in_name=sign_in_name or "",
        display_name=display_name,
        is_site_administrator=looks_after,
        must_change_password=password_due,
        memberships=tuple(_membership(columns) for columns in memberships if columns[0] is not None),
        touch_due=touch_due,
        has_second_factor=has_factor,
        proved_at=proved_at,
    )


def _membership(columns: Sequence[Any]) -> ActorMembership:
    """A membership from its columns, which stand in the order of its fields but for what is asked of whom."""
    *plain, local_rules, factor_for, group_id, group_public_id, group_name, group_kind, archived, untold = columns
    role, organisation_id, organisation_public_id, organisation_name, organisation_kind, time_zone = plain
    return ActorMembership(
        role=role,
        organisation_id=organisation_id,
        organisation_public_id=organisation_public_id,
        organisation_name=organisation_name,
        organisation_kind=organisation_kind,
        time_zone=time_zone,
        local_rules=tuple(local_rules.split()),
        group_id=group_id,
        group_public_id=group_public_id,
        group_name=group_name,
        group_kind=group_kind,
        group_is_archived=archived,
        is_untold=untold,
        wants_second_factor=role in factor_for.split(),
    )
