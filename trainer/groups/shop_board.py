"""The board over all crews of a shop, or all classes of a school, for its owner; those who show readiness to one of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple
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
from trainer.groups.ready_board import PersonReady, ReadyPeople, learners, people_ready
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


class _Row(NamedTuple):
    """A group with one of its learners; without one, the last four are None. `share` is None where readiness is closed."""

    crew_key: int
    crew: str
    crew_name: str
    key: int | None
    person: str | None
    name: str | None
    share: int | None


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
    zone, keys = ZoneInfo(organisation.time_zone), [one.key for one in showing]
    whose = learners().where(Membership.organisation_id == organisation.id)
    jobs = needs_of(session, library, [organisation.id])[organisation.id]
    moment = max(when(zone), now) if when else now
    place, found = people_ready(
        session, library, organisation.id, keys, whose=whose, zone=zone, jobs=jobs, now=now, moment=moment
    )
    looked_at = [(one.shows[0][0], one.key) for one in showing]
    note_looks_in_groups(session, actor, looked_at, what=LOOKED, now=now)
    return ShopBoard(
        at=moment,
        jobs=tuple(jobs),
        people=tuple(
            PersonReady(one.public_id, one.name, found[one.key], one.shows[0][1], tuple(one.crews)) for one in showing
        ),
        closed=tuple(one.name for one in members if not one.shows),
        place=place,
        key=f"shop {crew}",
        organisation=organisation,
        crews=crews,
        chosen=chosen,
    )


def _rows(session: Session, organisation_id: int) -> Sequence[_Row]:
    """Each group with each of its learners (None where it has none), and whether that one shows readiness to it; one query."""
    learns = and_(Membership.group_id == Group.id, Membership.role == "learner", Membership.ended_at.is_(None))
    shown = and_(
        Share.person_id == Person.id,
        Share.group_id == Group.id,
        Share.what == Shared.READINESS.value,
        Share.ended_at.is_(None),
    )
    query = (
        select(Group.id, Group.public_id, Group.name, Person.id, Person.public_id, Person.display_name, Share.id)
        .outerjoin(Membership, learns)
        .outerjoin(Person, Person.id == Membership.person_id)
        .outerjoin(Share, shown)
        .where(Group.organisation_id == organisation_id, Group.archived_at.is_(None), ~Group.is_sample)
        .order_by(Group.name, Group.id, Person.display_name, Person.id)
    )
    return [_Row(*row) for row in session.execute(query)]


def _crews(rows: Sequence[_Row]) -> tuple[Crew, ...]:
    people = Counter(row.crew for row in rows if row.key is not None)
    names = {row.crew: row.crew_name for row in rows}
    return tuple(Crew(crew, name, people[crew]) for crew, name in names.items())


def _members(rows: Sequence[_Row], chosen: Crew | None) -> list[_Member]:
    """Everybody once, by name."""
    found: dict[int, _Member] = {}
    for row in rows:
        if row.key is None or (chosen and row.crew != chosen.group):
            continue
        one = found.setdefault(row.key, _Member(row.key, row.person or "", row.name or "", [], []))
        one.crews.append(row.crew_name)
        if row.share is not None:
            one.shows.append((row.crew_key, row.crew))
    return sorted(found.values(), key=lambda one: (one.name, one.key))
