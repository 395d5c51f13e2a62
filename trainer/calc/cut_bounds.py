"""What no cut plan can do without: new sticks, and their length together. Inches."""

from __future__ import annotations

from collections.abc import Sequence

from trainer.calc.message import Quantity
from trainer.calc.packing import Stock, least_cost
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_up

__all__ = ["least_new_length", "least_sticks"]

_FORGIVEN = 1e-9


@steps(needed="in", room="in", by_length="sticks", lower_bound="sticks")
def least_sticks(
    total: float, pieces: tuple[float, ...], stock_length: float, kerf: float, offcuts: tuple[float, ...]
) -> int:
    """
    New sticks that are needed at least, whatever the plan.

    The larger of two counts: by total length, and by pieces of which no two fit in one stick.
    """
    count = len(pieces)
    note("count", "cut_plan.count", count=Quantity(count, "pieces"))
    needed = total + count * kerf
    if offcuts:
        offcut_count = len(offcuts)
        room = sum(offcuts) + offcut_count * kerf
        by_length = round_up((needed - room) / (stock_length + kerf))
    else:
        by_length = round_up(needed / (stock_length + kerf))
    large = _alone(pieces, stock_length, kerf)
    elsewhere = sum(int((offcut + kerf + _FORGIVEN) // (min(large) + kerf)) for offcut in offcuts) if large else 0
    alone = max(0, len(large) - elsewhere)
    note("alone", "cut_plan.alone", alone=Quantity(alone, "sticks"))
    lower_bound = max(by_length, alone)
    return lower_bound  # noqa: RET504 - the assignment is the step


@steps(least_length="in")
def least_new_length(
    lower_bound: int, pieces: Sequence[float], lengths: Sequence[float], kerf: float, offcuts: Sequence[float]
) -> float:
    """What no plan can do without of new stock: by all lengths together, and by pieces that share no stick."""
    if len(lengths) == 1:
        stock_length = lengths[0]
        least_length = lower_bound * stock_length
        return least_length  # noqa: RET504 - the assignment is the step
    need = sum(pieces) + len(pieces) * kerf - sum(offcuts) - len(offcuts) * kerf
    by_length = least_cost(need, [Stock(length + kerf, length) for length in lengths])
    alone = 0.0 if offcuts else sum(_shortest_for(piece, lengths) for piece in _alone(pieces, max(lengths), kerf))
    found = max(by_length, alone)
    note("least_length", "cut_plan.least-length", least=Quantity(found, "in"))
    return found


def _alone(pieces: Sequence[float], stick: float, kerf: float) -> list[float]:
    """Pieces of which no two fit in one stick."""
    return [piece for piece in pieces if 2 * piece + kerf > stick + _FORGIVEN]


def _shortest_for(piece: float, lengths: Sequence[float]) -> float:
    return min(length for length in lengths if piece <= length + _FORGIVEN)
