"""
Two 90s with their stubs to the same side, measured over their backs. Inches.

Three ways to the second mark. On the bent piece, from the back of the first bend: the back-of-bend mark on the full
distance, hook toward the free end; or the take-up mark on the distance less the take-up, hook toward the first bend. On
the straight stick: stub and distance less the outside gain, with the back-of-bend mark. All distances are OUTSIDE ones;
between the middles it is one outside diameter less.
"""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.calculation import Calculation, Output
from trainer.calc.handbook import OUTSIDE_GAINS
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.shoes import DEFAULT_SHOE, HOOK_NEEDS, Shoe
from trainer.calc.step import write_number
from trainer.calc.stub_up import stub_up
from trainer.calc.trace import note, steps

__all__ = ["BACK_TO_BACK", "BackToBack", "Way", "back_to_back"]


class Way(StrEnum):
    """How the second mark is made."""

    BACK_MARK = "by-back-mark"
    TAKE_UP = "by-take-up"
    STRAIGHT_STICK = "on-straight-stick"


DISTANCE = Input("distance", Kind.LENGTH, "40 in", "in", above=0)
STUB = Input("stub", Kind.LENGTH, "12 in", "in", optional=True, above=0)
SHOE = Input("shoe", Kind.SHOE, "1/2", optional=True)
WAY = Input("way", Kind.CHOICE, "by-back-mark", optional=True, choices=tuple(Way))


class BackToBack(Struct, frozen=True):
    """
    The second mark, three ways.

    Args:
        by_back_mark: From the back of the first bend, for the back-of-bend mark [in].
        by_take_up: From the back of the first bend, for the take-up mark [in].
        on_straight_stick: From the end of the first stub, made before any bend, for the back-of-bend mark [in]; None
            without a stub. With the outside gain of the shoe's arc.
        marks: Both as full instructions, the second one by the way that is asked for; empty without a stub.
        on_straight_stick_handbook: As `on_straight_stick`, with the handbook's rounded gain [in].
        marks_handbook: As `marks`, with that.
    """

    by_back_mark: float
    by_take_up: float
    on_straight_stick: float | None
    marks: tuple[Mark, ...]
    on_straight_stick_handbook: float | None
    marks_handbook: tuple[Mark, ...]


@steps(by_back_mark="in", by_take_up="in", hook_room="in")
def back_to_back(
    distance: float, stub: float | None = None, shoe: Shoe = DEFAULT_SHOE, way: str = Way.BACK_MARK
) -> BackToBack:
    """
    Marks of two 90s, back to back.

    Args:
        distance: Between the backs of the two bends [in].
        stub: From the end of the tube to the back of the first bend [in].
        shoe: The bender's shoe.
        way: How the second mark is made.

    Raises:
        InputError: When one lies outside its range, the arcs would run into each other, or the hook has no room.

    Source: trade practice; take-up and gain of the shoe, handbook gain in tables/bends.toml.

    >>> result = back_to_back(40, 12)
    >>> result.by_back_mark, result.by_take_up, result.on_straight_stick_handbook
    (40, 35.0, 49.375)
    """
    for given, value in ((DISTANCE, distance), (STUB, stub), (WAY, way)):
        given.check(value)
    _check_arcs(distance, shoe)
    take_up, back_mark_off = shoe.take_up, shoe.back_mark_off
    radius, outside_diameter = shoe.radius, shoe.outside_diameter
    note("distance", "back_to_back.outside")
    if back_mark_off:
        note("back_mark_off", "back_to_back.own-mark", off=Quantity(abs(back_mark_off), "in"))
        by_back_mark = distance - back_mark_off
    else:
        by_back_mark = distance
    note("take_up", "stub_up.take-up", take_up=Quantity(take_up, "in"), size=Message("back_to_back.shoe"))
    by_take_up = distance - take_up
    hook_room = by_take_up - radius - outside_diameter / 2
    if hook_room < HOOK_NEEDS:
        note("hook_room", "back_to_back.hook-room", "hook_room", needed=Quantity(HOOK_NEEDS, "in"))
        _check_hook(way, distance, hook_room)
    if stub is None:
        return BackToBack(by_back_mark, by_take_up, None, (), None, ())
    first = _first(stub, take_up)
    on_straight_stick = _on_stick(stub, by_back_mark, shoe)
    by_handbook = _on_stick_by_handbook(stub, distance, shoe.trade_size)
    from_back = by_take_up if way == Way.TAKE_UP else by_back_mark
    marks, marks_handbook = (
        (first, _second(way, from_back, on_stick)) for on_stick in (on_straight_stick, by_handbook)
    )
    return BackToBack(by_back_mark, by_take_up, on_straight_stick, marks, by_handbook, marks_handbook)


