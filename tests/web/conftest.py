"""
Fixtures for the pages: an application on a fresh database, invented people, and a client that checks every page.

`client` is nobody; `client_of("learner")` a browser signed in as one of `world`'s people. Whatever page a test fetches
with them is held to `check_page`: strict HTML, one heading that is the title, ids, labels, forms, nothing inline, and a
bound on the number of queries; a GET writes nothing but bookkeeping of sessions and throttles.
"""

from __future__ import annotations

import re
import shutil
from collections import Counter
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace
from uuid import uuid4
from xml.etree.ElementTree import Element
from zoneinfo import ZoneInfo

import html5lib
import pytest
from msgspec.structs import replace
from PIL import Image
from pypdf import PdfReader
from sqlalchemy import event, select, update

from trainer.accounts.actor import actor_of_person
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.people import create_person
from trainer.accounts.sessions import open_session
from trainer.accounts.sharing import Shared, set_shared
from trainer.calc.length import write_length
from trainer.calc.shoes import DEFAULT_SHOES
from trainer.config import Settings
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.attendance import note_day
from trainer.groups.check_photos import add_photo as add_check_photo
from trainer.groups.claims import claim
from trainer.groups.finding_photos import add_photo
from trainer.groups.findings import report
from trainer.groups.hands_on import set_checks
from trainer.groups.job_types import copy_ready_made
from trainer.groups.joining import join
from trainer.groups.membership import leave, make_group, open_joining
from trainer.groups.open_line import open_line
from trainer.groups.organisations import appoint, make_organisation
from trainer.groups.photographs import read_photograph
from trainer.groups.registrations import enter_own
from trainer.groups.sets import make_set
from trainer.groups.shoes import keep_shoe
from trainer.groups.signers import name_signer
from trainer.problems.model import AnswerKind
from trainer.problems.trial import as_typed
from trainer.progress import practice
from trainer.progress.proof_run import next_question
from trainer.progress.sitting import sit_down
from trainer.records.engine import Database
from trainer.records.locks import add_if_missing
from trainer.records.models import (
    Answer,
    CheckPhoto,
    FamilyDifficulty,
    FindingPhoto,
    Group,
    KeyClaim,
    Person,
    ProofRun,
    Registration,
    Signer,
    SkillState,
)
from trainer.web.app import build
from trainer.web.transactions import keep_records

PASSWORD = "three words apart"
NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)

#: Most queries of a request; a page that reads a list reads it with one.
MOST_QUERIES = {"GET": 16, "POST": 40}
#: What a GET may write: when a browser was last used, how often somebody guessed, who looked at whose record.
BOOKKEEPING = ("throttle", "sign_in_session", "half_sign_in", "audit_line")


def a_picture(kind="JPEG", size=(40, 30), **more):
    """A file with a picture in it, as a phone would send it."""
    held = BytesIO()
    Image.new("RGB", size, "gray").save(held, kind, **more)
    return held.getvalue()


@pytest.fixture
def picture():
    """Makes a file with a picture in it."""
    return a_picture


@dataclass
class Clock:
    """A clock that stands until it is moved."""

    now: datetime = NOW

    def __call__(self):
        return self.now

    def forward(self, **by):
        self.now += timedelta(**by)


