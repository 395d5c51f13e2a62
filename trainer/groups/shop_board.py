"""The board over all crews of a shop, or all classes of a school, for its owner; those who show readiness to one of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from msgspec import Struct
from sqlalchemy import and_, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, organisation_owned_by
from trainer.accounts.actor import Actor
from trainer.accounts.refs import OrganisationRef
from trainer.accounts.sharing import Shared
from trainer.groups.board import LOOKED
from trainer.groups.job_types import needs_of
from trainer.groups.kept_board import (
    Crew,
    Look,
    Members,
    OnBoard,
    PersonReady,
    Rows,
    kept_board,
    note_who_looked,
)
from trainer.groups.kept_ready import place_of
from trainer.groups.ready_board import ReadyPeople, learners, look_ahead
from trainer.library.shelf import Library
from trainer.records.models import Group, Membership, Person, Share

__all__ = ["Crew", "ShopBoard", "shop_board"]


class ShopBoard(ReadyPeople, frozen=True, kw_only=True):
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


class _Member(Struct):
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
    job: str | None = None,
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
        job: The one job type that is looked at, by its public id; None for all.

    Raises:
        NotFoundError: When there is no such organisation, group or job type, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    zone, whose = ZoneInfo(organisation.time_zone), learners().where(Membership.organisation_id == organisation.id)
    place = place_of(session, organisation.id, needs_of(session, library, [organisation.id])[organisation.id], zone)
    look = Look(session, library, place, whose, now)
    if when:
        look = look_ahead(look, max(when(zone), now), job)
    key = f"shop {crew}"
    kept = kept_board(look, key, _members(organisation.id), lambda rows: _on_board(rows, crew, look))
    note_who_looked(session, actor, kept, what=LOOKED, now=now)
    return ShopBoard(
        at=look.ahead or now,
        jobs=tuple(look.place.jobs),
        people=kept.on.people,
        closed=kept.on.closed,
        place=None if look.ahead else place,
        key=key,
        organisation=organisation,
        crews=kept.on.crews,
        chosen=_chosen(kept.on.crews, crew),
    )


def _members(organisation_id: int) -> Members:
    """
    Each group with each of its learners, and the key of what says that he shows readiness to it.

    A group without learners stands there once, with nothing else.
    """
    learns = and_(Membership.group_id == Group.id, Membership.role == "learner", Membership.ended_at.is_(None))
    shown = and_(
        Share.person_id == Person.id,
        Share.group_id == Group.id,
        Share.what == Shared.READINESS.value,
        Share.ended_at.is_(None),
    )
    return (
        select(
            Group.id.label("crew_key"),
            Group.public_id.label("crew"),
            Group.name.label("crew_name"),
            Person.id.label("key"),
            Person.public_id.label("person"),
            Person.display_name.label("name"),
            Share.id.label("share"),
        )
        .outerjoin(Membership, learns)
        .outerjoin(Person, Person.id == Membership.person_id)
        .outerjoin(Share, shown)
        .where(Group.organisation_id == organisation_id, Group.archived_at.is_(None), ~Group.is_sample)
        .order_by(Group.name, Group.id, Person.display_name, Person.id)
    )


def _on_board(rows: Rows, crew: str, look: Look) -> OnBoard:
    """Everybody of all groups, or of one, once."""
    crews = _crews(rows)
    members = _everybody(rows, _chosen(crews, crew))
    showing = [one for one in members if one.shows]
    found = look.stand([one.key for one in showing])
    return OnBoard(
        people=tuple(
            PersonReady(one.public_id, one.name, found[one.key], one.shows[0][1], tuple(one.crews)) for one in showing
        ),
        closed=tuple(one.name for one in members if not one.shows),
        looked_at=tuple((one.shows[0][0], one.key) for one in showing),
        crews=crews,
    )


def _chosen(crews: Sequence[Crew], crew: str) -> Crew | None:
    """The group of this public id; None for all of them."""
    chosen = next((one for one in crews if one.group == crew), None)
    if crew and chosen is None:
        raise NotFoundError
    return chosen


def _crews(rows: Rows) -> tuple[Crew, ...]:
    people = Counter(row.crew for row in rows if row.key is not None)
    names = {row.crew: row.crew_name for row in rows}
    return tuple(Crew(crew, name, people[crew]) for crew, name in names.items())


def _everybody(rows: Rows, chosen: Crew | None) -> list[_Member]:
    """Everybody once, by name."""
    found: dict[int, _Member] = {}
    for row in rows:
        if row.key is None or (chosen and row.crew != chosen.group):
            continue
        one = found.setdefault(row.key, _Member(row.key, row.person, row.name, [], []))
        one.crews.append(row.crew_name)
        if row.share is not None:
            one.shows.append((row.crew_key, row.crew))
    return sorted(found.values(), key=lambda one: (one.name, one.key))
