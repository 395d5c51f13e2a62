"""
A key found wrong: decided about once, and everything drawn from it graded again.

Before anything is done a page lists whose results change. Only people whom the one who decides may see stand there by
name; the others are counted. Each of them reads afterwards that it was done.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct
from sqlalchemy import func, select, true, update
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note, note_each
from trainer.accounts.claim_access import asked_beyond, claims_to, may_rule, shown_by_name
from trainer.calc.message import Message
from trainer.groups.key_questions import Decision, KeyInQuestion, key_in_question, read_decision, ruling_of
from trainer.groups.looks import note_looks_in_groups
from trainer.library.shelf import Library
from trainer.progress.regrading import Change, changes_under, lock_holders, put_through
from trainer.progress.rulings import Remedy, corrects
from trainer.records import models
from trainer.records.locks import add_if_missing, locked

__all__ = ["ChangeLine", "Preview", "preview", "rule"]


LOOKED = "looked.assigned"


class ChangeLine(Struct, frozen=True):
    """One answer whose result changes: whose, where, as typed, and its verdict before and after."""

    person: str
    work: str
    typed: str
    attempt: int
    before: str
    after: str


class ShownProblem(Struct, frozen=True):
    """A problem that is shown with a name: whose, and for which work of which group."""

    person_id: int
    person: str
    work: str
    group_id: int | None


class Preview(Struct, frozen=True):
    """
    What would change.

    Args:
        question: The key.
        decision: What is wanted, as it was read.
        named: The answers of people whom the reader may see, by name.
        others: How many other people's results change.
        decided_runs: Proof runs among them that are decided, and keep their decision.
        said_anew: Answers of which only what is said changes.
        refused: Why only who looks after the site can decide it so; None where the reader can.
    """

    question: KeyInQuestion
    decision: Decision
    named: tuple[ChangeLine, ...]
    others: int
    decided_runs: int
    said_anew: int
    refused: Message | None


def preview(
    session: Session, library: Library, actor: Actor, rules: str, decision: Decision, *, now: datetime
) -> Preview:
    """
    Whose results a decision changes. Nothing is written but that the reader looked at assigned work.

    Raises:
        NotAllowedError, NotFoundError: As `key_in_question`.
        InputError: With `field` "remedy", "accepts" or "reason".
    """
    question = key_in_question(session, library, actor, rules)
    wanted = read_decision(question, decision)
    ruling = ruling_of(question, wanted, actor, sequence=1)
    changes = changes_under(session, library, ruling)
    shown = _shown(session, actor, changes)
    looked_at = {(one.group_id, one.person_id) for one in shown.values() if one.group_id is not None}
    note_looks_in_groups(session, actor, looked_at, what=LOOKED, now=now)
    results = [change for change in changes if change.result_changes]
    named = tuple(_line(change, shown[change.problem_id]) for change in results if change.problem_id in shown)
    by_name = {change.person_id for change in results if change.problem_id in shown}
    others = {change.person_id for change in results if change.problem_id not in shown} - by_name
    return Preview(
        question,
        wanted,
        named,
        len(others),
        _decided_runs(session, results),
        len(changes) - len(results),
        _only_the_site(session, actor, ruling, changes),
    )


def rule(session: Session, library: Library, actor: Actor, rules: str, decision: Decision, *, now: datetime) -> int:
    """
    Decide about a key: noted, put through, and what the actor was asked about it answered.

    Args:
        session: A write session.
        library: The content.
        actor: Who decides.
        rules: Hash of the rules.
        decision: What is wanted.
        now: This moment.

    Returns:
        How many people's results changed.

    Raises:
        As `preview`.
        NotAllowedError: Where only who looks after the site can decide it so; nothing is to be kept then.
    """
    may_rule(actor)
    lock_holders(session, rules)
    question = key_in_question(session, library, actor, rules)
    wanted = read_decision(question, decision)
    remedy = Remedy(wanted.remedy)
    standing = _standing(session, question)
    table = models.KeyRuling
    last = session.scalar(select(func.max(table.sequence)).where(table.rules_hash == rules)) or 0
    ruling = ruling_of(question, wanted, actor, sequence=last + 1)
    ruling.ruled_at = now
    session.add(ruling)
    if remedy is Remedy.STANDS:
        standing.alarm, standing.alarmed_at = 0.0, None
    else:
        standing.alarmed_at = standing.alarmed_at or now
    if corrects(remedy):
        # What was learned from it was learned from a wrong key.
        standing.difficulty, standing.counted = 0.0, 0
    session.flush()
    changes = put_through(session, library, ruling, by_id=actor.person_id, now=now)
    if refused := _only_the_site(session, actor, ruling, changes):
        raise NotAllowedError(refused)
    people = sorted({change.person_id for change in changes if change.result_changes})
    note_each(session, people, what="key.regraded", now=now, actor_id=actor.person_id)
    detail = {"family": question.family.id, "remedy": wanted.remedy, "people": len(people)}
    note(session, what="key.ruled", now=now, actor_id=actor.person_id, detail=detail)
    if remedy is not Remedy.DOUBT:
        _answer_claims(session, actor, rules, wanted, now)
    return len(people)


def _only_the_site(
    session: Session, actor: Actor, ruling: models.KeyRuling, changes: Sequence[Change]
) -> Message | None:
    """Why a ruling is not the actor's: it reaches beyond his schools and shops, or changes his own result."""
    if actor.is_site_administrator or ruling.remedy == Remedy.DOUBT:
        return None
    if any(change.result_changes and change.person_id == actor.person_id for change in changes):
        return Message("keys.own-result")
    return Message("keys.beyond") if asked_beyond(session, actor, ruling.rules_hash) else None


