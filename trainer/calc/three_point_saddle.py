"""
The three-point saddle: over a pipe and back down, with one middle bend and two of half its angle. Inches and degrees.

The centre mark goes on the bender's saddle-centre mark; the outer marks go on its take-up mark with the hook toward the
centre. There are two shrinks: the one to the centre moves the centre mark, twice that is what the whole run comes short
by. Three conventions, never mixed in silence: sharp corners, the handbook's constants, and the true arc of the shoe.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import astuple

from trainer.calc.arcs import arc_and_gain, shift_beside_mark
from trainer.calc.calculation import Calculation, Output
from trainer.calc.handbook import saddle_constants
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.message import Quantity
from trainer.calc.near_end import check_near_end, tube_needed
from trainer.calc.shoes import DEFAULT_SHOE, HOOK_NEEDS, Shoe
from trainer.calc.step import write_number
from trainer.calc.trace import note, steps
from trainer.calc.trig import sin, tan

__all__ = ["THREE_POINT_SADDLE", "ThreePointSaddle", "three_point_saddle"]

HEIGHT = Input("height", Kind.LENGTH, "3 in", "in", above=0)
CENTRE_ANGLE = Input("centre_angle", Kind.ANGLE, "45", "deg", least=5, most=120)
DISTANCE = Input("distance", Kind.LENGTH, "40 in", "in", optional=True, above=0)
SHOE = Input("shoe", Kind.SHOE, "1/2", optional=True)


class ThreePointSaddle(Struct, frozen=True):
    """
    A three-point saddle, on three conventions.

    Args:
        outer_spacing: From the centre mark to each outer mark, along the tube [in].
        shrink_to_centre: What the run comes short by as far as the middle [in].
        total_shrink: What it comes short by in all [in].
        centre_mark: From the end where the run starts [in]; None without a distance.
        near_mark: The outer mark before it [in].
        far_mark: The outer mark behind it [in].
        marks: All as full instructions, in the order of bending; empty without a distance.

    `_handbook` is None where no handbook constant is common; `_arc` where the arcs would run into each other.
    """

    outer_spacing: float
    shrink_to_centre: float
    total_shrink: float
    centre_mark: float | None
    near_mark: float | None
    far_mark: float | None
    marks: tuple[Mark, ...]
    outer_spacing_handbook: float | None
    shrink_to_centre_handbook: float | None
    total_shrink_handbook: float | None
    centre_mark_handbook: float | None
    near_mark_handbook: float | None
    far_mark_handbook: float | None
    marks_handbook: tuple[Mark, ...]
    outer_spacing_arc: float | None
    shrink_to_centre_arc: float | None
    total_shrink_arc: float | None
    centre_mark_arc: float | None
    near_mark_arc: float | None
    far_mark_arc: float | None
    marks_arc: tuple[Mark, ...]


class _Basis(Struct, frozen=True):
    """What one convention gives."""

    outer_spacing: float
    shrink_to_centre: float
    total_shrink: float
    centre_mark: float | None = None
    near_mark: float | None = None
    far_mark: float | None = None


@steps(outer_angle="deg")
def three_point_saddle(
    height: float, centre_angle: float, distance: float | None = None, shoe: Shoe = DEFAULT_SHOE
) -> ThreePointSaddle:
    """
    Marks of a saddle over one obstacle.

    Args:
        height: What the tube has to rise to clear the obstacle, bottom of tube to bottom of tube [in], above 0: the real
            outside of a pipe (a 4-inch pipe has 4-1/2 in) and what is to be left between.
        centre_angle: Of the middle bend [deg], 5 to 120; each outer bend has half of it.
        distance: From the end where the run starts to the MIDDLE of the obstacle [in].
        shoe: The bender's shoe, for the arc.

    Raises:
        InputError: When one lies outside its range, or the near bend has no room before the end of the tube.

    Source: right-triangle geometry; handbook constants in tables/bends.toml; arcs of the shoe's radius.

    >>> result = three_point_saddle(4, 45, 15)
    >>> result.centre_mark_handbook, result.outer_spacing_handbook
    (15.75, 10.0)
    """
    for given, value in ((HEIGHT, height), (CENTRE_ANGLE, centre_angle), (DISTANCE, distance)):
        given.check(value)
    outer_angle = centre_angle / 2
    sharp = _sharp(height, outer_angle, distance)
    handbook = _handbook(height, centre_angle, distance)
    arc = _arc(height, outer_angle, distance, shoe)
    _check_room((sharp, handbook, arc), outer_angle, shoe, distance)
    return ThreePointSaddle(
        *_outputs(sharp, outer_angle), *_outputs(handbook, outer_angle), *_outputs(arc, outer_angle)
    )


@steps(outer_spacing="in", shrink_to_centre="in", total_shrink="in", centre_mark="in", near_mark="in", far_mark="in")
def _sharp(height: float, outer_angle: float, distance: float | None) -> _Basis:
    outer_spacing = height / sin(outer_angle)
    shrink_to_centre = height * tan(outer_angle / 2)
    total_shrink = 2 * shrink_to_centre
    if distance is None:
        return _Basis(outer_spacing, shrink_to_centre, total_shrink)
    centre_mark = distance + shrink_to_centre
    near_mark = centre_mark - outer_spacing
    far_mark = centre_mark + outer_spacing
    return _Basis(outer_spacing, shrink_to_centre, total_shrink, centre_mark, near_mark, far_mark)


@steps(
    outer_spacing_handbook="in",
    shrink_to_centre_handbook="in",
    total_shrink_handbook="in",
    centre_mark_handbook="in",
    near_mark_handbook="in",
    far_mark_handbook="in",
)
def _handbook(height: float, centre_angle: float, distance: float | None) -> _Basis | None:
    constants = saddle_constants(centre_angle)
    if constants is None:
        return None
    multiplier, shrink_per_inch = constants.multiplier, constants.shrink_per_inch
    angle = Quantity(centre_angle, "deg")
    note("multiplier", "three_point_saddle.multiplier", angle=angle, multiplier=multiplier)
    outer_spacing_handbook = height * multiplier
    note("shrink_per_inch", "three_point_saddle.shrink", angle=angle, shrink=Quantity(shrink_per_inch, "in"))
    shrink_to_centre_handbook = height * shrink_per_inch
    total_shrink_handbook = 2 * shrink_to_centre_handbook
    if distance is None:
        return _Basis(outer_spacing_handbook, shrink_to_centre_handbook, total_shrink_handbook)
    centre_mark_handbook = distance + shrink_to_centre_handbook
    near_mark_handbook = centre_mark_handbook - outer_spacing_handbook
    far_mark_handbook = centre_mark_handbook + outer_spacing_handbook
    return _Basis(
        outer_spacing_handbook,
        shrink_to_centre_handbook,
        total_shrink_handbook,
        centre_mark_handbook,
        near_mark_handbook,
        far_mark_handbook,
    )


@steps(
    straight="in",
    middles_apart="in",
    outer_spacing_arc="in",
    hook_room="in",
    shrink_to_centre_arc="in",
    total_shrink_arc="in",
    centre_mark_arc="in",
    near_mark_arc="in",
    far_mark_arc="in",
)
def _arc(height: float, outer_angle: float, distance: float | None, shoe: Shoe) -> _Basis | None:
    """The crown is the highest point of the middle arc; half of that arc is as long as an outer one."""
    take_up, radius, outside_diameter = shoe.take_up, shoe.radius, shoe.outside_diameter
    note("radius", "offset.shoe", size=shoe.trade_size, radius=Quantity(radius, "in"))
    arc, gain = arc_and_gain(radius, outer_angle)
    straight = height / sin(outer_angle) - 2 * radius * tan(outer_angle / 2)
    if straight < 0:
        note("straight", "three_point_saddle.arcs-meet")
        return None
    middles_apart = straight + arc / 2 + arc
    note("take_up", "offset.take-up", take_up=Quantity(take_up, "in"), diameter=write_number(outside_diameter))
    shift = shift_beside_mark(take_up, radius, outside_diameter, arc)
    note("shift", "three_point_saddle.hook")
    outer_spacing_arc = middles_apart - shift
    hook_room = outer_spacing_arc - arc
    if hook_room < HOOK_NEEDS:
        note("hook_room", "three_point_saddle.hook-room", needed=Quantity(HOOK_NEEDS, "in"))
    shrink_to_centre_arc = height * tan(outer_angle / 2) - 2 * gain
    total_shrink_arc = 2 * shrink_to_centre_arc
    if distance is None:
        return _Basis(outer_spacing_arc, shrink_to_centre_arc, total_shrink_arc)
    centre_mark_arc = distance + shrink_to_centre_arc
    near_mark_arc = centre_mark_arc - outer_spacing_arc
    far_mark_arc = centre_mark_arc + outer_spacing_arc
    return _Basis(
        outer_spacing_arc, shrink_to_centre_arc, total_shrink_arc, centre_mark_arc, near_mark_arc, far_mark_arc
    )


def _check_room(bases: Sequence[_Basis | None], outer_angle: float, shoe: Shoe, distance: float | None) -> None:
    near_marks = [basis.near_mark for basis in bases if basis and basis.near_mark is not None]
    if distance is not None:
        check_near_end(DISTANCE, distance, min(near_marks), tube_needed(shoe, outer_angle, End.FAR))


def _outputs(basis: _Basis | None, outer_angle: float) -> tuple[Any, ...]:
    return (*astuple(basis), _marks(basis, outer_angle)) if basis else (*[None] * 6, ())


def _marks(basis: _Basis, outer_angle: float) -> tuple[Mark, ...]:
    """The middle first; then the tube is rolled over for both outer bends, each with the hook toward the centre."""
    if basis.centre_mark is None or basis.near_mark is None or basis.far_mark is None:
        return ()
    start, far, take_up = End.MEASURED, End.FAR, Reference.TAKE_UP
    return (
        Mark(basis.centre_mark, start, Reference.SADDLE_CENTRE, far, 2 * outer_angle, 0.0, False, 1),
        Mark(basis.near_mark, start, take_up, far, outer_angle, 180.0, False, 2),
        Mark(basis.far_mark, start, take_up, End.MEASURED, outer_angle, 0.0, True, 3),
    )


def _of(suffix: str, basis: str, *, optional: bool) -> tuple[Output, ...]:
    """The outputs of one convention, in the order of the result's fields."""
    return (
        *(Output(f"{name}{suffix}", "in", basis, optional) for name in ("outer_spacing", "shrink_to_centre")),
        Output(f"total_shrink{suffix}", "in", basis, optional),
        *(Output(f"{name}{suffix}", "in", basis, True) for name in ("centre_mark", "near_mark", "far_mark")),
        Output(f"marks{suffix}", "", basis),
    )


THREE_POINT_SADDLE = Calculation(
    name="three_point_saddle",
    function=three_point_saddle,
    inputs=(HEIGHT, CENTRE_ANGLE, DISTANCE, SHOE),
    outputs=(
        *_of("", "sharp-corner", optional=False),
        *_of("_handbook", "handbook", optional=True),
        *_of("_arc", "arc", optional=True),
    ),
    sources=(
        "right-triangle geometry",
        "handbook constants: US Navy NAVEDTRA 14026, conduit saddle table, and a bender instruction sheet",
        "shoe: trade practice; radius computed from the handbook gain",
    ),
    area="bending",
    example_inputs={"height": "3 in", "centre_angle": "45", "distance": "40 in"},
)
