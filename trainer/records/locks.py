"""Rows that several transactions want to change at once: lock them, or make them first."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from typing import Any, TypeVar

from sqlalchemy import Select, bindparam, literal_column, select
from sqlalchemy.orm import Session

from trainer.records.models import Base, Person

__all__ = ["add_if_missing", "lock_person", "locked"]

SomeSelect = TypeVar("SomeSelect", bound=Select[Any])


def lock_person(session: Session, person_id: int) -> Person:
    """
    The person, locked until the transaction ends.

    First call of every use case that reads a person's state in order to change it. The row is read anew, whatever
    the session has seen before.

    Raises:
        NoResultFound: When there is no such person.
    """
    return session.execute(_locked_person(), {"person_id": person_id}).scalar_one()


@cache
def _locked_person() -> Select[Person]:
    """Built once: whoever changes a person's state asks."""
    return locked(select(Person).where(Person.id == bindparam("person_id")))


def locked(query: SomeSelect) -> SomeSelect:
    """
    A query whose rows are locked and read anew. (SQLite has locked the whole file already.)

    Other transactions may still add rows that point to them: FOR NO KEY UPDATE on PostgreSQL.
    """
    return query.with_for_update(key_share=True).execution_options(populate_existing=True)


def add_if_missing(session: Session, model: type[Base], **values: Any) -> bool:
    """
    Add a row unless one with the same unique values is there, also when another transaction adds it this very moment.

    Args:
        session: A write session.
        model: The table.
        values: What the new row holds; where a unique constraint is met already, nothing is written.

    Returns:
        Whether it was added.
    """
    # The engine's own, which it has loaded: the other one's would be waited for at every start.
    insert = import_module(f"sqlalchemy.dialects.{session.get_bind().dialect.name}").insert
    # Asked for in words: of how many rows an insert wrote PostgreSQL's driver is not told.
    added: Any = insert(model).values(**values).on_conflict_do_nothing().returning(literal_column("1"))
    return session.execute(added).first() is not None
