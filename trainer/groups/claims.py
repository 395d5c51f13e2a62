"""
"I say this key is wrong": a learner sends a problem and his own working in, and whoever leads him answers.

Who that is, `accounts/claim_access.py` settles. The learner reads the answer on the page of the problem and, for some
days, on the page of the day.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cache

from msgspec import Struct
from sqlalchemy import Select, bindparam, exists, func, select
from sqlalchemy.orm import Session

from trainer.accounts.access import NotAllowedError, NotFoundError, own_problem
from trainer.accounts.actor import Actor
from trainer.accounts.audit import note
from trainer.accounts.claim_access import claim_to, claims_to, shown_by_name
from trainer.calc.message import InputError, Message
from trainer.library.shelf import Library
from trainer.progress.sitting import in_force
from trainer.records.locks import add_if_missing, locked
from trainer.records.models import Answer, ContentVersion, FamilyDifficulty, KeyClaim, KeyRuling, Person, Problem
from trainer.records.types import is_public_id, new_public_id

__all__ = [
    "LONGEST",
    "ClaimLine",
    "KeyNote",
    "OwnReply",
    "claim",
    "claims_waiting",
    "claims_waiting_for",
    "key_note",
    "read_words",
    "replies_to",
    "reply",
]

#: Characters of what is typed, by field.
LONGEST = {"own_answer": 200, "why": 600, "reply": 600, "reason": 400}
EXAMPLES = {
    "own_answer": "12 in",
    "why": "6 divided by the sine of 30 degrees is 12.",
    "reply": "The shrink is taken off on this side: look at step 3.",
    "reason": "The key took the radius for the take-up.",
}
TOLD_FOR = timedelta(days=7)
"""How long the page of the day tells that a claim was answered."""

MOST_ANSWERED = 20


class KeyNote(Struct, frozen=True):
    """
    What is to be said about the key on the page of one's own problem.

    Args:
        can_claim: Whether there is a verdict, and nothing was sent in yet.
        own_answer: What was sent in; "" where nothing was.
        why: The reason with it.
        sent_at: When; None where nothing was.
        outcome: "key-right", "key-wrong", or "" while nobody has answered.
        reply: What was answered.
        in_doubt: Whether the key is in doubt, by many answers or because somebody decided so.
        remedy: What was decided about it; "" where nothing was.
        reason: Why.
    """

    can_claim: bool
    own_answer: str
    why: str
    sent_at: datetime | None
    outcome: str
    reply: str
    in_doubt: bool
    remedy: str
    reason: str


class ClaimLine(Struct, frozen=True):
    """A claim in the queue; `person` is "" for who may not know whose it is."""

    claim: str
    title: str
    family_id: str
    person: str
    own_answer: str
    sent_at: datetime
    outcome: str


class OwnReply(Struct, frozen=True):
    """An answer to one's own claim: to which problem, what its question is called, and what came of it."""

    problem: str
    title: str
    outcome: str


def claim(session: Session, actor: Actor, problem_public_id: str, *, own_answer: str, why: str, now: datetime) -> None:
    """
    Say that the key of one's own problem is wrong. Sent twice, it is one claim.

    Raises:
        NotFoundError: When it is not the actor's problem.
        NotAllowedError: Before there is a verdict.
        InputError: With `field` "own_answer" or "why", when it is empty or too long.
    """
    problem = own_problem(session, actor, problem_public_id)
    words = {"own_answer": read_words(own_answer, "own_answer"), "why": read_words(why, "why")}
    if session.scalar(select(Answer.id).where(Answer.problem_id == problem.id).limit(1)) is None:
        raise NotAllowedError(Message("keys.no-verdict"))
    who = {"problem_id": problem.id, "person_id": actor.person_id}
    if session.scalar(select(KeyClaim.id).where(KeyClaim.problem_id == problem.id)) is not None:
        return
    add_if_missing(session, KeyClaim, public_id=new_public_id(), **who, **words, sent_at=now, reply="")
    note(session, what="key.claimed", now=now, actor_id=actor.person_id, subject_id=actor.person_id)


def key_note(session: Session, actor: Actor, problem_public_id: str) -> KeyNote:
    """
    What is to be said about the key of one's own problem. One query.

    Raises:
        NotFoundError: When it is not the actor's problem.
    """
    if not is_public_id(problem_public_id):
        raise NotFoundError
    which = {"problem": problem_public_id, "person": actor.person_id}
    found = session.execute(_note_query(), which).one_or_none()
    if found is None:
        raise NotFoundError
    sent, ruling, doubted, answered = found
    return KeyNote(
        can_claim=answered and sent is None,
        own_answer=sent.own_answer if sent else "",
        why=sent.why if sent else "",
        sent_at=sent.sent_at if sent else None,
        outcome=(sent.outcome or "") if sent else "",
        reply=sent.reply if sent else "",
        in_doubt=bool(doubted),
        remedy=ruling.remedy if ruling else "",
        reason=ruling.reason if ruling else "",
    )