@steps()
def _first(stub: float, take_up: float) -> Mark:
    try:
        return stub_up(stub, take_up=take_up).marks[0]
    except InputError as error:
        raise error.for_field("stub") from None


@steps(on_straight_stick="in")
def _on_stick(stub: float, by_back_mark: float, shoe: Shoe) -> float:
    outside_gain = shoe.outside_gain
    note("outside_gain", "back_to_back.gain", gain=write_number(outside_gain))
    on_straight_stick = stub + by_back_mark - outside_gain
    return on_straight_stick  # noqa: RET504 - the assignment is the step


@steps(on_straight_stick_handbook="in")
def _on_stick_by_handbook(stub: float, distance: float, trade_size: str) -> float:
    handbook_gain = OUTSIDE_GAINS[trade_size]
    note("handbook_gain", "back_to_back.handbook-gain", size=trade_size, gain=Quantity(handbook_gain, "in"))
    on_straight_stick_handbook = stub + distance - handbook_gain
    return on_straight_stick_handbook  # noqa: RET504 - the assignment is the step


def _second(way: str, from_back: float, on_stick: float) -> Mark:
    """Hooked away from the first bend the tube is swung around: the first was bent with the hook toward its stub."""
    if way == Way.TAKE_UP:
        return Mark(from_back, Datum.BACK, Reference.TAKE_UP, End.MEASURED, 90.0, 0.0, False, 2)
    by_back = Mark(from_back, Datum.BACK, Reference.BACK_OF_BEND, End.FAR, 90.0, 0.0, True, 2)
    return replace(by_back, position=on_stick, measured_from=End.MEASURED) if way == Way.STRAIGHT_STICK else by_back


def _check_arcs(distance: float, shoe: Shoe) -> None:
    least = 2 * shoe.radius + shoe.outside_diameter
    if distance < least:
        bound = {"least": Quantity(least, "in")}
        reason, accepted = Message("back_to_back.arcs-meet"), Message("back_to_back.least", bound)
        raise DISTANCE.refuse(reason, DISTANCE.written(distance), accepted)


def _check_hook(way: str, distance: float, hook_room: float) -> None:
    if way != Way.TAKE_UP:
        return
    least = {"least": Quantity(distance - hook_room + HOOK_NEEDS, "in")}
    reason = Message("back_to_back.hook-room", {"needed": Quantity(HOOK_NEEDS, "in")})
    raise DISTANCE.refuse(reason, DISTANCE.written(distance), Message("back_to_back.least", least))


BACK_TO_BACK = Calculation(
    name="back_to_back",
    function=back_to_back,
    inputs=(DISTANCE, STUB, SHOE, WAY),
    outputs=(
        Output("by_back_mark", "in"),
        Output("by_take_up", "in"),
        Output("on_straight_stick", "in", "arc", True),
        Output("marks", "", "arc"),
        Output("on_straight_stick_handbook", "in", "handbook", True),
        Output("marks_handbook", "", "handbook"),
    ),
    sources=(
        "trade practice: published textbook and bender instruction sheets agree",
        "take-up: published textbook, bender instruction sheet and a US Navy training manual agree",
        "handbook gain: common practice, from memory; the shoe's own follows from its radius",
    ),
    area="bending",
    example_inputs={"distance": "40 in", "stub": "12 in"},
)
