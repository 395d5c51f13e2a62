"""
What was worked out of people's readiness, kept in this process for as long as it is true.

To work out a person means to read every state, run, check, finding and card, which takes milliseconds; a shop of hundreds
would wait for it each time. So what came out is kept beside a stamp: counts of what only ever grows: answers, rebuildings of
the record, signatures and withdrawals, findings, cards; a proof run says ready by an answer or not at all.
One query reads the stamps of all people, before anything else is read, so that what is kept may be newer than its stamp
and never older. A person is worked out anew when the stamp or what the job types ask has changed, when a part has run out
meanwhile, and once a day.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any
from weakref import WeakKeyDictionary
from zoneinfo import ZoneInfo

from msgspec import Struct, field
from msgspec.structs import replace
from sqlalchemy import CompoundSelect, Engine, Select, func, literal, select, union_all
from sqlalchemy.orm import Session

from trainer.groups.ready_rows import readiness_of_people
from trainer.library.shelf import Library
from trainer.progress.needs import JobNeed, Part, Readiness, Ready
from trainer.records import models

__all__ = ["LONGEST", "KeptJob", "KeptPlace", "kept_readiness", "place_of"]

LONGEST = timedelta(days=1)
"""After which a person is worked out anew: how much practice is still to do changes slowly while nobody answers."""

MOST_PEOPLE = 5000

Stamp = tuple[int, ...]


class KeptJob(Struct, frozen=True):
    """
    How a person stands with a job type, as `Readiness` says it; without sentences and runs.

    Args:
        need: What it asks.
        parts: Its parts.
        state: How it stands.
        missing: The parts that are not ready.
        until: Until when all of it holds; None where it doesn't, or holds for ever.
        days: Days that the missing skills usually take.
    """

    need: JobNeed
    parts: tuple[Part, ...]
    state: Ready
    missing: tuple[Part, ...]
    until: datetime | None
    days: int


class _Person(Struct, frozen=True):
    """What is kept of a person, under which stamp, and until when it is true at the longest."""

    stamp: Stamp
    until: datetime
    jobs: Mapping[str, KeptJob]


class KeptPlace(Struct, weakref=True, eq=False):
    """What is kept for the job types of an organisation: of its people, and its boards (`trainer.groups.kept_board`)."""

    organisation_id: int
    jobs: Sequence[JobNeed]
    zone: ZoneInfo
    people: dict[int, _Person] = field(default_factory=dict)
    boards: dict[str, Any] = field(default_factory=dict)

    def work_out(
        self, session: Session, library: Library, people: Collection[int], *, at: datetime
    ) -> dict[int, dict[str, Readiness]]:
        """How people stand with its job types at a moment."""
        places = {self.organisation_id: (self.zone, self.jobs)}
        return readiness_of_people(session, library, people, places, at=at)[self.organisation_id]

    def until(self, people: Iterable[int], now: datetime) -> datetime:
        """Until when what is kept of all these people is true at the longest."""
        return min((self.people[person].until for person in people), default=now + LONGEST)


#: By database and organisation.
_KEPT: WeakKeyDictionary[Engine, dict[int, KeptPlace]] = WeakKeyDictionary()


def kept_readiness(
    session: Session,
    library: Library,
    place: KeptPlace,
    people: Collection[int],
    *,
    whose: Select[int],
    now: datetime,
) -> dict[int, Mapping[str, KeptJob]]:
    """
    How people stand at this moment with the job types of an organisation, by key of the person and id of the job type.
    While that is true it is the same object each time.

    Args:
        session: Any session that has written nothing of all this.
        library: The content.
        place: Where it is kept, for which job types.
        people: Keys of persons.
        whose: The same people, and perhaps some more, as a query: hundreds of keys take long to hand over.
        now: This moment.
    """
    stamps = _stamps(session, people, whose)
    stale = [person for person in people if not _holds(place.people.get(person), stamps[person], now)]
    if stale:
        found = place.work_out(session, library, stale, at=now)
        for person in stale:
            place.people[person] = _kept(stamps[person], found[person], now)
    return {person: place.people[person].jobs for person in people}


def place_of(session: Session, organisation_id: int, jobs: Sequence[JobNeed], zone: ZoneInfo) -> KeptPlace:
    """What is kept for these job types of an organisation; begun anew when they or its zone have changed."""
    engine = session.get_bind()
    places = _KEPT.setdefault(engine if isinstance(engine, Engine) else engine.engine, {})
    place = places.get(organisation_id)
    if place is None or (place.jobs, place.zone) != (jobs, zone) or len(place.people) > MOST_PEOPLE:
        place = places[organisation_id] = KeptPlace(organisation_id, jobs, zone)
    return place


def _holds(kept: _Person | None, stamp: Stamp, now: datetime) -> bool:
    return kept is not None and kept.stamp == stamp and now < kept.until


def _kept(stamp: Stamp, found: Mapping[str, Readiness], now: datetime) -> _Person:
    slim: dict[int, Part] = {}
    jobs = {job: _slim(one, slim) for job, one in found.items()}
    ends = (part.until for one in jobs.values() for part in one.parts if part.until is not None)
    return _Person(stamp, min((now + LONGEST, *ends)), jobs)


def _slim(found: Readiness, slim: dict[int, Part]) -> KeptJob:
    """One job type; `slim` has what was made of parts that others ask alike, by their identity."""
    for part in found.parts:
        if id(part) not in slim:
            slim[id(part)] = replace(part, says=(), runs=())
    parts = tuple(slim[id(part)] for part in found.parts)
    missing = tuple(part for part in parts if part.state is not Ready.READY)
    return KeptJob(found.need, parts, found.state, missing, found.until, found.days)


def _stamps(session: Session, people: Collection[int], whose: Select[int]) -> dict[int, Stamp]:
    """What changes whenever something happens that readiness rests on; one query."""
    person, finding, card = models.Person, models.FieldFinding, models.Registration
    check, signing, withdrawal = models.HandsOnCheck, models.CheckSigning, models.CheckWithdrawal
    signed = (
        select(check.person_id, literal(1), func.count(signing.id) + func.count(withdrawal.id))
        .join(signing, signing.check_id == check.id)
        .outerjoin(withdrawal, withdrawal.check_id == check.id)
        .where(check.person_id.in_(whose))
        .group_by(check.person_id)
    )
    query: CompoundSelect[int, int, int] = union_all(
        select(person.id, literal(0), person.answers_given + person.rebuilt).where(person.id.in_(whose)),
        signed,
        select(finding.person_id, literal(2), func.count(finding.id) + func.count(finding.withdrawn_at))
        .where(finding.person_id.in_(whose))
        .group_by(finding.person_id),
        select(card.person_id, literal(3), func.count(card.id) + func.count(card.ended_at))
        .where(card.person_id.in_(whose))
        .group_by(card.person_id),
    )
    found = {one: [0] * 4 for one in people}
    for one, which, value in session.execute(query):
        if one in found:
            found[one][which] = value
    return {one: tuple(stamp) for one, stamp in found.items()}
