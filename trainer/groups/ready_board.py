"""
The board of a crew: who is ready for which job type, who is not yet, what is due; as far as each member shows it.

Readiness is shared or not, member by member; whoever closed it stands on the board by name only. All of it is worked
out from a fixed number of queries, however many people, skills and job types there are.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef, LearnerRef, NotFoundError, group_led_by, learner_seen_by
from trainer.accounts.actor import Actor
from trainer.accounts.sharing import Shared
from trainer.groups.board import LOOKED
from trainer.groups.job_types import needs_of
from trainer.groups.looks import note_looks
from trainer.library.shelf import Library
from trainer.progress.needs import JobNeed, Need, Part, Readiness, Ready
from trainer.progress.readiness import readiness
from trainer.progress.readiness_rows import shown_besides, standings_of_people
from trainer.records.models import Membership, Person, Share

__all__ = [
    "SOON",
    "Move",
    "OwnJobs",
    "PersonReady",
    "ReadyBoard",
    "Stale",
    "going_stale",
    "own_jobs",
    "person_ready",
    "ready_board",
    "soonest",
]

SOON = timedelta(days=30)
MOST_MOVES = 3


@dataclass(frozen=True, slots=True)
class PersonReady:
    """A member who shows readiness: public id, name, and how it stands with each job type, by its public id."""

    person: str
    name: str
    jobs: Mapping[str, Readiness]


@dataclass(frozen=True, slots=True)
class ReadyBoard:
    """
    A crew by job type.

    Args:
        group: The group.
        at: The moment that it is about.
        jobs: The job types of its shop, by name.
        people: The members who show readiness, by name.
        closed: Names of those who do not.
    """

    group: GroupRef
    at: datetime
    jobs: tuple[JobNeed, ...]
    people: tuple[PersonReady, ...]
    closed: tuple[str, ...]

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


@dataclass(frozen=True, slots=True)
class Stale:
    """What somebody has shown and soon has to show again, or has to already (`until` None), and for which jobs it counts."""

    person: PersonReady
    part: Part
    until: datetime | None
    jobs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Move:
    """
    One thing to learn or to have signed, and whom it makes ready.

    Args:
        need: The skill or the check.
        completes: Who lacks only this for which job type: names of person and job type.
        helps: For how many more it is one of several things that are missing.
        days: Days that it usually takes; 0 for a check.
    """

    need: Need
    completes: tuple[tuple[str, str], ...]
    helps: int
    days: int


@dataclass(frozen=True, slots=True)
class OwnJobs:
    """The job types of one shop or school, as somebody who learns there stands with them."""

    organisation: str
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
    jobs = needs_of(session, library, [group.organisation.id])[group.organisation.id]
    moment = max(when(ZoneInfo(group.organisation.time_zone)), now) if when else now
    places = {group.organisation.id: (ZoneInfo(group.organisation.time_zone), jobs)}
    found = _readiness(session, library, [one[0] for one in showing], places, at=moment)[group.organisation.id]
    note_looks(session, actor, group.id, [one[0] for one in showing], what=LOOKED, now=now)
    return ReadyBoard(
        group,
        moment,
        tuple(jobs),
        tuple(PersonReady(public_id, name, found[person]) for person, public_id, name in showing),
        tuple(name for _, _, name, shows in members if not shows),
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
    found = _readiness(session, library, [learner.person_id], places, at=now)
    return learner, found[organisation][learner.person_id][job]


def own_jobs(session: Session, library: Library, actor: Actor, now: datetime) -> list[OwnJobs]:
    """How the one who asks stands with the job types of each shop and school in which he learns."""
    learns_in = {one.organisation_id: one for one in actor.learns_in}
    needs = {place: jobs for place, jobs in needs_of(session, library, learns_in).items() if jobs}
    places = {place: (ZoneInfo(learns_in[place].time_zone), jobs) for place, jobs in needs.items()}
    if not places:
        return []
    found = _readiness(session, library, [actor.person_id], places, at=now)
    return [
        OwnJobs(learns_in[place].organisation_name, tuple(found[place][actor.person_id].values())) for place in places
    ]


def going_stale(board: ReadyBoard, within: timedelta = SOON) -> list[Stale]:
    """What has to be shown again by then, the soonest first; what is due already before it."""
    found: dict[tuple[str, Need], Stale] = {}
    for person in board.people:
        for job in board.jobs:
            for part in person.jobs[job.job].parts:
                ends = part.until is not None and part.until <= board.at + within
                if part.state is not Ready.DUE and not ends:
                    continue
                key = person.person, part.need
                jobs = (*found[key].jobs, job.name) if key in found else (job.name,)
                found[key] = Stale(person, part, part.until, jobs)
    return sorted(found.values(), key=lambda one: (one.until or board.at, one.person.name))


def soonest(board: ReadyBoard) -> list[Move]:
    """What would make the most people ready soonest: three things at most."""
    completes: dict[Need, list[tuple[str, str]]] = {}
    helps: dict[Need, int] = {}
    days: dict[Need, list[int]] = {}
    for person in board.people:
        for job in board.jobs:
            missing = person.jobs[job.job].missing
            for part in missing:
                helps[part.need] = helps.get(part.need, 0) + 1
                if len(missing) == 1:
                    completes.setdefault(part.need, []).append((person.name, job.name))
                    days.setdefault(part.need, []).append(part.effort.days if part.effort else 0)
    moves = [
        Move(
            need,
            tuple(completes.get(need, ())),
            helps[need] - len(completes.get(need, ())),
            max(days.get(need, [0])),
        )
        for need in helps
    ]
    return sorted(moves, key=lambda move: (-len(move.completes), move.days, -move.helps))[:MOST_MOVES]


def _readiness(
    session: Session,
    library: Library,
    people: Collection[int],
    places: Mapping[int, tuple[ZoneInfo, Collection[JobNeed]]],
    *,
    at: datetime,
) -> dict[int, dict[int, dict[str, Readiness]]]:
    """By organisation (with its zone and job types) and person: each job type. Eight queries in all."""
    skills = list(dict.fromkeys(need.skill for _, jobs in places.values() for job in jobs for need in job.skills))
    standings = standings_of_people(session, library, people, skills)
    besides = shown_besides(session, {place: zone for place, (zone, _) in places.items()}, people)
    return {
        place: {
            person: {job.job: readiness(job, standings[person], besides[place, person], at) for job in jobs}
            for person in people
        }
        for place, (_, jobs) in places.items()
    }


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
