"""
The board of a crew: who is ready for which job type, who is not yet, what is due; as far as each member shows it.

Readiness is shared or not, member by member; whoever closed it stands on the board by name only. All of it is worked
out from a fixed number of queries, however many people, skills and job types there are.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from zoneinfo import ZoneInfo

from msgspec import Struct
from msgspec.structs import replace
from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, LearnerRef, NotFoundError, group_led_by, learner_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.sharing import Shared
from trainer.groups.board import LOOKED
from trainer.groups.job_types import needs_of
from trainer.groups.kept_board import Look, Members, OnBoard, PersonReady, Rows, kept_board, note_who_looked
from trainer.groups.kept_ready import KeptPlace, place_of
from trainer.groups.looks import note_looks
from trainer.groups.ready_rows import readiness_of_people
from trainer.library.shelf import Library
from trainer.progress.needs import JobNeed, Readiness, Ready
from trainer.records.models import Membership, Person, Share

__all__ = [
    "OwnJobs",
    "PersonReady",
    "ReadyBoard",
    "ReadyPeople",
    "learners",
    "look_ahead",
    "own_jobs",
    "person_ready",
    "ready_board",
]


class ReadyPeople(Struct, frozen=True, kw_only=True):
    """
    People by job type.

    Args:
        at: The moment that it is about.
        jobs: The job types of their shop, by name.
        people: Those who show readiness, by name.
        closed: Names of those who do not.
        place: Where it is kept how they stand; None of a moment that lies ahead.
        key: The board among those of the place.
    """

    at: datetime
    jobs: tuple[JobNeed, ...]
    people: tuple[PersonReady, ...]
    closed: tuple[str, ...]
    place: KeptPlace | None = None
    key: str = ""

    def job(self, public_id: str) -> JobNeed:
        """
        The job type of this name in addresses.

        Raises:
            NotFoundError: When there is none.
        """
        found = next((job for job in self.jobs if job.job == public_id), None)
        if found is None:
            raise NotFoundError
        return found

    def who(self, job: JobNeed, state: Ready) -> list[PersonReady]:
        """The people of whom this holds; those who are nearest to being ready first."""
        found = [one for one in self.people if one.jobs[job.job].state is state]
        return sorted(found, key=lambda one: (len(one.jobs[job.job].missing), one.jobs[job.job].days))


class ReadyBoard(ReadyPeople, frozen=True, kw_only=True):
    """A crew or class by job type."""

    group: GroupRef


class OwnJobs(Struct, frozen=True):
    """The job types of one shop or school, as somebody who learns there stands with them: its name, its zone's, they."""

    organisation: str
    zone: str
    jobs: tuple[Readiness, ...]


def ready_board(
    session: Session,
    library: Library,
    actor: Actor,
    group_public_id: str,
    *,
    now: datetime,
    when: Callable[[ZoneInfo], datetime] | None = None,
    job: str | None = None,
) -> ReadyBoard:
    """
    The board of a group, for who leads it. That he looked is noted for each member who shows readiness.

    Args:
        session: A write session.
        library: The content.
        actor: Who asks.
        group_public_id: The group.
        now: This moment.
        when: The moment that it is about, in the shop's zone, when that lies ahead; nobody answers anything until then.
        job: The one job type that is looked at, by its public id; None for all.

    Raises:
        NotFoundError: When the group is not his to know of, or there is no such job type.
        NotAllowedError: When he does not lead it.
    """
    group = group_led_by(session, actor, group_public_id)
    zone, whose = ZoneInfo(group.organisation.time_zone), learners().where(Membership.group_id == group.id)
    place = place_of(
        session, group.organisation.id, needs_of(session, library, [group.organisation.id])[group.organisation.id], zone
    )
    look = Look(session, library, place, whose, now)
    if when:
        look = look_ahead(look, max(when(zone), now), job)
    kept = kept_board(look, group_public_id, _members(group.id), lambda rows: _on_board(group, rows, look))
    note_who_looked(session, actor, kept, what=LOOKED, now=now)
    return ReadyBoard(
        group=group,
        at=look.ahead or now,
        jobs=tuple(look.place.jobs),
        people=kept.on.people,
        closed=kept.on.closed,
        place=None if look.ahead else place,
        key=group_public_id,
    )


