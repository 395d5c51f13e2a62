"""
What leaders decided about a person's results, as plain rows for that person to take along: more time, points set by
hand, and what was answered to keys called wrong.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.library.shelf import Library
from trainer.progress.taken_out import Row, written_at
from trainer.records.models import (
    AssignedFamily,
    AssignedWork,
    ContentVersion,
    Group,
    KeyClaim,
    Person,
    Problem,
    ResultMark,
    WorkExtension,
)

__all__ = ["RESULT_TABLES", "claim_rows", "extension_rows", "mark_rows"]

RESULT_TABLES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "more-time": ("Given", "By", "Assigned work", "Class or crew", "Until", "Reason"),
        "points-by-hand": (
            "Set",
            "By",
            "Assigned work",
            "Class or crew",
            "Number",
            "Question",
            "How",
            "Points",
            "Reason",
        ),
        "keys-called-wrong": ("Sent", "Question", "Code", "Own answer", "Why", "What came of it", "Answered", "Reply"),
    }
)
"""The tables, with their columns."""

HOW = {"override": "over the rule", "by-hand": "by hand", "taken-back": "taken back"}
OUTCOMES = {"key-right": "the key is right", "key-wrong": "the key is wrong"}


def extension_rows(session: Session, actor: Actor) -> list[Row]:
    """Each time that more time was given, the first line first; the latest of a piece of work counts."""
    query = (
        select(WorkExtension, Person.display_name, AssignedWork.title, Group.name)
        .join(Person, Person.id == WorkExtension.given_by_id)
        .join(AssignedWork, AssignedWork.id == WorkExtension.assigned_work_id)
        .join(Group, Group.id == AssignedWork.group_id)
        .where(WorkExtension.person_id == actor.person_id)
        .order_by(WorkExtension.id)
    )
    zone = actor.zone
    return [
        (written_at(row.given_at, zone), by, title, group, written_at(row.ends_at, zone), row.reason)
        for row, by, title, group in session.execute(query)
    ]


def mark_rows(session: Session, library: Library, actor: Actor) -> list[Row]:
    """Each time that points were set or taken back, the first line first; the latest of a question counts."""
    line = AssignedFamily
    query = (
        select(
            ResultMark, Person.display_name, AssignedWork.title, Group.name, line.position, ContentVersion.content_id
        )
        .join(Person, Person.id == ResultMark.set_by_id)
        .join(line, line.id == ResultMark.assigned_family_id)
        .join(ContentVersion, ContentVersion.id == line.content_version_id)
        .join(AssignedWork, AssignedWork.id == line.assigned_work_id)
        .join(Group, Group.id == AssignedWork.group_id)
        .where(ResultMark.person_id == actor.person_id)
        .order_by(ResultMark.id)
    )
    rows: list[Row] = []
    for mark, by, title, group, position, family_id in session.execute(query):
        where = (by, title, group, position, _title(library, family_id))
        rows.append((written_at(mark.set_at, actor.zone), *where, HOW[mark.how], mark.points, mark.reason))
    return rows


def claim_rows(session: Session, library: Library, actor: Actor) -> list[Row]:
    """Each key that was called wrong, the first line first, with what was answered."""
    query = (
        select(KeyClaim, Problem.family_id, Problem.code)
        .join(Problem, Problem.id == KeyClaim.problem_id)
        .where(KeyClaim.person_id == actor.person_id)
        .order_by(KeyClaim.id)
    )
    rows: list[Row] = []
    for claim, family_id, code in session.execute(query):
        sent = (written_at(claim.sent_at, actor.zone), _title(library, family_id), code, claim.own_answer, claim.why)
        came = OUTCOMES[claim.outcome] if claim.outcome else "not answered yet"
        rows.append((*sent, came, written_at(claim.answered_at, actor.zone), claim.reply))
    return rows


def _title(library: Library, family_id: str) -> str:
    found = library.families.get(family_id)
    return found.title if found else family_id
