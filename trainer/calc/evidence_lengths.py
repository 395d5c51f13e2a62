"""Second methods for measured lengths: places on a line in whole sixty-fourths, ticks counted, and the bent tube itself."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec.structs import replace

from trainer.calc.arcs import radius_of_gain
from trainer.calc.bent_cut_length import BentCutLength, Side
from trainer.calc.cut_length import CutLength, Measured
from trainer.calc.evidence_check import Check, Values
from trainer.calc.layout import lay_out
from trainer.calc.layout_path import Turn, fit_path, path_of_legs
from trainer.calc.length import nearest
from trainer.calc.length_sum import LengthSum
from trainer.calc.message import InputError, Message
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.tables import table
from trainer.calc.tape_reading import TapeReading

__all__ = ["bent_piece_laid_out", "run_by_places", "sum_by_fractions", "tape_by_fractions"]

_NEAR = 1e-6


def tape_by_fractions(values: Values, result: TapeReading) -> Iterator[Check]:
    """The nearest sixteenth of the exact fraction that was given."""
    on_tape = nearest(Fraction(values["reading"]))
    method = Message("evidence.method.tape")
    yield Check(method, "on_tape", "in", result.on_tape, float(on_tape), _NEAR)
    length = on_tape - Fraction(values.get("begun_at") or 0)
    yield Check(method, "length", "in", result.length, float(length), _NEAR)


def sum_by_fractions(values: Values, result: LengthSum) -> Iterator[Check]:
    """Added and taken off one by one in exact fractions, feet counted by taking 12 in off while there are so many."""
    left = sum(map(Fraction, values["lengths"]), Fraction()) - sum(
        map(Fraction, values.get("taken_off") or ()), Fraction()
    )
    method = Message("evidence.method.sum")
    yield Check(method, "total", "in", result.total, float(left), _NEAR)
    yield Check(method, "each", "in", result.each, float(left / (values.get("parts") or 1)), _NEAR)
    yield Check(method, "total", "in", 12 * result.feet + result.inches_over, float(left), _NEAR)


def run_by_places(values: Values, result: CutLength) -> Iterator[Check]:
    """Everything in its place on a line that starts at the first box: mouths, stops, and stick after stick."""
    given = {name: Fraction(value) for name, value in values.items() if isinstance(value, int | float)}
    halves = [Fraction(0), Fraction(0)]
    if values.get("measured") == Measured.CENTRES:
        halves = [given["first_box"] / 2, given["second_box"] / 2]
    from_mouth_to_stop = given["goes_in"]
    first = halves[0] + given["stands_out"] - from_mouth_to_stop
    last = given["distance"] - halves[1] - given["stands_out"] + from_mouth_to_stop
    method = Message("evidence.method.places")
    yield Check(method, "tube", "in", result.tube, float(last - first), _NEAR)
    stick = given.get("stock_length") or Fraction(table("cutting")["stick"]["length"])
    place = first
    while last - place > stick + Fraction(1, 10**9):
        place += stick + given.get("coupling_gap", Fraction(0))
    yield Check(method, "last_piece", "in", result.last_piece, float(last - place), _NEAR)


def bent_piece_laid_out(values: Values, result: BentCutLength) -> Iterator[Check]:
    """
    The piece without connectors bent in space, on a shoe that has this gain, and the tube in it measured.

    Nothing where an offset is in it, whose shrink is a rounded constant, or where no shoe has this gain.
    """
    shoe = _shoe(values)
    if values.get("offset_depth") or shoe is None:
        return
    side = values.get("measured") or Side.BACK
    to_middle = {Side.BACK: -0.5, Side.CENTRE: 0.0, Side.INSIDE: 0.5}[Side(side)] * shoe.outside_diameter
    legs, last = values["legs"], len(values["legs"]) - 1
    corners = [leg + to_middle * ((number > 0) + (number < last)) for number, leg in enumerate(legs)]
    if min(corners) <= 0:
        return
    turns = [Turn(90.0, 180.0 * (number % 2)) for number in range(last)]
    try:
        tube = lay_out(fit_path(path_of_legs(corners, turns), shoe).program)
    except InputError:
        return
    method = Message("evidence.method.laid-out")
    yield Check(method, "tube", "in", result.tube + result.ends, tube.length, _NEAR)


def _shoe(values: Values) -> Shoe | None:
    """A shoe of this gain: the radius follows from it."""
    diameter = values.get("outside_diameter") or DEFAULT_SHOE.outside_diameter
    radius = radius_of_gain(values["gain"], diameter)
    return replace(DEFAULT_SHOE, radius=radius, outside_diameter=diameter) if radius > diameter / 2 else None
