"""
Plain statistics of questions: how well answers fit what was expected, how sure a share is, what tells people apart.

Pure functions over plain numbers. The tests hold each against a second method.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atanh, erfc, exp, fsum, gamma, inf, sqrt, tanh

__all__ = [
    "agreement_of_halves",
    "chi_square_p",
    "correlation_of_sums",
    "fisher_upper",
    "fit_z",
    "kr20",
    "spread_p",
    "wilson",
]

Z_ONE_SIDED = 1.6448536269514722
"""95 of 100 lie below it (standard normal)."""
Z_TWO_SIDED = 1.959963984540054
"""95 of 100 lie between it and its negative (standard normal)."""


def fit_z(right: int, expected: float, spread: float) -> float:
    """
    How far the number of right answers lies from what was expected, in standard deviations; below 0 is harder.

    Args:
        right: How many were right.
        expected: Sum of the chances of that, before each answer.
        spread: Sum of each chance times that of the other outcome.

    >>> fit_z(0, 4 * 0.5, 4 * 0.25), fit_z(0, 0, 0)
    (-2.0, 0.0)
    """
    return (right - expected) / sqrt(spread) if spread else 0.0


def wilson(right: int, of: int) -> tuple[float, float]:
    """
    The range in which a share lies with 95 of 100, by Wilson's score.

    Args:
        right: How many were right.
        of: Of how many, 1 at least.

    Source: E. B. Wilson 1927.
    >>> tuple(round(end, 3) for end in wilson(8, 10))
    (0.49, 0.943)
    """
    share, square = right / of, Z_TWO_SIDED**2
    middle = (share + square / (2 * of)) / (1 + square / of)
    half = Z_TWO_SIDED * sqrt(share * (1 - share) / of + square / (4 * of * of)) / (1 + square / of)
    return max(0.0, middle - half), min(1.0, middle + half)


def correlation_of_sums(count: int, first: tuple[float, float], second: tuple[float, float], products: float) -> float:
    """
    Pearson's correlation from sums; 0 where one of the two does not vary.

    Args:
        count: How many pairs.
        first: The sum of one of the two, and that of its squares.
        second: The same of the other.
        products: The sum of their products.

    >>> round(correlation_of_sums(3, (3, 5), (6, 14), 8), 6)
    1.0
    """
    spreads = [count * squares - total * total for total, squares in (first, second)]
    if min(spreads) <= 0:
        return 0.0
    return (count * products - first[0] * second[0]) / sqrt(spreads[0] * spreads[1])


def fisher_upper(correlated: float, of: int) -> float:
    """
    The bound below which a correlation lies with 95 of 100, by Fisher's transform.

    Args:
        correlated: The correlation found.
        of: From how many pairs, 4 at least.

    Source: R. A. Fisher 1921.
    >>> round(fisher_upper(0.0, 50), 3)
    0.235
    """
    inside = max(-1 + 1e-12, min(1 - 1e-12, correlated))
    return tanh(atanh(inside) + Z_ONE_SIDED / sqrt(of - 3))


def chi_square_p(value: float, freedom: int) -> float:
    """
    The chance of a chi-square at least so large.

    Args:
        value: The statistic, not below 0.
        freedom: Degrees of freedom, 1 at least.

    Source: closed sums for whole degrees of freedom, Abramowitz and Stegun 26.4.4 and 26.4.5.
    >>> round(chi_square_p(3.841, 1), 3), round(chi_square_p(5.991, 2), 3)
    (0.05, 0.05)
    """
    half = value / 2
    if half == inf:
        return 0.0
    if freedom % 2 == 0:
        return exp(-half) * fsum(half**k / gamma(k + 1) for k in range(freedom // 2))
    tail = fsum(half ** (k - 0.5) / gamma(k + 0.5) for k in range(1, (freedom - 1) // 2 + 1))
    return erfc(sqrt(half)) + exp(-half) * tail


def spread_p(groups: Sequence[tuple[int, int]]) -> float:
    """
    The chance that groups differ so much in their shares by luck alone: chi-square over right and not right.

    Args:
        groups: For each group how many were right, and of how many.

    >>> round(spread_p([(20, 40), (20, 40)]), 3)
    1.0
    """
    right, of = sum(one for one, _ in groups), sum(count for _, count in groups)
    if right in {0, of} or len(groups) < 2:
        return 1.0
    share = right / of
    value = fsum((got - count * share) ** 2 / (count * share * (1 - share)) for got, count in groups)
    return chi_square_p(value, len(groups) - 1)


def kr20(sheets: Sequence[Sequence[bool]]) -> float:
    """
    How well a sheet tells its people apart, by Kuder and Richardson's formula 20; 0 where nobody differs.

    Args:
        sheets: A row for each person: whether each problem was right; 2 problems at least.

    Source: Kuder and Richardson 1937; variance of the people at hand, not estimated for others.
    """
    people, problems = len(sheets), len(sheets[0])
    totals = [sum(sheet) for sheet in sheets]
    mean = fsum(totals) / people
    variance = fsum((total - mean) ** 2 for total in totals) / people
    if not variance:
        return 0.0
    shares = [sum(sheet[at] for sheet in sheets) / people for at in range(problems)]
    within = fsum(share * (1 - share) for share in shares)
    return problems / (problems - 1) * (1 - within / variance)


def agreement_of_halves(sheets: Sequence[Sequence[bool]], passing: float) -> float:
    """
    The share of people whom both halves of a sheet, its odd and its even problems, find passing or not passing alike.

    Args:
        sheets: As for `kr20`.
        passing: The share of problems that passes.
    """
    halves = [(sheet[::2], sheet[1::2]) for sheet in sheets]
    alike = sum((sum(one) >= passing * len(one)) == (sum(other) >= passing * len(other)) for one, other in halves)
    return alike / len(sheets)
