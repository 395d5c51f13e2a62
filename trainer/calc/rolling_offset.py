"""The rolling offset: an offset that goes up and over at once, in a plane of its own. Inches and degrees."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import fields

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import End, Mark
from trainer.calc.offset import OFFSET, Offset, offset
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.trace import note, steps
from trainer.calc.trig import atan, sqrt, tan

__all__ = ["ROLLING_OFFSET", "RollingOffset", "rolling_offset"]

RISE = Input("rise", Kind.LENGTH, "6 in", "in", above=0)
ROLL = Input("roll", Kind.LENGTH, "8 in", "in", above=0)
ANGLE, DISTANCE, SHOE, HOOK = (OFFSET.input(name) for name in ("angle", "distance", "shoe", "hook"))


class RollingOffset(Struct, frozen=True):
    """
    A rolling offset: bent as an offset as deep as `true_offset`, then turned by `roll_angle`.

    Args:
        true_offset: Between the two parallel legs, straight across [in].
        roll_angle: Of the offset's plane, from the plane of the roll [deg].
        advance: Along the run, between the two sharp corners [in].

    All others as in `Offset`; the marks lie along the tube, so the plane changes none of them.
    """

    true_offset: float
    roll_angle: float
    advance: float
    spacing: float
    shrink: float
    first_mark: float | None
    second_mark: float | None
    marks: tuple[Mark, ...]
    spacing_handbook: float | None
    shrink_handbook: float | None
    first_mark_handbook: float | None
    second_mark_handbook: float | None
    marks_handbook: tuple[Mark, ...]
    spacing_arc: float | None
    shrink_arc: float | None
    first_mark_arc: float | None
    second_mark_arc: float | None
    marks_arc: tuple[Mark, ...]


@steps(true_offset="in", roll_angle="deg", advance="in", depth="in")
def rolling_offset(
    rise: float,
    roll: float,
    angle: float,
    *,
    distance: float | None = None,
    shoe: Shoe = DEFAULT_SHOE,
    hook: str = End.FAR,
) -> RollingOffset:
    """
    Marks of an offset that rises and goes aside at once.

    Args:
        rise: How far the tube goes up [in], above 0.
        roll: How far it goes aside [in], above 0.
        angle: Of each of the two bends [deg], above 0, below 90.
        distance: Along the run, from the end where it starts to where the far leg has to begin [in].
        shoe: The bender's shoe, for the arc.
        hook: End that the hook points at on both marks.

    Raises:
        InputError: When one lies outside its range, or the near bend has no room before the end of the tube.

    Source: right-angled triangles across and along the run; then as for any offset.

    >>> result = rolling_offset(3, 4, 30)
    >>> result.true_offset, round(result.spacing, 3), round(result.roll_angle, 2)
    (5.0, 10.0, 36.87)
    """
    for given, value in ((RISE, rise), (ROLL, roll), (ANGLE, angle), (DISTANCE, distance), (HOOK, hook)):
        given.check(value)
    true_offset = sqrt(rise * rise + roll * roll)
    roll_angle = atan(rise / roll)
    note("roll_angle", "rolling_offset.turn")
    advance = true_offset / tan(angle)
    depth = true_offset
    flat = offset(depth, angle, distance, shoe, hook)
    return RollingOffset(true_offset, roll_angle, advance, *(getattr(flat, part.name) for part in fields(Offset)))


ROLLING_OFFSET = Calculation(
    name="rolling_offset",
    function=rolling_offset,
    inputs=(RISE, ROLL, ANGLE, DISTANCE, SHOE, HOOK),
    outputs=(Output("true_offset", "in"), Output("roll_angle", "deg"), Output("advance", "in"), *OFFSET.outputs),
    sources=("right-angled triangles across and along the run", *OFFSET.sources),
    area="bending",
    example_inputs={"rise": "6 in", "roll": "8 in", "angle": "30", "distance": "40 in"},
)
