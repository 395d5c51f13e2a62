"""
Parallel offsets: how far the marks of each neighbour shift so that a rack stays evenly spaced. Inches and degrees.

Where the rack turns in its own plane, each corner lies on the line that halves the turn; the tube on the side that the
rack turns toward has its marks nearer to the start. Where all tubes jump away from the wall side by side, their marks
are the same. Parallel kicks shift likewise.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import End, Mark
from trainer.calc.message import InputError, Message, Quantity
from trainer.calc.offset import OFFSET, Offset, offset
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.trace import note, steps
from trainer.calc.trig import tan

__all__ = ["PARALLEL_OFFSET", "ParallelOffset", "Plane", "Side", "parallel_offset"]


class Plane(StrEnum):
    """Where the offsets go."""

    IN_RACK = "in-rack"
    AWAY = "away-from-rack"


class Side(StrEnum):
    """On which side of the first tube the neighbour lies."""

    TOWARD = "toward-turn"
    FROM = "from-turn"


CENTRE_SPACING = Input("centre_spacing", Kind.LENGTH, "2 in", "in", above=0)
PLANE = Input("plane", Kind.CHOICE, "in-rack", optional=True, choices=tuple(Plane))
SIDE = Input("side", Kind.CHOICE, "toward-turn", optional=True, choices=tuple(Side))
NEIGHBOUR = Input("neighbour", Kind.COUNT, "1", "count", optional=True, least=1, most=50)
DEPTH = Input("depth", Kind.LENGTH, "6 in", "in", optional=True, above=0)
ANGLE, DISTANCE, SHOE, HOOK = (OFFSET.input(name) for name in ("angle", "distance", "shoe", "hook"))


class ParallelOffset(Struct, frozen=True):
    """
    How a neighbour differs from the first tube.

    Args:
        mark_shift: From each tube to the next, along the tube [in]: the same for both marks and on every convention.
        neighbour_shift: From the first tube to the neighbour that is asked about [in].
        neighbour_distance: Where that neighbour's own far corner stands, from the start [in]; None without a distance.
        first_mark: Its mark of the far bend [in]; None without depth and distance.
        second_mark: Its mark of the near bend [in].
        marks: Both as full instructions.

    `_handbook` and `_arc` as in `Offset`.
    """

    mark_shift: float
    neighbour_shift: float
    neighbour_distance: float | None
    first_mark: float | None
    second_mark: float | None
    marks: tuple[Mark, ...]
    first_mark_handbook: float | None
    second_mark_handbook: float | None
    marks_handbook: tuple[Mark, ...]
    first_mark_arc: float | None
    second_mark_arc: float | None
    marks_arc: tuple[Mark, ...]


@steps(mark_shift="in", neighbour_shift="in", neighbour_distance="in")
def parallel_offset(
    centre_spacing: float,
    angle: float,
    *,
    plane: str = Plane.IN_RACK,
    side: str = Side.TOWARD,
    neighbour: int = 1,
    depth: float | None = None,
    distance: float | None = None,
    shoe: Shoe = DEFAULT_SHOE,
    hook: str = End.FAR,
) -> ParallelOffset:
    """
    How far the marks of a neighbour shift against those of the first tube, and with depth and distance its marks.

    Args:
        centre_spacing: From the middle of a tube to the middle of the next [in], above 0.
        angle: Of each bend [deg], above 0, below 90.
        plane: Whether the offsets lie in the plane of the rack ("in-rack") or all jump away from it side by side
            ("away-from-rack").
        side: Whether the neighbour lies on the side that the rack turns toward at the first bend ("toward-turn") or on
            the other.
        neighbour: Which neighbour is asked about, counted from the first tube.
        depth: Of the offset, the same for all tubes [in].
        distance: From the line where all tubes start to the far corner of the first tube [in].
        shoe: The bender's shoe, for the arc.
        hook: End that the hook points at on both marks.

    Raises:
        InputError: When one lies outside its range, or the near bend has no room before the end of the tube.

    Source: geometry: equal distance between parallel lines on both sides of a corner.

    >>> round(parallel_offset(2, 30).mark_shift, 4)
    0.5359
    """
    values = (centre_spacing, angle, plane, side, neighbour, depth, distance, hook)
    for given, value in zip(
        (CENTRE_SPACING, ANGLE, PLANE, SIDE, NEIGHBOUR, DEPTH, DISTANCE, HOOK), values, strict=True
    ):
        given.check(value)
    if plane == Plane.AWAY:
        mark_shift = 0.0
        note("mark_shift", "parallel_offset.same-marks")
    else:
        mark_shift = centre_spacing * tan(angle / 2)
    neighbour_shift = neighbour * mark_shift
    note("neighbour_shift", f"parallel_offset.{side}")
    if distance is None:
        return ParallelOffset(mark_shift, neighbour_shift, None, *_outputs(None))
    if side == Side.TOWARD:  # noqa: SIM108 - the formula that is taken is the step
        neighbour_distance = distance - neighbour_shift
    else:
        neighbour_distance = distance + neighbour_shift
    own = _own(depth, angle, neighbour_distance, distance, shoe=shoe, hook=hook)
    return ParallelOffset(mark_shift, neighbour_shift, neighbour_distance, *_outputs(own))


@steps()
def _own(
    depth: float | None, angle: float, neighbour_distance: float, distance: float, *, shoe: Shoe, hook: str
) -> Offset | None:
    """The neighbour's own offset; a refusal speaks of the first tube's distance, as it was given."""
    if neighbour_distance <= 0:
        least = Message("parallel_offset.least", {"least": Quantity(distance - neighbour_distance, "in")})
        raise DISTANCE.refuse(Message("parallel_offset.off-the-tube"), DISTANCE.written(distance), least)
    if depth is None:
        return None
    note("distance", "parallel_offset.own-distance", "neighbour_distance")
    try:
        return offset(depth, angle, neighbour_distance, shoe, hook)
    except InputError as error:
        own: Any = error.accepted.params["least"]  # Of the neighbour; no other input is left to be refused here.
        of_first = Quantity(own.value + distance - neighbour_distance, "in")
        accepted = Message(error.accepted.id, {"least": of_first})
        raise DISTANCE.refuse(error.reason, DISTANCE.written(distance), accepted) from None


def _outputs(own: Offset | None) -> tuple[Any, ...]:
    if own is None:
        return (None, None, ()) * 3
    return (
        *(own.first_mark, own.second_mark, own.marks),
        *(own.first_mark_handbook, own.second_mark_handbook, own.marks_handbook),
        *(own.first_mark_arc, own.second_mark_arc, own.marks_arc),
    )


def _of(suffix: str, basis: str) -> tuple[Output, ...]:
    return (
        *(Output(f"{name}{suffix}", "in", basis, True) for name in ("first_mark", "second_mark")),
        Output(f"marks{suffix}", "", basis),
    )


PARALLEL_OFFSET = Calculation(
    name="parallel_offset",
    function=parallel_offset,
    inputs=(CENTRE_SPACING, ANGLE, PLANE, SIDE, NEIGHBOUR, DEPTH, DISTANCE, SHOE, HOOK),
    outputs=(
        Output("mark_shift", "in"),
        Output("neighbour_shift", "in"),
        Output("neighbour_distance", "in", "", True),
        *_of("", "sharp-corner"),
        *_of("_handbook", "handbook"),
        *_of("_arc", "arc"),
    ),
    sources=("geometry; the same statement in a published textbook chapter on offsets", *OFFSET.sources[1:]),
    area="bending",
    example_inputs={"centre_spacing": "2 in", "angle": "30", "depth": "6 in", "distance": "40 in"},
)
