"""
What a run takes: sticks, couplings, connectors and straps. Inches.

Each stretch runs from one termination to the next and has a connector at both ends. It is made of whole sticks and one
cut piece, with couplings between; the cut pieces of all stretches are planned together.
"""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.cut_plan import CUT_PLAN, CutPlan, StickCuts, cut_plan
from trainer.calc.inputs import Input, Kind
from trainer.calc.length import write_length
from trainer.calc.message import Message, Quantity
from trainer.calc.runs import Legs
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.straps import STRAP_COUNT, strap_count
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_down

__all__ = ["MATERIAL_LIST", "MaterialList", "couplings_of", "material_list", "tube_of"]

_STICK = table("cutting")["stick"]
_RULE = table("support")["emt"]
#: The shortest piece that is coupled on [in].
_SHORTEST: float = table("cutting")["coupled_piece"]["shortest"]
_TOTAL = table("bends")["total"]
_FORGIVEN = 1e-6

RUN = Input("run", Kind.RUN, "60 ft, 12 in + 40 ft + 12 in, 3x 9 ft 6 in")
SHOE = Input("shoe", Kind.SHOE, "1/2", optional=True)
STOCK_LENGTH, KERF, OFFCUTS = (CUT_PLAN.input(name) for name in ("stock_length", "kerf", "offcuts"))
MAX_SPACING, MAX_FROM_END = (STRAP_COUNT.input(name) for name in ("max_spacing", "max_from_end"))


class MaterialList(Struct, frozen=True):
    """
    The material of a run.

    Args:
        developed_length: All tube, along its middle [in].
        sticks: New sticks.
        couplings: Between pieces of one stretch.
        connectors: Two to each stretch.
        straps: The least number, by the rule.
        cuts: What is cut from each offcut that is used and from each stick that is not used whole.
        waste: What of them is in no piece [in].
    """

    developed_length: float
    sticks: int
    couplings: int
    connectors: int
    straps: int
    cuts: tuple[StickCuts, ...]
    waste: float


class _Stretch(Struct, frozen=True):
    """What one stretch is made of."""

    tube: float
    whole: int
    cut: tuple[float, ...]
    straps: int

    @property
    def couplings(self) -> int:
        return self.whole + len(self.cut) - 1


@steps(
    developed_length="in",
    whole_sticks="sticks",
    sticks="sticks",
    couplings="couplings",
    connectors="connectors",
    straps="straps",
)
def material_list(
    run: tuple[Legs, ...],
    shoe: Shoe = DEFAULT_SHOE,
    *,
    stock_length: float = _STICK["length"],
    kerf: float = 0.0,
    offcuts: tuple[float, ...] = (),
    max_spacing: float = _RULE["max_spacing"],
    max_from_end: float = _RULE["max_from_end"],
) -> MaterialList:
    """
    The material list of a run.

    Args:
        run: Its stretches from termination to termination, each with its legs [in].
        shoe: The bender's shoe, for what each 90 takes less than its legs to the back.
        stock_length: Of a new stick [in].
        kerf: What the saw takes with each cut [in].
        offcuts: Lengths on hand [in].
        max_spacing: The most between two straps [in].
        max_from_end: The most from a termination to its strap [in].

    Raises:
        InputError: When one lies outside its range, a leg is too short for its bend, or a stretch bends too much.

    Source: geometry, ANSI C80.3, NFPA 70-2023 358.24(B) and 358.30(A).

    >>> from trainer.calc.runs import read_run
    >>> result = material_list(read_run("25 ft, 12 in + 40 ft"))
    >>> result.sticks, result.couplings, result.connectors, result.straps
    (7, 6, 4, 8)
    """
    named = {STOCK_LENGTH: stock_length, KERF: kerf, OFFCUTS: offcuts}
    for given, value in {**named, MAX_SPACING: max_spacing, MAX_FROM_END: max_from_end}.items():
        given.check(value)
    if not run:
        raise RUN.refuse(Message("input.missing"), "")
    if any(legs.bends for legs in run):
        note("tubes", "material_list.gain", gain=Quantity(shoe.outside_gain, "in"), size=shoe.trade_size)
    stretches = [_stretch(legs, shoe, stock_length, max_spacing, max_from_end) for legs in run]
    for number, (legs, stretch) in enumerate(zip(run, stretches, strict=True), start=1):
        note("tubes", "material_list.stretch", number=number, legs=legs.message(), **_told(stretch))
    tubes = tuple(stretch.tube for stretch in stretches)
    developed_length = sum(tubes)
    whole_in_stretches = tuple(stretch.whole for stretch in stretches)
    whole_sticks = sum(whole_in_stretches)
    pieces = tuple(piece for stretch in stretches for piece in stretch.cut)
    plan = _cut(pieces, stock_length, kerf, offcuts)
    cut_sticks = plan.sticks if plan else 0
    sticks = whole_sticks + cut_sticks
    for number, stretch in enumerate(stretches, start=1):
        joints = {"pieces": Quantity(stretch.couplings + 1, "pieces")}
        joints["couplings"] = Quantity(stretch.couplings, "couplings")
        note("couplings_in_stretches", "material_list.joints", number=number, **joints)
    couplings_in_stretches = tuple(stretch.couplings for stretch in stretches)
    couplings = sum(couplings_in_stretches)
    stretch_count = len(run)
    connectors = 2 * stretch_count
    for number, stretch in enumerate(stretches, start=1):
        line = _straps_told(stretch, max_spacing, max_from_end)
        note("straps_in_stretches", line.id, number=number, **line.params)
    straps_in_stretches = tuple(stretch.straps for stretch in stretches)
    straps = sum(straps_in_stretches)
    cuts, waste = (plan.cuts, plan.waste) if plan else ((), 0.0)
    return MaterialList(developed_length, sticks, couplings, connectors, straps, cuts, waste)


