"""
Answers, gradings, rulings, marks, audit lines and what is signed are only ever added: sessions refuse to change or remove them.

Only words that may hold a name are overwritten when an account is deleted: `forget_words`. Audit lines that a site keeps
no longer are removed: `remove_lines`. Rows of invented people go with their sample class: `trainer.records.invented`.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import ColumnElement, delete, event, update
from sqlalchemy.orm import ORMExecuteState, Session, sessionmaker

from trainer.records.models import (
    Answer,
    AuditLine,
    CheckSigning,
    CheckWithdrawal,
    Grading,
    KeyRuling,
    ResultMark,
)

__all__ = ["APPEND_ONLY", "AppendOnlyError", "forget_words", "keep_append_only", "remove_lines"]

APPEND_ONLY = (Answer, Grading, AuditLine, CheckSigning, CheckWithdrawal, KeyRuling, ResultMark)
#: The column with words that somebody typed about a person.
_WORDS = {CheckSigning: "note", CheckWithdrawal: "reason", ResultMark: "reason"}
_FORGETS = "trainer_forgets_words"
_RETIRES = "trainer_retires_lines"


class AppendOnlyError(RuntimeError):
    """Something wanted to change or remove a row that is only ever added; a correction is a new row."""


def forget_words(
    session: Session, table: type[CheckSigning | CheckWithdrawal | ResultMark], which: ColumnElement[bool], instead: str
) -> None:
    """
    Overwrite what was typed about a person whose account is deleted; all else of the rows stays as it was signed.

    Args:
        session: A write session.
        table: Whose words.
        which: Of which rows.
        instead: What stands there from now on.
    """
    change = update(table).where(which).values({_WORDS[table]: instead})
    session.execute(change.execution_options(**{_FORGETS: True}))


def remove_lines(session: Session, which: ColumnElement[bool]) -> int:
    """
    Remove audit lines whose time is over; of no other table that is only added to does anything go.

    Args:
        session: A write session.
        which: Which lines. `trainer.accounts.tidying` decides.

    Returns:
        How many.
    """
    removal = delete(AuditLine).where(which).returning(AuditLine.id)
    return len(session.scalars(removal.execution_options(synchronize_session=False, **{_RETIRES: True})).all())


def keep_append_only(sessions: sessionmaker[Session]) -> None:
    """Make all sessions of a maker refuse."""
    event.listen(sessions, "before_flush", _refuse_changed_objects)
    event.listen(sessions, "do_orm_execute", _refuse_changing_statement)


def _refuse_changed_objects(session: Session, *_: Any) -> None:
    changed = [row for row in session.dirty if session.is_modified(row)]
    for row in [*changed, *session.deleted]:
        _refuse(type(row))


def _refuse_changing_statement(execution: ORMExecuteState) -> None:
    if not (execution.is_update or execution.is_delete) or execution.bind_mapper is None:
        return
    table, options = execution.bind_mapper.class_, execution.execution_options
    forgets = execution.is_update and options.get(_FORGETS) and table in _WORDS
    retires = execution.is_delete and options.get(_RETIRES) and table is AuditLine
    if not (forgets or retires):
        _refuse(table)


def _refuse(table: type[Any]) -> None:
    if issubclass(table, APPEND_ONLY):
        raise AppendOnlyError(f"rows of {table.__name__} are only ever added; add a new row that corrects the old one")
