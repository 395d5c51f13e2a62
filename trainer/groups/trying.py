"""A problem tried by who is to give it, as a learner meets it: drawn from the address, judged, and written down nowhere."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct

from trainer.accounts.access import NotFoundError
from trainer.calc.message import Message
from trainer.library.shelf import Library
from trainer.problems.check import check
from trainer.problems.draw import draw
from trainer.problems.family import Family
from trainer.problems.model import VerdictKind
from trainer.problems.store import message_from_json, message_to_json
from trainer.progress.effect import GAVE_UP
from trainer.progress.page import ProblemPage
from trainer.progress.showing import page_of
from trainer.progress.sitting import Sitting
from trainer.records.models import Answer, Grading, Problem

__all__ = ["Trial", "try_out"]

NOBODY = "-"


class Trial(Struct, frozen=True):
    """The page with what came of an answer, or why the answer could not be read."""

    page: ProblemPage
    unreadable: Message | None = None


def try_out(
    library: Library,
    family_id: str,
    seed: int,
    *,
    edition: str,
    given: str | Sequence[str] | None = None,
    give_up: bool = False,
    hints: int = 0,
    now: datetime,
) -> Trial:
    """
    The page of a problem that nobody has, with what would come of an answer.

    Args:
        library: The content.
        family_id: The family, or part of a job.
        seed: Another one gives other numbers.
        edition: Edition of the rules.
        given: The answer, as typed or as ids of options; None before one.
        give_up: Whether the steps are asked for.
        hints: How many hints are shown.
        now: This moment.

    Raises:
        NotFoundError: When there is no such family.
    """
    family = library.families.get(family_id)
    if family is None:
        raise NotFoundError
    sitting = _sit_down(family, seed, edition, hints, now)
    judged = [] if given is None and not give_up else [_judge(sitting, None if give_up else given, now)]
    if judged and judged[0][1].verdict in {VerdictKind.RIGHT, GAVE_UP}:
        sitting.row.closed_at = now
    if judged and judged[0][1].verdict == VerdictKind.UNREADABLE:
        reason = judged[0][1].reason
        return Trial(page_of(library, sitting, [], told=False), message_from_json(reason) if reason else None)
    return Trial(page_of(library, sitting, judged, told=not sitting.open))


def _sit_down(family: Family, seed: int, edition: str, hints: int, now: datetime) -> Sitting:
    """Nobody at a problem: its row is never put into a session."""
    problem = draw(family, seed, edition=edition)
    row = Problem(
        public_id=NOBODY,
        code=NOBODY,
        context="practice",
        family_id=family.id,
        skill=family.skill,
        seed=seed,
        edition=edition,
        why=None,
        issued_at=now,
        hints_shown=min(max(hints, 0), len(problem.hints)),
        steps_shown=False,
    )
    return Sitting(row, family, problem)


def _judge(sitting: Sitting, given: str | Sequence[str] | None, now: datetime) -> tuple[Answer, Grading]:
    """What an answer comes to, as rows that are kept nowhere; None is giving up."""
    if given is None:
        typed, value = "", None
        grading = Grading(verdict=GAVE_UP, mistakes=[], reason=None, basis="")
    else:
        verdict = check(sitting.problem, given if isinstance(given, str) else tuple(given))
        typed = given if isinstance(given, str) else ", ".join(given)
        value = list(verdict.value) if isinstance(verdict.value, tuple) else verdict.value
        reason = message_to_json(verdict.reason) if verdict.reason else None
        grading = Grading(
            verdict=verdict.kind.value, mistakes=list(verdict.mistakes), reason=reason, basis=verdict.basis
        )
    hints = sitting.row.hints_shown
    return Answer(attempt=1, typed=typed, value_read=value, hints_seen=hints, answered_at=now), grading
