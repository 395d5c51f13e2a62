"""A site with one class, made through the use cases: learners who are signed in, and work that was given to them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from functools import cache

from trainer.accounts.actor import actor_of_person
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.accounts.sessions import open_session
from trainer.accounts.site import make_site
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.joining import join
from trainer.groups.membership import make_group, open_joining
from trainer.groups.organisations import appoint, make_organisation
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.problems.trial import as_typed
from trainer.progress.sitting import sit_down
from trainer.records.engine import Database
from trainer.records.models import Person
from trainer.web.transactions import utc_now

__all__ = ["FAMILIES", "Learns", "School", "library", "made_school", "right_answer"]

#: Numbers, a count and a choice.
FAMILIES = ("offset-spacing", "offset-far-mark", "strap-count", "box-that-holds-it")


@dataclass(frozen=True)
class Learns:
    """A learner: key of the person, and the token of a signed-in browser."""

    person_id: int
    token: str


@dataclass(frozen=True)
class School:
    """A class with its learners, and the public id of their work."""

    database: Database
    learners: tuple[Learns, ...]
    work: str


@cache
def library():
    """The content, once in a process."""
    return Library(content_root())


def made_school(url, learners, families=FAMILIES):
    """
    Fill a migrated, empty database.

    Args:
        url: Its address.
        learners: How many there are in the class.
        families: The lines of the work.
    """
    database, now = Database(url), utc_now()
    with database.write() as session:
        make_site(session, administrator="administrator", edition="2023", now=now)
        session.flush()
        chief = actor_of_person(session, session.query(Person.id).scalar())
        teacher = _person(session, "instructor", now)
        school = make_organisation(
            session, chief, name="Riverside evening school", kind="school", time_zone="America/Chicago", now=now
        )
        session.flush()
        appoint(session, chief, school, sign_in_name="instructor", role="instructor", now=now)
        leads = actor_of_person(session, teacher)
        group = make_group(session, leads, school, name="Tuesday evening", now=now)
        leads = actor_of_person(session, teacher)
        code = open_joining(session, leads, group, now)
        found = tuple(_learner(session, nth, code, now) for nth in range(1, learners + 1))
        work = assign(
            session,
            library(),
            leads,
            group,
            title="Offsets, first evening",
            families=[FamilyCount(one) for one in families],
            due_on=(now + timedelta(days=100)).date(),
            edition="2023",
            now=now,
        )
    return School(database, found, work)


def _learner(session, nth, code, now):
    person_id = _person(session, f"learner-{nth}", now)
    join(session, actor_of_person(session, person_id), code, now)
    token, _ = open_session(session, person_id, "a browser", now)
    return Learns(person_id, token)


def _person(session, name, now):
    made = create_person(
        session,
        sign_in_name=name,
        display_name=name.replace("-", " ").title(),
        password="three words apart",
        now=now,
        passwords=CHEAP_PASSWORDS,
    )
    session.flush()
    return made.id


def right_answer(database, person_id, problem):
    """The fields of the right answer to an open problem, as a careful person types or ticks it."""
    with database.read() as session:
        found = sit_down(session, library(), person_id, problem).problem
    value = found.keys[0].value
    return list(value) if isinstance(value, tuple) else as_typed(found, value)[:1]
