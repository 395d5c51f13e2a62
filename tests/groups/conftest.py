"""A town: a school with an instructor, a shop with its owner and foreman, people who learn, and a clock."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import uuid4

import pytest

from trainer.accounts.actor import actor_of_person
from trainer.calc.length import write_length
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.hands_on import set_checks
from trainer.groups.job_types import keep
from trainer.groups.joining import join
from trainer.groups.membership import make_group, open_joining
from trainer.groups.open_line import open_line
from trainer.groups.organisations import appoint, make_organisation
from trainer.groups.ready_made import JobTypeText
from trainer.groups.signers import name_signer
from trainer.groups.signing import led_check, sign
from trainer.library.shelf import Library
from trainer.problems.hands_on import Reading
from trainer.progress import practice
from trainer.progress.points import Line
from trainer.progress.sitting import sit_down
from trainer.records.models import Person, ProofRun, SkillState

SKILLS = ("supports.straps", "bends.offset", "fittings.connectors")
CONTENT = Path(__file__).parents[1] / "library" / "content"
MONDAY = datetime(2026, 9, 7, 17, 0, tzinfo=UTC)


class Town:
    """People by name; each step is one transaction of someone who is signed in at that moment."""

    def __init__(self, database, library):
        self.database = database
        self.library = library
        self.now = MONDAY
        self.ids = {}
        for name in ("ada", "ines", "otto", "fred", "lena", "leo", "stranger"):
            self.add(name, is_site_administrator=name == "ada")
        self.school = self.organisation("Riverside school", "school", "ines", "instructor")
        self.shop = self.organisation("Corner shop", "shop", "otto", "owner")
        self.do("otto", appoint, self.shop, sign_in_name="fred", role="foreman", now=self.now)
        self.class_ = self.do("ines", make_group, self.school, name="Tuesday class", now=self.now)
        self.crew = self.do("fred", make_group, self.shop, name="Garage crew", now=self.now)

    def add(self, name, **more):
        with self.database.write() as session:
            person = Person(
                sign_in_name=name, public_id=public(name), display_name=name.title(), created_at=MONDAY, **more
            )
            session.add(person)
            session.flush()
            self.ids[name] = person.id

    def organisation(self, name, kind, who, role):
        zone = "America/Chicago"
        made = self.do("ada", make_organisation, name=name, kind=kind, time_zone=zone, now=self.now)
        self.do("ada", appoint, made, sign_in_name=who, role=role, now=self.now)
        return made

    def after(self, **time):
        self.now += timedelta(**time)
        return self

    def actor(self, name):
        with self.database.read() as session:
            return actor_of_person(session, self.ids[name])

    def do(self, name, use_case, /, *arguments, **more):
        """A use case that takes session and actor."""
        actor = self.actor(name)
        with self.database.write() as session:
            return use_case(session, actor, *arguments, **more)

    def with_library(self, name, use_case, /, *arguments, **more):
        """A use case that takes session, library and actor."""
        actor = self.actor(name)
        with self.database.write() as session:
            return use_case(session, self.library, actor, *arguments, **more)

    def code(self, group):
        return self.do("ines" if group == self.class_ else "fred", open_joining, group, self.now)

    def join(self, group, *names):
        code = self.code(group)
        for name in names:
            self.do(name, join, code, self.now)

    def assign(self, *families, due_in=3, title="Offsets for Thursday", who="ines", group=None, **more):
        due_on = (self.now + timedelta(days=due_in)).date()
        asked = [FamilyCount(*family) if isinstance(family, tuple) else FamilyCount(family) for family in families]
        more |= {"title": title, "families": asked, "due_on": due_on, "edition": "2023", "now": self.now}
        return self.with_library(who, assign, group or self.class_, **more)

    def open(self, name, work, position=1, **more):
        return self.with_library(name, open_line, work, position, now=self.now, **more)

    def answer(self, name, public_id, given="right"):
        """Answer rightly, with a known mistake, or with the text as it stands."""
        with self.database.write() as session:
            who = self.ids[name]
            problem = sit_down(session, self.library, who, public_id).problem
            values = {route.id: route.value for route in problem.mistakes} | {"right": problem.keys[0].value}
            text = written(values[given]) if given in values else given
            key = str(uuid4())
            return practice.answer(session, self.library, who, public_id, text, answer_key=key, now=self.now)

    def practise(self, name, *given, family_id="straps-run"):
        for text in given:
            with self.database.write() as session:
                who = self.ids[name]
                problem = practice.issue(session, self.library, who, family_id=family_id, now=self.now, edition="2023")
            self.answer(name, problem, text)
            with self.database.write() as session:
                practice.give_up(session, self.library, who, problem, self.now)

    def job_type(self, name="Garage", who="otto", organisation=None, **text):
        """A job type of the shop; unless said otherwise three skills, watched or not, and one check by hand."""
        asks = {"skills": dict.fromkeys(SKILLS, Line.STRICT), "checks": ("offset",), "watched": False}
        more = asks | {"valid_days": 365} | text
        kept = JobTypeText(name=name, about="", supervision="Somebody licensed.", trade_sizes=("1/2",), **more)
        return self.do(who, keep, organisation or self.shop, None, text=kept, now=self.now)

    def found_ready(self, name, *skills, days_ago=1, line="strict", watched_by=None):
        """Skills as if a proof run had found them ready, and practice had kept them up until then."""
        at = self.now - timedelta(days=days_ago)
        with self.database.write() as session:
            session.get_one(Person, self.ids[name]).answers_given += 30 * len(skills)
            for skill in skills:
                state = {"level": 3.0, "variance": 0.2, "holding_days": 120.0, "counted": 30, "last_at": at}
                session.add(SkillState(person_id=self.ids[name], skill=skill, **state))
                run = {"ready_at": 15.0, "points": 15.4, "counted": 20, "outcome": "ready", "difficulties": {}}
                when = {"started_at": at - timedelta(days=1), "ended_at": at}
                who = self.ids[watched_by] if watched_by else None
                more = run | when | {"line": line, "watched_by_id": who}
                session.add(ProofRun(person_id=self.ids[name], skill=skill, **more))

    def signed(self, name, kind="offset", size="1/2", by="fred", passed=True):
        """A check by hand, signed by the foreman, whom the owner has named."""
        named = {"person": public(by), "kinds": [kind], "licence": "Journeyman, 1", "expires_on": "2027-06-30"}
        self.do("otto", name_signer, self.shop, now=self.now, **named)
        wanted = {"people": [public(name)], "kind": kind, "trade_size": size, "now": self.now}
        (check,) = self.do(by, set_checks, self.crew, **wanted)
        sheet = self.do(by, led_check, self.crew, check, self.now).check.sheet
        measured = {one.id: Reading("", one.value) for one in sheet.measured}
        steps = {one.id: passed for one in sheet.steps}
        self.do(by, sign, self.crew, check, measured=measured, steps=steps, now=self.now)
        return check


def public(name):
    """A public id that a test can write down."""
    return f"public-{name}".ljust(22, "x")


def written(value):
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else write_length(value)
    return ", ".join(value) if isinstance(value, tuple | list) else value


@pytest.fixture(scope="session")
def library():
    return Library(CONTENT)


@pytest.fixture(scope="session")
def new_town():
    """Makes a town on a database that a test brings along."""
    return Town


@pytest.fixture
def town(database, library):
    return Town(database, library)


@pytest.fixture
def any_town(any_database, library):
    return Town(any_database, library)
