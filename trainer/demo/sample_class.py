"""
A class to look around in: invented people, marked so by their names, who have answered as a first class does.

All of it is written with a fixed number of statements, and teaches the families nothing: no difficulty and no key is
judged by invented answers. It is taken away, rows and all, by `remove_sample_class`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import datetime, timedelta
from random import Random
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

from msgspec import Struct, field
from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, group_led_by, organisation_of_staff
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.many import FirstPasswords, MadePerson, NewPerson, make_people
from trainer.accounts.passwords import CHEAP_PASSWORDS
from trainer.accounts.sharing import STARTS_WITH
from trainer.calc.message import InputError, Message
from trainer.demo.pretend import Pretend, typed
from trainer.groups.assigned import FamilyCount, assign
from trainer.groups.membership import KIND_OF, leading_role
from trainer.groups.names import unused_name
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.check import check
from trainer.problems.model import Verdict, VerdictKind
from trainer.problems.store import message_to_json, restore
from trainer.progress.constants import CURRENT
from trainer.progress.issue import seed_for
from trainer.progress.issue_ahead import Ahead, issue_ahead
from trainer.records.invented import remove_sample_rows
from trainer.records.models import (
    Answer,
    AssignedFamily,
    AssignedWork,
    Base,
    ContentVersion,
    Group,
    Membership,
    Problem,
    Share,
)
from trainer.records.types import new_public_id

__all__ = ["SAMPLE_NAME", "make_sample_class", "remove_sample_class"]

SAMPLE_NAME = "Sample class (invented)"
MOST_SAMPLES = 50
PEOPLE = (
    "Abel Stone",
    "Bea Holm",
    "Cal Reyes",
    "Dora Finch",
    "Emil Vance",
    "Faye Lund",
    "Gus Marlow",
    "Hana Brook",
    "Ike Farrow",
    "June Castel",
    "Kirk Olmo",
    "Lila Penn",
)
#: Who makes which slip again and again, by the order of the people: the tally then has something to say.
SLIPS = (
    "no-shrink",
    "no-shrink",
    "take-up-added",
    "no-shrink",
    "sine-for-cosecant",
    "",
    "gaps-for-straps",
    "no-shrink",
)
#: Of whoever does not make one of these: some four of five answers are right.
ABILITY = 1.4


class Work(Struct, frozen=True):
    """Work of a sample class: given and due, in days from now; how many of the people have done it; what it asks."""

    title: str
    from_day: int
    to_day: int
    doers: int
    families: tuple[str, ...]


WORKS = (
    Work("Offsets and stubs", -12, -5, 12, ("offset-far-mark", "stub-up-mark")),
    Work("Straps and wet places", -2, 5, 7, ("strap-count", "fittings-that-belong")),
)


class _Sample(Struct, frozen=True):
    """A sample class while it is made; `answers` counts those of each person."""

    session: Session
    library: Library
    leader: Actor
    group: str
    people: Sequence[MadePerson]
    edition: str
    now: datetime
    answers: Counter[int] = field(default_factory=Counter)


def make_sample_class(
    session: Session, library: Library, actor: Actor, organisation_public_id: str, *, edition: str, now: datetime
) -> str:
    """
    Make a sample class in an organisation; who asks for it leads it.

    Args:
        session: A write session.
        library: The content.
        actor: Owner, instructor or foreman of the organisation.
        organisation_public_id: The organisation.
        edition: Edition of the rules.
        now: This moment.

    Returns:
        Public id of the class.

    Raises:
        NotFoundError: When the one who asks has no such role in such an organisation.
    """
    organisation = organisation_of_staff(session, actor, organisation_public_id)
    begun = now + timedelta(days=WORKS[0].from_day - 1)
    group = Group(
        public_id=new_public_id(),
        organisation_id=organisation.id,
        kind=KIND_OF[organisation.kind],
        name=_unused_sample_name(session, organisation.id),
        is_sample=True,
        created_at=now,
    )
    session.add(group)
    session.flush()
    place = {"organisation_id": organisation.id, "group_id": group.id, "started_at": begun}
    people = _people(session, now)
    members = [{**place, "person_id": one.id, "role": "learner"} for one in people]
    if (role := leading_role(actor, organisation.id)) is not None:
        members.append({**place, "person_id": actor.person_id, "role": role})
    session.execute(insert(Membership), members)
    shares = [
        {"person_id": one.id, "group_id": group.id, "what": what.value, "started_at": begun}
        for one in people
        for what in STARTS_WITH[group.kind]
    ]
    session.execute(insert(Share), shares)
    note(session, what="group.made", now=now, actor_id=actor.person_id, group_id=group.id)
    sample = _Sample(session, library, actor, group.public_id, people, edition, now)
    _answer(sample, [_given(sample, work, ZoneInfo(organisation.time_zone)) for work in WORKS])
    return group.public_id


def remove_sample_class(session: Session, actor: Actor, group_public_id: str) -> None:
    """
    Take a sample class away with its people and all they did; nothing of anybody else is touched.

    Raises:
        NotFoundError: When the group is not his to know of.
        NotAllowedError: When he does not lead it, or it is no sample.
    """
    group = group_led_by(session, actor, group_public_id)
    if not group.is_sample:
        raise NotAllowedError(Message("groups.no-sample", {"group": group.name}))
    remove_sample_rows(session, group.id)


def _unused_sample_name(session: Session, organisation_id: int) -> str:
    """The name, counted where somebody else of the organisation has a sample class."""
    for nth in range(1, MOST_SAMPLES):
        try:
            return unused_name(session, organisation_id, SAMPLE_NAME if nth == 1 else f"{SAMPLE_NAME} {nth}")
        except InputError:
            continue
    raise RuntimeError("more sample classes than anybody looks around in")


def _people(session: Session, now: datetime) -> list[MadePerson]:
    """The invented people. Nobody is told their passwords, so guessing need not be costly."""
    mark = new_public_id().replace("-", "").replace("_", "").lower()[:10]
    wanted = [
        NewPerson(f"sample.{mark}.{nth}", f"{name} (invented)", is_invented=True) for nth, name in enumerate(PEOPLE, 1)
    ]
    return make_people(session, wanted, FirstPasswords(0, CHEAP_PASSWORDS), now)


def _given(sample: _Sample, work: Work, zone: ZoneInfo) -> str:
    """A piece of work, given some days ago."""
    library = sample.library
    asked = [FamilyCount(one) for one in work.families if one in library.givable]
    return assign(
        sample.session,
        library,
        sample.leader,
        sample.group,
        title=work.title,
        families=asked or [FamilyCount(next(iter(library.givable)))],
        due_on=(sample.now.astimezone(zone) + timedelta(days=work.to_day)).date(),
        edition=sample.edition,
        now=sample.now + timedelta(days=work.from_day),
    )


def _lines(sample: _Sample, works: Sequence[str]) -> dict[int, tuple[Work, Ahead]]:
    """The lines of the works, by their keys."""
    query = (
        select(AssignedWork.public_id, AssignedFamily, ContentVersion)
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .join(ContentVersion, ContentVersion.id == AssignedFamily.content_version_id)
        .where(AssignedWork.public_id.in_(works))
        .order_by(AssignedFamily.id)
    )
    return {
        line.id: (
            WORKS[works.index(work)],
            Ahead(line.id, line.position, family_at(sample.library, version), version.id),
        )
        for work, line, version in sample.session.execute(query)
    }


def _answer(sample: _Sample, works: Sequence[str]) -> None:
    """Everybody opens the work, and most answer it; each answer is judged by the checker as anybody's would be."""
    session, lines = sample.session, _lines(sample, works)
    places = {one.id: place for place, one in enumerate(sample.people)}
    issue_ahead(
        session,
        [line for _, line in lines.values()],
        places,
        seed=lambda person, _line: seed_for(person.public_id, person.problems_issued),
        edition=sample.edition,
        now=sample.now + timedelta(days=WORKS[-1].from_day),
    )
    given: list[tuple[dict[str, Any], Verdict]] = []
    for row in session.scalars(select(Problem).where(Problem.assigned_family_id.in_(lines)).order_by(Problem.id)):
        work, line = lines[row.assigned_family_id or 0]
        if places[row.person_id] >= work.doers:
            continue
        at = sample.now + timedelta(days=work.from_day, minutes=300 + 7 * places[row.person_id] + 3 * line.position)
        row.closed_at = at + timedelta(minutes=2)
        for attempt, (text, verdict) in enumerate(_tries(row, line, places[row.person_id]), 1):
            sample.answers[row.person_id] += 1
            values = _answer_row(row, text, verdict, attempt, sample.answers[row.person_id])
            given.append((values | {"answered_at": at + timedelta(minutes=attempt - 1)}, verdict))
    session.flush()
    made = insert(Base.metadata.tables["answer"]).returning(Answer.answer_key, Answer.id)
    ids = dict(session.execute(made, [values for values, _ in given]).all())
    rows = [_grading(ids[values["answer_key"]], verdict, values["answered_at"]) for values, verdict in given]
    session.execute(insert(Base.metadata.tables["grading"]), rows)


