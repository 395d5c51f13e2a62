"""
Where a person stands on a skill: one update for each answer, in closed form.

Level and difficulty are logits, times are days, chances are fractions of 1. Nothing here knows a clock or a table:
the moment and the days since the last counted answer are passed in.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from math import exp, log, pi, sqrt

from msgspec import Struct

from trainer.progress.constants import CURRENT, Constants
from trainer.progress.effect import Effect

__all__ = ["SkillState", "chance", "days_since", "faded", "fresh", "likely_range", "sharpness", "start_level", "update"]

DAY = timedelta(days=1)


class SkillState(Struct, frozen=True):
    """
    What is known about one person on one skill.

    Args:
        level: Estimated level [logit]; 0 is the difficulty of a typical problem of the skill.
        variance: Variance of that estimate.
        holding_days: How long the level holds without practice [days].
        counted: Number of counted answers.
        last_at: Moment of the last counted answer; None before the first.
        lapsed_at: The last moment by then at which what a proof run had shown held no more: `trainer.progress.lapse`.
    """

    level: float
    variance: float
    holding_days: float
    counted: int = 0
    last_at: datetime | None = None
    lapsed_at: datetime | None = None


def fresh(level: float = CURRENT.start_level, constants: Constants = CURRENT) -> SkillState:
    """The state of a skill before its first answer, starting at `level` [logit]."""
    return SkillState(level, constants.start_variance, constants.holding_start)


def start_level(others: Iterable[SkillState], constants: Constants = CURRENT) -> float:
    """
    Level at which a new skill starts [logit]: moved by half the mean lead in the person's other skills.

    Only skills with enough answers speak; the change stays within one logit.

    Source: that other skills improve the start is from Pardos and Heffernan 2010; the share and limit are ours.
    >>> start_level([])
    0.3
    >>> start_level([SkillState(1.1, 0.6, 5.0, counted=8)])
    0.7
    """
    leads = [other.level - constants.start_level for other in others if other.counted >= constants.start_counted]
    if not leads:
        return constants.start_level
    change = constants.start_share * sum(leads) / len(leads)
    return constants.start_level + max(-constants.start_limit, min(constants.start_limit, change))


def days_since(last_at: datetime | None, now: datetime, constants: Constants = CURRENT) -> float:
    """Days between two answers, as the model counts them: 0 for a first answer and below half a day."""
    if last_at is None:
        return 0.0
    days = (now - last_at) / DAY
    return days if days >= constants.another_day else 0.0


def update(
    state: SkillState,
    effect: Effect,
    *,
    difficulty: float,
    days: float,
    lucky: float,
    now: datetime,
    constants: Constants = CURRENT,
) -> SkillState:
    """
    The state after one answer.

    Args:
        state: The state before it.
        effect: What the answer counts for; an effect without weight and gain leaves the state as it is.
        difficulty: Difficulty of the family, centred within the skill [logit].
        days: Days since the last counted answer, from `days_since`.
        lucky: Chance that someone who can't do it gets it right.
        now: Moment of the answer.
        constants: Table to use.

    Source: a Gaussian estimate updated by one step of the logistic model with guessing and slipping; learning that
    slows as in Corbett and Anderson 1994 and Pavlik et al. 2009; forgetting by the logarithm of time.
    """
    if not effect.counts:
        return state
    level, variance = faded(state, days, constants)
    if effect.weight:
        level, variance = judged(level, variance, effect, difficulty=difficulty, lucky=lucky, constants=constants)
    return SkillState(
        level + effect.gain * constants.gain / (1 + state.counted / constants.gain_halves_at),
        variance + constants.doubt_answer,
        held(state.holding_days, effect, days, constants),
        state.counted + 1,
        now,
        state.lapsed_at,
    )


def chance(
    state: SkillState,
    *,
    days: float = 0.0,
    difficulty: float = 0.0,
    lucky: float = CURRENT.lucky_typed,
    constants: Constants = CURRENT,
) -> float:
    """
    Chance of a right first try, `days` after the last counted answer, doubt about the level included.

    >>> round(chance(fresh()), 3)
    0.561
    """
    level, variance = faded(state, days, constants)
    doubt = 1 / sqrt(1 + pi * variance / 8)
    return lucky + (1 - lucky - constants.slip) * sigmoid(doubt * (level - difficulty))


def likely_range(state: SkillState, *, days: float = 0.0, constants: Constants = CURRENT) -> tuple[float, float]:
    """
    Range that holds the true chance on typical typed problems in 90 of 100 cases.

    >>> [round(end, 2) for end in likely_range(fresh())]
    [0.22, 0.86]
    """
    level, variance = faded(state, days, constants)
    reach = constants.range_width * sqrt(variance)
    span = 1 - constants.lucky_typed - constants.slip
    return (
        constants.lucky_typed + span * sigmoid(level - reach),
        constants.lucky_typed + span * sigmoid(level + reach),
    )


def faded(state: SkillState, days: float, constants: Constants) -> tuple[float, float]:
    """Level and variance after `days` without practice."""
    units = log(1 + days / state.holding_days)
    return state.level - constants.fading * units, state.variance + constants.doubt_gap * units


def judged(
    level: float, variance: float, effect: Effect, *, difficulty: float, lucky: float, constants: Constants
) -> tuple[float, float]:
    """Level and variance once it is known whether the answer was right."""
    expected, slope, spread = _expected(level, difficulty, lucky, constants)
    variance = 1 / (1 / variance + effect.weight * slope * slope / spread)
    return level + variance * effect.weight * slope * (effect.right - expected) / spread, variance


def sharpness(level: float, difficulty: float, lucky: float, constants: Constants = CURRENT) -> float:
    """
    What a perfect answer to a problem tells about the level: the precision that it adds [1/logit^2].

    >>> round(sharpness(0.3, 0.0, CURRENT.lucky_typed), 3), round(sharpness(0.3, 0.0, lucky=0.25), 3)
    (0.225, 0.144)
    """
    _, slope, spread = _expected(level, difficulty, lucky, constants)
    return slope * slope / spread


def _expected(level: float, difficulty: float, lucky: float, constants: Constants) -> tuple[float, float, float]:
    """Chance of a right answer at this level, how fast it grows with the level, and its variance."""
    able = sigmoid(level - difficulty)
    span = 1 - lucky - constants.slip
    expected = lucky + span * able
    return expected, span * able * (1 - able), expected * (1 - expected)


def held(holding_days: float, effect: Effect, days: float, constants: Constants) -> float:
    """Holding time after an answer: longer for a success after a gap, shorter for a failure, kept on one day."""
    if days < constants.another_day or not effect.weight:
        return holding_days
    if effect.right:
        growth = 1 + constants.holding_growth * min(1.0, days / holding_days)
        return min(constants.holding_longest, holding_days * growth)
    return max(constants.holding_start, constants.holding_loss * holding_days)


def sigmoid(logit: float) -> float:
    """Chance that belongs to a logit."""
    return 1 / (1 + exp(-logit))
