"""An owner's own list of work processes: names, hours asked for, what is closed. The ready-made list is where it starts."""

from __future__ import annotations

import secrets
from datetime import datetime

from msgspec import Struct
from sqlalchemy import exists, func, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError, organisation_owned_by
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.refs import OrganisationRef
from trainer.calc.message import InputError, Message
from trainer.groups.names import read_line
from trainer.groups.processes import Process, processes_of, ready_made
from trainer.records.locks import locked
from trainer.records.models import Group, JobHours, Organisation, WorkProcess

__all__ = [
    "LONGEST_TITLE",
    "ProcessList",
    "ProcessRow",
    "add_process",
    "change_process",
    "process_list",
    "set_aside",
    "take_up",
]

LONGEST_TITLE = 80
MOST_HOURS = 20_000
MOST_PROCESSES = 60


class ProcessRow(Struct, frozen=True):
    """A process, and whether hours were ever entered on it here."""

    process: Process
    is_used: bool


class ProcessList(Struct, frozen=True):
    """An organisation with its list; `required` is the sum of the hours asked for on what is open."""

    organisation: OrganisationRef
    rows: tuple[ProcessRow, ...]

    @property
    def required(self) -> int:
        """Hours that are asked for altogether."""
        return sum(row.process.required_hours or 0 for row in self.rows if not row.process.is_closed)

    def is_last(self, key: str) -> bool:
        """Whether no other process is open, so that this one is neither closed nor removed."""
        return not any(one.process.key != key and not one.process.is_closed for one in self.rows)

    def row(self, key: str) -> ProcessRow:
        """One of them; NotFoundError when there is none."""
        found = next((one for one in self.rows if one.process.key == key), None)
        if found is None:
            raise NotFoundError
        return found


def process_list(session: Session, actor: Actor, organisation_public_id: str) -> ProcessList:
    """
    The list, for the owner.

    Raises:
        NotFoundError: When there is no such organisation, or the one who asks has no part in it.
        NotAllowedError: When he has another role in it.
    """
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    query = select(JobHours.process).join(Group, Group.id == JobHours.group_id)
    used = set(session.scalars(query.where(Group.organisation_id == organisation.id).distinct()))
    listed = processes_of(session, [organisation.id])[organisation.id]
    return ProcessList(organisation, tuple(ProcessRow(one, one.key in used) for one in listed))


def add_process(
    session: Session, actor: Actor, organisation_public_id: str, *, title: str, required: str, now: datetime
) -> None:
    """
    Add a process at the end of the list.

    Raises:
        NotFoundError, NotAllowedError: As `process_list`.
        InputError: With `field` "title" or "required".
    """
    organisation_id = _own_list(session, actor, organisation_public_id)
    named, hours = _read_title(session, organisation_id, title), _read_hours(required)
    count, last = session.execute(
        select(func.count(), func.max(WorkProcess.position)).where(WorkProcess.organisation_id == organisation_id)
    ).one()
    if count >= MOST_PROCESSES:
        most = Message("processes.most", {"most": f"{MOST_PROCESSES}"})
        raise InputError(Message("processes.full"), given=title[:80], accepted=most, example="Bending", field="title")
    key = f"own-{secrets.token_hex(8)}"
    row = WorkProcess(
        organisation_id=organisation_id, key=key, title=named, required_hours=hours, position=(last or 0) + 1
    )
    session.add(row)
    _note(session, actor, "processes.added", now)


def change_process(
    session: Session, actor: Actor, organisation_public_id: str, key: str, *, title: str, required: str, now: datetime
) -> None:
    """
    Give a process another name, or ask for other hours. Hours entered before keep belonging to it.

    Raises:
        NotFoundError, NotAllowedError: As `process_list`, or when there is no such process.
        InputError: With `field` "title" or "required".
    """
    organisation_id = _own_list(session, actor, organisation_public_id)
    row = _row(session, organisation_id, key)
    row.title, row.required_hours = _read_title(session, organisation_id, title, row.key), _read_hours(required)
    _note(session, actor, "processes.changed", now)


