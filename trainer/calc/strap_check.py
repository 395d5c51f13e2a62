"""Whether straps that are there, or that are planned, keep the rule. Inches."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.length import write_length
from trainer.calc.message import Message, Quantity
from trainer.calc.straps import STRAP_COUNT
from trainer.calc.stretches import Stretch
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["STRAP_CHECK", "StrapCheck", "Violation", "check_on_run", "strap_check", "violations_of"]

_RULE = table("support")["emt"]
_FORGIVEN = 1e-6

STRAPS = Input("straps", Kind.LENGTHS, "2 ft, 11 ft, 20 ft", "in", least=0)
TERMINATIONS = Input("terminations", Kind.LENGTHS, "12 ft", "in", optional=True, least=0)
EXCEPTIONS = Input("exceptions", Kind.LENGTHS, "0 ft", "in", optional=True, least=0)
BENDS = Input("bends", Kind.STRETCHES, "42 in to 49 in", optional=True)
RUN_LENGTH, MAX_SPACING, MAX_FROM_END = (
    STRAP_COUNT.input(name) for name in ("run_length", "max_spacing", "max_from_end")
)


class Violation(Struct, frozen=True):
    """
    One thing that is wrong.

    Args:
        kind: "no-strap", "first", "apart", "last" or "on-bend".
        start: Where it begins: a termination, a strap, a bend; from the start of the run [in].
        end: Where it ends [in].
        limit: How long it may be [in]; 0 for a strap on a bend.
    """

    kind: str
    start: float
    end: float
    limit: float

    def message(self) -> Message:
        """What is wrong as a sentence, in feet and inches."""
        lengths = {"start": self.start, "end": self.end, "length": self.end - self.start, "limit": self.limit}
        return Message(f"strap_check.{self.kind}", {name: _feet(length) for name, length in lengths.items()})


class StrapCheck(Struct, frozen=True):
    """
    What is wrong with the straps of a run.

    Args:
        holds: Whether nothing is.
        violation_count: How many things are.
        violations: Each, from the start of the run on; straps on bends last.
        widest_gap: Between two neighboring straps of one stretch, the widest there is; 0 where no two are [in].
    """

    holds: bool
    violation_count: int
    violations: tuple[Violation, ...]
    widest_gap: float


@steps(widest_gap="in")
def strap_check(
    run_length: float,
    straps: tuple[float, ...],
    *,
    terminations: tuple[float, ...] = (),
    exceptions: tuple[float, ...] = (),
    bends: tuple[Stretch, ...] = (),
    max_spacing: float = _RULE["max_spacing"],
    max_from_end: float = _RULE["max_from_end"],
) -> StrapCheck:
    """
    Hold straps against the rule, between every two terminations.

    Args:
        run_length: Along the tube from its first termination to its last [in], above 0.
        straps: Where the straps are, from the start of the run [in]; none beyond its end.
        terminations: Boxes, cabinets and conduit bodies between the two ends [in]; a coupling is none.
        exceptions: Terminations at which exception 1 holds [in]: an unbroken piece, and no framing nearer to fasten to.
        bends: Where the tube is bent, from where to where [in]; no strap holds there.
        max_spacing: The most between two straps [in].
        max_from_end: The most from a termination to its strap [in].

    Raises:
        InputError: When one lies outside its range or beyond the run, or an exception is at no termination.

    Source: NFPA 70-2023 358.30(A); that a strap never sits on a bend is common practice.

    >>> strap_check(240, (30, 156, 220)).violations[0].kind
    'apart'
    """
    named = {RUN_LENGTH: run_length, STRAPS: straps, TERMINATIONS: terminations, EXCEPTIONS: exceptions}
    for given, value in {**named, MAX_SPACING: max_spacing, MAX_FROM_END: max_from_end}.items():
        given.check(value)
    for given, places in ((STRAPS, straps), (TERMINATIONS, terminations)):
        check_on_run(given, places, run_length)
    check_on_run(BENDS, [bend.end for bend in bends], run_length)
    ends = sorted({0.0, *terminations, run_length})
    _check_exceptions(exceptions, ends)
    further = max(_RULE["max_from_end_exception"], max_from_end)
    reach = {end: further if _is_among(end, exceptions) else max_from_end for end in ends}
    note("violation_count", "strap_check.rule", reach=_feet(max_from_end), apart=_feet(max_spacing))
    if exceptions:
        note("violation_count", "strap_check.exception", reach=_feet(further))
    found = violations_of(straps, reach, bends, max_spacing)
    note("violation_count", "strap_check.stretches", count=Quantity(len(ends) - 1, "count"))
    for fault in found:
        line = fault.message()
        note("violation_count", line.id, **line.params)
    if not found:
        note("violation_count", "strap_check.holds")
    widest = _widest(ends, straps)
    if widest is None:
        return StrapCheck(not found, len(found), tuple(found), 0.0)
    strap, next_strap = widest
    widest_gap = next_strap - strap
    return StrapCheck(not found, len(found), tuple(found), widest_gap)


def _widest(ends: Sequence[float], straps: Sequence[float]) -> tuple[float, float] | None:
    """The two neighboring straps that are furthest apart, with no termination between them; None where no two are."""
    gaps = [gap for start, end in pairwise(ends) for gap in pairwise(_inside(start, end, straps))]
    return max(gaps, key=lambda gap: gap[1] - gap[0], default=None)


def _inside(start: float, end: float, straps: Sequence[float]) -> list[float]:
    """Straps of one stretch; one at a box counts on both sides of it."""
    return sorted(strap for strap in straps if start - _FORGIVEN <= strap <= end + _FORGIVEN)


def violations_of(
    straps: Sequence[float], reach: Mapping[float, float], bends: Sequence[Stretch], max_spacing: float
) -> list[Violation]:
    """
    What is wrong with straps; every input has been looked at before.

    Args:
        straps: Where they are [in].
        reach: For each termination, how far its strap may be [in]; the ends of the run with them.
        bends: No strap holds there.
        max_spacing: The most between two straps [in].

    Source: see `strap_check`.
    """
    ends = sorted(reach)
    found = [fault for start, end in pairwise(ends) for fault in _between(start, end, straps, reach, max_spacing)]
    return found + _on_bends(straps, bends)


def _between(
    start: float, end: float, straps: Sequence[float], reach: Mapping[float, float], max_spacing: float
) -> Iterator[Violation]:
    """One stretch between two terminations: a strap within reach of each, and none too far from the next."""
    inside = _inside(start, end, straps)
    if not inside:
        yield Violation("no-strap", start, end, reach[start])
        return
    gaps = [("first", start, inside[0], reach[start])]
    gaps += [("apart", here, there, max_spacing) for here, there in pairwise(inside)]
    gaps += [("last", inside[-1], end, reach[end])]
    for kind, here, there, limit in gaps:
        if there - here > limit + _FORGIVEN:
            yield Violation(kind, here, there, limit)


def _on_bends(straps: Sequence[float], bends: Sequence[Stretch]) -> list[Violation]:
    return [
        Violation("on-bend", strap, bend.end, 0.0)
        for bend in bends
        for strap in sorted(straps)
        if bend.start + _FORGIVEN < strap < bend.end - _FORGIVEN
    ]


def _feet(inches: float) -> str:
    return write_length(inches, feet=True)


def _is_among(place: float, places: Sequence[float]) -> bool:
    return any(abs(place - one) < _FORGIVEN for one in places)


def check_on_run(given: Input, places: Sequence[float], run_length: float) -> None:
    """Refuse a place beyond the end of the run [in]."""
    for place in places:
        if place > run_length + _FORGIVEN:
            length = {"length": _feet(run_length)}
            reason, accepted = Message("strap_check.beyond", length), Message("strap_check.on-run", length)
            raise given.refuse(reason, given.written(place), accepted)


def _check_exceptions(exceptions: Sequence[float], ends: Sequence[float]) -> None:
    for place in exceptions:
        if not _is_among(place, ends):
            accepted = Message("strap_check.terminations", {"places": [_feet(end) for end in ends]})
            raise EXCEPTIONS.refuse(Message("strap_check.no-termination"), EXCEPTIONS.written(place), accepted)


STRAP_CHECK = Calculation(
    name="strap_check",
    function=strap_check,
    inputs=(RUN_LENGTH, STRAPS, TERMINATIONS, EXCEPTIONS, BENDS, MAX_SPACING, MAX_FROM_END),
    outputs=(Output("holds"), Output("violation_count", "count"), Output("violations"), Output("widest_gap", "in")),
    sources=(_RULE["source"], "no strap on a bend: common practice, no source"),
    area="support",
    example_inputs={"run_length": "20 ft", "straps": "2 ft 6 in, 13 ft, 18 ft 4 in"},
)
