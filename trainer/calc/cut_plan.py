"""The cut plan: which pieces to cut from which stick, with as little new stock as can be found. Inches."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.cut_bounds import least_new_length, least_sticks
from trainer.calc.inputs import Input, Kind
from trainer.calc.length import write_length
from trainer.calc.message import Message, Quantity
from trainer.calc.packing import Packing, Stock, pack
from trainer.calc.step import write_number
from trainer.calc.tables import table
from trainer.calc.trace import note, steps

__all__ = ["CUT_PLAN", "CutPlan", "StickCuts", "SticksToBuy", "cut_plan"]

_STICK = table("cutting")["stick"]
#: What a hand hacksaw takes with each cut, from least to most [in].
_HACKSAW = table("cutting")["kerf"]["hand_hacksaw"]
_FORGIVEN = 1e-9

PIECES = Input("pieces", Kind.LENGTHS, "8x47 in, 3x70 in", "in", above=0)
STOCK_LENGTH = Input("stock_length", Kind.LENGTH, "10 ft", "in", optional=True, above=0)
KERF = Input("kerf", Kind.LENGTH, "1/16 in", "in", optional=True, least=0, below=1)
OFFCUTS = Input("offcuts", Kind.LENGTHS, "33 in, 51-1/2 in", "in", optional=True, above=0)
OTHER_STOCK = Input("other_stock", Kind.LENGTHS, "20 ft", "in", optional=True, above=0)
WORTH_KEEPING = Input("worth_keeping", Kind.LENGTH, "18 in", "in", optional=True, above=0)

#: Lengths of new stick among which a plan chooses, at most.
MOST_STOCKS = 4


class StickCuts(Struct, frozen=True):
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

    def message(self, alike: int = 1) -> Message:
        """The line of the plan as a sentence, for one stick or for several that are cut alike."""
        params = {
            "stick": Message("cut_plan.offcut" if self.offcut else "cut_plan.new-stick"),
            "length": Quantity(self.length, "in"),
            "pieces": [Quantity(piece, "in") for piece in self.pieces],
            "cuts": Quantity(self.cuts, "cuts"),
            "left": Quantity(self.left, "in"),
        }
        if alike > 1:
            return Message("cut_plan.sticks-alike", {**params, "alike": alike})
        return Message("cut_plan.stick", params)


class SticksToBuy(Struct, frozen=True):
    """
    How many new sticks of one length.

    Args:
        count: How many.
        length: Of each [in].
    """

    count: int
    length: float

    def message(self) -> Message:
        """The line of an order as a sentence."""
        length = write_length(self.length, feet=True)
        return Message("cut_plan.to-buy", {"sticks": Quantity(self.count, "sticks"), "length": length})


class CutPlan(Struct, frozen=True):
    """
    A cut plan.

    Args:
        sticks: New sticks.
        cuts: What is cut from each offcut that is used and from each new stick.
        waste: All that is in no piece, the saw's loss with it, of the sticks and offcuts used [in].
        lower_bound: New sticks that no plan can do without.
        proved_least: Whether a plan with less new stock is proved impossible.
        cut_count: All cuts.
        to_buy: New sticks by length, the longest first.
        new_length: All new sticks together [in].
        least_length: What no plan can do without of it [in].
        gap: How much less new stock is not ruled out [in]; 0 where the plan is proved least.
        kept: What remains in pieces that are worth keeping, the longest first [in].
        scrap: What is in no piece and not worth keeping, the saw's loss with it [in].
    """

    sticks: int
    cuts: tuple[StickCuts, ...]
    waste: float
    lower_bound: int
    proved_least: bool
    cut_count: int
    to_buy: tuple[SticksToBuy, ...]
    new_length: float
    least_length: float
    gap: float
    kept: tuple[float, ...]
    scrap: float


@steps(total="in", new_length="in", used="in", waste="in", cut_count="cuts")
def cut_plan(
    pieces: tuple[float, ...],
    stock_length: float = _STICK["length"],
    *,
    kerf: float = 0.0,
    offcuts: tuple[float, ...] = (),
    other_stock: tuple[float, ...] = (),
    worth_keeping: float | None = None,
) -> CutPlan:
    """
    Plan the cutting of pieces from sticks: with the least new stock, then with the fewest new sticks.

    Args:
        pieces: Length of every piece [in], none longer than a stick.
        stock_length: Of a new stick [in].
        kerf: What the saw takes with each cut [in].
        offcuts: Lengths on hand that are used before a new stick is opened [in].
        other_stock: Other lengths of new stick that can be had [in], three at most.
        worth_keeping: The shortest remainder that goes back on the rack [in]; without it all of them are scrap.

    Raises:
        InputError: When a length lies outside its range, or a piece is longer than a stick.

    Source: first-fit decreasing, then an exact search; stick of ANSI C80.3, UL 797.

    >>> plan = cut_plan((47,) * 8 + (70,) * 3, kerf=0.0625)
    >>> plan.sticks, plan.lower_bound, plan.cut_count
    (6, 5, 11)
    """
    named = {PIECES: pieces, STOCK_LENGTH: stock_length, KERF: kerf, OFFCUTS: offcuts, OTHER_STOCK: other_stock}
    for given, value in {**named, WORTH_KEEPING: worth_keeping}.items():
        given.check(value)
    stock_lengths = _stock_lengths(stock_length, other_stock)
    longest = max(stock_lengths)
    _check_longest(pieces, longest)
    if kerf:
        note("kerf", "cut_plan.kerf", kerf=write_number(kerf))
    else:
        note("kerf", "cut_plan.no-kerf", least=write_number(_HACKSAW[0]), most=write_number(_HACKSAW[1]))
    total = sum(pieces)
    if len(stock_lengths) > 1:
        note("stock_length", "cut_plan.longest", longest=Quantity(longest, "in"))
    lower_bound = least_sticks(total, pieces, longest, kerf, offcuts)
    least_length = least_new_length(lower_bound, pieces, stock_lengths, kerf, offcuts)
    stocks = [Stock(length + kerf, length) for length in stock_lengths]
    sizes = [piece + kerf for piece in pieces]
    packing = pack(sizes, stocks, least_length, [offcut + kerf for offcut in offcuts])
    cuts = _cuts(packing, pieces, stock_lengths, kerf, offcuts)
    sticks = len(packing.sticks)
    new_lengths = tuple(stock_lengths[kind] for kind in packing.stocks)
    new_length = sum(new_lengths)
    gap = 0.0 if packing.least else new_length - least_length
    _note_plan(sticks, packing.least, gap, cuts)
    lengths = tuple(stick.length for stick in cuts)
    used = sum(lengths)
    waste = used - total
    kept = _kept(cuts, worth_keeping)
    scrap = _scrap(waste, kept)
    cuts_in_sticks = tuple(stick.cuts for stick in cuts)
    cut_count = sum(cuts_in_sticks)
    return CutPlan(
        sticks,
        cuts,
        waste,
        lower_bound,
        packing.least,
        cut_count,
        _to_buy(packing, stock_lengths),
        new_length,
        least_length,
        gap,
        kept,
        scrap,
    )


@steps(remainders="in", scrap="in")
def _scrap(waste: float, kept: tuple[float, ...]) -> float:
    if kept:
        remainders = sum(kept)
        scrap = waste - remainders
    else:
        scrap = waste
    return scrap


@steps()
def _note_plan(sticks: int, proved: bool, gap: float, cuts: Sequence[StickCuts]) -> None:
    if proved:
        note("sticks", "cut_plan.least", "lower_bound", sticks=Quantity(sticks, "sticks"))
    else:
        note("sticks", "cut_plan.found", "least_length", sticks=Quantity(sticks, "sticks"), gap=Quantity(gap, "in"))
    for stick, alike in Counter(cuts).items():
        line = stick.message(alike)
        note("sticks", line.id, **line.params)


def _stock_lengths(stock_length: float, other_stock: Sequence[float]) -> tuple[float, ...]:
    """Every length of new stick once, the first one first."""
    lengths = tuple(dict.fromkeys((stock_length, *other_stock)))
    if len(lengths) > MOST_STOCKS:
        reason = Message("cut_plan.too-many-stocks", {"most": MOST_STOCKS - 1})
        raise OTHER_STOCK.refuse(reason, OTHER_STOCK.written(other_stock))
    return lengths


def _kept(cuts: Sequence[StickCuts], worth_keeping: float | None) -> tuple[float, ...]:
    if worth_keeping is None:
        return ()
    return tuple(sorted((one.left for one in cuts if one.left >= worth_keeping - _FORGIVEN), reverse=True))


def _to_buy(packing: Packing, lengths: Sequence[float]) -> tuple[SticksToBuy, ...]:
    counts = Counter(lengths[kind] for kind in packing.stocks)
    return tuple(SticksToBuy(counts[length], length) for length in sorted(counts, reverse=True))


def _check_longest(pieces: tuple[float, ...], stock_length: float) -> None:
    if not pieces:
        raise PIECES.refuse(Message("input.missing"), "")
    longest = max(pieces)
    if longest > stock_length + _FORGIVEN:
        reason = Message("cut_plan.too-long", {"piece": Quantity(longest, "in"), "stick": Quantity(stock_length, "in")})
        most = Message("cut_plan.most", {"stick": Quantity(stock_length, "in")})
        raise PIECES.refuse(reason, PIECES.written(longest), most)


def _cuts(
    packing: Packing, pieces: Sequence[float], lengths: Sequence[float], kerf: float, offcuts: Sequence[float]
) -> tuple[StickCuts, ...]:
    """The plan, offcuts first; one that nothing is cut from is left out."""
    from_offcuts = [
        _stick(length, [pieces[index] for index in inside], kerf, offcut=True)
        for length, inside in zip(offcuts, packing.offcuts, strict=True)
        if inside
    ]
    from_sticks = [
        _stick(lengths[kind], [pieces[index] for index in inside], kerf, offcut=False)
        for kind, inside in zip(packing.stocks, packing.sticks, strict=True)
    ]
    return (*from_offcuts, *sorted(from_sticks, key=lambda stick: -stick.length))


def _stick(length: float, pieces: Sequence[float], kerf: float, *, offcut: bool) -> StickCuts:
    """Each piece takes a cut, the last one only where something remains beyond it."""
    beyond = length - sum(pieces) - kerf * (len(pieces) - 1)
    exact = beyond < _FORGIVEN
    left = 0.0 if exact else max(0.0, beyond - kerf)
    return StickCuts(length, tuple(pieces), len(pieces) - exact, left, offcut)


CUT_PLAN = Calculation(
    name="cut_plan",
    function=cut_plan,
    inputs=(PIECES, STOCK_LENGTH, KERF, OFFCUTS, OTHER_STOCK, WORTH_KEEPING),
    outputs=(
        Output("sticks", "sticks"),
        Output("cuts"),
        Output("waste", "in"),
        Output("lower_bound", "sticks"),
        Output("proved_least"),
        Output("cut_count", "cuts"),
        Output("to_buy"),
        *(Output(name, "in") for name in ("new_length", "least_length", "gap", "kept", "scrap")),
    ),
    sources=(f"stick: {_STICK['source']}", "plan: first-fit decreasing, then an exact search"),
    area="cutting",
    example_inputs={"pieces": "8x47 in, 3x70 in", "kerf": "1/16 in"},
)