def _standing(session: Session, question: KeyInQuestion) -> models.FamilyDifficulty:
    """The row that says whether the key is in doubt, locked: whoever decides about one key queues up."""
    table, family = models.FamilyDifficulty, question.family
    of = {"rules_hash": question.rules, "family_id": family.id, "skill": family.skill}
    add_if_missing(session, table, **of, difficulty=0.0, counted=0, alarm=0.0)
    return session.execute(locked(select(table).where(table.rules_hash == question.rules))).scalar_one()


def _shown(session: Session, actor: Actor, changes: Sequence[Change]) -> dict[int, ShownProblem]:
    """Whose it is and for which work, of those problems that the actor may see by name."""
    problem, person, work = models.Problem, models.Person, models.AssignedWork
    query = (
        select(problem.id, person.id, person.display_name, work.title, work.group_id)
        .join(person, person.id == problem.person_id)
        .outerjoin(models.AssignedFamily, models.AssignedFamily.id == problem.assigned_family_id)
        .outerjoin(work, work.id == models.AssignedFamily.assigned_work_id)
        .where(problem.id.in_({change.problem_id for change in changes}), shown_by_name(actor))
    )
    return {
        problem_id: ShownProblem(person_id, name, title or "", group_id)
        for problem_id, person_id, name, title, group_id in session.execute(query)
    }


def _line(change: Change, of: ShownProblem) -> ChangeLine:
    return ChangeLine(of.person, of.work, change.typed, change.attempt, change.before, change.after.verdict)


def _decided_runs(session: Session, changes: Sequence[Change]) -> int:
    table = models.ProofRun
    runs = {change.run_id for change in changes if change.run_id is not None}
    return session.scalars(select(func.count(table.id)).where(table.id.in_(runs), table.ended_at.is_not(None))).one()


def _answer_claims(session: Session, actor: Actor, rules: str, wanted: Decision, now: datetime) -> None:
    """Whoever said so of this key, and waits for the actor's answer, reads what was decided; of the site's everybody."""
    claim, problem, version = models.KeyClaim, models.Problem, models.ContentVersion
    of_rules = problem.content_version_id.in_(select(version.id).where(version.rules_hash == rules))
    theirs = true() if actor.is_site_administrator else claims_to(actor)
    to_actor = select(claim.id).join(problem, problem.id == claim.problem_id).where(of_rules, theirs)
    waiting = session.scalars(to_actor.where(claim.answered_at.is_(None))).all()
    outcome = "key-right" if wanted.remedy == Remedy.STANDS else "key-wrong"
    answered = {"outcome": outcome, "reply": wanted.reason, "answered_at": now, "answered_by_id": actor.person_id}
    # Somebody may have replied to one since it was read.
    still = update(claim).where(claim.id.in_(waiting), claim.answered_at.is_(None)).values(answered)
    people = session.scalars(still.returning(claim.person_id)).all()
    note_each(session, people, what="key.answered", now=now, actor_id=actor.person_id)
