"""One claim about a key, as who answers it reads it: the problem, the key, what was sent in, what others answered."""

from __future__ import annotations

from collections import Counter
from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlalchemy.orm import Session

from trainer.accounts.actor import Actor
from trainer.accounts.claim_access import claim_to, counted_for
from trainer.library.shelf import Library
from trainer.progress.evidence import as_graded
from trainer.progress.page import ProblemPage
from trainer.progress.practice import show
from trainer.records.models import Answer, ContentVersion, FamilyDifficulty, Grading, KeyClaim, Person, Problem

__all__ = ["ClaimPage", "OthersLine", "claim_page"]

MOST_OF_OTHERS = 8
MOST_READ = 2_000


class OthersLine(Struct, frozen=True):
    """How many people's first answer to such a question was judged so, with these known mistakes."""

    verdict: str
    mistakes: tuple[str, ...]
    people: int


class ClaimPage(Struct, frozen=True):
    """
    A claim.

    Args:
        claim: Its public id.
        person: Whose it is; "" for who may not know.
        own_answer: What the learner worked out.
        why: And why.
        sent_at: When it was sent in.
        outcome: "" while nobody has answered.
        reply: What was answered.
        page: The problem as it was issued, with the key and the learner's answers.
        rules: Hash of the rules that it was drawn by.
        in_doubt_since: Since when the key is in doubt; None where it is not.
        others: What other people answered first to questions of the same rules, the most frequent first.
        of: How many people that are.
    """

    claim: str
    person: str
    own_answer: str
    why: str
    sent_at: datetime
    outcome: str
    reply: str
    page: ProblemPage
    rules: str
    in_doubt_since: datetime | None
    others: tuple[OthersLine, ...]
    of: int


def claim_page(
    session: Session, library: Library, actor: Actor, claim_public_id: str, *, language: str = "en"
) -> ClaimPage:
    """
    A claim, for who answers it.

    Raises:
        NotFoundError: When there is no such claim, or it goes to somebody else.
    """
    found = claim_to(session, actor, claim_public_id)
    query = (
        select(KeyClaim, Person.display_name, ContentVersion.rules_hash, FamilyDifficulty.alarmed_at)
        .join(Person, Person.id == KeyClaim.person_id)
        .join(Problem, Problem.id == KeyClaim.problem_id)
        .join(ContentVersion, ContentVersion.id == Problem.content_version_id)
        .outerjoin(FamilyDifficulty, FamilyDifficulty.rules_hash == ContentVersion.rules_hash)
        .where(KeyClaim.id == found.id)
    )
    row, name, rules, in_doubt_since = session.execute(query).one()
    others, of = _others(session, actor, rules, found.person_id)
    return ClaimPage(
        row.public_id,
        name if found.by_name else "",
        row.own_answer,
        row.why,
        row.sent_at,
        row.outcome or "",
        row.reply,
        show(session, library, found.person_id, found.problem, language=language),
        rules,
        in_doubt_since,
        others,
        of,
    )


def _others(session: Session, actor: Actor, rules: str, person_id: int) -> tuple[tuple[OthersLine, ...], int]:
    """First answers of others to the same question, of those whom the actor may see, counted; of very many the newest."""
    query = (
        as_graded(select(Answer.person_id, Grading.verdict, Grading.mistakes))
        .join(ContentVersion, ContentVersion.id == Problem.content_version_id)
        .where(ContentVersion.rules_hash == rules, Answer.attempt == 1, Answer.person_id != person_id)
        .where(counted_for(actor))
        .order_by((Answer.id + 0).desc())
        .limit(MOST_READ)
    )
    first: dict[int, tuple[str, tuple[str, ...]]] = {}
    for person, verdict, mistakes in reversed(session.execute(query).all()):
        first.setdefault(person, (verdict, tuple(mistakes)))
    lines = Counter(first.values()).most_common(MOST_OF_OTHERS)
    return tuple(OthersLine(verdict, mistakes, people) for (verdict, mistakes), people in lines), len(first)
