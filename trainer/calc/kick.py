"""
The kick: one bend of less than 90 degrees that lifts the end of a tube, or a 90 that is bent already, off the line.

Inches and degrees. The end that is lifted is where measuring starts; its leg, from the end to the sharp corner, is the
travel. It adds its angle to the total between two pull points.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from msgspec import Struct

from trainer.calc.arcs import arc_and_gain, shift_beside_mark
from trainer.calc.calculation import Calculation, Output
from trainer.calc.handbook import offset_constants
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.message import Message, Quantity
from trainer.calc.near_end import tube_needed
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.step import write_number
from trainer.calc.trace import note, steps
from trainer.calc.trig import asin, sin, tan

__all__ = ["KICK", "Kick", "Turn", "kick"]


class Turn(StrEnum):
    """How the tube is rolled before a kick behind a 90, seen from the measured end."""

    CLOCKWISE = "clockwise"
    COUNTERCLOCKWISE = "counterclockwise"
    NONE = "none"


_ROLLS = {Turn.CLOCKWISE: 90.0, Turn.COUNTERCLOCKWISE: -90.0, Turn.NONE: 0.0}

RISE = Input("rise", Kind.LENGTH, "6 in", "in", above=0)
ANGLE = Input("angle", Kind.ANGLE, "30", "deg", optional=True, above=0, below=90)
LENGTH = Input("length", Kind.LENGTH, "14 in", "in", optional=True, above=0)
MEASURED_FROM = Input("measured_from", Kind.CHOICE, "measured-end", optional=True, choices=(End.MEASURED, Datum.BACK))
TURN = Input("turn", Kind.CHOICE, "clockwise", optional=True, choices=tuple(Turn))
SHOE = Input("shoe", Kind.SHOE, "1/2", optional=True)
HOOK = Input("hook", Kind.CHOICE, "far-end", optional=True, choices=(End.FAR, End.MEASURED))


class Kick(Struct, frozen=True):
    """
    A kick; a single bend has no spacing.

    Args:
        angle: Of the bend [deg].
        travel: From the lifted end, or the middle of the 90, to the sharp corner, along the tube [in].
        advance: The same along the run [in].
        corner: From the end, or from the back of the 90, to the sharp corner, along the tube [in].
        mark: From the end, or from the back of the 90 [in].
        marks: The mark as a full instruction.

    `_handbook` is None where no handbook constant is common.
    """

    angle: float
    travel: float
    advance: float
    corner: float
    mark: float
    marks: tuple[Mark, ...]
    travel_handbook: float | None
    corner_handbook: float | None
    mark_handbook: float | None
    marks_handbook: tuple[Mark, ...]
    mark_arc: float
    marks_arc: tuple[Mark, ...]


@steps(travel="in", advance="in", corner="in", mark="in")
def kick(
    rise: float,
    angle: float | None = None,
    length: float | None = None,
    *,
    measured_from: str = End.MEASURED,
    turn: str = Turn.CLOCKWISE,
    shoe: Shoe = DEFAULT_SHOE,
    hook: str = End.FAR,
) -> Kick:
    """
    Where a kick is bent, and by how much.

    Args:
        rise: How far the end of the tube, or the middle of the 90, is lifted off the line of the run [in], above 0.
        angle: Of the bend [deg], above 0, below 90; or else the length.
        length: From the end to the sharp corner of the bend, along the tube [in]: then the angle follows.
        measured_from: Whether the tape starts at the end ("measured-end") or at the back of a 90 that is bent already.
        turn: How the tube is rolled for a kick behind a 90, seen from the measured end; "none" kicks in the same plane.
        shoe: The bender's shoe, for the arc.
        hook: End that the hook points at.

    Raises:
        InputError: When one lies outside its range, neither or both of angle and length are given, or there is no room
            between the mark and the end, or the 90.

    Source: right-triangle geometry; handbook constants in tables/bends.toml; arcs of the shoe's radius.

    >>> result = kick(6, 30)
    >>> round(result.travel, 3), round(result.advance, 3), round(kick(6, length=12).angle, 3)
    (12.0, 10.392, 30.0)
    """
    values = (rise, angle, length, measured_from, turn, hook)
    for given, value in zip((RISE, ANGLE, LENGTH, MEASURED_FROM, TURN, HOOK), values, strict=True):
        given.check(value)
    angle = _angle(rise, angle, length)
    travel = rise / sin(angle)
    advance = rise / tan(angle)
    if measured_from == Datum.BACK:
        outside_diameter = shoe.outside_diameter
        note("corner", "kick.from-back")
        corner = travel + outside_diameter / 2
    else:
        outside_diameter = 0.0
        corner = travel
    mark = travel
    handbook = _handbook(rise, angle)
    mark_arc = _arc(corner, angle, shoe, hook)
    _check_room(min(mark, handbook or mark, mark_arc), (rise, angle, length), measured_from, shoe, hook)
    place = (angle, measured_from, turn, hook)
    return Kick(
        *(angle, travel, advance, corner, mark, _marks(mark, *place)),
        *(
            handbook,
            _corner_handbook(handbook, outside_diameter),
            handbook,
            () if handbook is None else _marks(handbook, *place),
        ),
        *(mark_arc, _marks(mark_arc, *place)),
    )


@steps(angle="deg")
def _angle(rise: float, angle: float | None, length: float | None) -> float:
    if angle is not None and length is not None:
        raise ANGLE.refuse(Message("kick.angle-and-length"), ANGLE.written(angle))
    if angle is not None:
        return angle
    if length is None:
        raise ANGLE.refuse(Message("kick.angle-or-length"), "")
    if length <= rise:
        longer = {"rise": Quantity(rise, "in")}
        reason, accepted = Message("kick.too-short", longer), Message("kick.longer", longer)
        raise LENGTH.refuse(reason, LENGTH.written(length), accepted, LENGTH.written(2 * rise))
    angle = asin(rise / length)
    return angle  # noqa: RET504 - the assignment is the step


@steps(travel_handbook="in", mark_handbook="in")
def _handbook(rise: float, angle: float) -> float | None:
    constants = offset_constants(angle)
    if constants is None:
        return None
    multiplier = constants.multiplier
    note("multiplier", "offset.multiplier", angle=Quantity(angle, "deg"), multiplier=multiplier)
    travel_handbook = rise * multiplier
    mark_handbook = travel_handbook
    return mark_handbook  # noqa: RET504 - the assignment is the step


@steps(corner_handbook="in")
def _corner_handbook(travel_handbook: float | None, outside_diameter: float) -> float | None:
    if travel_handbook is None:
        return None
    corner_handbook = travel_handbook + outside_diameter / 2
    return corner_handbook  # noqa: RET504 - the assignment is the step


@steps(setback="in", middle_of_arc="in", mark_arc="in")
def _arc(corner: float, angle: float, shoe: Shoe, hook: str) -> float:
    """The arc begins its setback before the sharp corner; the mark lies beside its middle."""
    take_up, radius, outside_diameter = shoe.take_up, shoe.radius, shoe.outside_diameter
    note("radius", "offset.shoe", size=shoe.trade_size, radius=Quantity(radius, "in"))
    arc, _ = arc_and_gain(radius, angle)
    setback = radius * tan(angle / 2)
    middle_of_arc = corner - setback + arc / 2
    note("take_up", "offset.take-up", take_up=Quantity(take_up, "in"), diameter=write_number(outside_diameter))
    shift = shift_beside_mark(take_up, radius, outside_diameter, arc)
    if hook == End.FAR:  # noqa: SIM108 - the formula that is taken is the step
        mark_arc = middle_of_arc + shift
    else:
        mark_arc = middle_of_arc - shift
    return mark_arc


def _check_room(
    nearest: float, sizes: tuple[float, float, float | None], measured_from: str, shoe: Shoe, hook: str
) -> None:
    """Tube for the hook, or for the arc behind the mark, before the end or before the arc of the 90."""
    rise, angle, length = sizes
    bent = shoe.radius + shoe.outside_diameter / 2 if measured_from == Datum.BACK else 0.0
    needed = tube_needed(shoe, angle, hook) + bent
    if nearest >= needed:
        return
    params = {"mark": Quantity(nearest, "in"), "needed": Quantity(needed, "in")}
    reason = Message("kick.no-room-behind-90" if bent else "kick.no-room", params)
    given, value = (RISE, rise) if length is None else (LENGTH, length)
    enough = Quantity(value + needed - nearest, "in")
    accepted = Message(f"kick.more-{given.name}", {"enough": enough})
    raise given.refuse(reason, given.written(value), accepted, given.written(enough.value))


def _marks(mark: float, angle: float, measured_from: str, turn: str, hook: str) -> tuple[Mark, ...]:
    """One mark; behind a 90, bent with the hook toward its stub, it is the second."""
    end = End(hook)
    if measured_from == Datum.BACK:
        return (Mark(mark, Datum.BACK, Reference.TAKE_UP, end, angle, _ROLLS[Turn(turn)], end == End.FAR, 2),)
    return (Mark(mark, End.MEASURED, Reference.TAKE_UP, end, angle, 0.0, False, 1),)


def _outputs() -> tuple[Output, ...]:
    names: tuple[tuple[str, Any], ...] = (
        *(("travel", "in"), ("advance", "in"), ("corner", "in")),
        *(("mark", "in"), ("marks", "")),
    )
    return (
        Output("angle", "deg"),
        *(Output(name, unit, "sharp-corner") for name, unit in names),
        *(Output(f"{name}_handbook", "in", "handbook", True) for name in ("travel", "corner", "mark")),
        Output("marks_handbook", "", "handbook"),
        Output("mark_arc", "in", "arc"),
        Output("marks_arc", "", "arc"),
    )


KICK = Calculation(
    name="kick",
    function=kick,
    inputs=(RISE, ANGLE, LENGTH, MEASURED_FROM, TURN, SHOE, HOOK),
    outputs=_outputs(),
    sources=(
        "right-triangle geometry",
        "handbook constants: published bender instruction sheets and training textbooks",
        "shoe: trade practice; radius computed from the handbook gain",
    ),
    area="bending",
    example_inputs={"rise": "6 in", "angle": "30"},
)
