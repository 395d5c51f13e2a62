"""
The least number of new sticks for a list of pieces: first-fit decreasing, then a small exact search.

All sizes have the kerf added already (a piece and its cut; a stick and one kerf, because a piece that ends exactly at
the stick's end needs no last cut), so that a stick holds pieces whose sizes sum to no more than its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trainer.calc.trig import round_up

__all__ = ["Packing", "pack"]

_FORGIVEN = 1e-9
#: Steps that the exact search may take: a fraction of a second.
MOST_STEPS = 20_000
#: Pieces up to which it is tried at all; it goes one level deeper with each.
MOST_PIECES = 60


@dataclass(frozen=True, slots=True)
class Packing:
    """
    Which pieces go in which stick; a piece is named by its index in the list that was given.

    Args:
        offcuts: Pieces placed in each offcut, in the order in which the offcuts were given.
        sticks: Pieces placed in each new stick.
        least: Whether fewer new sticks are proved impossible.
    """

    offcuts: tuple[tuple[int, ...], ...]
    sticks: tuple[tuple[int, ...], ...]
    least: bool


def pack(sizes: Sequence[float], stick: float, bound: int, offcuts: Sequence[float] = ()) -> Packing:
    """
    Place every piece, with as few new sticks as can be found.

    Args:
        sizes: Size of each piece, none above `stick`.
        stick: Size of a new stick.
        bound: New sticks that are known to be needed at least; the search ends when it is met.
        offcuts: Sizes of the offcuts, which cost nothing.

    >>> pack([40, 60, 60, 40, 40, 60], 120, 3).sticks
    ((1, 2), (5, 0), (3, 4))
    """
    order = sorted(range(len(sizes)), key=lambda piece: -sizes[piece])
    search = _Search([sizes[piece] for piece in order], stick, bound, tuple(offcuts))
    search.run()
    placed = tuple(tuple(order[item] for item in bin_) for bin_ in search.best)
    return Packing(placed[: len(offcuts)], placed[len(offcuts) :], search.proved)


class _Search:
    """Depth-first over the pieces from the longest: each into one of the open sticks, or into a new one."""

    def __init__(self, sizes: list[float], stick: float, bound: int, offcuts: tuple[float, ...]) -> None:
        self.sizes = sizes
        self.stick = stick
        self.bound = bound
        self.offcuts = offcuts
        self.steps_left = MOST_STEPS if len(sizes) <= MOST_PIECES else 0
        self.best = self._first_fit()

    @property
    def proved(self) -> bool:
        """Whether the best plan is known to be one of the least."""
        return self._new(self.best) <= self.bound or self.steps_left > 0

    def run(self) -> None:
        """Better the first-fit plan until it meets the bound, all is tried, or the steps are used up."""
        if self._new(self.best) > self.bound:
            self._place(0, [[] for _ in self.offcuts], list(self.offcuts))

    def _first_fit(self) -> list[list[int]]:
        """First-fit decreasing: each piece into the first stick that has room."""
        bins: list[list[int]] = [[] for _ in self.offcuts]
        rooms = list(self.offcuts)
        for item, size in enumerate(self.sizes):
            place = next((index for index, room in enumerate(rooms) if size <= room + _FORGIVEN), len(rooms))
            if place == len(rooms):
                bins.append([])
                rooms.append(self.stick)
            bins[place].append(item)
            rooms[place] -= size
        return bins

    def _new(self, bins: list[list[int]]) -> int:
        return len(bins) - len(self.offcuts)

    def _place(self, item: int, bins: list[list[int]], rooms: list[float]) -> bool:
        """Place this piece and all after it; True ends the search."""
        if self.steps_left == 0:
            return True
        self.steps_left -= 1
        if item == len(self.sizes):
            self.best = [list(bin_) for bin_ in bins]
            return self._new(bins) <= self.bound
        return any(self._into(place, item, bins, rooms) for place in self._places(item, bins, rooms))

    def _places(self, item: int, bins: list[list[int]], rooms: list[float]) -> list[int]:
        """Sticks with room, the tightest first, one of several with equal room; then a new one, if it can still pay."""
        size = self.sizes[item]
        fitting = {round(room, 9): place for place, room in enumerate(rooms) if size <= room + _FORGIVEN}
        if not self._can_better(item, bins, rooms):
            return []
        another = [len(bins)] if self._new(bins) + 1 < self._new(self.best) else []
        return [fitting[room] for room in sorted(fitting)] + another

    def _can_better(self, item: int, bins: list[list[int]], rooms: list[float]) -> bool:
        """Whether the pieces left can end with fewer new sticks than the best plan, by their length alone."""
        free = sum(room for room in rooms if room + _FORGIVEN >= self.sizes[-1])
        more = round_up((sum(self.sizes[item:]) - free) / self.stick)
        return self._new(bins) + max(0, more) < self._new(self.best)

    def _into(self, place: int, item: int, bins: list[list[int]], rooms: list[float]) -> bool:
        opened = place == len(bins)
        if opened:
            bins.append([])
            rooms.append(self.stick)
        room = rooms[place]
        bins[place].append(item)
        rooms[place] = room - self.sizes[item]
        done = self._place(item + 1, bins, rooms)
        bins[place].pop()
        rooms[place] = room
        if opened:
            bins.pop()
            rooms.pop()
        return done
