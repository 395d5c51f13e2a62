"""Sheets of assigned work: each learner's own problems on paper, found again by the code that is printed on them."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError, assigned_work_led_by, assigned_work_to
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import WorkRef
from trainer.calc.message import InputError, Message
from trainer.groups.lines import shared_numbers
from trainer.groups.tally import learners_of
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems import model
from trainer.problems.draw import draw
from trainer.problems.family import Family
from trainer.problems.store import restore
from trainer.progress.issue import seed_for
from trainer.progress.issue_ahead import Ahead, issue_ahead
from trainer.records.joins import problems_of_lines
from trainer.records.models import AssignedFamily, AssignedWork, ContentVersion, Person, Problem

__all__ = ["Sheet", "SheetLine", "WorkSheets", "make_sheets", "work_of_code", "work_sheets"]


class SheetLine(Struct, frozen=True):
    """
    One problem of a sheet: its place in the work from 1, its family, and the problem with its numbers.

    None where a part of a job goes on with what its learner found before: the numbers are not known on paper, and those
    that would be right would tell the answer to the part before. It is asked on the phone.
    """

    position: int
    family: Family
    problem: model.Problem | None


class Sheet(Struct, frozen=True):
    """
    The sheet of one learner.

    Args:
        person: Public id of the learner.
        display_name: The name.
        code: Code of its first problem, which is the sheet's.
        lines: Its problems, in their order.
    """

    person: str
    display_name: str
    code: str
    lines: tuple[SheetLine, ...]


class WorkSheets(Struct, frozen=True):
    """The sheets of a piece of work, by name; `without` names learners who have none yet."""

    work: WorkRef
    sheets: tuple[Sheet, ...]
    without: tuple[str, ...]


def make_sheets(session: Session, library: Library, actor: Actor, work_public_id: str, now: datetime) -> int:
    """
    Give each learner of the group a problem for each line of the work that has none yet. A second call adds nothing.

    Later parts of a job are issued when its learner comes to them. A sheet prints those that go on with nothing of the
    learner's own as they follow from the job's numbers, and leaves the others to the phone.

    Returns:
        How many problems were issued.

    Raises:
        NotFoundError: When the work is not his to know of.
        NotAllowedError: When he does not lead its group.
        InputError: When the work is taken back.
    """
    work = assigned_work_led_by(session, actor, work_public_id)
    if work.withdrawn_at is not None:
        raise InputError(
            Message("groups.sheet-withdrawn"),
            given=work.title,
            accepted=Message("groups.sheet-accepted"),
            example="Offsets for Thursday",
        )
    shared = work.shared_seed

    def seed(person: Person, line: Ahead) -> int:
        return (
            seed_for(person.public_id, person.problems_issued)
            if shared is None
            else shared_numbers(shared, line.position)
        )

    lines = [line for line in _lines(session, library, work.id) if line.family.job is None or line.family.job.first]
    people = [learner.id for learner in learners_of(session, work.group.id, set())]
    made = issue_ahead(session, lines, people, seed=seed, edition=work.edition, now=now)
    if made:
        note(session, what="work.sheets", now=now, actor_id=actor.person_id, group_id=work.group.id)
    return made


def work_sheets(session: Session, library: Library, actor: Actor, work_public_id: str) -> WorkSheets:
    """
    The sheets of a piece of work, for who leads its group, with a fixed number of statements.

    Raises:
        NotFoundError: When the work is not his to know of.
        NotAllowedError: When he does not lead its group.
    """
    work = assigned_work_led_by(session, actor, work_public_id)
    lines = _lines(session, library, work.id)
    # Of several problems of a line the newest is printed: the one that a phone would go on with.
    issued = select(Problem).where(Problem.assigned_family_id.in_([line.id for line in lines])).order_by(Problem.id)
    rows = {(row.person_id, row.assigned_family_id): row for row in session.scalars(issued)}
    sheets, without = [], []
    for learner in learners_of(session, work.group.id, set()):
        own = {line.id: rows[learner.id, line.id] for line in lines if (learner.id, line.id) in rows}
        if any(line.id not in own for line in lines if line.family.job is None or line.family.job.first):
            without.append(learner.display_name)
            continue
        code = own[lines[0].id].code
        sheets.append(Sheet(learner.public_id, learner.display_name, code, tuple(_printed(lines, own, work.edition))))
    return WorkSheets(work, tuple(sheets), tuple(without))


def work_of_code(session: Session, actor: Actor, code: str) -> tuple[str, bool]:
    """
    The work that a printed code belongs to: public id, and whether the sheet is the reader's own.

    Args:
        session: Any session.
        actor: Who asks.
        code: As `trainer.problems.codes.read_code` gives it.

    Raises:
        NotFoundError: When no sheet has this code that is the reader's own or of a group that he leads.
    """
    query = (
        select(AssignedWork.public_id, Problem.person_id)
        .join(AssignedFamily, problems_of_lines())
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .where(Problem.code == code)
    )
    found = session.execute(query).one_or_none()
    if found is None:
        raise NotFoundError
    work, person_id = found
    if person_id == actor.person_id:
        return assigned_work_to(session, actor, work).public_id, True
    try:
        return assigned_work_led_by(session, actor, work).public_id, False
    except NotAllowedError as error:
        # That somebody else in the class has such a sheet is nothing that a learner hears.
        raise NotFoundError from error


def _lines(session: Session, library: Library, work_id: int) -> list[Ahead]:
    query = (
        select(AssignedFamily.id, AssignedFamily.position, ContentVersion)
        .join(ContentVersion, ContentVersion.id == AssignedFamily.content_version_id)
        .where(AssignedFamily.assigned_work_id == work_id)
        .order_by(AssignedFamily.position)
    )
    return [
        Ahead(line_id, position, family_at(library, version), version.id)
        for line_id, position, version in session.execute(query)
    ]


def _printed(lines: list[Ahead], own: dict[int, Problem], edition: str) -> list[SheetLine]:
    """What a sheet prints for each line; a later part of a job as it follows from the numbers of the first."""
    found = []
    seed = 0
    for line in lines:
        row = own.get(line.id)
        place = line.family.job
        if place is None or place.first:
            seed = own[line.id].seed
        if row is not None:
            problem: model.Problem | None = restore(line.family, row.seed, row.edition, row.drawn)
        elif place is not None and place.job.carries[place.at]:
            problem = None
        else:
            problem = draw(line.family, seed, edition=edition)
        found.append(SheetLine(line.position, line.family, problem))
    return found
