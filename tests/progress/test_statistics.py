"""Each statistic against a second method that shares no formula with it."""

from random import Random

import numpy as np
import pytest
from scipy import stats

from trainer.progress.statistics import (
    agreement_of_halves,
    chi_square_p,
    correlation_of_sums,
    fisher_upper,
    fit_z,
    kr20,
    spread_p,
    wilson,
)


@pytest.mark.parametrize(("right", "of"), [(0, 20), (1, 20), (12, 20), (20, 20), (130, 400)])
def test_the_range_of_a_share_is_wilsons(right, of):
    expected = stats.binomtest(right, of).proportion_ci(method="wilson")

    assert wilson(right, of) == pytest.approx((expected.low, expected.high), abs=1e-12)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 8])
@pytest.mark.parametrize("value", [0.0, 0.3, 3.84, 11.0, 40.0])
def test_the_tail_of_chi_square(value, freedom):
    assert chi_square_p(value, freedom) == pytest.approx(stats.chi2.sf(value, freedom), abs=1e-12)


def test_an_endless_chi_square_has_no_chance():
    assert chi_square_p(float("inf"), 3) == 0


@pytest.mark.parametrize("groups", [[(30, 40), (10, 40)], [(5, 30), (12, 31), (29, 33)]])
def test_the_spread_of_shares_is_a_table_of_counts(groups):
    table = np.array([[right, of - right] for right, of in groups])

    assert spread_p(groups) == pytest.approx(stats.chi2_contingency(table, correction=False).pvalue)


@pytest.mark.parametrize("groups", [[(0, 30), (0, 30)], [(30, 30), (30, 30)], [(3, 30)]])
def test_where_nothing_varies_no_spread_is_found(groups):
    assert spread_p(groups) == 1


def correlation(pairs):
    first, second = ([pair[at] for pair in pairs] for at in (0, 1))
    squares = [sum(one * one for one in values) for values in (first, second)]
    sums = [(sum(first), squares[0]), (sum(second), squares[1])]
    return correlation_of_sums(len(pairs), *sums, sum(one * other for one, other in pairs))


def test_correlation_and_its_bound():
    random = Random(5)
    pairs = [(level, float(random.random() < 0.5 + 0.2 * level)) for level in (random.gauss(0, 1) for _ in range(80))]
    found = stats.pearsonr(*zip(*pairs, strict=True))
    bound = found.confidence_interval(0.90).high

    assert correlation(pairs) == pytest.approx(found.statistic)
    assert fisher_upper(correlation(pairs), len(pairs)) == pytest.approx(bound)
    assert correlation([]) == correlation([(1.0, 0.0), (1.0, 1.0)]) == 0
    assert fisher_upper(1.0, 50) == pytest.approx(1.0)


def test_the_fit_is_the_distance_from_what_was_expected():
    chances = [0.2, 0.5, 0.9, 0.7]
    answers = np.random.default_rng(3).random((200_000, 4)) < chances
    simulated = (3 - answers.sum(axis=1).mean()) / answers.sum(axis=1).std()

    assert fit_z(3, sum(chances), sum(chance * (1 - chance) for chance in chances)) == pytest.approx(
        simulated, abs=0.02
    )


def sheets(people=60, problems=12, seed=1):
    draws = np.random.default_rng(seed)
    able, hard = draws.normal(size=(people, 1)), draws.normal(size=(1, problems))
    return draws.random((people, problems)) < 1 / (1 + np.exp(hard - 1.5 * able))


def test_kr_20_is_alpha_for_right_and_not_right():
    answers = sheets()
    covariances = np.cov(answers.astype(float), rowvar=False, ddof=0)
    problems = answers.shape[1]
    alpha = problems / (problems - 1) * (1 - np.trace(covariances) / covariances.sum())

    assert kr20(answers.tolist()) == pytest.approx(alpha)
    assert kr20([[True, False]] * 3) == 0


def test_halves_of_a_sheet_decide_alike_or_not():
    assert agreement_of_halves([[True] * 4, [False] * 4, [True, False, True, False]], 0.5) == pytest.approx(2 / 3)
