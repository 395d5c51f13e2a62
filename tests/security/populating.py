"""
A site with something of everything in it, three times over: in a class, in another class of the same school, and in a
crew of another organisation; and beside each thing one that has ended.

`Made.ids["own"]["work_id"]` is what stands in an address for the work of the first class.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import SimpleNamespace

from sqlalchemy import select

from trainer.accounts.actor import actor_of_person
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person, delete_person
from trainer.accounts.sessions import open_session, revoke
from trainer.groups import (
    assigned,
    calendar,
    findings,
    hands_on,
    hours,
    job_types,
    registrations,
    sets,
    sheets,
    shoes,
    signers,
    terms,
)
from trainer.groups.joining import join
from trainer.groups.membership import leave, make_group, open_joining
from trainer.groups.organisations import appoint, dismiss, make_organisation
from trainer.problems.codes import new_code
from trainer.records.models import Group, Membership, Person, Registration, SignInSession
from trainer.records.types import new_public_id

PASSWORD = "three words apart"
KINDS = ("own", "sibling", "other")
#: Everybody who asks, beside nobody. Names say to whom of the three places somebody belongs.
PEOPLE = {
    "own": {"learner": "learner", "instructor": "instructor", "foreman": "foreman", "owner": "owner"},
    "sibling": {"learner": "sibling", "instructor": "neighbour", "foreman": "foreman", "owner": "owner"},
    "other": {"learner": "far-learner", "instructor": "far-instructor", "foreman": "far-foreman", "owner": "far-owner"},
}
VISITORS = (
    "nobody", "learner", "sibling", "far-learner", "left", "instructor", "foreman", "owner", "neighbour", "dismissed",
    "far-instructor", "far-foreman", "far-owner", "administrator",
)  # fmt: skip
#: The ready-made job type that each copies.
READY = {"own": "exposed-garage", "sibling": "first-week", "other": "exposed-garage", "ended": "rough-in"}
#: What is no object but a word that stands for itself.
WORDS = {
    "lesson_id": "offset-bends",
    "unit": "bends",
    "bend_id": "offset",
    "family_id": "offset-shrink",
    "skill": "bends.offset",
    "position": "1",
    "nth": "1",
    "ready": "rough-in",
    "process_key": "bending",
    "calculation_name": "offset",
    "table": "answers",
    "kind": "csv",
}


@dataclass
class Made:
    """Public ids by place and parameter, tokens of browsers and numbers of people by visitor, codes."""

    ids: dict[str, dict[str, str]] = field(default_factory=dict)
    people: dict[str, int] = field(default_factory=dict)
    tokens: dict[str, str] = field(default_factory=dict)


class Populating:
    """Builds it."""

    def __init__(self, app, clock, given):
        self.app, self.clock, self.given = app, clock, given
        self.database = app.extensions["trainer.database"]
        self.library = app.extensions["trainer.library"]
        self.made = Made()
        self.worlds = {}

    def actor(self, session, who):
        return actor_of_person(session, self.made.people[who])

    def build(self):
        with self.database.write() as session:
            self._people(session)
            self._places(session)
        for kind in KINDS:
            self.made.ids[kind] = WORDS | self._things(kind)
        self.made.ids["ended"] = WORDS | self._ended()
        known = self.given(self.app, SimpleNamespace(people=self.made.people), self.clock).public_id
        self.made.ids |= {"former": {"person_id": known("left")}, "staff": {"person_id": known("neighbour")}}
        self.made.ids["unknown"] = WORDS | self._unknown()
        return self.made

    def _people(self, session):
        for who in VISITORS[1:]:
            made = create_person(
                session,
                sign_in_name=who,
                display_name=f"{who.replace('-', ' ').title()} Person",
                password=PASSWORD,
                now=self.clock.now,
                passwords=CHEAP_PASSWORDS,
                is_site_administrator=who == "administrator",
            )
            self.made.people[who] = made.id
            self.made.tokens[who], _ = open_session(session, made.id, "A browser", self.clock.now)

    def _places(self, session):
        now = self.clock.now
        chief = self.actor(session, "administrator")
        houses = {}
        for name, staff in (
            ("Riverside Electric", ("owner", "instructor", "foreman", "neighbour", "dismissed")),
            ("Hill Street Electric", ("far-owner", "far-instructor", "far-foreman")),
        ):
            houses[name] = make_organisation(
                session, chief, name=name, kind="shop", time_zone="America/Chicago", now=now
            )
            session.flush()
            for who in staff:
                role = next((r for r in ("owner", "foreman") if who.endswith(r)), "instructor")
                appoint(session, chief, houses[name], sign_in_name=who, role=role, now=now)
        school, far = houses.values()
        for kind, house, name, leader in (
            ("own", school, "Garage crew", "instructor"),
            ("sibling", school, "Harbour crew", "neighbour"),
            ("other", far, "Office crew", "far-instructor"),
        ):
            group = make_group(session, self.actor(session, leader), house, name=name, now=now)
            session.flush()
            if kind != "sibling":
                self._lead_too(session, PEOPLE[kind]["foreman"], group)
            code = open_joining(session, self.actor(session, leader), group, now)
            join(session, self.actor(session, PEOPLE[kind]["learner"]), code, now)
            people = {role: self.made.people[who] for role, who in PEOPLE[kind].items()}
            self.worlds[kind] = SimpleNamespace(
                people=people, organisations={"school": house}, groups={"class": group}, codes={"class": code}
            )
        own = self.worlds["own"]
        join(session, self.actor(session, "left"), own.codes["class"], now)
        leave(session, self.actor(session, "left"), own.groups["class"], now)
        gone = session.get(Person, self.made.people["dismissed"]).public_id
        self._lead_too(session, "dismissed", own.groups["class"], "instructor")
        session.flush()
        dismiss(session, self.actor(session, "owner"), own.organisations["school"], gone, now)

    def _lead_too(self, session, who, group_id, role="foreman"):
        """A second leader of a group, as a copied class has one."""
        group = session.scalars(select(Group).where(Group.public_id == group_id)).one()
        session.add(
            Membership(
                person_id=self.made.people[who],
                organisation_id=group.organisation_id,
                group_id=group.id,
                role=role,
                started_at=self.clock.now,
            )
        )
        session.flush()

    def _things(self, kind):
        given, place = self._given(kind), self.worlds[kind]
        ids = {"group_id": place.groups["class"], "organisation_id": place.organisations["school"]}
        ids |= {"code": place.codes["class"], "person_id": given.public_id("learner")}
        ids["claim_id"] = given.claim()
        ids["work_id"] = given.work()
        ids["room_id"] = given.work(kind="room", title="In the room")
        ids["problem_id"] = given.line(ids["work_id"])
        ids["set_id"] = given.problem_set()
        ids["shoe_id"] = given.shoe(name=f"Handle of {kind}")
        ids["finding_id"] = given.finding()
        ids["photo_id"] = given.photo(ids["finding_id"])
        ids["check_id"] = given.check()
        ids["picture_id"] = given.check_photo(ids["check_id"])
        ids["signer_id"] = given.signer(who="instructor")
        ids["day_id"] = given.class_day()
        ids["job_id"] = given.job_type(ready=READY[kind])
        ids["rules"] = given.rules()
        ids["registration_id"] = self._registration(kind)
        ids["session_id"] = self._session(PEOPLE[kind]["learner"])
        with self.database.write() as session:
            me = self.actor(session, PEOPLE[kind]["learner"])
            ids["token"] = calendar.new_feed(session, me, self.clock.now)
            ids["hours_id"] = self._hours(session, me, kind)
        ids["sheet_code"] = self._sheet(given, kind)
        return ids

    def _given(self, kind):
        return self.given(self.app, self.worlds[kind], self.clock)

    def _registration(self, kind):
        typed = {"what": "registration", "words": "Apprentice, 815", "expires_on": "2027-01-31"}
        with self.database.write() as session:
            registrations.enter_own(session, self.actor(session, PEOPLE[kind]["learner"]), **typed, now=self.clock.now)
            session.flush()
            return session.scalars(select(Registration.public_id).order_by(Registration.id.desc())).first()

    def _session(self, who):
        """A second browser of somebody; the first one is the one that asks."""
        with self.database.write() as session:
            open_session(session, self.made.people[who], "Another browser", self.clock.now)
            return session.scalars(select(SignInSession.public_id).order_by(SignInSession.id.desc())).first()

    def _hours(self, session, me, kind):
        typed = {"day": self.clock.now.date().isoformat(), "process": "bending", "hours": "2", "note": "Stub-ups"}
        return hours.enter(session, me, self.worlds[kind].groups["class"], **typed, now=self.clock.now)

    def _sheet(self, given, kind):
        """The code of a sheet that was printed for the learner."""
        work = given.work(kind="paper", title="On paper")
        with self.database.write() as session:
            leader = self.actor(session, PEOPLE[kind]["instructor"])
            sheets.make_sheets(session, self.library, leader, work, self.clock.now)
            found = sheets.work_sheets(session, self.library, leader, work).sheets
            return next(one.code for one in found if one.person == given.public_id("learner"))

    def _ended(self):
        """Of each thing in the first place one that is over."""
        now, place, given = self.clock.now, self.worlds["own"], self._given("own")
        ids = {}
        group, shop = place.groups["class"], place.organisations["school"]
        ids["problem_id"] = given.problem()
        ids["work_id"], ids["room_id"] = given.work(title="Taken back"), given.work(kind="room", title="Taken back too")
        ids["set_id"] = given.problem_set(name="Put away")
        ids["shoe_id"] = given.shoe(name="Worn out")
        ids["finding_id"] = given.finding(note="Taken back.")
        ids["photo_id"] = given.photo(ids["finding_id"])
        ids["check_id"] = given.check(size="3/4")
        ids["signer_id"] = given.signer(who="foreman")
        ids["job_id"] = given.job_type(ready=READY["ended"])
        ids["registration_id"] = self._registration("own")
        ids["session_id"] = self._session("learner")
        with self.database.write() as session:
            learner, leader, owner = (self.actor(session, who) for who in ("learner", "instructor", "owner"))
            ids["hours_id"] = self._hours(session, learner, "own")
            hours.take_back(session, learner, ids["hours_id"], now)
            ids["token"] = calendar.new_feed(session, learner, now)
            self.made.ids["own"]["token"] = calendar.new_feed(session, learner, now)
            for work in (ids["work_id"], ids["room_id"]):
                assigned.withdraw(session, leader, work, now)
            sets.put_away(session, leader, ids["set_id"], now)
            shoes.end_shoe(session, leader, shop, ids["shoe_id"], now)
            findings.withdraw(session, leader, group, ids["finding_id"], reason="Mixed up.", now=now)
            hands_on.drop(session, leader, group, ids["check_id"], now)
            signers.end_naming(session, owner, shop, ids["signer_id"], now)
            job_types.end_job_type(session, owner, shop, ids["job_id"], now)
            registrations.end_own(session, learner, ids["registration_id"], now)
            revoke(session, learner.person_id, ids["session_id"], now)
            ids |= self._ended_groups(session, leader, learner, shop)
        return ids

    def _ended_groups(self, session, leader, learner, shop):
        """A crew that is put away, the code of one that nobody can join, somebody whose account is deleted."""
        now = self.clock.now
        away = make_group(session, leader, shop, name="Last year", now=now)
        session.flush()
        code = open_joining(session, leader, away, now)
        join(session, learner, code, now)
        terms.put_away(session, leader, away, now)
        gone = create_person(
            session,
            sign_in_name="goner",
            display_name="Goner Person",
            password=PASSWORD,
            now=now,
            passwords=CHEAP_PASSWORDS,
        )
        join(session, actor_of_person(session, gone.id), self.worlds["own"].codes["class"], now)
        delete_person(session, gone.id, now)
        return {"group_id": away, "code": code, "person_id": gone.public_id}

    def _unknown(self):
        """What was never given out, in the right spelling."""
        random_ones = {name: new_public_id() for name in self.made.ids["own"] if name.endswith("_id")}
        code = new_code()
        return random_ones | {"code": code, "sheet_code": code, "token": "t" * 43, "rules": "0" * 64} | WORDS


def populate(app, clock, given):
    """Populate an application's database."""
    return Populating(app, clock, given).build()
