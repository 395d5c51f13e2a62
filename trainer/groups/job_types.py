"""The job types of a shop or school: its owner copies ready-made ones, edits them, adds his own, and ends them."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import delete, literal, select, union_all, update
from sqlalchemy.orm import Session

from trainer.accounts.access import NotFoundError, organisation_owned_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import OrganisationRef
from trainer.calc.message import InputError, Message
from trainer.calc.raceways import TRADE_SIZES
from trainer.groups.names import read_name
from trainer.groups.ready_made import JobTypeText, ready_made
from trainer.groups.registrations import WHAT
from trainer.library.shelf import Library
from trainer.problems.hands_on import KINDS
from trainer.progress.needs import CheckNeed, JobNeed, RegistrationNeed, SkillNeed
from trainer.progress.points import Line
from trainer.records.locks import locked
from trainer.records.models import JobType, JobTypeCheck, JobTypeSkill, Organisation
from trainer.records.types import is_public_id, new_public_id

__all__ = [
    "FEWEST_SKILLS",
    "MOST_SKILLS",
    "Kept",
    "copy_ready_made",
    "end_job_type",
    "job_names",
    "job_types",
    "keep",
    "needs_of",
]

FEWEST_SKILLS, MOST_SKILLS = 3, 6
LONGEST_SENTENCE = 400
LONGEST_VALID = 3650


SKILL, CHECK = "skill", "check"


class _Row(Struct, frozen=True):
    """A job type with its skills (id, line) and its checks (kind, trade size)."""

    job_type: JobType
    skills: list[tuple[str, Line]]
    checks: list[tuple[str, str]]


class Kept(Struct, frozen=True):
    """A job type of an organisation: its public id and what is written in it."""

    job: str
    text: JobTypeText


def job_types(session: Session, actor: Actor, organisation_public_id: str) -> tuple[OrganisationRef, list[Kept]]:
    """
    The job types of an organisation by name, for its owner.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    return organisation, [_kept(row) for row in _rows(session, [organisation.id])]


def needs_of(session: Session, library: Library, organisations: Collection[int]) -> dict[int, list[JobNeed]]:
    """What the job types of organisations ask, by organisation, each in the order of names. One query."""
    found: dict[int, list[JobNeed]] = {organisation: [] for organisation in organisations}
    for row in _rows(session, organisations):
        found[row.job_type.organisation_id].append(_need(library, row))
    return found


def copy_ready_made(session: Session, actor: Actor, organisation_public_id: str, ready: str, now: datetime) -> str:
    """
    Put a copy of a ready-made job type among those of an organisation.

    Returns:
        Its public id.

    Raises:
        NotFoundError: When there is no such ready-made one, or as `job_types`.
        NotAllowedError: As `job_types`.
        InputError: When one of that name is there already.
    """
    if ready not in ready_made():
        raise NotFoundError
    return keep(session, actor, organisation_public_id, None, text=ready_made()[ready], now=now)


def keep(
    session: Session,
    actor: Actor,
    organisation_public_id: str,
    job: str | None,
    *,
    text: JobTypeText,
    now: datetime,
) -> str:
    """
    Add a job type, or change one.

    Args:
        session: A write session.
        actor: Who asks.
        organisation_public_id: The organisation.
        job: Public id of the one to change; None for a new one.
        text: What it asks from now on.
        now: This moment.

    Returns:
        Its public id.

    Raises:
        NotFoundError: When there is no such job type, or as `job_types`.
        NotAllowedError: As `job_types`.
        InputError: When something in it cannot be used; `field` names it.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    name = _checked(text)
    # Two who keep one of the same name at once go one after the other.
    session.execute(locked(select(Organisation).where(Organisation.id == organisation.id)))
    row = _used(session, organisation.id, job) if job else None
    _refuse_twice(session, organisation.id, name, row)
    if row is None:
        row = JobType(public_id=new_public_id(), organisation_id=organisation.id, created_at=now)
        session.add(row)
    row.name, row.about, row.supervision = name, text.about.strip(), text.supervision.strip()
    row.watched, row.valid_days, row.trade_sizes = text.watched, text.valid_days, list(text.trade_sizes)
    row.registration = text.registration or None
    session.flush()
    _write_parts(session, row.id, text)
    note(session, what="job-type.kept", now=now, actor_id=actor.person_id)
    return row.public_id


def end_job_type(session: Session, actor: Actor, organisation_public_id: str, job: str, now: datetime) -> None:
    """
    Take a job type off the board.

    Raises:
        NotFoundError: When there is none that is used, or as `job_types`.
        NotAllowedError: As `job_types`.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    row = _used(session, organisation.id, job)
    session.execute(update(JobType).where(JobType.id == row.id).values(ended_at=now))
    note(session, what="job-type.ended", now=now, actor_id=actor.person_id)


def _rows(session: Session, organisations: Collection[int]) -> list[_Row]:
    """The used job types of organisations by name, with one query."""
    parts = union_all(
        select(
            JobTypeSkill.job_type_id,
            literal(SKILL).label("of"),
            JobTypeSkill.skill.label("what"),
            JobTypeSkill.line.label("how"),
            JobTypeSkill.id,
        ),
        select(JobTypeCheck.job_type_id, literal(CHECK), JobTypeCheck.kind, JobTypeCheck.trade_size, JobTypeCheck.id),
    ).subquery()
    query = (
        select(JobType, parts.c.of, parts.c.what, parts.c.how)
        .outerjoin(parts, parts.c.job_type_id == JobType.id)
        .where(JobType.organisation_id.in_(organisations), JobType.ended_at.is_(None))
        .order_by(JobType.name, JobType.id, parts.c.of, parts.c.id)
    )
    found: dict[int, _Row] = {}
    for row, of, what, how in session.execute(query):
        one = found.setdefault(row.id, _Row(row, [], []))
        if of == SKILL:
            one.skills.append((what, Line(how)))
        elif of == CHECK:
            one.checks.append((what, how))
    return list(found.values())