def _tries(row: Problem, line: Ahead, place: int) -> list[tuple[str, Verdict]]:
    """A first answer, and after a wrong one the right one; each as typed, with what it is judged to be."""
    problem, chance = restore(line.family, row.seed, row.edition, row.drawn), Random(1000 * place + line.position)
    slip = SLIPS[place % len(SLIPS)]
    own = [one.value for one in problem.mistakes if one.id == slip]
    answers = [typed(problem, own[0], chance) if own else Pretend(ABILITY).answer(problem, 0, chance)]
    if check(problem, answers[0]).kind is not VerdictKind.RIGHT:
        answers.append(typed(problem, problem.keys[0].value, chance))
    tried = [(one if isinstance(one, str) else ", ".join(one), check(problem, one)) for one in answers]
    return [(text, verdict) for text, verdict in tried if verdict.kind is not VerdictKind.UNREADABLE]


def _answer_row(row: Problem, text: str, verdict: Verdict, attempt: int, sequence: int) -> dict[str, Any]:
    """An answer that moves no skill: its weight is nothing."""
    value = verdict.value
    return {
        "problem_id": row.id,
        "person_id": row.person_id,
        "answer_key": str(uuid4()),
        "sequence": sequence,
        "attempt": attempt,
        "typed": text,
        "value_read": list(value) if isinstance(value, tuple) else value,
        "hints_seen": 0,
        "steps_seen": False,
        "difficulty": 0.0,
        "chance_before": 0.5,
        "weight": 0.0,
        "start_level": 0.0,
        "days": 0.0,
        "lucky": 0.0,
        "constants_version": CURRENT.version,
    }


def _grading(answer_id: int, verdict: Verdict, at: datetime) -> dict[str, Any]:
    return {
        "answer_id": answer_id,
        "sequence": 1,
        "verdict": verdict.kind.value,
        "mistakes": list(verdict.mistakes),
        "reason": message_to_json(verdict.reason) if verdict.reason else None,
        "basis": verdict.basis,
        "graded_at": at,
    }
