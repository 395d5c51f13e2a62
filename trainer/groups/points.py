"""
Points of assigned work, by a rule that fits into one sentence. They are results only, and never skill.

One point a question. An honest try is the first answer to a problem, without a hint: right it is worth 1, right but
rounded too far ½, all else 0. At home the best honest try until the due date counts, in the room and on paper the first.
A question whose key was found wrong is credited to whoever answered it, or counts for nobody. What a leader sets by hand
stands in place of it all.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import datetime
from math import fsum

from msgspec import Struct
from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from trainer.calc.message import Message
from trainer.groups.tries import Given, Tried
from trainer.problems.model import VerdictKind
from trainer.progress.effect import CREDITED, NOT_COUNTED
from trainer.progress.rulings import Remedy
from trainer.progress.sitting import in_force
from trainer.records.models import AssignedFamily, ContentVersion, KeyRuling, Person, ResultMark

__all__ = [
    "LinePoints",
    "Mark",
    "PersonPoints",
    "marks_at",
    "points_of",
    "points_rule",
    "set_aside_lines",
    "worked_out",
]

HALF = 0.5


class Mark(Struct, frozen=True):
    """Points that a leader set: how ("override" or "by-hand"), how many, why, when and who."""

    how: str
    points: float
    reason: str
    set_at: datetime
    set_by: str


class LinePoints(Struct, frozen=True):
    """
    The points of one line of one person.

    Args:
        worked: By the rule; None where the question counts for nobody.
        mark: What a leader set in place of it.
    """

    worked: float | None
    mark: Mark | None = None

    @property
    def value(self) -> float | None:
        """What counts."""
        return self.mark.points if self.mark else self.worked


class PersonPoints(Struct, frozen=True):
    """The points of one person at a piece of work, line by line."""

    lines: tuple[LinePoints, ...]

    @property
    def total(self) -> float:
        """All points together."""
        return fsum(line.value for line in self.lines if line.value is not None)

    @property
    def of(self) -> int:
        """How many could be had."""
        return sum(line.value is not None for line in self.lines)

    @property
    def marked(self) -> bool:
        """Whether a leader set any of them."""
        return any(line.mark for line in self.lines)


def points_rule(kind: str) -> Message:
    """The rule of a kind of work, in a sentence or two."""
    return Message(f"work.points-{kind}")


def points_of(
    kind: str,
    tries: Sequence[Tried],
    positions: Iterable[int],
    due_at: datetime,
    *,
    marks: dict[int, Mark],
    set_aside: Collection[int] = (),
) -> PersonPoints:
    """
    The points of one person.

    Args:
        kind: Of the work: "home", "room" or "paper".
        tries: The person's tries at the work, in the order of issue.
        positions: The lines.
        due_at: When the work is due.
        marks: What a leader set, by line.
        set_aside: Lines that count for nobody.
    """
    return PersonPoints(
        tuple(
            LinePoints(
                None if at in set_aside else worked_out(kind, [one for one in tries if one.position == at], due_at),
                marks.get(at),
            )
            for at in positions
        )
    )


def worked_out(kind: str, tries: Sequence[Tried], due_at: datetime) -> float | None:
    """The points of one line by the rule; None where it counts for nobody."""
    first = [in_time[0] for one in tries if (in_time := one.in_time(due_at))]
    counted = [_worth(given) for given in (first if kind == "home" else first[:1])]
    worth = [one for one in counted if one is not None]
    return None if counted and not worth else max(worth, default=0.0)


def _worth(first: Given) -> float | None:
    """What a first answer is worth."""
    if first.verdict == NOT_COUNTED:
        return None
    if first.verdict == CREDITED:
        return 1.0
    if first.hints:
        return 0.0
    return {VerdictKind.RIGHT.value: 1.0, VerdictKind.ROUNDED.value: HALF}.get(first.verdict, 0.0)


def set_aside_lines(session: Session, work_id: int) -> set[int]:
    """The lines of a piece of work whose question counts for nobody, as was decided about its key. One query."""
    query = (
        select(AssignedFamily.position)
        .join(ContentVersion, ContentVersion.id == AssignedFamily.content_version_id)
        .join(KeyRuling, in_force())
        .where(AssignedFamily.assigned_work_id == work_id, KeyRuling.remedy == Remedy.SET_ASIDE.value)
    )
    return set(session.scalars(query))


def marks_at(session: Session, work_id: int, person_id: int | None = None) -> dict[int, dict[int, Mark]]:
    """What leaders set at a piece of work, by person and line; of everybody, or of one. One query."""
    later = aliased(ResultMark)
    newest = select(func.max(later.sequence)).where(
        later.assigned_family_id == ResultMark.assigned_family_id, later.person_id == ResultMark.person_id
    )
    query = (
        select(ResultMark, AssignedFamily.position, Person.display_name)
        .join(AssignedFamily, AssignedFamily.id == ResultMark.assigned_family_id)
        .join(Person, Person.id == ResultMark.set_by_id)
        .where(AssignedFamily.assigned_work_id == work_id, ResultMark.sequence == newest.scalar_subquery())
    )
    if person_id is not None:
        query = query.where(ResultMark.person_id == person_id)
    found: dict[int, dict[int, Mark]] = {}
    for row, position, name in session.execute(query):
        if row.points is not None:
            found.setdefault(row.person_id, {})[position] = Mark(row.how, row.points, row.reason, row.set_at, name)
    return found
