"""
When a proof run opens, and when what it showed has faded: the rules themselves, without a table or a clock.

Practice tells when to try. What a run has shown holds while the chance of a right first try stays up and the skill is
not left alone for long.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from trainer.calc.message import Message, Quantity
from trainer.problems.model import VerdictKind
from trainer.progress.constants import CURRENT, Constants
from trainer.progress.effect import Try, effect_of
from trainer.progress.proof_families import FEWEST_FAMILIES
from trainer.progress.skill import SkillState, chance, days_since, update

__all__ = ["DUE_AFTER", "faded", "fades_at", "practice_left", "too_few", "waiting_for"]

OPENS_AT = 0.85
"""Chance of a right first try from which a run opens."""

OPENS_FROM = 6
"""Counted answers from which it opens, and practice problems between two runs."""

DUE_BELOW = 0.80
DUE_AFTER = timedelta(days=90)

MOST_LOOKED_AHEAD = 40
"""Right answers in a row after which nobody looks further ahead."""


def faded(state: SkillState, now: datetime, constants: Constants = CURRENT) -> bool:
    """Whether a skill stands too low, or was left alone for too long, for what a run once showed to hold."""
    if state.last_at is None or now - state.last_at >= DUE_AFTER:
        return True
    return _low(state, days_since(state.last_at, now, constants), constants)


def fades_at(state: SkillState, constants: Constants = CURRENT) -> datetime | None:
    """The moment, to the hour, from which it is so if nothing is answered any more; None before the first answer."""
    if state.last_at is None:
        return None
    if not _low(state, DUE_AFTER / timedelta(days=1), constants):
        return state.last_at + DUE_AFTER
    early, late = 0, DUE_AFTER // timedelta(hours=1)
    while late - early > 1:
        middle = (early + late) // 2
        days = days_since(state.last_at, state.last_at + timedelta(hours=middle), constants)
        if _low(state, days, constants):
            late = middle
        else:
            early = middle
    return state.last_at + timedelta(hours=early)


def _low(state: SkillState, days: float, constants: Constants) -> bool:
    """Whether the chance of a right first try is below the line so many days after the last answer."""
    return chance(state, days=days, constants=constants) < DUE_BELOW


def waiting_for(
    state: SkillState, *, families: int, mistakes: Iterable[str], practised: int | None, now: datetime
) -> list[Message]:
    """
    What is missing before a run opens, each in a sentence; none when it is open.

    Args:
        state: Where the person stands.
        families: Kinds of question that could be asked.
        mistakes: What the person's active known mistakes in the skill are called.
        practised: Practice problems since the last run that failed; None where none did.
        now: This moment.
    """
    missing = too_few(families)
    if state.counted < OPENS_FROM:
        missing.append(Message("proof.few-answers", {"left": Quantity(OPENS_FROM - state.counted, "answers")}))
    elif chance(state, days=days_since(state.last_at, now)) < OPENS_AT:
        missing.append(Message("proof.not-likely-enough", {"tenths": OPENS_AT * 10}))
    missing += [Message("proof.mistake", {"called": called}) for called in mistakes]
    if practised is not None and practised < OPENS_FROM:
        missing.append(Message("proof.practise-first", {"left": Quantity(OPENS_FROM - practised, "problems")}))
    return missing


def too_few(families: int) -> list[Message]:
    """The sentence that a run needs more kinds of question than can be asked now; empty where there are enough."""
    if families >= FEWEST_FAMILIES:
        return []
    return [Message("proof.few-families", {"families": families, "fewest": FEWEST_FAMILIES})]


def practice_left(state: SkillState, *, practised: int | None, now: datetime) -> int:
    """
    The fewest practice problems that can open a run: all of them right at the first try, one after the other.

    Args:
        state: Where the person stands.
        practised: As in `waiting_for`.
        now: This moment.
    """
    right = effect_of(VerdictKind.RIGHT, Try.FIRST)
    least = 0 if practised is None else max(0, OPENS_FROM - practised)
    for done in range(MOST_LOOKED_AHEAD):
        days = days_since(state.last_at, now)
        if done >= least and state.counted >= OPENS_FROM and chance(state, days=days) >= OPENS_AT:
            return done
        state = update(state, right, difficulty=0.0, days=days, lucky=CURRENT.lucky_typed, now=now)
    return MOST_LOOKED_AHEAD
