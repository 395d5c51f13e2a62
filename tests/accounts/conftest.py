"""A moment, a way to make people quickly, and a small school and shop."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from types import SimpleNamespace

import pytest

from trainer.accounts.actor import actor_of_person
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.accounts.sharing import start_sharing
from trainer.accounts.sign_in import sign_in
from trainer.records.models import (
    AssignedFamily,
    AssignedWork,
    ContentVersion,
    Group,
    Membership,
    Organisation,
    Problem,
)

PASSWORD = "four plain words here"
LAST_MONTH = timedelta(days=30)


@pytest.fixture
def now():
    return datetime(2026, 11, 25, 7, 30, tzinfo=UTC)


@pytest.fixture
def make_person(now):
    """Make a person in a session; whatever is left out is filled in."""

    def make(session, sign_in_name="kim.lee", **others):
        values = {"display_name": sign_in_name.title(), "password": PASSWORD, "now": now, "passwords": CHEAP_PASSWORDS}
        return create_person(session, sign_in_name=sign_in_name, **values | others)

    return make


@pytest.fixture
def try_to_sign_in(now):
    """Try to sign in within a session; whatever is left out is right."""

    def attempt(session, name="kim.lee", password=PASSWORD, **others):
        values = {"address": "192.0.2.1", "device": "a phone", "now": now, "passwords": CHEAP_PASSWORDS}
        return sign_in(session, name, password, **values | others)

    return attempt


@pytest.fixture
def place(any_database, now, make_person):
    """
    A school with a class on Tuesdays and one on Fridays, a shop with a crew; who belongs to what is said below.

    Attributes: `actor(name)`, `person`, `group`, `organisation`, `work`, `problem` by name.
    """
    with any_database.write() as session:
        return _fill(session, any_database, now, make_person)


MEMBERS = {
    "kim": [("learner", "tuesday"), ("learner", "crew")],
    "ana": [("learner", "tuesday")],
    "ines": [("instructor", "school"), ("instructor", "tuesday")],
    "ivo": [("instructor", "school"), ("instructor", "friday")],
    "finn": [("foreman", "shop"), ("foreman", "crew")],
    "olga": [("owner", "shop")],
    "ada": [],
    "sam": [],
}
#: Memberships that have ended.
FORMER = {"pat": [("learner", "tuesday")], "inka": [("instructor", "school"), ("instructor", "tuesday")]}


def _fill(session, database, now, make_person):
    organisation = {
        "school": Organisation(name="Riverside Evening School", kind="school", created_at=now),
        "shop": Organisation(name="Northgate Electric", kind="shop", created_at=now),
    }
    session.add_all(organisation.values())
    session.flush()
    group = {
        name: Group(organisation_id=organisation[of].id, kind=kind, name=name, created_at=now)
        for name, of, kind in [("tuesday", "school", "class"), ("friday", "school", "class"), ("crew", "shop", "crew")]
    }
    session.add_all(group.values())
    session.flush()
    person = {name: make_person(session, name, is_site_administrator=name == "ada") for name in [*MEMBERS, *FORMER]}
    for name, roles in [*MEMBERS.items(), *FORMER.items()]:
        for role, where in roles:
            _join(session, person[name], role, group.get(where), organisation.get(where), now, ended=name in FORMER)
    work = _assign(session, group, person, now)
    problem = _issue(session, person, work, now)
    return SimpleNamespace(
        database=database,
        person=person,
        group={name: one.public_id for name, one in group.items()},
        group_id={name: one.id for name, one in group.items()},
        organisation={name: one.public_id for name, one in organisation.items()},
        work=work["public"],
        problem=problem,
        actor=_actor_maker(database, person),
    )


def _join(session, person, role, group, organisation, now, *, ended):
    of = organisation.id if organisation else group.organisation_id
    began, end = now - LAST_MONTH, now - timedelta(days=1) if ended else None
    session.add(
        Membership(
            person_id=person.id,
            organisation_id=of,
            group_id=group.id if group else None,
            role=role,
            started_at=began,
            ended_at=end,
        )
    )
    session.flush()
    if role == "learner" and not ended:
        start_sharing(session, person.id, group.id, group.kind, began)


def _assign(session, group, person, now):
    version = ContentVersion(
        kind="family", content_id="offset-marks", rules_hash="0c", words_hash="0d", body="", first_used_at=now
    )
    session.add(version)
    session.flush()
    public, family = {}, {}
    for name, where in [("work", "tuesday"), ("withdrawn", "tuesday"), ("elsewhere", "friday"), ("crew work", "crew")]:
        row = AssignedWork(
            group_id=group[where].id,
            given_by_id=person["ines"].id,
            title=name,
            edition="2023",
            due_at=now,
            created_at=now,
            withdrawn_at=now if name == "withdrawn" else None,
        )
        session.add(row)
        session.flush()
        family[name] = AssignedFamily(assigned_work_id=row.id, position=1, content_version_id=version.id)
        session.add(family[name])
        session.flush()
        public[name] = row.public_id
    return {"public": public, "family": family, "version": version}


def _issue(session, person, work, now):
    made = {}
    for name, who, context, under in [
        ("assigned", "kim", "assigned", "work"),
        ("for the crew", "kim", "assigned", "crew work"),
        ("practice", "kim", "practice", None),
        ("proof", "kim", "proof", None),
        ("former", "pat", "assigned", "work"),
        ("former practice", "pat", "practice", None),
    ]:
        row = Problem(
            code=f"CODE{len(made)}",
            person_id=person[who].id,
            context=context,
            assigned_family_id=work["family"][under].id if under else None,
            content_version_id=work["version"].id,
            family_id="offset-marks",
            skill="bends.offset",
            seed=1,
            edition="2023",
            drawn={},
            issued_at=now,
        )
        session.add(row)
        session.flush()
        made[name] = row.public_id
    return made


def _actor_maker(database, person):
    def make(name):
        with database.read() as session:
            return actor_of_person(session, person[name].id)

    return make
