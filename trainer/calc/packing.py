"""
The least new stock for a list of pieces: first-fit decreasing, then a small exact search.

All sizes have the kerf added already (a piece and its cut; a stick and one kerf, because a piece that ends exactly at
the stick's end needs no last cut), so that a stick holds pieces whose sizes sum to no more than its own. What a stick
costs is its length; of plans that cost the same the one with fewer sticks is better.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import accumulate

from msgspec import Struct

from trainer.calc.trig import round_up

__all__ = ["Packing", "Stock", "least_cost", "pack"]

_FORGIVEN = 1e-9
#: Steps that the exact search may take: a fraction of a second.
MOST_STEPS = 20_000
#: Pieces up to which it is tried at all; it goes one level deeper with each.
MOST_PIECES = 60
#: What one more stick weighs against length: nothing but a way to choose between equal plans.
_A_STICK = 1e-6
#: Totals of stock that a bound is rounded up to, at most; with more it is left as it is.
_MOST_TOTALS = 5_000


class Stock(Struct, frozen=True):
    """
    New sticks of one length, of which there are enough.

    Args:
        size: What one holds.
        cost: What one costs.
    """

    size: float
    cost: float


class Packing(Struct, frozen=True):
    """
    Which pieces go in which stick; a piece is named by its index in the list that was given.

    Args:
        offcuts: Pieces placed in each offcut, in the order in which the offcuts were given.
        sticks: Pieces placed in each new stick.
        stocks: Of which stock each new stick is: its index in the list that was given.
        least: Whether a cheaper plan is proved impossible.
    """

    offcuts: tuple[tuple[int, ...], ...]
    sticks: tuple[tuple[int, ...], ...]
    stocks: tuple[int, ...]
    least: bool


def pack(sizes: Sequence[float], stocks: Sequence[Stock], bound: float, offcuts: Sequence[float] = ()) -> Packing:
    """
    Place every piece, with as little new stock as can be found.

    Args:
        sizes: Size of each piece, none above the largest stock.
        stocks: New sticks that can be had.
        bound: Cost that is known to be needed at least; with one stock the search ends when it is met.
        offcuts: Sizes of the offcuts, which cost nothing.

    >>> pack([40, 60, 60, 40, 40, 60], [Stock(120, 120)], 360).sticks
    ((1, 2), (5, 0), (3, 4))
    >>> pack([100, 100, 40], [Stock(120, 120), Stock(240, 240)], 240).stocks
    (1,)
    """
    order = sorted(range(len(sizes)), key=lambda piece: -sizes[piece])
    search = _Search([sizes[piece] for piece in order], stocks, bound, tuple(offcuts))
    search.run()
    placed = tuple(tuple(order[item] for item in bin_) for bin_ in search.best.bins)
    return Packing(placed[: len(offcuts)], placed[len(offcuts) :], tuple(search.best.kinds), least=search.proved)


def least_cost(need: float, stocks: Sequence[Stock]) -> float:
    """
    What new stock must cost at least that holds so much.

    >>> least_cost(250, [Stock(120, 120), Stock(240, 240)])
    360.0
    """
    return _Costs(stocks, need).at_least(need)


class _Costs:
    """Bounds by size alone: no plan is cheaper than the best price of size, and every plan costs a sum of sticks."""

    def __init__(self, stocks: Sequence[Stock], most_size: float) -> None:
        self.price = min(stock.cost / stock.size for stock in stocks)
        dearest = max(stock.cost for stock in stocks)
        self.totals = _totals([stock.cost for stock in stocks], most_size * self.price + dearest)

    def at_least(self, size: float) -> float:
        """The least that stock of this size in all can cost."""
        if size <= _FORGIVEN:
            return 0
        cost = size * self.price
        place = bisect_left(self.totals, cost - _FORGIVEN)
        return self.totals[place] if place < len(self.totals) else cost


def _totals(costs: Sequence[float], most: float) -> list[float]:
    """Every sum of sticks up to `most`; none where there are too many to list."""
    sums = {0.0: None}
    for cost in costs:
        for total in list(sums):
            reached = total + cost
            while reached <= most + _FORGIVEN:
                sums[reached] = None
                reached += cost
                if len(sums) > _MOST_TOTALS:
                    return []
    return sorted(sums)


class _Plan(Struct, frozen=True):
    """Pieces in each offcut and each new stick; and of which stock each new stick is."""

    bins: tuple[tuple[int, ...], ...]
    kinds: tuple[int, ...]
    cost: float


class _Search:
    """Depth-first over the pieces from the longest: each into one of the open sticks, or into a new one."""

    def __init__(self, sizes: list[float], stocks: Sequence[Stock], bound: float, offcuts: tuple[float, ...]) -> None:
        self.sizes = sizes
        self.stocks = stocks
        self.bound = bound
        self.offcuts = offcuts
        self.largest = max(stock.size for stock in stocks)
        #: Kinds from the longest, and the size of each piece with all after it.
        self.longest_first = sorted(range(len(stocks)), key=lambda kind: -stocks[kind].size)
        self.still_to_place = [*accumulate(reversed(sizes), initial=0.0)][::-1]
        self.steps_left = MOST_STEPS if len(sizes) <= MOST_PIECES else 0
        self.best = min((self._first_fit(kind) for kind in range(len(stocks))), key=lambda plan: plan.cost)
        self.costs = _Costs(stocks, sum(sizes))
        self.bins: list[list[int]] = [[] for _ in offcuts]
        self.rooms = list(offcuts)
        self.kinds: list[int] = []
        self.cost = 0.0

    @property
    def proved(self) -> bool:
        """Whether the best plan is known to be one of the cheapest."""
        return self.best.cost <= self._bound_with_sticks() or self.steps_left > 0

    def run(self) -> None:
        """Better the first-fit plan until it meets the bound, all is tried, or the steps are used up."""
        if not self._met():
            self._place(0)

    def _met(self) -> bool:
        """Whether the bound is met; with several stocks a plan as cheap can still have fewer sticks."""
        alike = len(self.stocks) == 1 or len(self.best.kinds) < 2
        return alike and self.best.cost <= self._bound_with_sticks()

    def _bound_with_sticks(self) -> float:
        return self.bound + _FORGIVEN + _A_STICK * len(self.best.kinds)

    def _first_fit(self, opened: int) -> _Plan:
        """First-fit decreasing into one kind of new stick, each changed at last for the cheapest that will do."""
        bins: list[list[int]] = [[] for _ in self.offcuts]
        rooms, kinds = list(self.offcuts), []
        for item, size in enumerate(self.sizes):
            place = next((index for index, room in enumerate(rooms) if size <= room + _FORGIVEN), len(rooms))
            if place == len(rooms):
                kinds.append(opened if size <= self.stocks[opened].size + _FORGIVEN else self._cheapest(size))
                bins.append([])
                rooms.append(self.stocks[kinds[-1]].size)
            bins[place].append(item)
            rooms[place] -= size
        contents = (sum(self.sizes[item] for item in bin_) for bin_ in bins[len(self.offcuts) :])
        return self._plan(bins, [self._cheapest(content) for content in contents])

    def _cheapest(self, size: float) -> int:
        fitting = (kind for kind, stock in enumerate(self.stocks) if size <= stock.size + _FORGIVEN)
        return min(fitting, key=lambda kind: self.stocks[kind].cost)

    def _plan(self, bins: Sequence[Sequence[int]], kinds: Sequence[int]) -> _Plan:
        cost = sum(self.stocks[kind].cost + _A_STICK for kind in kinds)
        return _Plan(tuple(map(tuple, bins)), tuple(kinds), cost)

    def _place(self, item: int) -> bool:
        """Place this piece and all after it; True ends the search."""
        if self.steps_left == 0:
            return True
        self.steps_left -= 1
        if item == len(self.sizes):
            self.best = self._plan(self.bins, self.kinds)
            return self._met()
        if not self._can_better(item):
            return False
        return any(self._into(place, item) for place in self._open_places(item)) or any(
            self._into_new(kind, item) for kind in self._new_kinds(item)
        )

    def _open_places(self, item: int) -> list[int]:
        """Sticks with room, the tightest first, one of several with equal room."""
        size = self.sizes[item]
        fitting = {round(room, 9): place for place, room in enumerate(self.rooms) if size <= room + _FORGIVEN}
        return [fitting[room] for room in sorted(fitting)]

    def _new_kinds(self, item: int) -> Iterator[int]:
        """New sticks that hold the piece and can still pay, the longest first."""
        for kind in self.longest_first:
            stock = self.stocks[kind]
            if self.sizes[item] <= stock.size + _FORGIVEN and self._pays(self.cost + stock.cost + _A_STICK):
                yield kind

    def _can_better(self, item: int) -> bool:
        """Whether the pieces left can end cheaper than the best plan, by their length alone."""
        shortest = self.sizes[-1] - _FORGIVEN
        more = self.still_to_place[item] - sum(room for room in self.rooms if room >= shortest)
        sticks = max(0, round_up(more / self.largest))
        return self._pays(self.cost + self.costs.at_least(more) + sticks * _A_STICK)

    def _pays(self, cost: float) -> bool:
        return cost < self.best.cost - _A_STICK / 2

    def _into(self, place: int, item: int) -> bool:
        room = self.rooms[place]
        self.bins[place].append(item)
        self.rooms[place] = room - self.sizes[item]
        done = self._place(item + 1)
        self.bins[place].pop()
        self.rooms[place] = room
        return done

    def _into_new(self, kind: int, item: int) -> bool:
        stock, before = self.stocks[kind], self.cost
        self.bins.append([item])
        self.rooms.append(stock.size - self.sizes[item])
        self.kinds.append(kind)
        self.cost = before + stock.cost + _A_STICK
        done = self._place(item + 1)
        self.bins.pop()
        self.rooms.pop()
        self.kinds.pop()
        self.cost = before
        return done
