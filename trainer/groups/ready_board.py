"""
The board of a crew: who is ready for which job type, who is not yet, what is due; as far as each member shows it.

Readiness is shared or not, member by member; whoever closed it stands on the board by name only. All of it is worked
out from a fixed number of queries, however many people, skills and job types there are.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, LearnerRef, NotFoundError, group_led_by, learner_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.sharing import Shared
from trainer.groups.board import LOOKED
from trainer.groups.job_types import needs_of
from trainer.groups.kept_ready import KeptJob, KeptPlace, kept_readiness
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
    "own_jobs",
    "people_ready",
    "person_ready",
    "ready_board",
]


@dataclass(frozen=True, slots=True)
class PersonReady:
    """
    Somebody who shows readiness.

    Args:
        person: Public id.
        name: Name.
        jobs: How it stands with each job type, by its public id.
        group: Public id of a group towards which the person shows it.
        crews: Names of the groups that the person is in; only where several are shown together.
    """

    person: str
    name: str
    jobs: Mapping[str, Readiness] | Mapping[str, KeptJob]
    group: str
    crews: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyPeople:
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


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyBoard(ReadyPeople):
    """A crew or class by job type."""

    group: GroupRef


@dataclass(frozen=True, slots=True)
class OwnJobs:
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

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it.
    """
    group = group_led_by(session, actor, group_public_id)
    members = _members(session, group.id)
    showing = [(person, public_id, name) for person, public_id, name, shows in members if shows]
    zone, keys = ZoneInfo(group.organisation.time_zone), [one[0] for one in showing]
    whose = learners().where(Membership.group_id == group.id)
    jobs = needs_of(session, library, [group.organisation.id])[group.organisation.id]
    moment = max(when(zone), now) if when else now
    place, found = people_ready(
        session, library, group.organisation.id, keys, whose=whose, zone=zone, jobs=jobs, now=now, moment=moment
    )
    note_looks(session, actor, group.id, [one[0] for one in showing], what=LOOKED, now=now)
    return ReadyBoard(
        group=group,
        at=moment,
        jobs=tuple(jobs),
        people=tuple(
            PersonReady(public_id, name, found[person], group_public_id) for person, public_id, name in showing
        ),
        closed=tuple(name for _, _, name, shows in members if not shows),
        place=place,
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


def people_ready(
    session: Session,
    library: Library,
    organisation_id: int,
    people: Sequence[int],
    *,
    whose: Select[int],
    zone: ZoneInfo,
    jobs: Sequence[JobNeed],
    now: datetime,
    moment: datetime,
) -> tuple[KeptPlace | None, Mapping[int, Mapping[str, Readiness] | Mapping[str, KeptJob]]]:
    """People with the job types of one organisation: as they stand now from what is kept, ahead of that worked out."""
    if moment == now:
        return kept_readiness(session, library, organisation_id, people, whose=whose, zone=zone, jobs=jobs, now=now)
    found = readiness_of_people(session, library, people, {organisation_id: (zone, jobs)}, at=moment)
    return None, found[organisation_id]


def _members(session: Session, group_id: int) -> list[tuple[int, str, str, bool]]:
    """Key, public id and name of each member, and whether he shows readiness."""
    shown = (
        (Share.person_id == Person.id)
        & (Share.group_id == group_id)
        & (Share.what == Shared.READINESS.value)
        & Share.ended_at.is_(None)
    )
    query = (
        select(Person.id, Person.public_id, Person.display_name, Share.id.is_not(None))
        .join(Membership, Membership.person_id == Person.id)
        .outerjoin(Share, shown)
        .where(Membership.group_id == group_id, Membership.role == "learner", Membership.ended_at.is_(None))
        .order_by(Person.display_name, Person.id)
    )
    return [(person, public_id, name, bool(shows)) for person, public_id, name, shows in session.execute(query)]