def person_ready(
    session: Session,
    library: Library,
    actor: Actor,
    group_public_id: str,
    person_public_id: str,
    *,
    job: str,
    now: datetime,
) -> tuple[LearnerRef, Readiness]:
    """
    One member and one job type, for who leads the group.

    Raises:
        NotFoundError: As `ready_board`, or when the person never learned in it, or there is no such job type.
        NotAllowedError: As `ready_board`, or when the member does not share readiness.
    """
    learner = learner_seen_by(session, actor, group_public_id, person_public_id, Shared.READINESS)
    organisation = learner.group.organisation.id
    need = next((one for one in needs_of(session, library, [organisation])[organisation] if one.job == job), None)
    if need is None:
        raise NotFoundError
    note_looks(session, actor, learner.group.id, [learner.person_id], what=LOOKED, now=now)
    places = {organisation: (ZoneInfo(learner.group.organisation.time_zone), [need])}
    found = readiness_of_people(session, library, [learner.person_id], places, at=now)
    return learner, found[organisation][learner.person_id][job]


def own_jobs(session: Session, library: Library, actor: Actor, now: datetime) -> list[OwnJobs]:
    """How the one who asks stands with the job types of each shop and school in which he learns."""
    learns_in = {one.organisation_id: one for one in actor.learns_in}
    needs = {place: jobs for place, jobs in needs_of(session, library, learns_in).items() if jobs}
    places = {place: (ZoneInfo(learns_in[place].time_zone), jobs) for place, jobs in needs.items()}
    if not places:
        return []
    found = readiness_of_people(session, library, [actor.person_id], places, at=now)
    return [
        OwnJobs(one.organisation_name, one.time_zone, tuple(found[place][actor.person_id].values()))
        for place, one in learns_in.items()
        if place in places
    ]


def learners() -> Select[int]:
    """Keys of all who learn in some group now."""
    return select(Membership.person_id).where(Membership.role == "learner", Membership.ended_at.is_(None))


def look_ahead(look: Look, moment: datetime, job: str | None) -> Look:
    """
    The same look at a moment that lies ahead, with one job type only or (None) with all.

    Raises:
        NotFoundError: When there is no such job type.
    """
    jobs = [one for one in look.place.jobs if job in (None, one.job)]
    if job is not None and not jobs:
        raise NotFoundError
    return replace(look, place=replace(look.place, jobs=jobs), ahead=moment)


def _on_board(group: GroupRef, rows: Rows, look: Look) -> OnBoard:
    showing = [row for row in rows if row.share is not None]
    found = look.stand([row.key for row in showing])
    return OnBoard(
        people=tuple(PersonReady(row.person, row.name, found[row.key], group.public_id) for row in showing),
        closed=tuple(row.name for row in rows if row.share is None),
        looked_at=tuple((group.id, row.key) for row in showing),
    )


def _members(group_id: int) -> Members:
    """Key, public id and name of each member, and the key of what says that he shows readiness."""
    shown = (
        (Share.person_id == Person.id)
        & (Share.group_id == group_id)
        & (Share.what == Shared.READINESS.value)
        & Share.ended_at.is_(None)
    )
    return (
        select(
            Person.id.label("key"),
            Person.public_id.label("person"),
            Person.display_name.label("name"),
            Share.id.label("share"),
        )
        .join(Membership, Membership.person_id == Person.id)
        .outerjoin(Share, shown)
        .where(Membership.group_id == group_id, Membership.role == "learner", Membership.ended_at.is_(None))
        .order_by(Person.display_name, Person.id)
    )