def _kept(found: _Row) -> Kept:
    row = found.job_type
    return Kept(
        row.public_id,
        JobTypeText(
            name=row.name,
            about=row.about,
            supervision=row.supervision,
            watched=row.watched,
            valid_days=row.valid_days,
            trade_sizes=tuple(row.trade_sizes),
            skills=dict(found.skills),
            checks=tuple(dict.fromkeys(kind for kind, _ in found.checks)),
            registration=row.registration or "",
        ),
    )


def _need(library: Library, found: _Row) -> JobNeed:
    row = found.job_type
    return JobNeed(
        job=row.public_id,
        name=row.name,
        supervision=row.supervision,
        watched=row.watched,
        valid=timedelta(days=row.valid_days) if row.valid_days else None,
        skills=tuple(SkillNeed(skill, _title(library, skill), line) for skill, line in found.skills),
        checks=tuple(CheckNeed(kind, size) for kind, size in found.checks),
        registration=RegistrationNeed(row.registration) if row.registration else None,
    )


def _title(library: Library, skill: str) -> str:
    return library.skills[skill].title if skill in library.skills else skill


def job_names(session: Session, organisation_id: int) -> tuple[tuple[str, str], ...]:
    """Public id and name of each job type that an organisation uses, by name."""
    query = select(JobType.public_id, JobType.name).where(JobType.organisation_id == organisation_id)
    rows = session.execute(query.where(JobType.ended_at.is_(None)).order_by(JobType.name, JobType.id))
    return tuple((public_id, name) for public_id, name in rows)


def _used(session: Session, organisation_id: int, job: str) -> JobType:
    query = select(JobType).where(
        JobType.organisation_id == organisation_id, JobType.public_id == job, JobType.ended_at.is_(None)
    )
    row = session.scalar(query) if is_public_id(job) else None
    if row is None:
        raise NotFoundError
    return row


def _write_parts(session: Session, job_type_id: int, text: JobTypeText) -> None:
    for table in (JobTypeSkill, JobTypeCheck):
        session.execute(delete(table).where(table.job_type_id == job_type_id))
    session.add_all(
        JobTypeSkill(job_type_id=job_type_id, skill=skill, line=line.value) for skill, line in text.skills.items()
    )
    session.add_all(
        JobTypeCheck(job_type_id=job_type_id, kind=kind, trade_size=size)
        for kind in text.checks
        for size in text.trade_sizes
        if size in KINDS[kind].sizes
    )
    session.flush()


def _checked(text: JobTypeText) -> str:
    """The name as it is kept, where all the rest can be used too."""
    name = read_name(text.name, field="name", example="Exposed EMT in a garage")
    sentence = {"longest": LONGEST_SENTENCE}
    if not 1 <= len(text.supervision.strip()) <= LONGEST_SENTENCE:
        example = "A licensed electrician is on the job."
        raise _refused("job-type.supervision", text.supervision, "supervision", example, sentence)
    if len(text.about.strip()) > LONGEST_SENTENCE:
        raise _refused("job-type.about", text.about, "about", "1/2 EMT in open framing.", sentence)
    if text.valid_days is not None and not 1 <= text.valid_days <= LONGEST_VALID:
        raise _refused("job-type.valid", str(text.valid_days), "valid_days", "365", {"most": LONGEST_VALID})
    if not FEWEST_SKILLS <= len(text.skills) <= MOST_SKILLS:
        counts = {"fewest": FEWEST_SKILLS, "most": MOST_SKILLS, "given": len(text.skills)}
        raise _refused("job-type.skills", str(len(text.skills)), "skills", "4", counts)
    if text.registration not in ("", *WHAT):
        raise _refused("job-type.registration", text.registration, "registration", WHAT[0], {})
    if unknown := [size for size in text.trade_sizes if size not in TRADE_SIZES]:
        raise _refused("job-type.size", unknown[0], "trade_sizes", "3/4", {})
    if unknown := [kind for kind in text.checks if kind not in KINDS]:
        raise _refused("job-type.check", unknown[0], "checks", next(iter(KINDS)), {})
    if homeless := [kind for kind in text.checks if not {*KINDS[kind].sizes} & {*text.trade_sizes}]:
        sizes = ", ".join(text.trade_sizes)
        raise _refused("job-type.no-size", sizes, "trade_sizes", KINDS[homeless[0]].sizes[0], {})
    return name


def _refuse_twice(session: Session, organisation_id: int, name: str, row: JobType | None) -> None:
    query = select(JobType.id).where(
        JobType.organisation_id == organisation_id, JobType.name == name, JobType.ended_at.is_(None)
    )
    if any(found != (row.id if row else None) for found in session.scalars(query)):
        raise _refused("job-type.twice", name, "name", f"{name}, 2"[:120], {})


def _refused(reason: str, given: str, field: str, example: str, params: dict[str, int]) -> InputError:
    accepted = Message(f"job-type.{reason.removeprefix('job-type.')}-accepted", params)
    return InputError(Message(reason, params), given=given[:400], accepted=accepted, example=example, field=field)