@steps()
def _cut(pieces: tuple[float, ...], stock_length: float, kerf: float, offcuts: tuple[float, ...]) -> CutPlan | None:
    """The plan for what is not a whole stick, with steps of its own."""
    if not pieces:
        return None
    note("cut_sticks", "material_list.cut", "sticks")
    return cut_plan(pieces, stock_length, kerf=kerf, offcuts=offcuts)


def tube_of(legs: Legs, shoe: Shoe) -> float:
    """Tube that a stretch takes, along its middle [in]: its legs to the backs of the bends, less what each 90 gains."""
    return sum(legs.lengths) - legs.bends * shoe.outside_gain


def _stretch(legs: Legs, shoe: Shoe, stock_length: float, max_spacing: float, max_from_end: float) -> _Stretch:
    _check_bends(legs)
    _check_legs(legs, shoe)
    tube = tube_of(legs, shoe)
    whole = round_down(tube / stock_length)
    rest = tube - whole * stock_length
    straps = strap_count(tube, max_spacing=max_spacing, max_from_end=max_from_end).straps
    if rest < _FORGIVEN:
        return _Stretch(tube, whole, (), straps)
    if rest < _SHORTEST and whole:  # Too short to be held by a coupling and a connector: two shorter pieces instead.
        return _Stretch(tube, whole - 1, ((stock_length + rest) / 2,) * 2, straps)
    return _Stretch(tube, whole, (rest,), straps)


def couplings_of(legs: Legs, shoe: Shoe = DEFAULT_SHOE, stock_length: float = _STICK["length"]) -> tuple[float, ...]:
    """
    Where the couplings of a stretch sit, as parts of its tube from the start; whole sticks first.

    Args:
        legs: The stretch.
        shoe: The bender's shoe.
        stock_length: Of a new stick [in].

    >>> couplings_of(Legs((300.0,)))
    (0.4, 0.8)
    """
    stretch = _stretch(legs, shoe, stock_length, _RULE["max_spacing"], _RULE["max_from_end"])
    pieces = (*(stock_length,) * stretch.whole, *stretch.cut)
    return tuple(sum(pieces[:count]) / stretch.tube for count in range(1, len(pieces)))


def _told(stretch: _Stretch) -> dict[str, object]:
    return {
        "tube": Quantity(stretch.tube, "in"),
        "whole": Quantity(stretch.whole, "sticks"),
        "cut": [Quantity(piece, "in") for piece in stretch.cut] or Message("material_list.nothing"),
        "couplings": Quantity(stretch.couplings, "couplings"),
        "straps": Quantity(stretch.straps, "straps"),
    }


def _straps_told(stretch: _Stretch, max_spacing: float, max_from_end: float) -> Message:
    """How the straps of a stretch were counted."""
    told = {"tube": write_length(stretch.tube, feet=True), "straps": Quantity(stretch.straps, "straps")}
    if stretch.tube <= 2 * max_from_end:
        return Message("material_list.one-strap", told)
    told |= {"reach": write_length(max_from_end, feet=True), "apart": write_length(max_spacing, feet=True)}
    return Message("material_list.straps", told)


def _check_bends(legs: Legs) -> None:
    if 90 * legs.bends > _TOTAL["limit"]:
        reason = Message("material_list.bends", {"bends": legs.bends, "limit": Quantity(_TOTAL["limit"], "deg")})
        raise RUN.refuse(reason, str(legs), Message("material_list.fewer-bends"))


def _check_legs(legs: Legs, shoe: Shoe) -> None:
    """A leg reaches from the back of its bend at least to where the arc ends; one between two bends has two arcs."""
    if not legs.bends:
        return
    arc = shoe.radius + shoe.outside_diameter / 2
    for number, leg in enumerate(legs.lengths):
        least = arc if number in {0, legs.bends} else 2 * arc
        if leg < least:
            sizes = {"leg": Quantity(leg, "in"), "least": Quantity(least, "in")}
            raise RUN.refuse(Message("material_list.leg", sizes), str(legs), Message("material_list.longer-leg", sizes))


MATERIAL_LIST = Calculation(
    name="material_list",
    function=material_list,
    inputs=(RUN, SHOE, STOCK_LENGTH, KERF, OFFCUTS, MAX_SPACING, MAX_FROM_END),
    outputs=(
        Output("developed_length", "in"),
        Output("sticks", "sticks"),
        Output("couplings", "couplings"),
        Output("connectors", "connectors"),
        Output("straps", "straps"),
        Output("cuts"),
        Output("waste", "in"),
    ),
    sources=(
        f"stick: {_STICK['source']}",
        f"straps: {_RULE['source']}",
        "whole sticks first, then one cut piece: common practice, no source",
    ),
    area="cutting",
    example_inputs={"run": "60 ft, 12 in + 40 ft + 12 in, 3x 9 ft 6 in", "kerf": "1/16 in"},
)
