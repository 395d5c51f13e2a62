"""
A reading of the tape: to the nearest sixteenth, and the length where the tape was begun further on than its end. Inches.

A bent or worn hook is left out by holding the 1 in or the 10 in line on the end instead: what the tape then reads is too
much by that, and it comes off again.
"""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.message import Message, Quantity
from trainer.calc.trace import note, steps
from trainer.calc.trig import round_down

__all__ = ["TAPE_READING", "TapeReading", "tape_reading"]

#: The longest tape that is read [in].
LONGEST = 1200
#: What is left of rounding, in sixteenths.
_ON_A_LINE = 1e-6

READING = Input("reading", Kind.LENGTH, "34.703 in", "in", above=0, most=LONGEST)
BEGUN_AT = Input("begun_at", Kind.LENGTH, "10 in", "in", optional=True, least=0, most=LONGEST)


class TapeReading(Struct, frozen=True):
    """
    A place on the tape, and what was measured.

    Args:
        on_tape: The nearest sixteenth [in].
        inch: The whole inches before it [in].
        ticks: Sixteenths behind that inch.
        rounding: How much more the tape says than what was given [in]; below zero where it says less.
        length: From where the tape was begun to the sixteenth [in].
    """

    on_tape: float
    inch: float
    ticks: int
    rounding: float
    length: float


@steps(whole="in", on_tape="in", rounding="in", length="in")
def tape_reading(reading: float, begun_at: float = 0.0) -> TapeReading:
    """
    Read a place on the tape to the nearest sixteenth.

    Args:
        reading: The place, from the end of the tape [in].
        begun_at: What the tape shows where measuring begins [in]: 0 at its hook, 10 where the 10 in line is held there.

    Raises:
        InputError: When one lies outside its range, or the place is not beyond where the tape was begun.

    Source: arithmetic; a tape is divided into sixteenths of an inch.

    >>> result = tape_reading(34.703, 10)
    >>> result.on_tape, result.ticks, result.length
    (34.6875, 11, 24.6875)
    """
    READING.check(reading)
    BEGUN_AT.check(begun_at)
    whole = round_down(reading)
    line = _line(reading, whole)
    on_tape = whole + line / 16
    if on_tape <= begun_at:
        least = Message("tape_reading.beyond", {"begun_at": Quantity(begun_at, "in")})
        raise READING.refuse(Message("tape_reading.not-beyond"), READING.written(reading), least)
    rounding = on_tape - reading
    if begun_at:
        note("begun_at", "tape_reading.begun-at", begun_at=Quantity(begun_at, "in"))
        length = on_tape - begun_at
    else:
        length = on_tape
    inches, ticks = divmod(16 * whole + line, 16)
    note("ticks", "tape_reading.ticks", "line", inch=inches, ticks=ticks)
    return TapeReading(on_tape, float(inches), ticks, rounding, length)


@steps(sixteenths="", line="")
def _line(reading: float, whole: int) -> int:
    """The line behind the inch; 16 where the next inch is nearer than the last line."""
    sixteenths = 16 * (reading - whole)
    if abs(sixteenths - round(sixteenths)) < _ON_A_LINE:
        note("line", "tape_reading.line", "whole", line=round(sixteenths), inch=whole)
        return round(sixteenths)
    line = round_down(sixteenths + 0.5)
    note("line", "tape_reading.nearest")
    return line


TAPE_READING = Calculation(
    name="tape_reading",
    function=tape_reading,
    inputs=(READING, BEGUN_AT),
    outputs=(
        Output("on_tape", "in"),
        Output("inch", "in"),
        Output("ticks", "count"),
        Output("rounding", "in"),
        Output("length", "in"),
    ),
    sources=("arithmetic", "holding an inch line instead of the hook: common practice, no source"),
    area="cutting",
    example_inputs={"reading": "34.703 in", "begun_at": "10 in"},
)
