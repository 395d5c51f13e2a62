"""Round things that lie in a round bore, each as low as it will go: a picture of room taken, not of a real pull."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, hypot, sin

__all__ = ["MOST_PILED", "pile"]

#: So many are piled at most; more would take long and show nothing.
MOST_PILED = 60

_FORGIVEN = 1e-6
Round = tuple[float, float, float]


def pile(radii: Sequence[float], bore: float) -> list[Round]:
    """
    Where round things come to lie.

    Args:
        radii: Of each, in the order in which they are laid.
        bore: Radius of the bore, in the same unit; its centre is (0, 0), y grows downward.

    Returns:
        Centre and radius of each that found a place, at most `MOST_PILED`.

    >>> pile([1.0], 3.0)
    [(0.0, 2.0, 1.0)]
    """
    laid: list[Round] = []
    places: list[tuple[float, float]] = []
    last = -1.0
    for radius in radii[:MOST_PILED]:
        if radius != last:
            places, last = _places(laid, radius, bore), radius
        found = max(places, key=lambda place: (round(place[1], 6), -abs(place[0])), default=None)
        if found is None:
            continue
        laid.append((*found, radius))
        fresh = _touching(laid[-1], laid[:-1], radius, bore)
        places = [place for place in (*places, *fresh) if _is_free(place, radius, laid, bore)]
    return laid


def _places(laid: Sequence[Round], radius: float, bore: float) -> list[tuple[float, float]]:
    """Every free place where one of this radius would touch two things, the wall being one."""
    found = [(0.0, bore - radius)]
    for index, one in enumerate(laid):
        found += _touching(one, laid[:index], radius, bore)
    return [place for place in found if _is_free(place, radius, laid, bore)]


def _touching(one: Round, others: Sequence[Round], radius: float, bore: float) -> list[tuple[float, float]]:
    """Places where one of this radius touches `one` and the wall, or `one` and one of the others."""
    own = (one[0], one[1], one[2] + radius)
    circles = [(0.0, 0.0, bore - radius), *((x, y, other + radius) for x, y, other in others)]
    return [place for circle in circles for place in _crossings(own, circle)]


def _crossings(one: Round, other: Round) -> list[tuple[float, float]]:
    """Where two circles cross."""
    across, down = other[0] - one[0], other[1] - one[1]
    apart = hypot(across, down)
    if apart < _FORGIVEN or apart > one[2] + other[2] or apart < abs(one[2] - other[2]):
        return []
    turn = (one[2] ** 2 + apart**2 - other[2] ** 2) / (2 * apart * one[2])
    half = atan2(max(0.0, 1 - turn**2) ** 0.5, turn)
    ahead = atan2(down, across)
    return [
        (one[0] + one[2] * cos(ahead + side * half), one[1] + one[2] * sin(ahead + side * half)) for side in (1, -1)
    ]


def _is_free(place: tuple[float, float], radius: float, laid: Sequence[Round], bore: float) -> bool:
    x, y = place
    if hypot(x, y) > bore - radius + _FORGIVEN:
        return False
    return all(hypot(x - one, y - other) >= radius + taken - _FORGIVEN for one, other, taken in laid)
