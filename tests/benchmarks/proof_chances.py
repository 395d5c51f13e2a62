"""Exact chances of a proof run, by the program's own points: sums over whole paths, no draws."""

from __future__ import annotations

from math import log
from typing import NamedTuple

from trainer.progress.constants import CURRENT
from trainer.progress.points import UPPER, UPPER_LEVEL, Line, Rule, rule_for
from trainer.progress.skill import sigmoid

#: Difficulties of three families whose spread is that of the pool which the line's levels stand for: 0.54 logits.
POOL = (-0.6614, 0.0, 0.6614)
TYPICAL = (0.0,)
#: Runs after which another one adds next to nothing.
ANY_NUMBER = 40


class Run(NamedTuple):
    """Chance that a run finds somebody ready, and answers until it is decided, on average."""

    ready: float
    answers: float


def right_chance(level, difficulty):
    """Of somebody at this level on a typed question."""
    return CURRENT.lucky_typed + (1 - CURRENT.lucky_typed - CURRENT.slip) * sigmoid(level - difficulty)


def share_right(level, pool):
    return sum(right_chance(level, difficulty) for difficulty in pool) / len(pool)


def one_run(rule: Rule, level: float, pool=TYPICAL) -> Run:
    """
    What becomes of a run in which the families of `pool` take turns.

    At the pace of eight a day a typical run can't reach its points on one day, so the rule of two days is left out here.
    """
    points = [rule.points(difficulty) for difficulty in pool]
    chances = [right_chance(level, difficulty) for difficulty in pool]
    here = {(0,) * len(pool): (1.0, 0.0)}  # wrong answers by family: share of the paths, points so far
    ready = answers = 0.0
    for nth in range(rule.most):
        at = nth % len(pool)
        after = {}
        for wrong, (share, total) in here.items():
            answers += share
            more = (*wrong[:at], wrong[at] + 1, *wrong[at + 1 :])
            for key, part, sum_now in (
                (wrong, share * chances[at], total + points[at].right),
                (more, share * (1 - chances[at]), total + points[at].wrong),
            ):
                if sum_now >= rule.ready_at:
                    ready += part
                elif sum_now > rule.stop_at:
                    after[key] = (after.get(key, (0.0,))[0] + part, sum_now)
        here = after
    return Run(ready, answers)


def ever_ready(line: Line, level: float, tries: int = ANY_NUMBER, pool=TYPICAL) -> float:
    """Chance of ever being found ready in so many runs."""
    missed = 1.0
    for failed in range(tries):
        missed *= 1 - one_run(rule_for(line, failed=failed), level, pool).ready
    return 1 - missed


def wald_answers(error_low: float, error_high: float, pool=TYPICAL) -> float:
    """
    Answers that Wald's test needs on average, at the upper level, for the same two errors.

    Args:
        error_low: Chance that somebody at the lower level is found ready.
        error_high: Chance that somebody at the upper level is not.
        pool: Difficulties of the questions.

    Source: Wald 1945.
    """
    rule = rule_for(Line.STRICT)
    unit = log(UPPER / 0.70)
    each = 0.0
    for difficulty in pool:
        chance, points = right_chance(UPPER_LEVEL, difficulty), rule.points(difficulty)
        each += unit * (chance * points.right + (1 - chance) * points.wrong) / len(pool)
    high = (1 - error_high) * log((1 - error_high) / error_low)
    return (high + error_high * log(error_high / (1 - error_low))) / each
