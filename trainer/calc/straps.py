"""How many straps a run takes, and one good place for each. Inches; the steps count in feet, as the rule does."""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Quantity
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_up

__all__ = ["STRAP_COUNT", "Ends", "StrapCount", "strap_count"]

_RULE = table("support")["emt"]

#: Below this [ft] people ask whether a piece needs a strap at all; no exception is written.
SHORT_PIECE = 3.0

_FORGIVEN = 1e-9


class Ends(StrEnum):
    """At which ends the first fastener may be further away, by exception 1 of the rule."""

    PLAIN = "plain"
    ONE_EXCEPTION = "exception-at-one-end"
    TWO_EXCEPTIONS = "exception-at-both-ends"


RUN_LENGTH = Input("run_length", Kind.LENGTH, "42 ft", "in", above=0, most=12_000)
ENDS = Input("ends", Kind.CHOICE, "plain", optional=True, choices=tuple(Ends))
MAX_SPACING = Input("max_spacing", Kind.LENGTH, "10 ft", "in", optional=True, least=6)
MAX_FROM_END = Input("max_from_end", Kind.LENGTH, "3 ft", "in", optional=True, least=3)
FLOORS = Input("floors", Kind.LENGTHS, "4 ft, 14 ft", "in", optional=True, above=0, most=12_000)


class StrapCount(Struct, frozen=True):
    """
    The straps of one stretch between two terminations.

    Args:
        straps: The least number.
        positions: One good layout, from the end where the run starts [in]. Others are as right.
    """

    straps: int
    positions: tuple[float, ...]


@steps()
def strap_count(
    run_length: float,
    ends: str = Ends.PLAIN,
    max_spacing: float = _RULE["max_spacing"],
    max_from_end: float = _RULE["max_from_end"],
    floors: tuple[float, ...] = (),
) -> StrapCount:
    """
    The least number of straps between two terminations (boxes, cabinets, conduit bodies, ends of the tubing).

    Args:
        run_length: Along the tube from termination to termination [in], above 0. Split a run at every box and body.
        ends: Where exception 1 holds: an unbroken piece, and no framing nearer to fasten to. With one exception it
            is the start's.
        max_spacing: The most between two straps [in].
        max_from_end: The most from a termination to its strap [in].
        floors: Where an upright run comes through floors, from its start [in]: for the drawing; the rule does not ask.

    Raises:
        InputError: When one lies outside its range.

    Source: geometry on NFPA 70-2023 358.30(A).

    >>> strap_count(26 * 12).straps
    3
    """
    RUN_LENGTH.check(run_length)
    ENDS.check(ends)
    MAX_SPACING.check(max_spacing)
    MAX_FROM_END.check(max_from_end)
    FLOORS.check(floors)
    start, end = _reach(ends, max_from_end)
    straps = _least(run_length, start / 12, end / 12, max_spacing / 12)
    return StrapCount(straps, _layout(straps, run_length, start, end, max_spacing))


@steps(run="ft", between="ft", straps="straps")
def _least(run_length: float, first: float, last: float, apart: float) -> int:
    """The least number for the whole run [in]; how far first and last may be from the ends, and how far apart [ft]."""
    run = run_length / 12
    note("first", "strap_count.first", reach=Quantity(first, "ft"))
    note("last", "strap_count.last", reach=Quantity(last, "ft"))
    if run < SHORT_PIECE:
        note("run", "strap_count.short-piece")
    between = run - first - last
    if between < _FORGIVEN:
        note("straps", "strap_count.one-is-enough", reach=Quantity(first + last, "ft"))
        return 1
    note("apart", "strap_count.apart", apart=Quantity(apart, "ft"))
    straps = 1 + round_up(between / apart)
    return straps  # noqa: RET504 - the assignment is the step


def _reach(ends: str, max_from_end: float) -> tuple[float, float]:
    """How far the first and the last strap may be from their terminations [in]."""
    further = max(_RULE["max_from_end_exception"], max_from_end)
    start = max_from_end if ends == Ends.PLAIN else further
    end = further if ends == Ends.TWO_EXCEPTIONS else max_from_end
    return start, end


def _layout(straps: int, run_length: float, start: float, end: float, max_spacing: float) -> tuple[float, ...]:
    """Every distance drawn in by the same share, so that each strap has equal room for framing to be off."""
    share = run_length / (start + end + (straps - 1) * max_spacing)
    return tuple(share * (start + index * max_spacing) for index in range(straps))


STRAP_COUNT = Calculation(
    name="strap_count",
    function=strap_count,
    inputs=(RUN_LENGTH, ENDS, MAX_SPACING, MAX_FROM_END, FLOORS),
    outputs=(Output("straps", "straps"), Output("positions", "in")),
    sources=(_RULE["source"], "number and layout: geometry"),
    area="support",
    example_inputs={"run_length": "42 ft"},
)
