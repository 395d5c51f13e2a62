"""Make the demo site, all of it in one transaction: a build that is interrupted leaves nothing behind."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from random import Random
from zoneinfo import ZoneInfo

from msgspec.structs import replace
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor, actor_of_person
from trainer.accounts.passwords import CHEAP_PASSWORDS, SITE_PASSWORDS, one_time_password
from trainer.accounts.people import create_person, person_named
from trainer.accounts.site import make_site, site_of
from trainer.config import Settings
from trainer.demo.bench import Place
from trainer.demo.cast import CLASS, CREWS, SCHOOL, SEED, SHOP, DemoPerson, Extra, extras, invented_id, leads, principal
from trainer.demo.lives import moments_of
from trainer.demo.moments import Scene, live
from trainer.demo.weeks import Given
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.job_types import copy_ready_made, keep
from trainer.groups.joining import Joined, join
from trainer.groups.membership import make_group, open_joining
from trainer.groups.organisations import appoint, make_organisation
from trainer.groups.ready_made import ready_made
from trainer.library.shelf import Library
from trainer.problems.shelf import content_root
from trainer.records.engine import Database
from trainer.records.migrate import upgrade

__all__ = ["DemoError", "DemoPerson", "build_demo_site"]

ADMINISTRATOR = "administrator"
EDITION = "2023"
TIME_ZONE = "America/Chicago"
WEEKS, EARLIER = 4, 8
"""Weeks in which everybody practises, and weeks before them in which the shop was on the site already."""
GARAGE = "Surface runs that everybody sees: offsets into boxes, straps in line."
GARAGE_SKILLS = ("bends.offset", "supports.straps", "fittings.connectors")
"""What the invented shop has left of the ready-made garage job: no saddles in its garages."""


class DemoError(RuntimeError):
    """There is a real site where the demo was to be made; the message says what to do."""


def build_demo_site(
    settings: Settings,
    *,
    weeks: int = WEEKS,
    now: datetime | None = None,
    report: Callable[[str], object] = lambda _line: None,
) -> tuple[DemoPerson, ...]:
    """
    Make the demo site unless it is there.

    Args:
        settings: Where the site is to be.
        weeks: For how many weeks up to now its people have been at it.
        now: This moment.
        report: Told in a line what takes time.

    Returns:
        Whom a visitor can sign in as.

    Raises:
        DemoError: When there is a real site.
        DatabaseVersionError: When the database is from a newer version of the program.
    """
    settings.instance.mkdir(parents=True, exist_ok=True)
    upgrade(settings.database)
    with closing(Database(settings.database)) as database, database.write() as session:
        site = site_of(session)
        if site is not None and not site.is_demo:
            raise DemoError(
                f"There is a real site in {settings.instance}. Give the demo a folder of its own: "
                "TRAINER_INSTANCE=~/trainer-demo trainer demo"
            )
        if site is None:
            report("Inventing a night class, a shop and their weeks of practice; this is done once.")
            _build(session, Library(content_root(settings.content)), weeks, now or datetime.now(UTC))
    return leads()


def _build(session: Session, library: Library, weeks: int, now: datetime) -> None:
    practice_from = now - timedelta(weeks=weeks, hours=1)
    # A short demo has nothing before it.
    start = practice_from - timedelta(weeks=EARLIER if weeks >= WEEKS else 0)
    make_site(session, administrator=ADMINISTRATOR, edition=EDITION, now=start, is_demo=True)
    administrator = person_named(session, ADMINISTRATOR)
    if administrator is None:
        raise RuntimeError("the site was made without its administrator")
    keeper = actor_of_person(session, administrator.id)
    people = {lead.role: _person(session, lead, start) for lead in leads()}
    school, class_code = _school(session, keeper, people["instructor"], start)
    shop, crew_codes = _shop(session, keeper, people, start)
    cast = [(extra, _learner(session, extra, people["apprentice"], start)) for extra in extras()]
    for extra, person_id in cast:
        came = now - timedelta(days=extra.part.joined_days_ago) if extra.part.joined_days_ago else start
        for code in (class_code if extra.part.in_class else "", crew_codes.get(extra.part.crew, "")):
            if code and not isinstance(join(session, _fresh(session, person_id), code, came), Joined):
                raise RuntimeError(f"{extra.sign_in_name} could not join with {code}")
    if weeks:
        scene = Scene(session, library, Random(SEED), EDITION, start, practice_from, now, ZoneInfo(TIME_ZONE))
        given = _give_work(session, library, people["instructor"], school.groups["class"], now)
        live(scene, moments_of(scene, cast, given, school, shop))


def _school(session: Session, keeper: Actor, instructor: int, now: datetime) -> tuple[Place, str]:
    """The school with its class, and the code to join that."""
    sign_in_name, display_name = principal()
    owner = _extra(session, sign_in_name, display_name, now)
    made = make_organisation(session, keeper, name=SCHOOL, kind="school", time_zone=TIME_ZONE, now=now)
    appoint(session, keeper, made, sign_in_name=sign_in_name, role="owner", now=now)
    leader = _fresh(session, instructor)
    appoint(session, _fresh(session, owner), made, sign_in_name=leader.sign_in_name, role="instructor", now=now)
    group, code = _group(session, _fresh(session, instructor), made, CLASS, now)
    return Place(made, owner, instructor, {"class": group}), code


def _shop(session: Session, keeper: Actor, people: Mapping[str, int], now: datetime) -> tuple[Place, dict[str, str]]:
    """The shop with its crews and job types, and the codes to join the crews."""
    made = make_organisation(session, keeper, name=SHOP, kind="shop", time_zone=TIME_ZONE, now=now)
    owner, foreman = _fresh(session, people["owner"]), _fresh(session, people["foreman"])
    appoint(session, keeper, made, sign_in_name=owner.sign_in_name, role="owner", now=now)
    owner = _fresh(session, people["owner"])
    appoint(session, owner, made, sign_in_name=foreman.sign_in_name, role="foreman", now=now)
    copy_ready_made(session, owner, made, "first-week", now)
    garage = ready_made()["exposed-garage"]
    kept = {skill: line for skill, line in garage.skills.items() if skill in GARAGE_SKILLS}
    keep(session, owner, made, None, text=replace(garage, about=GARAGE, skills=kept, checks=("offset",)), now=now)
    groups, codes = {}, {}
    for key, name in CREWS.items():
        groups[key], codes[key] = _group(session, _fresh(session, people["foreman"]), made, name, now)
    return Place(made, people["owner"], people["foreman"], groups), codes


def _person(session: Session, lead: DemoPerson, now: datetime) -> int:
    return create_person(
        session,
        sign_in_name=lead.sign_in_name,
        display_name=lead.display_name,
        password=lead.password,
        passwords=SITE_PASSWORDS,
        public_id=invented_id(lead.sign_in_name),
        now=now,
    ).id


def _learner(session: Session, extra: Extra, apprentice_id: int, now: datetime) -> int:
    if person_named(session, extra.sign_in_name) is not None:
        return apprentice_id
    return _extra(session, extra.sign_in_name, extra.display_name, now)


def _extra(session: Session, sign_in_name: str, display_name: str, now: datetime) -> int:
    return create_person(
        session,
        sign_in_name=sign_in_name,
        display_name=display_name,
        # Nobody is told it, and nobody signs in with it: no need to make guessing costly.
        password=one_time_password(),
        passwords=CHEAP_PASSWORDS,
        public_id=invented_id(sign_in_name),
        now=now,
    ).id


def _fresh(session: Session, person_id: int) -> Actor:
    """The person as signed in just now, with the roles that it has by now."""
    session.flush()
    return actor_of_person(session, person_id)


def _group(session: Session, leader: Actor, organisation: str, name: str, now: datetime) -> tuple[str, str]:
    made = make_group(session, leader, organisation, name=name, now=now)
    return made, open_joining(session, _fresh(session, leader.person_id), made, now)


def _give_work(session: Session, library: Library, instructor_id: int, group: str, now: datetime) -> list[Given]:
    """Two pieces of work: one due last week, one due in a few days."""
    plan: tuple[tuple[str, tuple[str, ...], int, int], ...] = (
        ("Offsets and stubs", ("offset-far-mark", "offset-spacing", "stub-up-mark"), -12, -5),
        ("Straps and wet places", ("strap-count", "last-strap", "fittings-that-belong"), -3, 4),
    )
    leader = _fresh(session, instructor_id)
    given = []
    for title, families, from_day, to_day in plan:
        at = now + timedelta(days=from_day)
        due: date = (now + timedelta(days=to_day)).date()
        asked = [FamilyCount(family) for family in families]
        work = assign(session, library, leader, group, title=title, families=asked, due_on=due, edition=EDITION, now=at)
        given.append(Given(work, len(asked), at, now + timedelta(days=to_day)))
    return given
