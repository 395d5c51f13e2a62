"""
A search among wrong routes: over many problems of a family, which lead to a value of their own, which are a known
mistake already, and which nobody could tell from a right answer.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from msgspec import Struct, field

from trainer.calc.units import UNITS, convert
from trainer.problems.draw import draw
from trainer.problems.model import CHOOSING, AnswerKind
from trainer.problems.parts import Family
from trainer.problems.wrong_routes import Attempt, Route, attempt, leads_to
from trainer.problems.wrong_routes_listed import routes
from trainer.problems.wrong_routes_written import expression_of, is_worth

__all__ = ["Found", "NotNumericError", "search"]

#: Share of the problems in which a route shows something for it to be said of the route.
MOSTLY = 0.5
FORGIVEN = 1e-9
TAKEN_FOR = " taken for "
#: Longer than any expression.
LONGEST = 10_000
#: What the core puts behind a name for a convention; the slip is the same on each.
BASIS_SUFFIX = re.compile(r"_(?:handbook|arc)\b")


class NotNumericError(ValueError):
    """A family that is answered by choosing has no numeric routes."""


class Found(Struct):
    """
    A wrong route over many problems.

    Args:
        did: What is done otherwise, and where; all routes that lead to the same values in the same problems.
        expressions: For the question file, one for each basis; none where a number in it has no name there.
        taken: In how many problems it can be taken, and comes to another value than the right one.
        alone: In how many of them its value stands away from every accepted answer and every known mistake.
        known: In how many it is the value of a known mistake, by its id.
        right: In how many it cannot be told from an accepted answer.
        seed: A problem in which it stands alone, or else can be taken.
        value: What it leads to there.
    """

    did: list[str]
    expressions: list[str] = field(default_factory=list)
    taken: int = 0
    alone: int = 0
    known: Counter[str] = field(default_factory=Counter)
    right: int = 0
    seed: int = 0
    value: float = 0.0

    @property
    def mistake(self) -> str:
        """The known mistake that it mostly is; "" for none."""
        return next((id_ for id_, times in self.known.most_common(1) if times >= MOSTLY * self.taken), "")

    @property
    def untold(self) -> bool:
        """Whether it mostly cannot be told from an accepted answer."""
        return self.right > MOSTLY * self.taken


def search(family: Family, draws: int) -> list[Found]:
    """
    Wrong routes of a family that can be taken at all, those first whose value most often stands alone.

    Args:
        family: One with a typed answer.
        draws: How many problems to draw, with the seeds from 0.

    Raises:
        NotNumericError: When the family is answered by choosing.
        DrawError: As drawing does.
    """
    if family.kind in CHOOSING:
        raise NotNumericError(family.id)
    rows: dict[tuple[object, ...], Found] = {}
    values: dict[tuple[object, ...], list[tuple[int, float]]] = {}
    for seed in range(draws):
        for key, route, output, value, on in _led(family, seed):
            if key not in rows:
                written = expression_of(route, output, on)
                rows[key], values[key] = Found([_words(route)], [written] if written else []), []
            found = rows[key]
            found.expressions = [one for one in found.expressions if is_worth(one, value, on)]
            _count(found, value, on)
            values[key].append((seed, round(value, 6)))
    alike = _alike([(tuple(values[key]), found) for key, found in rows.items()])
    return sorted(_on_every_basis(alike), key=_order)


def _order(found: Found) -> tuple[bool, int, int]:
    """One number taken for another last: there are many of these, and few that people do; the short ones first."""
    return TAKEN_FOR in found.did[0], -found.alone, len("".join(found.expressions)) or LONGEST


Led = tuple[tuple[object, ...], Route, str, float, Attempt]


def _led(family: Family, seed: int) -> Iterator[Led]:
    """Each route of one problem and where it leads."""
    on = attempt(family, draw(family, seed))
    seen = set()
    for route in routes(on):
        key = (route.place, route.name, route.did, route.formula, route.instead_of)
        if key not in seen:
            seen.add(key)
            for output, value in leads_to(route, on).items():
                if family.kind is not AnswerKind.COUNT or value.is_integer():
                    yield (*key, output), route, output, value, on


def _words(route: Route) -> str:
    return f"{route.name}: {route.did}" if route.name else route.did


def _count(found: Found, value: float, on: Attempt) -> None:
    """Put one problem to a route's count."""
    problem = on.problem
    found.taken += 1
    alone = False
    if _near_right(value, on):
        found.right += 1
    elif known := {
        mistake.id
        for mistake in problem.mistakes
        if isinstance(mistake.value, float) and abs(mistake.value - value) <= problem.tolerance + FORGIVEN
    }:
        found.known.update(known)
    else:
        found.alone += 1
        alone = True
    if found.taken == 1 or (alone and found.alone == 1):
        found.seed, found.value = problem.seed, value


def _near_right(value: float, on: Attempt) -> bool:
    """Whether a draw with it as a known mistake would be thrown out, or it is right in another unit."""
    problem = on.problem
    keys = [key.value for key in problem.keys if isinstance(key.value, float)]
    counted = problem.kind is AnswerKind.COUNT
    gap = 0.5 if counted else on.family.shape.ask.gap * problem.tolerance - FORGIVEN
    own = UNITS[problem.unit]
    others = [unit.id for unit in UNITS.values() if unit.quantity == own.quantity]
    readings = [convert(value, other, own.id) for other in others]
    return any(abs(value - key) < gap for key in keys) or any(
        abs(reading - key) <= problem.tolerance for reading in readings for key in keys
    )


def _alike(rows: Iterable[tuple[tuple[tuple[int, float], ...], Found]]) -> list[Found]:
    """Routes that lead to the same value whenever they can be taken, as one; the shortest expression stands for all."""
    groups: dict[tuple[tuple[int, float], ...], Found] = {}
    for led, found in rows:
        first = groups.setdefault(led, found)
        if first is not found:
            first.did += [did for did in found.did if did not in first.did]
            first.expressions = sorted([*first.expressions, *found.expressions], key=len)[:1]
    return list(groups.values())


def _on_every_basis(rows: Iterable[Found]) -> list[Found]:
    """The same slip on several bases as one: it stands alone where it does so on each of them."""
    merged: list[Found] = []
    slips: dict[str, Found] = {}
    for found in rows:
        said = [BASIS_SUFFIX.sub("", did) for did in found.did]
        same = next((slips[did] for did in said if did in slips), None)
        if same is None:
            merged.append(found)
        else:
            same.expressions += [one for one in found.expressions if one not in same.expressions]
            same.alone, same.taken = min(same.alone, found.alone), max(same.taken, found.taken)
            same.right, same.known = max(same.right, found.right), same.known | found.known
        for did in said:
            slips.setdefault(did, same or found)
    return merged