@cache
def _note_query() -> Select[KeyClaim, KeyRuling, bool, bool]:
    """What is asked for with each page of a problem; built once, as building it takes longer than asking."""
    in_doubt = exists().where(
        FamilyDifficulty.rules_hash == ContentVersion.rules_hash, FamilyDifficulty.alarmed_at.is_not(None)
    )
    return (
        select(KeyClaim, KeyRuling, in_doubt, exists().where(Answer.problem_id == Problem.id))
        .select_from(Problem)
        .join(ContentVersion, ContentVersion.id == Problem.content_version_id)
        .outerjoin(KeyClaim, KeyClaim.problem_id == Problem.id)
        .outerjoin(KeyRuling, in_force())
        .where(Problem.public_id == bindparam("problem"), Problem.person_id == bindparam("person"))
    )


def claims_waiting(session: Session, library: Library, actor: Actor) -> list[ClaimLine]:
    """What came to the actor: those that wait first, the oldest first; then the last that were answered. Two queries."""
    query = (
        select(KeyClaim, Problem.family_id, Person.display_name, shown_by_name(actor))
        .join(Problem, Problem.id == KeyClaim.problem_id)
        .join(Person, Person.id == KeyClaim.person_id)
        .where(claims_to(actor))
    )
    waiting = query.where(KeyClaim.answered_at.is_(None)).order_by(KeyClaim.sent_at, KeyClaim.id)
    answered = query.where(KeyClaim.answered_at.is_not(None)).order_by(KeyClaim.answered_at.desc(), KeyClaim.id.desc())
    return [
        ClaimLine(
            row.public_id,
            _title(library, family_id),
            family_id,
            name if by_name else "",
            row.own_answer,
            row.sent_at,
            row.outcome or "",
        )
        for which in (waiting, answered.limit(MOST_ANSWERED))
        for row, family_id, name, by_name in session.execute(which)
    ]


def claims_waiting_for(session: Session, actor: Actor) -> int:
    """How many claims wait for the actor."""
    query = select(func.count(KeyClaim.id)).join(Problem, Problem.id == KeyClaim.problem_id)
    return session.scalars(query.where(claims_to(actor), KeyClaim.answered_at.is_(None))).one()


def reply(
    session: Session, actor: Actor, claim_public_id: str, *, words: str, now: datetime, outcome: str = "key-right"
) -> None:
    """
    Answer a claim.

    Args:
        session: A write session.
        actor: Who answers.
        claim_public_id: The claim.
        words: What the learner reads.
        now: This moment.
        outcome: "key-right"; a key found wrong is answered by what is decided about it.

    Raises:
        NotFoundError: When it does not come to the actor.
        NotAllowedError: When it was answered already.
        InputError: With `field` "reply".
    """
    found = claim_to(session, actor, claim_public_id)
    text = read_words(words, "reply")
    row = session.execute(locked(select(KeyClaim).where(KeyClaim.id == found.id))).scalar_one()
    if row.answered_at is not None:
        raise NotAllowedError(Message("keys.already-answered"))
    row.outcome, row.reply, row.answered_at, row.answered_by_id = outcome, text, now, actor.person_id
    session.flush()
    note(session, what="key.answered", now=now, actor_id=actor.person_id, subject_id=found.person_id)


def replies_to(session: Session, library: Library, actor: Actor, now: datetime) -> list[OwnReply]:
    """What was answered in the last days to what the actor sent in, the newest first."""
    query = (
        select(Problem.public_id, Problem.family_id, KeyClaim.outcome)
        .join(KeyClaim, KeyClaim.problem_id == Problem.id)
        .where(KeyClaim.person_id == actor.person_id, KeyClaim.answered_at > now - TOLD_FOR)
        .order_by(KeyClaim.answered_at.desc(), KeyClaim.id.desc())
    )
    return [
        OwnReply(problem, _title(library, family_id), outcome or "")
        for problem, family_id, outcome in session.execute(query)
    ]


def read_words(typed: str | None, field: str) -> str:
    """
    What was typed into a field of these forms.

    Raises:
        InputError: When it is empty or too long.
    """
    text, most = " ".join((typed or "").split()), LONGEST[field]
    if text and len(text) <= most:
        return text
    raise InputError(
        Message("keys.too-long" if text else f"keys.empty-{field}"),
        given=text[:most],
        accepted=Message("keys.text-accepted", {"most": most}),
        example=EXAMPLES[field],
        field=field,
    )


def _title(library: Library, family_id: str) -> str:
    family = library.families.get(family_id)
    return family.title if family else family_id
