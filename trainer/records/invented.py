"""
Taking a sample class away: the one case in which rows of answers, gradings and audit lines are removed.

What is removed hangs on the class or on its invented people, found along the foreign keys; so a table that is added later
is cleared too. Rows of real people that do not hang on the class are never reached.
"""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import ColumnElement, Table, exists, false, literal, or_, select, union_all
from sqlalchemy.orm import Session

from trainer.records.joins import problems_of_lines
from trainer.records.models import AssignedFamily, AssignedWork, Base, Group, Membership, Person, Problem

__all__ = ["NotOnlyInventedError", "remove_sample_rows"]

#: What is not reached from a class: it belongs to a whole school, or to nobody.
KEPT = ("organisation", "content_version", "problem_set", "site")


class NotOnlyInventedError(RuntimeError):
    """A real person has learned in the class, or it is no sample; nothing is removed."""


def remove_sample_rows(session: Session, group_id: int) -> None:
    """
    Remove a sample class, its invented people and all that hangs on them.

    Args:
        session: A write session, with nothing unwritten in it.
        group_id: The class.

    Raises:
        NotOnlyInventedError: When it is no sample, or a real person has learned in it or has a problem of its work.
    """
    _refuse_real_people(session, group_id)
    learns = select(Membership.person_id).where(Membership.group_id == group_id, Membership.role == "learner")
    doomed = _doomed(group_id, session.scalars(learns).all())
    for table in _with_rows(session, doomed):
        session.execute(table.delete().where(doomed[table.name]))
    session.expire_all()


def _refuse_real_people(session: Session, group_id: int) -> None:
    sample = select(Group.id).where(Group.id == group_id, Group.is_sample)
    learned = (
        select(Membership.id)
        .join(Person, Person.id == Membership.person_id)
        .where(Membership.group_id == group_id, Membership.role == "learner", ~Person.is_invented)
    )
    answered = (
        select(Problem.id)
        .join(Person, Person.id == Problem.person_id)
        .join(AssignedFamily, problems_of_lines())
        .join(AssignedWork, AssignedWork.id == AssignedFamily.assigned_work_id)
        .where(AssignedWork.group_id == group_id, ~Person.is_invented)
    )
    is_sample, real, real_answers = session.execute(
        select(
            exists(sample.subquery().select()),
            exists(learned.subquery().select()),
            exists(answered.subquery().select()),
        )
    ).one()
    if not is_sample or real or real_answers:
        raise NotOnlyInventedError(f"group {group_id} is no class of invented people only")


def _doomed(group_id: int, invented: Sequence[int]) -> dict[str, ColumnElement[bool]]:
    """Which rows of each table go, by the table's name; in the order in which tables point to each other."""
    people, groups = Base.metadata.tables["person"], Base.metadata.tables["study_group"]
    doomed: dict[str, ColumnElement[bool]] = {
        people.name: people.c.is_invented & people.c.id.in_(invented),
        groups.name: groups.c.id == group_id,
    }
    for table in Base.metadata.sorted_tables:
        if table.name in doomed or table.name in KEPT:
            continue
        ways = [
            key.parent.in_(select(key.column).where(doomed[key.column.table.name]))
            for key in sorted(table.foreign_keys, key=lambda key: key.parent.name)
            if key.column.table.name in doomed and key.column.name == "id"
        ]
        doomed[table.name] = or_(*ways) if ways else false()
    return doomed


def _with_rows(session: Session, doomed: dict[str, ColumnElement[bool]]) -> list[Table]:
    """The tables that have such rows, those that point to others first; people last, for whose sake others go."""
    order = [*reversed(Base.metadata.sorted_tables)]
    wanted = [table for table in order if table.name in doomed]
    counts = union_all(
        *(select(literal(table.name)).where(exists(select(table.c.id).where(doomed[table.name]))) for table in wanted)
    )
    found = set(session.scalars(counts))
    return [table for table in wanted if table.name in found]
