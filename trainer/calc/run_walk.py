"""A finished run walked from the panel to the junction box: its straps held against the rule, its bends added up. Inches."""

from __future__ import annotations

from itertools import accumulate

from msgspec import Struct

from trainer.calc.bend_total import BEND_TOTAL, bend_total
from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message
from trainer.calc.strap_check import STRAP_CHECK, Violation, check_on_run, strap_check
from trainer.calc.stretches import Stretch
from trainer.calc.tables import table
from trainer.calc.trace import steps

__all__ = ["RUN_WALK", "RunWalk", "run_walk"]

MOST_STRAPS = 20
_RULE, _TOTAL = table("support")["emt"], table("bends")["total"]

GAPS = Input("gaps", Kind.LENGTHS, "2 ft, 9 ft 6 in, 11 ft, 30 in", "in", above=0)
COUPLINGS = Input("couplings", Kind.LENGTHS, "10 ft", "in", optional=True, least=0)
BENDS, MAX_SPACING, MAX_FROM_END = (STRAP_CHECK.input(name) for name in ("bends", "max_spacing", "max_from_end"))
LIMIT = BEND_TOTAL.input("limit")
ANGLES = Input("angles", Kind.ANGLES, "90, 90", "deg", optional=True, above=0, most=180)
UPRIGHT = Input("upright", Kind.YES_NO, "no", optional=True)


class RunWalk(Struct, frozen=True):
    """
    What a walk along a run finds.

    Args:
        run_length: From the panel to the junction box, along the tube [in].
        violation_count: How many stretches and straps break the rule on straps.
        violations: Each.
        total: All bends together [deg].
        within_limit: Whether the bends are within what is allowed between two pull points.
    """

    run_length: float
    violation_count: int
    violations: tuple[Violation, ...]
    total: float
    within_limit: bool


@steps(run_length="in")
def run_walk(
    gaps: tuple[float, ...],
    *,
    couplings: tuple[float, ...] = (),
    bends: tuple[Stretch, ...] = (),
    angles: tuple[float, ...] = (),
    upright: bool = False,
    max_spacing: float = _RULE["max_spacing"],
    max_from_end: float = _RULE["max_from_end"],
    limit: float = _TOTAL["limit"],
) -> RunWalk:
    """
    Hold a run against the rules on straps and on bends.

    Args:
        gaps: From the panel to the first strap, from strap to strap, and from the last strap to the junction box [in].
        couplings: Where couplings are, from the panel [in]: for the drawing; the rule does not ask.
        bends: Where the tube is bent, from where to where [in]; no strap holds there.
        angles: Every bend [deg].
        upright: Whether the run starts upward: for the drawing.
        max_spacing: The most between two straps [in].
        max_from_end: The most from the panel or the junction box to its strap [in].
        limit: The most of all bends together [deg].

    Raises:
        InputError: When one lies outside its range or beyond the run, or there is no strap.

    Source: `strap_check` (NFPA 70-2023 358.30(A)) and `bend_total` (358.24(B)).

    >>> run_walk((24, 114, 132, 30)).violation_count
    1
    """
    GAPS.check(gaps)
    UPRIGHT.check(upright)
    COUPLINGS.check(couplings)
    ANGLES.check(angles)
    if not 1 < len(gaps) <= MOST_STRAPS:
        given = ", ".join(map(GAPS.written, gaps))
        raise GAPS.refuse(Message("run_walk.gaps", {"most": MOST_STRAPS}), given)
    run_length = sum(gaps)
    check_on_run(COUPLINGS, couplings, run_length)
    check_on_run(BENDS, [bend.end for bend in bends], run_length)
    straps = tuple(accumulate(gaps[:-1]))
    found = strap_check(run_length, straps, bends=bends, max_spacing=max_spacing, max_from_end=max_from_end)
    sums = bend_total(angles, limit) if angles else None
    total, within = (sums.total, sums.within_limit) if sums else (0.0, True)
    return RunWalk(run_length, found.violation_count, found.violations, total, within)


RUN_WALK = Calculation(
    name="run_walk",
    function=run_walk,
    inputs=(GAPS, COUPLINGS, BENDS, ANGLES, UPRIGHT, MAX_SPACING, MAX_FROM_END, LIMIT),
    outputs=(
        Output("run_length", "in"),
        Output("violation_count", "count"),
        Output("violations"),
        Output("total", "deg"),
        Output("within_limit"),
    ),
    sources=(*STRAP_CHECK.sources, *BEND_TOTAL.sources),
    area="support",
    example_inputs={"gaps": "2 ft, 9 ft 6 in, 11 ft, 30 in"},
)
