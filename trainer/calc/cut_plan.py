"""The cut plan: which pieces to cut from which stick, with as few new sticks as can be found. Inches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.packing import Packing, pack
from trainer.calc.step import write_number
from trainer.calc.tables import table
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_up

__all__ = ["CUT_PLAN", "CutPlan", "StickCuts", "cut_plan"]

_STICK = table("cutting")["stick"]
#: What a hand hacksaw takes with each cut, from least to most [in].
_HACKSAW = table("cutting")["kerf"]["hand_hacksaw"]
_FORGIVEN = 1e-9

PIECES = Input("pieces", Kind.LENGTHS, "8x47 in, 3x70 in", "in", above=0)
STOCK_LENGTH = Input("stock_length", Kind.LENGTH, "10 ft", "in", optional=True, above=0)
KERF = Input("kerf", Kind.LENGTH, "1/16 in", "in", optional=True, least=0, below=1)
OFFCUTS = Input("offcuts", Kind.LENGTHS, "33 in, 51-1/2 in", "in", optional=True, above=0)


@dataclass(frozen=True, slots=True)
class StickCuts:
    """
    What is cut from one stick.

    Args:
        length: Of the stick [in].
        pieces: In the order of cutting, the longest first [in].
        cuts: How many; a piece that ends exactly at the stick's end needs none.
        left: What remains as one piece, the saw's loss taken off [in].
        offcut: Whether it is an offcut from before instead of a new stick.
    """

    length: float
    pieces: tuple[float, ...]
    cuts: int
    left: float
    offcut: bool

    def message(self) -> Message:
        """The line of the plan as a sentence."""
        params = {
            "stick": Message("cut_plan.offcut" if self.offcut else "cut_plan.new-stick"),
            "length": Quantity(self.length, "in"),
            "pieces": [Quantity(piece, "in") for piece in self.pieces],
            "cuts": Quantity(self.cuts, "cuts"),
            "left": Quantity(self.left, "in"),
        }
        return Message("cut_plan.stick", params)


@dataclass(frozen=True, slots=True)
class CutPlan:
    """
    A cut plan.

    Args:
        sticks: New sticks.
        cuts: What is cut from each offcut that is used and from each new stick.
        waste: All that is in no piece, the saw's loss with it, of the sticks and offcuts used [in].
        lower_bound: New sticks that no plan can do without.
        proved_least: Whether fewer new sticks are proved impossible.
        cut_count: All cuts.
    """

    sticks: int
    cuts: tuple[StickCuts, ...]
    waste: float
    lower_bound: int
    proved_least: bool
    cut_count: int


@steps(total="in", used="in", waste="in")
def cut_plan(
    pieces: tuple[float, ...],
    stock_length: float = _STICK["length"],
    kerf: float = 0.0,
    offcuts: tuple[float, ...] = (),
) -> CutPlan:
    """
    Plan the cutting of pieces from sticks.

    Args:
        pieces: Length of every piece [in], none longer than a stick.
        stock_length: Of a new stick [in].
        kerf: What the saw takes with each cut [in].
        offcuts: Lengths on hand that are used before a new stick is opened [in].

    Raises:
        InputError: When a length lies outside its range, or a piece is longer than a stick.

    Source: first-fit decreasing, then an exact search; stick of ANSI C80.3, UL 797.

    >>> plan = cut_plan((47,) * 8 + (70,) * 3, kerf=0.0625)
    >>> plan.sticks, plan.lower_bound, plan.cut_count
    (6, 5, 11)
    """
    PIECES.check(pieces)
    STOCK_LENGTH.check(stock_length)
    KERF.check(kerf)
    OFFCUTS.check(offcuts)
    _check_longest(pieces, stock_length)
    if kerf:
        note("kerf", "cut_plan.kerf", kerf=write_number(kerf))
    else:
        note("kerf", "cut_plan.no-kerf", least=write_number(_HACKSAW[0]), most=write_number(_HACKSAW[1]))
    total = sum(pieces)
    lower_bound = _lower_bound(total, pieces, stock_length, kerf, offcuts)
    sizes = [piece + kerf for piece in pieces]
    packing = pack(sizes, stock_length + kerf, lower_bound, [offcut + kerf for offcut in offcuts])
    cuts = _cuts(packing, pieces, stock_length, kerf, offcuts)
    sticks = len(packing.sticks)
    found = "cut_plan.least" if packing.least else "cut_plan.found"
    note("sticks", found, "lower_bound", sticks=Quantity(sticks, "sticks"))
    for stick in cuts:
        line = stick.message()
        note("sticks", line.id, **line.params)
    lengths = tuple(stick.length for stick in cuts)
    used = sum(lengths)
    waste = used - total
    return CutPlan(sticks, cuts, waste, lower_bound, packing.least, sum(stick.cuts for stick in cuts))


@steps(needed="in", room="in", by_length="sticks", lower_bound="sticks")
def _lower_bound(
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
    large = [piece for piece in pieces if 2 * piece + kerf > stock_length + _FORGIVEN]
    elsewhere = sum(int((offcut + kerf + _FORGIVEN) // (min(large) + kerf)) for offcut in offcuts) if large else 0
    alone = max(0, len(large) - elsewhere)
    note("alone", "cut_plan.alone", alone=Quantity(alone, "sticks"))
    lower_bound = max(by_length, alone)
    return lower_bound  # noqa: RET504 - the assignment is the step


def _check_longest(pieces: tuple[float, ...], stock_length: float) -> None:
    if not pieces:
        raise PIECES.refuse(Message("input.missing"), "")
    longest = max(pieces)
    if longest > stock_length + _FORGIVEN:
        reason = Message("cut_plan.too-long", {"piece": Quantity(longest, "in"), "stick": Quantity(stock_length, "in")})
        most = Message("cut_plan.most", {"stick": Quantity(stock_length, "in")})
        raise PIECES.refuse(reason, PIECES.written(longest), most)


def _cuts(
    packing: Packing, pieces: tuple[float, ...], stock_length: float, kerf: float, offcuts: tuple[float, ...]
) -> tuple[StickCuts, ...]:
    """The plan, offcuts first; one that nothing is cut from is left out."""
    from_offcuts = [
        _stick(length, [pieces[index] for index in inside], kerf, offcut=True)
        for length, inside in zip(offcuts, packing.offcuts, strict=True)
        if inside
    ]
    from_sticks = [
        _stick(stock_length, [pieces[index] for index in inside], kerf, offcut=False) for inside in packing.sticks
    ]
    return (*from_offcuts, *from_sticks)


def _stick(length: float, pieces: Sequence[float], kerf: float, *, offcut: bool) -> StickCuts:
    """Each piece takes a cut, the last one only where something remains beyond it."""
    beyond = length - sum(pieces) - kerf * (len(pieces) - 1)
    exact = beyond < _FORGIVEN
    left = 0.0 if exact else max(0.0, beyond - kerf)
    return StickCuts(length, tuple(pieces), len(pieces) - exact, left, offcut)


CUT_PLAN = Calculation(
    name="cut_plan",
    function=cut_plan,
    inputs=(PIECES, STOCK_LENGTH, KERF, OFFCUTS),
    outputs=(
        Output("sticks", "sticks"),
        Output("cuts"),
        Output("waste", "in"),
        Output("lower_bound", "sticks"),
        Output("proved_least"),
        Output("cut_count", "cuts"),
    ),
    sources=(f"stick: {_STICK['source']}", "plan: first-fit decreasing, then an exact search"),
    area="cutting",
    example_inputs={"pieces": "8x47 in, 3x70 in", "kerf": "1/16 in"},
)
