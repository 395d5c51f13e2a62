"""Conditions by which tables are joined where what the database expects of them has to be helped."""

from __future__ import annotations

from sqlalchemy import ColumnElement, and_

from trainer.records.models import AssignedFamily, Problem

__all__ = ["problems_of_lines"]


def problems_of_lines(problem: type[Problem] = Problem) -> ColumnElement[bool]:
    """
    That a problem is one of a line of assigned work.

    Most problems are of none. PostgreSQL leaves that out of what it expects of a foreign key unless it is said, takes a
    line's problems for five times as many, and reads everybody's gradings to join them to a class's answers.

    Args:
        problem: The table, or an alias of it.
    """
    return and_(problem.assigned_family_id == AssignedFamily.id, problem.assigned_family_id.is_not(None))
