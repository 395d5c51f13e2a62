"""Learned difficulties of families as they are read: against the mean of their skill."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.library.shelf import Library
from trainer.problems.family import Family
from trainer.progress.difficulty import centred
from trainer.records import models

__all__ = ["centred_difficulties", "difficulty_of"]


def centred_difficulties(session: Session, library: Library, skills: Collection[str]) -> dict[str, float]:
    """The centred difficulty of every family of these skills, by family [logit]."""
    learnt = _learnt(session, skills)
    found: dict[str, float] = {}
    for skill in skills:
        own = {family.id: learnt.get(family.rules_hash, 0.0) for family in library.families_of(skill)}
        found |= {family_id: centred(difficulty, own.values()) for family_id, difficulty in own.items()}
    return found


def difficulty_of(session: Session, library: Library, family: Family) -> float:
    """The centred difficulty of one family, also of a version that is no longer on the shelf [logit]."""
    learnt = _learnt(session, [family.skill])
    of_skill = [learnt.get(other.rules_hash, 0.0) for other in library.families_of(family.skill)]
    return centred(learnt.get(family.rules_hash, 0.0), of_skill)


def _learnt(session: Session, skills: Collection[str]) -> Mapping[str, float]:
    """Learned difficulties by rules, not centred."""
    table = models.FamilyDifficulty
    query = select(table.rules_hash, table.difficulty).where(table.skill.in_(skills))
    return dict(session.execute(query).all())
