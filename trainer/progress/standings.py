"""Where a person stands on every skill, and what could be asked: what the choice of the next problem works on."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.problems.bender import ways_of
from trainer.problems.family import Family
from trainer.problems.model import AnswerKind
from trainer.problems.shelf import Skill
from trainer.progress.difficulties import difficulties_and_doubts
from trainer.progress.effect import lucky_chance
from trainer.progress.habits import active_mistakes
from trainer.progress.lapse import lapsed
from trainer.progress.later import opened_skills
from trainer.progress.lessons import lessons_read
from trainer.progress.proof_rows import states_and_shown
from trainer.progress.skill import days_since
from trainer.progress.standing import FamilyLine, Standing
from trainer.progress.states import standing_state
from trainer.records import models

__all__ = ["Standings", "standings_of"]


class Standings(Struct, frozen=True):
    """
    All that the choice needs to know.

    Args:
        rows: The person's rows by skill.
        lines: One line for each skill of the library, in its order.
        families: The families of each skill.
        shown: When each skill that a proof run found ready was found so last.
        read: When each lesson was read.
    """

    rows: dict[str, models.SkillState]
    lines: dict[str, Standing]
    families: dict[str, list[FamilyLine]]
    shown: dict[str, datetime]
    read: dict[str, datetime]


def standings_of(session: Session, library: Library, person_id: int, issued: int, now: datetime) -> Standings:
    """
    Where a person stands, with five queries at the most.

    Args:
        session: Any session.
        library: The content.
        person_id: The person.
        issued: How many problems the person was issued so far.
        now: This moment.
    """
    rows, shown = states_and_shown(session, person_id)
    active = active_mistakes(session, person_id)
    difficulties, doubts = difficulties_and_doubts(session, library, library.skills)
    lines = {
        skill.id: _line(skill, rows, active.get(skill.id, {}), issued=issued, now=now, shown=shown.get(skill.id))
        for skill in library.skills.values()
    }
    read = lessons_read(session, person_id)
    opened = opened_skills(session, library, person_id, read)
    families = {
        skill: [
            _family(
                family,
                difficulties[family.id],
                unopened=family.later and skill not in opened,
                in_doubt=family.id in doubts,
            )
            for family in library.families_of(skill)
        ]
        for skill in lines
    }
    return Standings(rows, lines, families, shown, read)


def _line(
    skill: Skill,
    rows: dict[str, models.SkillState],
    active: dict[str, str],
    *,
    issued: int,
    now: datetime,
    shown: datetime | None,
) -> Standing:
    row, state = rows.get(skill.id), standing_state(skill.id, rows)
    return Standing(
        skill.id,
        skill.title,
        state,
        days=days_since(state.last_at, now),
        waiting=issued - row.last_turn if row and row.last_turn else None,
        recent=tuple(row.recent_families) if row else (),
        active=active,
        refresh_due=shown is not None and lapsed(state, shown, now),
    )


def _family(family: Family, difficulty: float, *, unopened: bool, in_doubt: bool) -> FamilyLine:
    lucky = lucky_chance(family.kind, options_shown(family))
    mistakes = frozenset(mistake.id for mistake in family.mistakes)
    return FamilyLine(family.id, difficulty, lucky, mistakes, unopened, in_doubt)


def options_shown(family: Family) -> int:
    """How many options or combinations a problem of the family has to choose from; 0 where the answer is typed."""
    if family.bender:
        return ways_of(family.bender)
    ask = family.shape.ask
    if ask.kind is AnswerKind.PLACES:
        return family.shape.inputs["places"].count(",") + 1
    return ask.options.show if ask.options else ask.show or len(ask.statements) or len(ask.steps)