@dataclass
class Page:
    """An answer, and its tree when it is a page."""

    status: int
    text: str
    headers: object
    tree: Element | None = None
    queries: list[str] = field(default_factory=list)
    sent: bytes = b""

    @property
    def paper(self):
        """The text of a PDF, its pages one after the other, each on one line."""
        assert self.headers["Content-Type"] == "application/pdf"
        return "\n".join(" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(self.sent)).pages)

    @property
    def location(self):
        return self.headers.get("Location")

    @property
    def heading(self):
        return words(self.tree.find(".//h1"))

    @property
    def words(self):
        return words(self.tree.find(".//main"))

    @property
    def errors(self):
        """Sentences of the error summary, by the id of their field."""
        return {link.get("href")[1:]: words(link) for link in self.tree.findall(".//div[@class='errors']//a")}

    def links(self):
        return [link.get("href") for link in self.tree.findall(".//a")]

    def value(self, name):
        return next(one for one in self.tree.iter("input") if one.get("name") == name).get("value")

    def form(self, action):
        """The fields of the form with this action, as a browser would send them untouched."""
        form = next(one for one in self.tree.iter("form") if one.get("action").split("?")[0] == action)
        fields = [one for one in form.iter("input") if one.get("name") and _sends(one)]
        return {one.get("name"): one.get("value", "on" if "checked" in one.attrib else "") for one in fields}


def _sends(one):
    return one.get("type") not in {"checkbox", "radio"} or "checked" in one.attrib


INLINE = {"a", "abbr", "b", "code", "em", "i", "kbd", "small", "span", "strong", "sub", "sup", "time"}


def words(element):
    """The text of an element on one line; blocks stand apart."""
    return " ".join("".join(_pieces(element)).split())


def _pieces(element):
    apart = "" if element.tag in INLINE else " "
    yield apart + (element.text or "")
    for child in element:
        yield from _pieces(child)
        yield child.tail or ""
    yield apart


class Browser:
    """A client with cookies; every page that comes back is checked."""

    def __init__(self, app):
        self.app = app
        self.client = app.test_client()

    def get(self, path, **options):
        return self._answer("GET", path, **options)

    def post(self, path, data=None, **options):
        """Post with whatever is given, and no form token of its own."""
        return self._answer("POST", path, data=data or {}, **options)

    def submit(self, path, data=None, action=None, **options):
        """Fetch a page, fill in its form, and send it, token and all."""
        page = self.get(path, **options)
        assert page.status == 200, f"{path} answered {page.status}"
        target = action or path.split("?")[0]
        form = next(one for one in page.tree.iter("form") if one.get("action").split("?")[0] == target)
        return self.post(form.get("action"), page.form(target) | (data or {}), **options)

    def _answer(self, method, path, **options):
        with counted(self.app.extensions["trainer.database"].engine) as queries:
            response = self.client.open(path, method=method, buffered=True, **options)
        sent, is_text = response.get_data(), response.mimetype.startswith(("text/", "application/json"))
        page = Page(
            response.status_code, sent.decode() if is_text else "", response.headers, queries=queries, sent=sent
        )
        check_queries(method, path, queries)
        if response.mimetype == "text/html" and not 300 <= response.status_code < 400:
            page.tree = parsed(page.text, f"{method} {path}")
            check_page(page.tree, f"{method} {path}")
        return page


@contextmanager
def counted(engine):
    """The statements that are sent meanwhile, but for those that only steer the connection."""
    sent = []

    def note(_connection, _cursor, statement, *_rest):
        if not statement.startswith(("PRAGMA", "BEGIN")):
            sent.append(statement)

    event.listen(engine, "before_cursor_execute", note)
    try:
        yield sent
    finally:
        event.remove(engine, "before_cursor_execute", note)


def check_queries(method, path, queries):
    most = MOST_QUERIES[method]
    assert len(queries) <= most, f"{method} {path} sent {len(queries)} queries, above {most}:\n" + "\n".join(queries)
    if method == "GET":
        writes = [one for one in queries if re.match(r"INSERT|UPDATE|DELETE", one)]
        rest = [
            one for one in writes if not re.match(rf"(INSERT INTO|UPDATE|DELETE FROM) ({'|'.join(BOOKKEEPING)})\b", one)
        ]
        assert not rest, f"GET {path} wrote: {rest}"


def parsed(text, where):
    """The tree of a page; fails on whatever HTML does not allow."""
    parser = html5lib.HTMLParser(namespaceHTMLElements=False, strict=True)
    try:
        return parser.parse(text)
    except html5lib.html5parser.ParseError as error:
        line = parser.errors[-1][0][0] if parser.errors else 0
        near = "\n".join(text.splitlines()[max(0, line - 3) : line + 1])
        pytest.fail(f"{where} is no valid HTML: {error}, near line {line}:\n{near}")


def check_page(tree, where):
    """What holds for every page."""
    found = [*_faults(tree)]
    assert not found, f"{where}:\n" + "\n".join(found)


def _faults(tree):
    for check in (_title, _ids, _labels, _forms, _inline, _named, _outline):
        yield from check(tree)


def _title(tree):
    headings = tree.findall(".//h1")
    if len(headings) != 1:
        yield f"{len(headings)} first headings instead of one"
        return
    title, heading = words(tree.find(".//title")), words(headings[0])
    if not heading or not re.fullmatch(rf"(Look again: )?{re.escape(heading)} · Tubing Trainer", title):
        yield f"title {title!r} is not heading {heading!r} and the site's name"
    if not tree.get("lang"):
        yield "no language"
    if len(tree.findall(".//main")) != 1:
        yield "not one main part"


def _ids(tree):
    ids = [one.get("id") for one in tree.iter() if one.get("id")]
    yield from (f"id {one!r} stands {count} times" for one, count in Counter(ids).items() if count > 1)
    for one in tree.iter():
        named = f"{one.get('for', '')} {one.get('aria-describedby', '')} {one.get('aria-labelledby', '')}".split()
        here = [one.get("href")[1:]] if str(one.get("href", "")).startswith("#") else []
        yield from (f"<{one.tag}> points to id {target!r}, which is not there" for target in {*named, *here} - {*ids})


def _labels(tree):
    labelled = {one.get("for") for one in tree.iter("label")}
    wrapped = {id(one) for label in tree.iter("label") for one in label.iter()}
    for one in tree.iter():
        typed = one.tag in {"select", "textarea"} or (
            one.tag == "input" and one.get("type") not in {"hidden", "submit"}
        )
        if typed and one.get("id") not in labelled and id(one) not in wrapped and not one.get("aria-label"):
            yield f"<{one.tag} name={one.get('name')!r}> has no label"


def _forms(tree):
    for form in tree.iter("form"):
        if not form.get("action") or form.get("method") not in {"get", "post"}:
            yield f"form {form.attrib} lacks action or method"
        tokens = [one.get("value") for one in form.iter("input") if one.get("name") == "csrf_token"]
        if form.get("method") == "post" and (len(tokens) != 1 or not tokens[0]):
            yield f"form to {form.get('action')!r} has {len(tokens)} tokens instead of one"


def _inline(tree):
    for one in tree.iter():
        handlers = [name for name in one.attrib if name.startswith("on") or name == "style"]
        if handlers or one.tag == "style" or (one.tag == "script" and not one.get("src")):
            yield f"inline style or script: <{one.tag}> {handlers}"


def _named(tree):
    for one in tree.iter():
        if (
            one.tag in {"a", "button", "legend", "label", "th", "summary"}
            and not words(one)
            and not one.get("aria-label")
        ):
            yield f"<{one.tag}> {one.attrib} says nothing"


def _outline(tree):
    ranks = [int(one.tag[1]) for one in tree.iter() if re.fullmatch(r"h[1-6]", str(one.tag))]
    yield from (f"h{a} is followed by h{b}" for a, b in pairwise(ranks) if b > a + 1)


@pytest.fixture
def page_checks():
    """The checks themselves, for the test that sees them fail."""
    return SimpleNamespace(
        faults=lambda text: [*_faults(parsed(text, "sample"))], parsed=parsed, check_queries=check_queries
    )


@pytest.fixture(scope="session")
def built_app(tmp_path_factory, sqlite_template):
    """One application for all tests: templates are compiled once. `app` gives it a database of its own."""
    folder = tmp_path_factory.mktemp("instance")
    settings = Settings(
        instance=folder,
        database=f"sqlite:///{sqlite_template}",
        development=True,
        secure_cookies=False,
        log_level="error",
    )
    return build(settings, passwords=CHEAP_PASSWORDS)


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def app(built_app, sqlite_url, clock, _world_file, tmp_path, monkeypatch):
    """The application on a fresh copy of `world`'s database."""
    shutil.copyfile(_world_file.path, tmp_path / "site.db")
    opened = Database(sqlite_url)
    keep_records(built_app, opened, clock)
    # An error that nobody caught is the test's; the page for it has a test of its own.
    monkeypatch.setitem(built_app.config, "PROPAGATE_EXCEPTIONS", True)
    yield built_app
    opened.close()


@pytest.fixture
def client(app):
    """A browser in which nobody is signed in."""
    return Browser(app)


@pytest.fixture
def secure_client(app, monkeypatch):
    """A browser on a site whose cookies go over https only."""
    settings = replace(app.extensions["trainer.settings"], secure_cookies=True)
    monkeypatch.setitem(app.extensions, "trainer.settings", settings)
    return Browser(app)


@pytest.fixture
def client_of(app, world, clock):
    """Makes a browser that is signed in as one of `world`'s people."""

    def make(who):
        browser = Browser(app)
        with app.extensions["trainer.database"].write() as session:
            token, _ = open_session(
                session, world.people[who], "Mozilla/5.0 (Linux; Android 16) Firefox/150.0", clock.now
            )
        browser.client.set_cookie("trainer-reader", token)
        return browser

    return make


@pytest.fixture
def world(_world_file):
    """
    Invented people: ids by who they are in `people`, public ids of groups, codes.

    The evening school has an owner, an instructor, a class with the learner, and another class with the other learner;
    one has left the first class. The shop has a crew with its foreman. The administrator looks after the site.
    """
    return _world_file


def add_found_ready(session, person_id, skills, at, *, line="strict", points=15.4, level=3.0, holding=120.0):
    """Rows of proof runs that ended ready, with states that hold."""
    session.get_one(Person, person_id).answers_given += 30 * len(skills)
    for skill in skills:
        session.add(
            ProofRun(
                person_id=person_id,
                skill=skill,
                line=line,
                ready_at=15.0,
                difficulties={},
                points=points,
                counted=17,
                started_at=at - timedelta(days=2),
                ended_at=at,
                outcome="ready",
            )
        )
        state = {"level": level, "variance": 0.2, "holding_days": holding, "counted": 30, "last_at": at}
        session.add(SkillState(person_id=person_id, skill=skill, last_turn=1, recent_families=[], **state))


class Given:
    """What is given to `world`'s people beyond belonging somewhere: problems, assigned work; and the answers to them."""

    def __init__(self, app, world, clock):
        self.library = app.extensions["trainer.library"]
        self.database = app.extensions["trainer.database"]
        self.world, self.clock = world, clock

    def problem(self, who="learner", family_id="offset-spacing", **wanted):
        with self.database.write() as session:
            person = self.world.people[who]
            return practice.issue(
                session, self.library, person, family_id=family_id, now=self.clock.now, edition="2023", **wanted
            )

    def work(self, *families, title="Offsets for Friday", due_in=3, group="class", **more):
        due_on = (self.clock.now + timedelta(days=due_in)).date()
        asked = [FamilyCount(family) for family in families or ("offset-spacing", "strap-count")]
        more |= {"title": title, "families": asked, "due_on": due_on, "edition": "2023", "now": self.clock.now}
        with self.database.write() as session:
            leader = actor_of_person(session, self.world.people[LEADERS[group]])
            return assign(session, self.library, leader, self.world.groups[group], **more)

    def problem_set(self, *families, name="Offsets, first evening", who="instructor", organisation="school"):
        """A set that the school keeps."""
        asked = [FamilyCount(family) for family in families or ("offset-spacing", "strap-count")]
        with self.database.write() as session:
            keeper = actor_of_person(session, self.world.people[who])
            more = {"name": name, "families": asked, "now": self.clock.now}
            return make_set(session, self.library, keeper, self.world.organisations[organisation], **more)

    def line(self, work, position=1, who="learner", **more):
        with self.database.write() as session:
            actor = actor_of_person(session, self.world.people[who])
            return open_line(session, self.library, actor, work, position, now=self.clock.now, **more)

    def claim(self, who="learner"):
        """What a learner says of a key, about a question of assigned work."""
        problem = self.line(self.work(title="Doubted"), who=who)
        with self.database.write() as session:
            key = str(uuid4())
            practice.answer(
                session,
                self.library,
                self.world.people[who],
                problem,
                "99 in",
                answer_key=key,
                now=self.clock.now,
            )
            me = actor_of_person(session, self.world.people[who])
            claim(session, me, problem, own_answer="12 in", why="The sine goes below.", now=self.clock.now)
            return session.scalars(select(KeyClaim.public_id).order_by(KeyClaim.id.desc())).first()

    def rules(self, family_id="offset-spacing"):
        """The rules by which something was drawn."""
        self.problem(family_id=family_id)
        return self.library.families[family_id].rules_hash

    def shoe(self, who="owner", organisation="school", name="3/4, yellow handle", **figures):
        """A shoe that a shop has measured."""
        figures = {"take_up": 6.0625, "radius": 5.5} | figures
        with self.database.write() as session:
            keeper = actor_of_person(session, self.world.people[who])
            shoe = replace(DEFAULT_SHOES["3/4"], **figures)
            return keep_shoe(
                session, keeper, self.world.organisations[organisation], name=name, shoe=shoe, now=self.clock.now
            )

    def finding(self, about="learner", group="class", kind="dog-leg", skill="bends.offset", note="Two offsets lean."):
        """What the job showed of a member, as who leads the group reports it."""
        with self.database.write() as session:
            leader = actor_of_person(session, self.world.people[LEADERS[group]])
            wanted = {"skill": skill, "kind": kind, "note": note, "now": self.clock.now}
            place = (self.world.groups[group], self.public_id(about))
            return report(session, self.library, leader, *place, **wanted)

    def photo(self, finding, group="class"):
        """A photograph of a finding that the leader of the group reported."""
        with self.database.write() as session:
            leader = actor_of_person(session, self.world.people[LEADERS[group]])
            more = {"shows": "Two offsets, one leaning.", "now": self.clock.now}
            add_photo(session, leader, self.world.groups[group], finding, read_photograph(a_picture()), **more)
            return session.scalars(select(FindingPhoto.public_id).order_by(FindingPhoto.id.desc())).first()

    def check_photo(self, check, group="class"):
        """A photograph of a check that the leader of the group added."""
        with self.database.write() as session:
            leader = actor_of_person(session, self.world.people[LEADERS[group]])
            more = {"shows": "The rise, with the tape on it.", "now": self.clock.now}
            add_check_photo(session, leader, self.world.groups[group], check, read_photograph(a_picture()), **more)
            return session.scalars(select(CheckPhoto.public_id).order_by(CheckPhoto.id.desc())).first()

    def signer(self, who="owner", organisation="school", kinds=("offset",), until="2027-06-30"):
        """The naming by which somebody of the staff may sign; of the first kind."""
        with self.database.write() as session:
            owner = actor_of_person(session, self.world.people["owner" if organisation == "school" else "foreman"])
            more = {"kinds": kinds, "licence": "Journeyman, Ohio, 4711", "expires_on": until, "now": self.clock.now}
            place = self.world.organisations[organisation]
            person = session.get(Person, self.world.people[who])
            name_signer(session, owner, place, person=person.public_id, **more)
            session.flush()
            open_ones = select(Signer.public_id).where(Signer.person_id == person.id, Signer.ended_at.is_(None))
            return session.scalars(open_ones.order_by(Signer.id)).first()

    def check(self, who="learner", kind="offset", size="1/2"):
        """An open hands-on check of a learner of the class; the owner is named for its kind."""
        self.signer()
        with self.database.write() as session:
            leader = actor_of_person(session, self.world.people["instructor"])
            people = [session.get(Person, self.world.people[who]).public_id]
            more = {"people": people, "kind": kind, "trade_size": size, "now": self.clock.now}
            return set_checks(session, leader, self.world.groups["class"], **more)[0]

    def registration(self, who="learner"):
        """A registration that somebody has entered for himself."""
        with self.database.write() as session:
            actor = actor_of_person(session, self.world.people[who])
            typed = {"what": "registration", "words": "Apprentice, Ohio, 815", "expires_on": "2027-01-31"}
            enter_own(session, actor, **typed, now=self.clock.now)
            session.flush()
            return session.scalars(select(Registration.public_id)).one()

    def class_day(self, there=("learner",), group="class", hours="2.5", topic="Offsets and saddles"):
        """A day of a class, with who was there."""
        with self.database.write() as session:
            leader = actor_of_person(session, self.world.people[LEADERS[group]])
            people = [self.public_id(one) for one in there]
            wanted = {"day": self.clock.now.date().isoformat(), "topic": topic, "hours": hours, "there": people}
            return note_day(session, leader, self.world.groups[group], now=self.clock.now, **wanted)

    def job_type(self, ready="exposed-garage", who="owner", organisation="school"):
        """A job type of an organisation, copied from a ready-made one."""
        with self.database.write() as session:
            owner = actor_of_person(session, self.world.people[who])
            return copy_ready_made(session, owner, self.world.organisations[organisation], ready, self.clock.now)

    def found_ready(self, *skills, who="learner", watched_by=None, days_ago=1, **more):
        """Skills as if a proof run of so many days ago had found them ready, and practice had kept them up."""
        with self.database.write() as session:
            add_found_ready(session, self.world.people[who], skills, self.clock.now - timedelta(days=days_ago), **more)
            if watched_by:
                for run in session.scalars(select(ProofRun)):
                    run.watched_by_id = self.world.people[watched_by]

    def shares(self, what="readiness", who="learner", group="class"):
        """A member lets the leaders of a group see a part of the record."""
        with self.database.write() as session:
            of = select(Group.id).where(Group.public_id == self.world.groups[group])
            part = Shared(what)
            set_shared(session, self.world.people[who], session.scalar(of), part, self.clock.now, shared=True)

    def shares_no_more(self, what="readiness", who="learner", group="class"):
        """A member closes a part of the record to the leaders of a group."""
        with self.database.write() as session:
            of = select(Group.id).where(Group.public_id == self.world.groups[group])
            set_shared(session, self.world.people[who], session.scalar(of), Shared(what), self.clock.now, shared=False)

    def joins(self, who, group="class"):
        """Somebody joins a class or crew as a learner."""
        with self.database.write() as session:
            join(session, actor_of_person(session, self.world.people[who]), self.world.codes[group], self.clock.now)

    def able(self, skill, who="learner", days_ago=1):
        """Somebody whose practice has opened the proof run of a skill."""
        with self.database.write() as session:
            add_found_ready(session, self.world.people[who], [skill], self.clock.now - timedelta(days=days_ago))
            of = select(ProofRun).where(ProofRun.skill == skill, ProofRun.person_id == self.world.people[who])
            session.delete(session.scalars(of.where(ProofRun.outcome == "ready")).one())

    def ready_run(self, skill, who="learner", days_ago=1):
        """Another run that found a skill ready, beside what `found_ready` left; nobody watched."""
        at = self.clock.now - timedelta(days=days_ago)
        run = {"skill": skill, "line": "strict", "ready_at": 15.0, "difficulties": {}, "points": 15.4, "counted": 17}
        when = {"started_at": at - timedelta(hours=6), "ended_at": at, "outcome": "ready"}
        with self.database.write() as session:
            session.add(ProofRun(person_id=self.world.people[who], **run, **when))

    def failed_run(self, skill, who="learner", days_ago=3):
        """A run that ended without ready."""
        at = self.clock.now - timedelta(days=days_ago)
        run = {"skill": skill, "line": "strict", "ready_at": 15.0, "difficulties": {}, "points": -10.2, "counted": 4}
        with self.database.write() as session:
            person = self.world.people[who]
            session.add(ProofRun(person_id=person, started_at=at, ended_at=at, outcome="not-yet", **run))

    def shop_owner(self, who):
        """Somebody owns the shop."""
        with self.database.write() as session:
            chief = actor_of_person(session, self.world.people["administrator"])
            shop = self.world.organisations["shop"]
            appoint(session, chief, shop, sign_in_name=who, role="owner", now=self.clock.now)

    def doubt(self, family_id):
        """The key of a family comes into doubt."""
        family = self.library.families[family_id]
        with self.database.write() as session:
            row = {"rules_hash": family.rules_hash, "family_id": family.id, "skill": family.skill}
            add_if_missing(session, FamilyDifficulty, **row, difficulty=0.0, counted=0, alarm=7.0)
            of = update(FamilyDifficulty).where(FamilyDifficulty.family_id == family_id)
            session.execute(of.values(alarmed_at=self.clock.now))

    def proof_question(self, skill, who="learner"):
        """A question of a proof run that is on its way."""
        with self.database.write() as session:
            person, at = self.world.people[who], self.clock.now
            run = ProofRun(person_id=person, skill=skill, line="strict", ready_at=15.0, difficulties={}, started_at=at)
            session.add(run)
        with self.database.write() as session:
            zone = ZoneInfo("UTC")
            return next_question(session, self.library, person, skill, now=at, zone=zone, edition="2023")

    def drawn(self, problem, who="learner"):
        """The problem itself, with what is accepted and what is mistaken."""
        with self.database.read() as session:
            return sit_down(session, self.library, self.world.people[who], problem).problem

    def right(self, problem, who="learner"):
        """What somebody types who knows it: a text, or the ids of options."""
        drawn = self.drawn(problem, who)
        return typed(drawn, drawn.keys[0].value)

    def mistaken(self, problem, mistake="", who="learner"):
        """What somebody types who makes this known mistake; of one choice any wrong one when none is named."""
        drawn = self.drawn(problem, who)
        if not mistake:
            return next(one.id for one in drawn.options if one.id != drawn.keys[0].value)
        return typed(drawn, next(one.value for one in drawn.mistakes if one.id == mistake))

    def answer(self, problem, typed, who="learner"):
        """Put an answer on record, without a browser."""
        with self.database.write() as session:
            person, key = self.world.people[who], str(uuid4())
            practice.answer(session, self.library, person, problem, typed, answer_key=key, now=self.clock.now)

    def public_id(self, who):
        """A person in addresses."""
        with self.database.read() as session:
            return session.get(Person, self.world.people[who]).public_id

    def answers(self, who="learner"):
        """Texts of the answers on record, in their order."""
        with self.database.read() as session:
            of_person = select(Answer.typed).where(Answer.person_id == self.world.people[who])
            return session.scalars(of_person.order_by(Answer.sequence)).all()


def typed(drawn, value):
    if drawn.kind is AnswerKind.LENGTH:
        return write_length(value)
    if drawn.kind is AnswerKind.CHOICES:
        return list(value)
    if drawn.kind in {AnswerKind.ORDER, AnswerKind.BENDER, AnswerKind.PLACES}:
        return as_typed(drawn, value)[0]
    return str(int(value)) if drawn.kind is AnswerKind.COUNT else str(value)


@pytest.fixture
def given(app, world, clock):
    """Gives problems and work to `world`'s people."""
    return Given(app, world, clock)


@pytest.fixture(scope="session")
def _world_file(sqlite_template, tmp_path_factory):
    file: Path = tmp_path_factory.mktemp("world") / "site.db"
    shutil.copyfile(sqlite_template, file)
    opened = Database(f"sqlite:///{file}")
    with opened.write() as session:
        built = _build_world(session)
    # The last connection that closes brings what stands in the log into the file: one file to copy.
    opened.close()
    return SimpleNamespace(path=file, **built)


def _build_world(session):
    people = {}

    def person(who, **more):
        made = create_person(
            session,
            sign_in_name=who,
            display_name=f"{who.replace('-', ' ').title()} Person",
            password=PASSWORD,
            now=NOW,
            passwords=CHEAP_PASSWORDS,
            **more,
        )
        people[who] = made.id
        return made

    def actor(who):
        return actor_of_person(session, people[who])

    person("administrator", is_site_administrator=True)
    for who in ("owner", "instructor", "foreman", "learner", "other-learner", "left", "stranger"):
        person(who)
    groups = {}
    for kind, name, staff in (
        ("school", "Riverside evening school", ("owner", "instructor")),
        ("shop", "Hill Street Electric", ("foreman",)),
    ):
        chief = actor("administrator")
        made = make_organisation(session, chief, name=name, kind=kind, time_zone="America/Chicago", now=NOW)
        session.flush()
        for who in staff:
            appoint(session, chief, made, sign_in_name=who, role=who, now=NOW)
        groups[kind] = made
    classes = {
        "class": make_group(session, actor("instructor"), groups["school"], name="Tuesday evening", now=NOW),
        "other class": make_group(session, actor("instructor"), groups["school"], name="Thursday evening", now=NOW),
        "crew": make_group(session, actor("foreman"), groups["shop"], name="Garage crew", now=NOW),
    }
    codes = {name: _code(session, leader, actor, classes[name]) for name, leader in LEADERS.items()}
    join(session, actor("learner"), codes["class"], NOW)
    join(session, actor("other-learner"), codes["other class"], NOW)
    join(session, actor("left"), codes["class"], NOW)
    leave(session, actor("left"), classes["class"], NOW)
    return {"people": people, "organisations": groups, "groups": classes, "codes": codes, "password": PASSWORD}


LEADERS = {"class": "instructor", "other class": "instructor", "crew": "foreman"}


def _code(session, leader, actor, group):
    return open_joining(session, actor(leader), group, NOW)
