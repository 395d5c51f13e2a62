"""Second methods for what is counted: every way to fill the sticks, and a walk along the run from strap to strap."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from trainer.calc.cut_plan import CutPlan
from trainer.calc.evidence_check import Check, Values
from trainer.calc.message import Message, Quantity
from trainer.calc.strap_places import StrapPlaces
from trainer.calc.straps import Ends, StrapCount
from trainer.calc.tables import table

__all__ = ["places_by_walking", "sticks_by_all_ways", "straps_by_walking"]

#: Pieces up to which all ways are tried: 4,096 sets of them.
MOST_PIECES = 12

_FORGIVEN = 1e-9


def sticks_by_all_ways(values: Values, result: CutPlan) -> Iterator[Check]:
    """The fewest sticks of all ways to cut the pieces, for a short list and one length of stick."""
    pieces, kerf = values["pieces"], values.get("kerf") or 0.0
    if values.get("offcuts") or values.get("other_stock") or len(pieces) > MOST_PIECES:
        return
    stick = values.get("stock_length") or table("cutting")["stick"]["length"]
    fewest = _fewest([piece + kerf for piece in pieces], stick + kerf)
    method = Message("evidence.method.all-ways", {"pieces": Quantity(len(pieces), "pieces")})
    yield Check(method, "sticks", "sticks", result.sticks, fewest, 0)


def _fewest(sizes: Sequence[float], stick: float) -> int:
    """For each set of pieces the fewest sticks, and then the least of the last one that is used up."""
    best = {0: (1, 0.0)}
    for chosen in range(1, 1 << len(sizes)):
        last = [(chosen & ~(1 << index), size) for index, size in enumerate(sizes) if chosen >> index & 1]
        best[chosen] = min(_with(best[before], size, stick) for before, size in last)
    return best[(1 << len(sizes)) - 1][0]


def _with(so_far: tuple[int, float], size: float, stick: float) -> tuple[int, float]:
    sticks, used = so_far
    return (sticks, used + size) if used + size <= stick + _FORGIVEN else (sticks + 1, size)


def straps_by_walking(values: Values, result: StrapCount) -> Iterator[Check]:
    """Going along the run and fastening as late as allowed."""
    rule = table("support")["emt"]
    apart = values.get("max_spacing") or rule["max_spacing"]
    plain = values.get("max_from_end") or rule["max_from_end"]
    further = max(rule["max_from_end_exception"], plain)
    ends = values.get("ends") or Ends.PLAIN
    start, end = (plain if ends == Ends.PLAIN else further, further if ends == Ends.TWO_EXCEPTIONS else plain)
    run, method = values["run_length"], Message("evidence.method.walk")
    yield Check(method, "straps", "straps", result.straps, _walked(run, start, end, apart), 0)


def _walked(run: float, start: float, end: float, apart: float) -> int:
    place, straps = min(start, run), 1
    while run - place > end + _FORGIVEN:
        place, straps = place + apart, straps + 1
    return straps


def places_by_walking(values: Values, result: StrapPlaces) -> Iterator[Check]:
    """Going from end to end over the places, always to the furthest that is still within reach; no straps are there yet."""
    if values.get("straps"):
        return
    rule = table("support")["emt"]
    apart = values.get("max_spacing") or rule["max_spacing"]
    reach = values.get("max_from_end") or rule["max_from_end"]
    bends = values.get("bends") or ()
    usable = [place for place in values["places"] if not any(bend.start < place < bend.end for bend in bends)]
    ends = sorted({0.0, *(values.get("terminations") or ()), values["run_length"]})
    stretches = [(start, end, [one for one in usable if start <= one <= end]) for start, end in pairwise(ends)]
    if any(place in ends for place in usable):
        return
    straps = sum(_over_places(places, start + reach, end - reach, apart) for start, end, places in stretches)
    yield Check(Message("evidence.method.walk"), "fewest", "straps", result.fewest, straps, 0)


def _over_places(places: Sequence[float], first: float, enough: float, apart: float) -> int:
    """Straps of one stretch: the first no further than `first`, the last no nearer than `enough`."""
    straps, here = 1, max(place for place in places if place <= first + _FORGIVEN)
    while here < enough - _FORGIVEN:
        straps, here = straps + 1, max(place for place in places if place <= here + apart + _FORGIVEN)
    return straps
