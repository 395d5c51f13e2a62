"""
What others wrote about a person, and what a person entered, as plain rows to be taken along: checks by hand, what the job
showed, registrations, placement runs, what was decided about results, and what was noted. (Hours and class days:
`trainer.groups.hours_log`.)
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.accounts.audit import lines_about
from trainer.calc.message import Message
from trainer.groups.own_results import RESULT_TABLES, claim_rows, extension_rows, mark_rows
from trainer.library.shelf import Library
from trainer.progress.field import findings_about
from trainer.progress.hands_on import Check, own_checks
from trainer.progress.photos import Photo
from trainer.progress.taken_out import Row, written_at
from trainer.records.models import Person, PlacementRun, Problem, Registration
from trainer.text.words import say

__all__ = ["OWN_TABLES", "own_rows"]

#: More lines than anybody's log has; without an end one reader could fill the memory.
MOST_NOTED = 100_000

OWN_TABLES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "checks": (
            "Set",
            "Check",
            "Trade size",
            "Class or crew",
            "State",
            "Signed by",
            "Why withdrawn",
            "Photographs of",
        ),
        "findings": (
            "When",
            "Skill",
            "What was found",
            "Line",
            "Class or crew",
            "Reported by",
            "What it changed",
            "Photographs of",
        ),
        "registrations": ("What", "As it stands on the card", "Last day", "Entered by", "Entered", "Taken away"),
        "placement-runs": ("Begun", "Ended", "Questions"),
        **RESULT_TABLES,
        "noted": ("When", "By", "Class or crew", "What"),
    }
)
"""The tables, with their columns."""


def own_rows(session: Session, library: Library, actor: Actor, table: str) -> list[Row]:
    """
    One of the tables, of the one who asks.

    Raises:
        KeyError: When there is no such table.
    """
    makers: Mapping[str, Callable[[], list[Row]]] = {
        "checks": lambda: [_check(one, actor) for one in reversed(own_checks(session, actor.person_id))],
        "findings": lambda: _findings(session, library, actor),
        "registrations": lambda: _registrations(session, actor),
        "placement-runs": lambda: _placement_runs(session, actor),
        "more-time": lambda: extension_rows(session, actor),
        "points-by-hand": lambda: mark_rows(session, library, actor),
        "keys-called-wrong": lambda: claim_rows(session, library, actor),
        "noted": lambda: _noted(session, actor),
    }
    return makers[table]()


def _check(one: Check, actor: Actor) -> Row:
    signed = "; ".join(f"{by.signed_by}, {written_at(by.signed_at, actor.zone)}" for by in one.signings)
    why = one.withdrawal.reason if one.withdrawal else ""
    return (
        written_at(one.issued_at, actor.zone),
        one.sheet.title,
        one.sheet.trade_size,
        one.group,
        one.state,
        signed,
        why,
        _shown(one.photos),
    )


def _findings(session: Session, library: Library, actor: Actor) -> list[Row]:
    titles = {skill.id: skill.title for skill in library.skills.values()}
    return [
        (
            written_at(one.reported_at, actor.zone),
            titles.get(one.skill, one.skill),
            say(one.kind.words),
            one.note,
            one.group,
            one.reported_by,
            say(one.effect),
            _shown(one.photos),
        )
        for one in reversed(findings_about(session, actor.person_id))
    ]


def _registrations(session: Session, actor: Actor) -> list[Row]:
    query = (
        select(Registration, Person.display_name)
        .join(Person, Person.id == Registration.entered_by_id)
        .where(Registration.person_id == actor.person_id)
        .order_by(Registration.id)
    )
    return [
        (
            "license" if row.what == "licence" else row.what,
            row.words,
            row.expires_on.isoformat(),
            by,
            written_at(row.entered_at, actor.zone),
            written_at(row.ended_at, actor.zone),
        )
        for row, by in session.execute(query)
    ]


def _placement_runs(session: Session, actor: Actor) -> list[Row]:
    query = (
        select(PlacementRun.started_at, PlacementRun.ended_at, func.count(Problem.id))
        .outerjoin(Problem, Problem.placement_run_id == PlacementRun.id)
        .where(PlacementRun.person_id == actor.person_id)
        .group_by(PlacementRun.id, PlacementRun.started_at, PlacementRun.ended_at)
        .order_by(PlacementRun.id)
    )
    return [
        (written_at(begun, actor.zone), written_at(ended, actor.zone), asked)
        for begun, ended, asked in session.execute(query)
    ]


def _noted(session: Session, actor: Actor) -> list[Row]:
    """Everything that was noted about the person, and by whom, the first line first."""
    return [
        (
            written_at(line.at, actor.zone),
            line.actor or "",
            line.group or "",
            say(Message(f"audit.{line.what}", {"group": line.group or "", **line.detail})),
        )
        for line in reversed(lines_about(session, actor.person_id, limit=MOST_NOTED))
    ]


def _shown(photos: Sequence[Photo]) -> str:
    """What the photographs show; the pictures themselves are fetched from the page."""
    return "; ".join(one.shows for one in photos)