def set_aside(session: Session, actor: Actor, organisation_public_id: str, key: str, now: datetime) -> bool:
    """
    Close a process on which hours were entered, so that no more are; remove one that nobody used.

    The last one that is open stays: hours are entered by it, and an organisation without a list goes by the ready-made one.

    Returns:
        Whether it was closed, and stays on the list.

    Raises:
        NotFoundError: As `process_list`, or when there is no such process.
        NotAllowedError: As `process_list`, or when no other one is open.
    """
    organisation_id = _own_list(session, actor, organisation_public_id)
    row = _row(session, organisation_id, key)
    others = exists().where(
        WorkProcess.organisation_id == organisation_id, WorkProcess.id != row.id, WorkProcess.closed_at.is_(None)
    )
    if row.closed_at is None and not session.scalar(select(others)):
        raise NotAllowedError(Message("processes.last"))
    entered = exists().where(JobHours.process == row.key, JobHours.group_id == Group.id)
    is_used = bool(session.scalar(select(entered.where(Group.organisation_id == organisation_id))))
    if is_used:
        row.closed_at = row.closed_at or now
    else:
        session.delete(row)
    _note(session, actor, "processes.closed" if is_used else "processes.removed", now)
    return is_used


def take_up(session: Session, actor: Actor, organisation_public_id: str, key: str, now: datetime) -> None:
    """
    Open a closed process again.

    Raises:
        NotFoundError, NotAllowedError: As `process_list`, or when there is no such process.
    """
    _row(session, _own_list(session, actor, organisation_public_id), key).closed_at = None
    _note(session, actor, "processes.opened", now)


def _own_list(session: Session, actor: Actor, organisation_public_id: str) -> int:
    """The organisation's key, its row locked; its list is its own from now on, begun with the ready-made one."""
    organisation = organisation_owned_by(session, actor, organisation_public_id)
    session.execute(locked(select(Organisation.id).where(Organisation.id == organisation.id)))
    of_it = select(WorkProcess.id).where(WorkProcess.organisation_id == organisation.id).limit(1)
    if session.scalar(of_it) is None:
        for position, one in enumerate(ready_made(), 1):
            session.add(WorkProcess(organisation_id=organisation.id, key=one.key, title=one.title, position=position))
        session.flush()
    return organisation.id


def _row(session: Session, organisation_id: int, key: str) -> WorkProcess:
    row = session.scalar(
        select(WorkProcess).where(WorkProcess.organisation_id == organisation_id, WorkProcess.key == key)
    )
    if row is None:
        raise NotFoundError
    return row


def _read_title(session: Session, organisation_id: int, text: str, own_key: str = "") -> str:
    """A name that no other process of the list has, whatever its capitals."""
    title = read_line(text, field="title", example="Bending by hand", longest=LONGEST_TITLE)
    others = session.execute(
        select(WorkProcess.key, WorkProcess.title).where(WorkProcess.organisation_id == organisation_id)
    )
    if any(key != own_key and other.casefold() == title.casefold() for key, other in others):
        accepted = Message("processes.name-accepted")
        raise InputError(
            Message("processes.named-so"), given=title, accepted=accepted, example=f"{title} 2", field="title"
        )
    return title


def _read_hours(text: str) -> int | None:
    """Whole hours; None for an empty field."""
    typed = text[:20].strip().replace(",", "")
    if not typed:
        return None
    if not (typed.isascii() and typed.isdigit() and 1 <= int(typed) <= MOST_HOURS):
        raise InputError(
            Message("processes.hours"),
            given=text[:20],
            accepted=Message("processes.hours-accepted"),
            example="600",
            field="required",
        )
    return int(typed)


def _note(session: Session, actor: Actor, what: str, now: datetime) -> None:
    note(session, what=what, now=now, actor_id=actor.person_id)
