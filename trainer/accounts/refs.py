"""What `access` hands out: plain values of organisations, groups, work, learners and problems, and how they are read."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from trainer.accounts.sharing import Shared
from trainer.records.models import AssignedWork, Group, Organisation, Problem, ProblemSet

__all__ = [
    "GroupRef",
    "LearnerRef",
    "OrganisationRef",
    "ProblemRef",
    "SetRef",
    "WorkRef",
    "find_group",
    "find_organisation",
    "find_problem",
    "find_set",
    "find_work",
]


class OrganisationRef(Struct, frozen=True):
    """An organisation that was fetched."""

    id: int
    public_id: str
    name: str
    kind: str
    time_zone: str
    basis: str
    local_rules: tuple[str, ...]


class GroupRef(Struct, frozen=True):
    """A group that was fetched."""

    id: int
    public_id: str
    name: str
    kind: str
    join_code: str | None
    archived_at: datetime | None
    is_sample: bool
    organisation: OrganisationRef


class WorkRef(Struct, frozen=True):
    """Assigned work that was fetched."""

    id: int
    public_id: str
    title: str
    kind: str
    edition: str
    due_at: datetime
    withdrawn_at: datetime | None
    opened_at: datetime | None
    shared_seed: int | None
    group: GroupRef


class LearnerRef(Struct, frozen=True):
    """A learner whom someone may look at: `what` of the record, towards `group`. A former one's name may be stripped."""

    person_id: int
    public_id: str
    display_name: str
    is_member: bool
    what: Shared
    group: GroupRef


class ProblemRef(Struct, frozen=True):
    """An issued problem that was fetched."""

    id: int
    public_id: str
    person_id: int
    context: str
    assigned_family_id: int | None
    closed_at: datetime | None


class SetRef(Struct, frozen=True):
    """A problem set that was fetched."""

    id: int
    public_id: str
    name: str
    organisation: OrganisationRef


def find_organisation(session: Session, *conditions: ColumnElement[bool]) -> OrganisationRef | None:
    """The organisation that meets the conditions, if there is one."""
    found = session.scalar(select(Organisation).where(*conditions))
    return None if found is None else _organisation(found)


def find_group(session: Session, *conditions: ColumnElement[bool]) -> GroupRef | None:
    """The group that meets the conditions, if there is one."""
    query = select(Group, Organisation).join(Organisation, Organisation.id == Group.organisation_id).where(*conditions)
    found = session.execute(query).one_or_none()
    return None if found is None else _group(*found)


def find_work(session: Session, *conditions: ColumnElement[bool]) -> WorkRef | None:
    """The assigned work that meets the conditions, which may speak of its group too; if there is such work."""
    query = (
        select(AssignedWork, Group, Organisation)
        .join(Group, Group.id == AssignedWork.group_id)
        .join(Organisation, Organisation.id == Group.organisation_id)
        .where(*conditions)
    )
    found = session.execute(query).one_or_none()
    return None if found is None else _work(*found)


def find_problem(session: Session, *conditions: ColumnElement[bool]) -> ProblemRef | None:
    """The problem that meets the conditions, if there is one."""
    found = session.scalar(select(Problem).where(*conditions))
    return None if found is None else _problem(found)


def find_set(session: Session, *conditions: ColumnElement[bool]) -> SetRef | None:
    """The problem set that meets the conditions, which may speak of its organisation too; if there is one."""
    query = (
        select(ProblemSet, Organisation)
        .join(Organisation, Organisation.id == ProblemSet.organisation_id)
        .where(*conditions)
    )
    found = session.execute(query).one_or_none()
    if found is None:
        return None
    row, organisation = found
    return SetRef(row.id, row.public_id, row.name, _organisation(organisation))


def _organisation(row: Organisation) -> OrganisationRef:
    rules = tuple(row.local_rules.split())
    return OrganisationRef(row.id, row.public_id, row.name, row.kind, row.time_zone, row.basis, rules)


def _group(row: Group, organisation: Organisation) -> GroupRef:
    return GroupRef(
        row.id,
        row.public_id,
        row.name,
        row.kind,
        row.join_code,
        row.archived_at,
        row.is_sample,
        _organisation(organisation),
    )


def _work(row: AssignedWork, group: Group, organisation: Organisation) -> WorkRef:
    of = _group(group, organisation)
    return WorkRef(
        id=row.id,
        public_id=row.public_id,
        title=row.title,
        kind=row.kind,
        edition=row.edition,
        due_at=row.due_at,
        withdrawn_at=row.withdrawn_at,
        opened_at=row.opened_at,
        shared_seed=row.shared_seed,
        group=of,
    )


def _problem(row: Problem) -> ProblemRef:
    return ProblemRef(row.id, row.public_id, row.person_id, row.context, row.assigned_family_id, row.closed_at)
