"""Lengths added up, others taken off, and what is left parted equally. Inches; feet are carried at 12."""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_down

__all__ = ["LENGTH_SUM", "LengthSum", "length_sum"]

#: Longer than any stretch of a job [in].
LONGEST = 120_000

_FORGIVEN = 1e-9

LENGTHS = Input("lengths", Kind.LENGTHS, "3 ft 7-3/4 in, 2 ft 8-5/8 in", "in", above=0, most=LONGEST)
TAKEN_OFF = Input("taken_off", Kind.LENGTHS, "2-1/8 in, 1 in", "in", optional=True, above=0, most=LONGEST)
PARTS = Input("parts", Kind.COUNT, "2", "count", optional=True, least=1, most=1000)


class LengthSum(Struct, frozen=True):
    """
    A sum of lengths.

    Args:
        added: All that is added [in].
        off: All that is taken off [in].
        total: What is left [in].
        each: One of the equal parts of that [in].
        feet: Whole feet in `total`.
        inches_over: What `total` has beyond them [in].
    """

    added: float
    off: float
    total: float
    each: float
    feet: int
    inches_over: float


@steps(added="in", off="in", total="in", feet="", inches_over="in")
def length_sum(lengths: tuple[float, ...], taken_off: tuple[float, ...] = (), parts: int = 1) -> LengthSum:
    """
    Add lengths, take others off, part the rest equally.

    Args:
        lengths: What is added [in].
        taken_off: What is taken off [in].
        parts: Into how many equal parts what is left is divided.

    Raises:
        InputError: When one lies outside its range, or more is taken off than there is.

    Source: arithmetic; 12 in make a foot.

    >>> result = length_sum((43.75, 32.625))
    >>> result.total, result.feet, result.inches_over
    (76.375, 6, 4.375)
    """
    for given, value in ((LENGTHS, lengths), (TAKEN_OFF, taken_off), (PARTS, parts)):
        given.check(value)
    if not lengths:
        raise LENGTHS.refuse(Message("input.missing"), "")
    if sum(taken_off) > sum(lengths) + _FORGIVEN:
        most = Message("length_sum.most", {"added": Quantity(sum(lengths), "in")})
        raise TAKEN_OFF.refuse(Message("length_sum.too-much"), TAKEN_OFF.written(sum(taken_off)), most)
    if taken_off:
        added = sum(lengths)
        off = sum(taken_off)
        total = added - off
    else:
        total = sum(lengths)
        added, off = total, 0.0
    feet = round_down(total / 12)
    inches_over = total - 12 * feet
    if feet:
        note("total", "length_sum.carried", feet=feet, over=Quantity(inches_over, "in"))
    each = _each(total, parts)
    return LengthSum(added, off, total, each, feet, inches_over)


@steps(each="in")
def _each(total: float, parts: int) -> float:
    if parts == 1:
        return total
    each = total / parts
    return each  # noqa: RET504 - the assignment is the step


LENGTH_SUM = Calculation(
    name="length_sum",
    function=length_sum,
    inputs=(LENGTHS, TAKEN_OFF, PARTS),
    outputs=(
        Output("added", "in"),
        Output("off", "in"),
        Output("total", "in"),
        Output("each", "in"),
        Output("feet", "count"),
        Output("inches_over", "in"),
    ),
    sources=("arithmetic: 12 in make a foot",),
    area="cutting",
    example_inputs={"lengths": "3 ft 7-3/4 in, 2 ft 8-5/8 in", "taken_off": "2-1/8 in", "parts": "2"},
)
