"""How well the model's chances fit what simulated learners do: calibration, and log-loss beside a fitted regression."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict

import numpy as np
from scipy.optimize import minimize

BINS = 15
MONTH = 30
#: Windows of time in which tries and successes are counted [days]; the last one is all time.
WINDOWS = (0.5, 1.5, 7.5, 30.5, 1e9)
PENALTY = 1.0


def calibration_error(expected, right, bins=BINS):
    """Mean distance of what was expected from what came, over bins of equal width, each by its answers."""
    place = np.minimum((expected * bins).astype(int), bins - 1)
    gaps = np.bincount(place, expected - right, minlength=bins)
    return np.abs(gaps).sum() / len(expected)


def log_loss(expected, right):
    return -np.mean(np.log(np.where(right, expected, 1 - expected)))


def recalibrated(days, expected, right):
    """
    What was expected from the second month on, passed through two numbers fitted to the months before.

    Returns the passed chances and the outcomes that belong to them.
    """
    month, logit = (days // MONTH).astype(int), np.log(expected / (1 - expected))
    both = np.column_stack([np.ones_like(logit), logit])
    passed, outcomes = [], []
    for this in range(1, month.max() + 1):
        before, now = month < this, month == this
        weights = fitted(both[before], right[before], start=np.array([0.0, 1.0]), penalty=0.0)
        passed.append(logistic(both[now] @ weights))
        outcomes.append(right[now])
    return np.concatenate(passed), np.concatenate(outcomes)


def beside_regression(answers):
    """
    Log-loss of a regression with counts, time windows and difficulty on the same answers.

    It is fitted to half of the people and judged on the other half, both ways, so that it is not judged on what it saw.
    """
    table, right, person = features(answers), outcomes_of(answers), np.array([one.person for one in answers])
    chances = np.empty(len(answers))
    for half in (0, 1):
        own = person % 2 == half
        chances[own] = logistic(table[own] @ fitted(table[~own], right[~own]))
    return log_loss(chances, right)


def features(answers):
    """One row an answer: which family, tries and successes in each window of the skill, and of all skills so far."""
    families = {name: at for at, name in enumerate(sorted({one.family for one in answers}))}
    table = np.zeros((len(answers), len(families) + 2 * len(WINDOWS) + 2))
    past, overall = defaultdict(lambda: ([], [0])), defaultdict(lambda: [0, 0])
    for row, one in zip(table, answers, strict=True):
        row[families[one.family]] = 1
        days, successes = past[one.person, one.skill]
        counts = []
        for window in WINDOWS:
            first = bisect_left(days, one.day - window)
            counts += [len(days) - first, successes[-1] - successes[first]]
        row[len(families) :] = np.log1p([*counts, *overall[one.person]])
        days.append(one.day)
        successes.append(successes[-1] + one.right)
        overall[one.person][0] += 1
        overall[one.person][1] += one.right
    return table


def fitted(table, right, start=None, penalty=PENALTY):
    """Weights of a logistic regression with a slight penalty."""

    def loss(weights):
        scores = table @ weights
        value = np.logaddexp(0, scores).sum() - scores @ right + penalty * weights @ weights / 2
        return value, table.T @ (logistic(scores) - right) + penalty * weights

    begin = np.zeros(table.shape[1]) if start is None else start
    return minimize(loss, begin, jac=True, method="L-BFGS-B", options={"maxiter": 500}).x


def logistic(scores):
    return 1 / (1 + np.exp(-scores))


def outcomes_of(answers):
    return np.array([one.right for one in answers], dtype=float)


def fit(answers):
    """All figures of one simulation by name."""
    expected, right = np.array([one.expected for one in answers]), outcomes_of(answers)
    days = np.array([one.day for one in answers])
    return {
        "calibration": calibration_error(expected, right),
        "recalibrated": calibration_error(*recalibrated(days, expected, right)),
        "log-loss": log_loss(expected, right),
        "regression": beside_regression(answers),
        "constant": log_loss(np.full(len(right), right.mean()), right),
        "lead": np.mean(expected - right),
    }
