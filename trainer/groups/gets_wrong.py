"""What a class or crew gets wrong: known mistakes of its first answers to work that was given lately, with counts."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.access import GroupRef
from trainer.calc.message import Message
from trainer.groups.lines import lines_of
from trainer.groups.room_help import NOT_WRONG
from trainer.groups.tally import tally_words
from trainer.groups.tries import tries_at
from trainer.library.shelf import Library
from trainer.problems.parts import Family
from trainer.records.models import AssignedWork

__all__ = ["GotWrong", "got_wrong"]

LATELY = timedelta(days=120)
MOST_WORKS = 20
MOST_SAID = 3
"""Known mistakes that are said of one question."""


class GotWrong(Struct, frozen=True):
    """
    A question that was not right at first.

    Args:
        family_id: The family, or the job that it is a part of: what can be given again.
        skill: The skill that it exercises.
        wrong: How many people did not get it right at first.
        of: How many answered it.
        slips: Its known mistakes, the most frequent first, each in a sentence.
    """

    family_id: str
    skill: str
    wrong: int
    of: int
    slips: tuple[Message, ...]


def got_wrong(session: Session, library: Library, group: GroupRef, now: datetime) -> list[GotWrong]:
    """
    The questions that most people of a group did not get right at first, those first; three queries.

    Args:
        session: Any session.
        library: The content.
        group: The group, fetched by who leads it.
        now: This moment.
    """
    query = (
        select(AssignedWork.id, AssignedWork.due_at)
        .where(AssignedWork.group_id == group.id, AssignedWork.withdrawn_at.is_(None))
        .where(AssignedWork.created_at > now - LATELY)
        .order_by(AssignedWork.id.desc())
        .limit(MOST_WORKS)
    )
    due = dict(session.execute(query).all())
    family_at = {
        (work, line.position): line.family for work, lines in lines_of(session, library, due).items() for line in lines
    }
    answered: dict[str, set[int]] = {}
    wrong: dict[str, set[int]] = {}
    showed: dict[str, dict[str, set[int]]] = {}
    for one in tries_at(session, due):
        family = family_at[one.work_id, one.position].id
        in_time = one.in_time(due[one.work_id])
        if not in_time:
            continue
        answered.setdefault(family, set()).add(one.person_id)
        if in_time[0].verdict not in NOT_WRONG:
            wrong.setdefault(family, set()).add(one.person_id)
        for mistake in in_time[0].mistakes:
            showed.setdefault(family, {}).setdefault(mistake, set()).add(one.person_id)
    families = {family.id: family for family in family_at.values()}
    found = [
        _line(families[family_id], len(people), len(answered[family_id]), showed.get(family_id, {}))
        for family_id, people in wrong.items()
    ]
    most_first = sorted(found, key=lambda one: (-one.wrong, one.family_id))
    # Of a job the part that most got wrong.
    once = {one.family_id: one for one in reversed(most_first) if one.family_id in library.givable}
    return [one for one in most_first if once.get(one.family_id) is one]


def _line(family: Family, wrong: int, of: int, showed: Mapping[str, set[int]]) -> GotWrong:
    slips = sorted(showed.items(), key=lambda pair: (-len(pair[1]), pair[0]))[:MOST_SAID]
    words = tuple(tally_words(family, mistake, len(made), of) for mistake, made in slips)
    return GotWrong(family.job.job.id if family.job else family.id, family.skill, wrong, of, words)
