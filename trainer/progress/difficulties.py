"""Learned difficulties of families as they are read: against the mean of their skill."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import cache

from sqlalchemy import Select, bindparam, select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.problems.family import Family
from trainer.progress.difficulty import centred
from trainer.records import models

__all__ = ["centred_difficulties", "difficulties_and_doubts", "difficulty_of"]


def centred_difficulties(session: Session, library: Library, skills: Collection[str]) -> dict[str, float]:
    """The centred difficulty of every family of these skills, by family id [logit]."""
    return difficulties_and_doubts(session, library, skills)[0]


def difficulties_and_doubts(
    session: Session, library: Library, skills: Collection[str]
) -> tuple[dict[str, float], set[str]]:
    """The centred difficulties as above, and the ids of the families whose key is in doubt. One query."""
    table = models.FamilyDifficulty
    query = select(table.rules_hash, table.difficulty, table.alarmed_at).where(table.skill.in_(skills))
    rows = {rules: (difficulty, alarmed_at is not None) for rules, difficulty, alarmed_at in session.execute(query)}
    found: dict[str, float] = {}
    doubts: set[str] = set()
    for skill in skills:
        own = {family.id: rows.get(family.rules_hash, (0.0, False)) for family in library.families_of(skill)}
        all_of_it = [difficulty for difficulty, _ in own.values()]
        found |= {family_id: centred(difficulty, all_of_it) for family_id, (difficulty, _) in own.items()}
        doubts |= {family_id for family_id, (_, in_doubt) in own.items() if in_doubt}
    return found, doubts


def difficulty_of(session: Session, library: Library, family: Family) -> float:
    """The centred difficulty of one family, also of a version that is no longer on the shelf [logit]."""
    learnt = _learnt(session, [family.skill])
    of_skill = [learnt.get(other.rules_hash, 0.0) for other in library.families_of(family.skill)]
    return centred(learnt.get(family.rules_hash, 0.0), of_skill)


def _learnt(session: Session, skills: Collection[str]) -> Mapping[str, float]:
    """Learned difficulties by rules, not centred."""
    return dict(session.execute(_learnt_of(), {"skills": skills}).all())


@cache
def _learnt_of() -> Select[str, float]:
    """Built once, for each answer asks."""
    table = models.FamilyDifficulty
    return select(table.rules_hash, table.difficulty).where(table.skill.in_(bindparam("skills", expanding=True)))
