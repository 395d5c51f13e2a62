"""Skill states between their rows and the pure model."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from functools import cache

from sqlalchemy import Select, bindparam, select
from sqlalchemy.orm import Session

from trainer.progress.constants import CURRENT
from trainer.progress.skill import SkillState, fresh, start_level
from trainer.records import models

__all__ = [
    "as_state",
    "keep",
    "known_states",
    "new_row",
    "standing_among",
    "standing_state",
    "states_of",
    "states_of_people",
    "take_turn",
]


def states_of(session: Session, person_id: int) -> dict[str, models.SkillState]:
    """A person's rows by skill."""
    return states_of_people(session, [person_id]).get(person_id, {})


def states_of_people(session: Session, people: Collection[int]) -> dict[int, dict[str, models.SkillState]]:
    """The rows of several people, by person and skill, with one query."""
    found: dict[int, dict[str, models.SkillState]] = {}
    for row in session.scalars(_rows_of_people(), {"people": people}):
        found.setdefault(row.person_id, {})[row.skill] = row
    return found


@cache
def _rows_of_people() -> Select[models.SkillState]:
    """Built once, for each answer asks."""
    table = models.SkillState
    return select(table).where(table.person_id.in_(bindparam("people", expanding=True)))


def known_states(session: Session, people: Collection[int]) -> dict[int, dict[str, SkillState]]:
    """The states of several people, by person and skill, with one query that leaves out all else: hundreds are read so."""
    table = models.SkillState
    query = select(
        table.person_id,
        table.skill,
        table.level,
        table.variance,
        table.holding_days,
        table.counted,
        table.last_at,
        table.lapsed_at,
    ).where(table.person_id.in_(people))
    found: dict[int, dict[str, SkillState]] = {}
    for person, skill, level, variance, holding, counted, last_at, lapsed_at in session.execute(query):
        found.setdefault(person, {})[skill] = SkillState(level, variance, holding, counted, last_at, lapsed_at)
    return found


def as_state(row: models.SkillState) -> SkillState:
    """What a row holds, as the model knows it."""
    return SkillState(row.level, row.variance, row.holding_days, row.counted, row.last_at, row.lapsed_at)


def keep(row: models.SkillState, state: SkillState) -> None:
    """Write a state into its row."""
    row.level, row.variance, row.holding_days = state.level, state.variance, state.holding_days
    row.counted, row.last_at, row.lapsed_at = state.counted, state.last_at, state.lapsed_at


def standing_among(skill: str, states: Mapping[str, SkillState]) -> SkillState:
    """Where the person stands on a skill: by its answers, or while it has none at its start, moved by the other skills."""
    state = states.get(skill)
    if state is not None and state.counted:
        return state
    return fresh(start_level(other for name, other in states.items() if name != skill))


def standing_state(skill: str, rows: Mapping[str, models.SkillState]) -> SkillState:
    """The same from the person's rows."""
    row = rows.get(skill)
    if row is not None and row.counted:
        return as_state(row)
    return standing_among(skill, {name: as_state(one) for name, one in rows.items()})


def new_row(person_id: int, skill: str) -> models.SkillState:
    """A row for a skill that had no turn yet. Its start is settled with the first answer, not here."""
    row = models.SkillState(person_id=person_id, skill=skill, last_turn=0, recent_families=[])
    keep(row, fresh())
    return row


def take_turn(row: models.SkillState, family_id: str, turn: int) -> None:
    """Note that the skill had a turn: the person's `turn`-th problem, of this family."""
    row.last_turn = turn
    row.recent_families = remembered((*row.recent_families, family_id))


def remembered(families: Iterable[str]) -> list[str]:
    """The last families that the choice of the next one looks at."""
    return list(families)[-CURRENT.family_memory :]
