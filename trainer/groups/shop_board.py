"""The board over all crews of a shop, or all classes of a school, for its owner; those who show readiness to one of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from sqlalchemy import and_, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, organisation_owned_by
from trainer.accounts.actor import Actor
from trainer.accounts.refs import OrganisationRef
from trainer.accounts.sharing import Shared
from trainer.groups.board import LOOKED
from trainer.groups.job_types import needs_of
from trainer.groups.looks import note_looks_in_groups
from trainer.groups.ready_board import PersonReady, ReadyPeople, readiness_of_people
from trainer.library.shelf import Library
from trainer.records.models import Group, Membership, Person, Share

__all__ = ["Crew", "ShopBoard", "shop_board"]


@dataclass(frozen=True, slots=True)
class Crew:
    """A crew or class on the board: public id, name, and how many learn in it."""

    group: str
    name: str
    people: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopBoard(ReadyPeople):
    """
    The people of a whole shop or school, or of one of its groups.

    Args:
        organisation: The shop or school.
        crews: Its groups by name, whichever of them is shown.
        chosen: The group that is shown; None for all.
    """

    organisation: OrganisationRef
    crews: tuple[Crew, ...]
    chosen: Crew | None


@dataclass(slots=True)
class _Member:
    """A person, in which groups, and to which of them readiness is shown."""

    key: int
    public_id: str
    name: str
    crews: list[str]
    shows: list[tuple[int, str]]


def shop_board(
    session: Session,
    library: Library,
    actor: Actor,
    organisation_public_id: str,
    *,
    crew: str = "",
    now: datetime,
    when: Callable[[ZoneInfo], datetime] | None = None,
) -> ShopBoard:
    """
    The board of an organisation, for its owner. That he looked is noted for each person who shows readiness.

    Args:
        session: A write session.
        library: The content.
        actor: Who asks.
        organisation_public_id: The organisation.
        crew: Public id of the one group to show; "" for all.
        now: This moment.
        when: The moment that it is about, in the shop's zone, when that lies ahead; nobody answers anything until then.

    Raises:
        NotFoundError: When there is no such organisation or group, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    rows = _rows(session, organisation.id)
    crews = _crews(rows)
    chosen = next((one for one in crews if one.group == crew), None)
    if crew and chosen is None:
        raise NotFoundError
    members = _members(rows, chosen)
    showing = [one for one in members if one.shows]
    jobs = needs_of(session, library, [organisation.id])[organisation.id]
    moment = max(when(ZoneInfo(organisation.time_zone)), now) if when else now
    keys = [one.key for one in showing]
    places = {organisation.id: (ZoneInfo(organisation.time_zone), jobs)}
    found = readiness_of_people(session, library, keys, places, at=moment)[organisation.id]
    looked_at = [(one.shows[0][0], one.key) for one in showing]
    note_looks_in_groups(session, actor, looked_at, what=LOOKED, now=now)
    return ShopBoard(
        at=moment,
        jobs=tuple(jobs),
        people=tuple(
            PersonReady(one.public_id, one.name, found[one.key], one.shows[0][1], tuple(one.crews)) for one in showing
        ),
        closed=tuple(one.name for one in members if not one.shows),
        organisation=organisation,
        crews=crews,
        chosen=chosen,
    )


def _rows(session: Session, organisation_id: int) -> Sequence[tuple[Group, Person | None, bool]]:
    """Each group with each of its learners (None where it has none), and whether that one shows readiness to it; one query."""
    learns = and_(Membership.group_id == Group.id, Membership.role == "learner", Membership.ended_at.is_(None))
    shown = and_(
        Share.person_id == Person.id,
        Share.group_id == Group.id,
        Share.what == Shared.READINESS.value,
        Share.ended_at.is_(None),
    )
    query = (
        select(Group, Person, Share.id.is_not(None))
        .outerjoin(Membership, learns)
        .outerjoin(Person, Person.id == Membership.person_id)
        .outerjoin(Share, shown)
        .where(Group.organisation_id == organisation_id, Group.archived_at.is_(None))
        .order_by(Group.name, Group.id, Person.display_name, Person.id)
    )
    return [(group, person, bool(shows)) for group, person, shows in session.execute(query)]


def _crews(rows: Sequence[tuple[Group, Person | None, bool]]) -> tuple[Crew, ...]:
    groups = {group.public_id: group.name for group, _, _ in rows}
    return tuple(
        Crew(public_id, name, sum(group.public_id == public_id and person is not None for group, person, _ in rows))
        for public_id, name in groups.items()
    )


def _members(rows: Sequence[tuple[Group, Person | None, bool]], chosen: Crew | None) -> list[_Member]:
    """Everybody once, by name."""
    found: dict[int, _Member] = {}
    for group, person, shows in rows:
        if person is None or (chosen and group.public_id != chosen.group):
            continue
        one = found.setdefault(person.id, _Member(person.id, person.public_id, person.display_name, [], []))
        one.crews.append(group.name)
        if shows:
            one.shows.append((group.id, group.public_id))
    return sorted(found.values(), key=lambda one: (one.name, one.key))
