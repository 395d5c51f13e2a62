"""
What the job showed: findings about a person's skills, and those that keep a skill from counting as ready.

An adverse finding stands until it is withdrawn, or until a proof run that began after it found the skill ready: one that
counts where it is asked, so that no lighter or unwatched run answers for a stricter or a watched one. Good work is shown
and moves nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime
from enum import StrEnum

from msgspec import Struct
from sqlalchemy import ColumnElement, Select, and_, select
from sqlalchemy.orm import Session, aliased

from trainer.calc.message import Message
from trainer.progress.photos import Photo, photos_of_findings
from trainer.records import models

__all__ = ["Finding", "FindingKind", "adverse_findings_of_people", "findings_about"]


class FindingKind(StrEnum):
    """What was found."""

    FAILED_INSPECTION = "failed-inspection"
    SCRAPPED = "scrapped"
    DOG_LEG = "dog-leg"
    OTHER = "other"
    GOOD_WORK = "good-work"

    @property
    def is_adverse(self) -> bool:
        """Whether the skill is to be shown again because of it."""
        return self is not FindingKind.GOOD_WORK

    @property
    def words(self) -> Message:
        """Its name in a few words."""
        return Message(f"field.kind.{self.value}")


class Finding(Struct, frozen=True):
    """
    One finding as everybody reads it who may see it.

    Args:
        public_id: The finding in addresses.
        skill: Id of the skill.
        kind: What was found.
        note: The line that was written with it.
        group: Name of the class or crew in which it was reported.
        reported_by: Name of who reported it.
        reported_by_id: Who reported it, and so may withdraw it.
        reported_at: When.
        withdrawn_at: When it was withdrawn; None while it is not.
        withdrawn_reason: Why; "" while it is not.
        shown_again_at: When a proof run begun after it found the skill ready; None where none did.
        photos: Its photographs, the first one first; not looked up where findings are only counted.
    """

    public_id: str
    skill: str
    kind: FindingKind
    note: str
    group: str
    reported_by: str
    reported_by_id: int
    reported_at: datetime
    withdrawn_at: datetime | None
    withdrawn_reason: str
    shown_again_at: datetime | None
    photos: tuple[Photo, ...] = ()

    @property
    def stands(self) -> bool:
        """Whether no run that began after it has found the skill ready, however strict, watched or not."""
        return self.kind.is_adverse and self.withdrawn_at is None and self.shown_again_at is None

    @property
    def effect(self) -> Message:
        """What it changed, in a sentence."""
        if self.withdrawn_at is not None:
            return Message("field.effect.withdrawn", {"reason": self.withdrawn_reason})
        if not self.kind.is_adverse:
            return Message("field.effect.good-work")
        return Message("field.effect.stands" if self.stands else "field.effect.shown-again")

    @property
    def why(self) -> Message:
        """Why the skill is to be shown again, in a sentence."""
        return Message(f"field.why.{self.kind.value}", {"note": self.note.rstrip("."), "by": self.reported_by})


def findings_about(
    session: Session, person_id: int, *, skill: str | None = None, group_id: int | None = None
) -> list[Finding]:
    """
    All findings about a person, the newest first, withdrawn ones too.

    Args:
        session: Any session.
        person_id: About whom.
        skill: Of this skill only.
        group_id: Reported in this group only.
    """
    table = models.FieldFinding
    query = _findings().where(table.person_id == person_id)
    if skill is not None:
        query = query.where(table.skill == skill)
    if group_id is not None:
        query = query.where(table.group_id == group_id)
    rows = session.execute(query.order_by(table.reported_at.desc(), table.id.desc())).all()
    again = _shown_again(session, [row for row, _, _ in rows])
    photos = photos_of_findings(session, [row.id for row, _, _ in rows])
    return [_finding(row, by, group, again.get(row.id), photos.get(row.id, ())) for row, by, group in rows]


def adverse_findings_of_people(session: Session, people: Collection[int]) -> dict[tuple[int, str], Finding]:
    """
    The latest trouble of each skill that is not withdrawn, by person and skill; one query for all of them.

    Whether a later run has answered it is for who asks to judge: it depends on which runs count there.

    Args:
        session: Any session.
        people: Whose.
    """
    table = models.FieldFinding
    query = (
        _findings()
        .where(table.person_id.in_(people), table.withdrawn_at.is_(None))
        .where(table.kind != FindingKind.GOOD_WORK.value)
        .order_by(table.reported_at, table.id)
    )
    return {(row.person_id, row.skill): _finding(row, by, group, None) for row, by, group in session.execute(query)}


def _findings() -> Select[models.FieldFinding, str, str]:
    reporter = aliased(models.Person)
    return (
        select(models.FieldFinding, reporter.display_name, models.Group.name)
        .join(reporter, reporter.id == models.FieldFinding.reported_by_id)
        .join(models.Group, models.Group.id == models.FieldFinding.group_id)
    )


def _shown_again(session: Session, rows: Iterable[models.FieldFinding]) -> dict[int, datetime]:
    """When the first run that began after each finding found the skill ready, by the finding's key."""
    found, run = list(rows), models.ProofRun
    if not found:
        return {}
    of_one: ColumnElement[bool] = and_(run.person_id == found[0].person_id, run.outcome == "ready")
    ready = session.execute(select(run.skill, run.started_at, run.ended_at).where(of_one).order_by(run.id)).all()
    again: dict[int, datetime] = {}
    for row in found:
        for skill, started_at, ended_at in ready:
            if skill == row.skill and started_at > row.reported_at and ended_at is not None:
                again.setdefault(row.id, ended_at)
    return again


def _finding(
    row: models.FieldFinding, by: str, group: str, again: datetime | None, photos: tuple[Photo, ...] = ()
) -> Finding:
    return Finding(
        public_id=row.public_id,
        skill=row.skill,
        kind=FindingKind(row.kind),
        note=row.note,
        group=group,
        reported_by=by,
        reported_by_id=row.reported_by_id,
        reported_at=row.reported_at,
        withdrawn_at=row.withdrawn_at,
        withdrawn_reason=row.withdrawn_reason or "",
        shown_again_at=again,
        photos=photos,
    )
