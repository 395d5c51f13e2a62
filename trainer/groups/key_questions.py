"""A key in question: the family in one version, what was decided about its key so far, and what can be decided now."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct
from sqlalchemy import ScalarSelect, func, select
from sqlalchemy.orm import Session, aliased

from trainer.accounts.access import NotFoundError
from trainer.accounts.actor import Actor
from trainer.accounts.claim_access import may_rule
from trainer.calc.message import InputError, Message
from trainer.groups.claims import read_words
from trainer.library.shelf import Library
from trainer.library.versions import family_at
from trainer.problems.family import Family
from trainer.problems.model import ONE, Problem
from trainer.problems.store import restore
from trainer.progress.rulings import NUMBERS, Remedy, corrects, on_shelf, read_accepts
from trainer.records import models

__all__ = ["MOST_COUNTED", "Decision", "KeyInQuestion", "RulingLine", "key_in_question", "read_decision", "ruling_of"]

MOST_COUNTED = 1_000


class Decision(Struct, frozen=True):
    """What is wanted, as typed: the remedy, what else is accepted, and why."""

    remedy: str
    accepts: str
    reason: str


class RulingLine(Struct, frozen=True):
    """One thing that was decided."""

    remedy: str
    accepts: str
    reason: str
    ruled_at: datetime
    ruled_by: str


class KeyInQuestion(Struct, frozen=True):
    """
    A family in one version, and what can be done about its key.

    Args:
        rules: The hash of its rules.
        family: The family in that version.
        example: One problem that was drawn from it.
        problems: How many were; one more than MOST_COUNTED where there are more than that.
        in_doubt_since: Since when its key is in doubt; None where it is not.
        rulings: What was decided so far, the newest first.
        remedies: What can be done.
        names: The numbers that a formula may name.
        mended: Whether another version of the file is on the shelf.
    """

    rules: str
    family: Family
    example: Problem
    problems: int
    in_doubt_since: datetime | None
    rulings: tuple[RulingLine, ...]
    remedies: tuple[Remedy, ...]
    names: tuple[str, ...]
    mended: bool


def key_in_question(session: Session, library: Library, actor: Actor, rules: str) -> KeyInQuestion:
    """
    A key, for who may decide about it.

    Raises:
        NotAllowedError: When the actor decides about no keys.
        NotFoundError: When nothing was ever drawn by these rules.
    """
    may_rule(actor)
    problem, version = models.Problem, models.ContentVersion
    of_rules = problem.content_version_id.in_(select(version.id).where(version.rules_hash == rules))
    # Counting all of them would take the longer, the longer the question is asked.
    some = select(problem.id).where(of_rules).limit(MOST_COUNTED + 1).subquery()
    count = select(func.count()).select_from(some).scalar_subquery()
    doubt = select(models.FamilyDifficulty.alarmed_at).where(models.FamilyDifficulty.rules_hash == rules)
    query = (
        select(problem, version, count, doubt.scalar_subquery())
        .join(version, version.id == problem.content_version_id)
        .where(problem.id == _first_of(rules))
    )
    found = session.execute(query).one_or_none()
    if found is None:
        raise NotFoundError
    row, of, problems, in_doubt_since = found
    family = family_at(library, of)
    example = restore(family, row.seed, row.edition, row.drawn)
    shelf = on_shelf(library, family)
    mended = shelf is not None and shelf.rules_hash != rules
    rulings = _rulings(session, rules)
    corrected = bool(rulings) and corrects(Remedy(rulings[0].remedy))
    return KeyInQuestion(
        rules,
        family,
        example,
        problems,
        in_doubt_since,
        rulings,
        tuple(_remedies(example, mended=mended and family.job is None, corrected=corrected)),
        tuple(sorted(name for name, value in example.numbers.items() if isinstance(value, int | float))),
        mended,
    )


def _first_of(rules: str) -> ScalarSelect[int | None]:
    """The first problem that was drawn by these rules: the first of each version is looked up, and none is sorted."""
    problem, version = aliased(models.Problem), aliased(models.ContentVersion)
    of_version = select(func.min(problem.id)).where(problem.content_version_id == version.id).correlate(version)
    return select(func.min(of_version.scalar_subquery())).where(version.rules_hash == rules).scalar_subquery()


def _remedies(example: Problem, *, mended: bool, corrected: bool) -> list[Remedy]:
    found = [Remedy.CREDIT, Remedy.SET_ASIDE]
    if example.kind in {*NUMBERS, *ONE}:
        found.insert(1, Remedy.ALSO)
    if mended:
        found.insert(0, Remedy.NEW_KEY)
    if not corrected:
        # Beside a correction it would take that back, and a key that was corrected is asked no more anyway.
        found.append(Remedy.DOUBT)
    return [*found, Remedy.STANDS]


def read_decision(question: KeyInQuestion, decision: Decision) -> Decision:
    """
    The decision with everything in it read.

    Raises:
        InputError: With `field` "remedy", "accepts" or "reason".
    """
    if decision.remedy not in question.remedies:
        raise InputError(
            Message("keys.remedy"),
            given=decision.remedy[:40],
            accepted=Message("keys.remedy-accepted"),
            example="credit",
            field="remedy",
        )
    also = decision.remedy == Remedy.ALSO
    accepts = read_accepts(decision.accepts, question.example) if also else ""
    return Decision(decision.remedy, accepts, read_words(decision.reason, "reason"))


def ruling_of(question: KeyInQuestion, wanted: Decision, actor: Actor, *, sequence: int) -> models.KeyRuling:
    """The row of a decision, not yet in the session."""
    return models.KeyRuling(
        rules_hash=question.rules,
        family_id=question.family.id,
        sequence=sequence,
        remedy=wanted.remedy,
        accepts=wanted.accepts,
        reason=wanted.reason,
        ruled_by_id=actor.person_id,
    )


def _rulings(session: Session, rules: str) -> tuple[RulingLine, ...]:
    table, person = models.KeyRuling, models.Person
    query = (
        select(table, person.display_name)
        .join(person, person.id == table.ruled_by_id)
        .where(table.rules_hash == rules)
        .order_by(table.sequence.desc())
    )
    return tuple(
        RulingLine(row.remedy, row.accepts, row.reason, row.ruled_at, name) for row, name in session.execute(query)
    )
