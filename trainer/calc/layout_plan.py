"""
From a wanted path to the marks on one stick, as a person with a hand bender would make them. Inches and degrees.

Every mark is a take-up mark measured from the first end. The hook points the same way on all marks where that works;
else, when neither end of the piece is long enough for it, inward from both, and the tube is turned end for end between.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from trainer.calc.layout import BendProgram
from trainer.calc.layout_marks import half_turns, mark_to_arc
from trainer.calc.layout_path import MOST_ANGLE, fit_path
from trainer.calc.layout_room import check_room
from trainer.calc.layout_space import Vector
from trainer.calc.length import write_length
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.shoes import Shoe

__all__ = ["BendPlan", "marks_of", "plan_bends"]

#: What is left of rounding [in].
_FORGIVEN = 1e-6


class BendPlan(Struct, frozen=True):
    """
    How one stick is marked and bent.

    Args:
        program: The bends along the path.
        marks: Full instructions, in the order of bending.
        developed_length: Straight tube that the path takes [in].
        left_over: What is cut off at the far end [in].
    """

    program: BendProgram
    marks: tuple[Mark, ...]
    developed_length: float
    left_over: float


def plan_bends(
    points: Sequence[Vector], shoe: Shoe, stick: float, *, hook: End | None = None, most_angle: float = MOST_ANGLE
) -> BendPlan:
    """
    Marks for a path on one stick.

    Args:
        points: Both ends and the sharp corners [in].
        shoe: The bender's shoe.
        stick: Length of the straight tube [in].
        hook: End that the hook points at on every mark; None for whichever way there is room.
        most_angle: The most that one bend can make [deg].

    Raises:
        InputError: When a corner can't be bent, the bends come to too much, the stick is too short, or there is no room
            for the arcs or the hook, whichever way it is tried.

    >>> from trainer.calc.layout_path import Turn, path_of_legs
    >>> from trainer.calc.shoes import DEFAULT_SHOE
    >>> offset = path_of_legs([30, 12, 30], [Turn(30), Turn(30, 180)])
    >>> [round(mark.position, 3) for mark in plan_bends(offset, DEFAULT_SHOE, 120).marks]
    [28.647, 40.592]
    """
    program = fit_path(points, shoe, most_angle=most_angle).program
    length = program.length
    if length > stick + _FORGIVEN:
        raise _too_short(length, stick)
    marks = _with_room(program, shoe, stick, hook)
    return BendPlan(program, marks, length, max(stick - length, 0.0))


def marks_of(program: BendProgram, shoe: Shoe, hooks: Sequence[End], order: Sequence[int]) -> tuple[Mark, ...]:
    """
    Take-up marks that make a bend program.

    Args:
        program: The bends, of the shoe's radius.
        shoe: The bender's shoe.
        hooks: End that the hook points at, for each bend along the tube.
        order: Numbers of the bends along the tube, from 0, in the order of bending.

    Returns:
        The marks in the order of bending. The first one's roll is 0: how the straight tube lies at first is free.
    """
    positions, facings = _positions(program, shoe, hooks), _facings(program)
    marks: list[Mark] = []
    before = order[0] if order else 0
    for turn, bend in enumerate(order, start=1):
        roll = half_turns(facings[bend] - facings[before])
        angle, swung = program.moves[bend].angle, hooks[bend] != hooks[before]
        mark = Mark(positions[bend], End.MEASURED, Reference.TAKE_UP, hooks[bend], angle, roll, swung, turn)
        marks.append(mark)
        before = bend
    return tuple(marks)


def _positions(program: BendProgram, shoe: Shoe, hooks: Sequence[End]) -> list[float]:
    positions: list[float] = []
    station = 0.0
    for move, hook in zip(program.moves, hooks, strict=True):
        away = mark_to_arc(Reference.TAKE_UP, move.angle, shoe)
        start = station + move.feed
        station = start + move.arc
        positions.append(station + away if hook == End.FAR else start - away)
    return positions


def _facings(program: BendProgram) -> list[float]:
    facing = 0.0
    facings: list[float] = []
    for move in program.moves:
        facing += move.roll
        facings.append(facing)
    return facings


def _with_room(program: BendProgram, shoe: Shoe, stick: float, hook: End | None) -> tuple[Mark, ...]:
    """The first way of bending that leaves room for the hook; the refusal of the first way when there is none."""
    refusal: InputError | None = None
    for hooks, order in _ways(len(program.moves), hook):
        marks = marks_of(program, shoe, hooks, order)
        try:
            check_room(marks, shoe, stick)
        except InputError as error:
            refusal = refusal or error
        else:
            return marks
    raise refusal or AssertionError("a piece can be bent in at least one way")


def _ways(bends: int, hook: End | None) -> Iterator[tuple[tuple[End, ...], tuple[int, ...]]]:
    """
    Hooks and orders to try, the plainest first.

    One way throughout, from the end that the hook points at or toward it; then inward from both ends.
    """
    onward, back = tuple(range(bends)), tuple(reversed(range(bends)))
    for end, orders in ((End.MEASURED, (onward, back)), (End.FAR, (back, onward))):
        if hook in {None, end}:
            yield from (((end,) * bends, order) for order in orders)
    if hook is None:
        for middle in range(1, bends):
            hooks = (End.FAR,) * middle + (End.MEASURED,) * (bends - middle)
            yield hooks, (*range(middle), *reversed(range(middle, bends)))


def _too_short(length: float, stick: float) -> InputError:
    sizes = {"developed": Quantity(length, "in"), "stick": Quantity(stick, "in")}
    accepted = Message("layout.take.stick", {"developed": sizes["developed"]})
    example = write_length(math.ceil(length))
    told = Message("layout.plan.stick", sizes)
    return InputError(told, given=write_length(stick), accepted=accepted, example=example, field="stick")
