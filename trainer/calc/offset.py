"""
The offset: two equal bends that carry the tube past a step. Inches and degrees.

Three conventions, never mixed in silence: sharp corners (right-triangle geometry, no suffix), the rounded handbook
constants (`_handbook`), and the true arc of the shoe (`_arc`), the only one that a bent tube can prove.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec import Struct

from trainer.calc.arcs import arc_and_gain, shift_beside_mark
from trainer.calc.calculation import Calculation, Output
from trainer.calc.handbook import offset_constants
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.message import Quantity
from trainer.calc.near_end import check_near_end, tube_needed
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.step import write_number
from trainer.calc.trace import note, steps
from trainer.calc.trig import sin, tan

__all__ = ["OFFSET", "Offset", "offset"]

DEPTH = Input("depth", Kind.LENGTH, "6 in", "in", above=0)
ANGLE = Input("angle", Kind.ANGLE, "30", "deg", above=0, below=90)
DISTANCE = Input("distance", Kind.LENGTH, "40 in", "in", optional=True, above=0)
SHOE = Input("shoe", Kind.SHOE, "1/2", optional=True)
HOOK = Input("hook", Kind.CHOICE, "far-end", optional=True, choices=(End.FAR, End.MEASURED))


class Offset(Struct, frozen=True):
    """
    An offset, on three conventions.

    Args:
        spacing: Along the tube between the two marks [in].
        shrink: What the run comes short by [in].
        first_mark: The mark of the far bend, from the end where the run starts [in]; None without a distance.
        second_mark: The mark of the near bend [in].
        marks: Both as full instructions, in the order of bending; empty without a distance.

    `_handbook` is None where no handbook constant is common; `_arc` where the two arcs would run into each other.
    """

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


class _Basis(Struct, frozen=True):
    """What one convention gives."""

    spacing: float
    shrink: float | None
    first_mark: float | None = None
    second_mark: float | None = None


@steps()
def offset(
    depth: float,
    angle: float,
    distance: float | None = None,
    shoe: Shoe = DEFAULT_SHOE,
    hook: str = End.FAR,
) -> Offset:
    """
    Marks of an offset toward an obstacle.

    Args:
        depth: Between the two parallel legs, bottom of tube to bottom of tube [in], above 0.
        angle: Of each of the two bends [deg], above 0, below 90.
        distance: From the end where the run starts to the obstacle [in].
        shoe: The bender's shoe, for the arc.
        hook: End that the hook points at on both marks: "far-end" finishes the offset early and so clears the
            obstacle, "measured-end" finishes it late.

    Raises:
        InputError: When one lies outside its range, or the near bend has no room before the end of the tube.

    Source: right-triangle geometry; handbook constants in tables/bends.toml; arcs of the shoe's radius.

    >>> result = offset(6, 30, 40)
    >>> round(result.spacing, 3), round(result.shrink, 3), round(result.second_mark, 3)
    (12.0, 1.608, 29.608)
    """
    for given, value in ((DEPTH, depth), (ANGLE, angle), (DISTANCE, distance), (HOOK, hook)):
        given.check(value)
    sharp = _sharp(depth, angle, distance)
    handbook = _handbook(depth, angle, distance)
    arc = _arc(depth, angle, distance, shoe, hook)
    _check_room((sharp, handbook, arc), angle, shoe, hook, distance)
    return Offset(*_outputs(sharp, angle, hook), *_outputs(handbook, angle, hook), *_outputs(arc, angle, hook))


@steps(spacing="in", shrink="in", first_mark="in", second_mark="in")
def _sharp(depth: float, angle: float, distance: float | None) -> _Basis:
    spacing = depth / sin(angle)
    shrink = depth * tan(angle / 2)
    if distance is None:
        return _Basis(spacing, shrink)
    first_mark = distance + shrink
    second_mark = first_mark - spacing
    return _Basis(spacing, shrink, first_mark, second_mark)


@steps(spacing_handbook="in", shrink_handbook="in", first_mark_handbook="in", second_mark_handbook="in")
def _handbook(depth: float, angle: float, distance: float | None) -> _Basis | None:
    constants = offset_constants(angle)
    if constants is None:
        return None
    multiplier, shrink_per_inch = constants.multiplier, constants.shrink_per_inch
    note("multiplier", "offset.multiplier", angle=Quantity(angle, "deg"), multiplier=multiplier)
    spacing_handbook = depth * multiplier
    if shrink_per_inch is None:
        return _Basis(spacing_handbook, None)
    note("shrink_per_inch", "offset.shrink", angle=Quantity(angle, "deg"), shrink=Quantity(shrink_per_inch, "in"))
    shrink_handbook = depth * shrink_per_inch
    if distance is None:
        return _Basis(spacing_handbook, shrink_handbook)
    first_mark_handbook = distance + shrink_handbook
    second_mark_handbook = first_mark_handbook - spacing_handbook
    return _Basis(spacing_handbook, shrink_handbook, first_mark_handbook, second_mark_handbook)


@steps(spacing_arc="in", shrink_arc="in", middle_of_far_arc="in", first_mark_arc="in", second_mark_arc="in")
def _arc(depth: float, angle: float, distance: float | None, shoe: Shoe, hook: str) -> _Basis | None:
    take_up, radius, outside_diameter = shoe.take_up, shoe.radius, shoe.outside_diameter
    note("radius", "offset.shoe", size=shoe.trade_size, radius=Quantity(radius, "in"))
    arc, gain = arc_and_gain(radius, angle)
    spacing_arc = depth / sin(angle) - gain
    if spacing_arc < arc:
        note("spacing_arc", "offset.arcs-meet", arc=Quantity(arc, "in"))
        return None
    shrink_arc = depth * tan(angle / 2) - 2 * gain
    if distance is None:
        return _Basis(spacing_arc, shrink_arc)
    middle_of_far_arc = distance + shrink_arc + gain / 2
    note("take_up", "offset.take-up", take_up=Quantity(take_up, "in"), diameter=write_number(outside_diameter))
    shift = shift_beside_mark(take_up, radius, outside_diameter, arc)
    if hook == End.FAR:  # noqa: SIM108 - the formula that is taken is the step
        first_mark_arc = middle_of_far_arc + shift
    else:
        first_mark_arc = middle_of_far_arc - shift
    second_mark_arc = first_mark_arc - spacing_arc
    return _Basis(spacing_arc, shrink_arc, first_mark_arc, second_mark_arc)


def _check_room(bases: Sequence[_Basis | None], angle: float, shoe: Shoe, hook: str, distance: float | None) -> None:
    """The hook, or the arc that lies behind it, must still be on the tube at the near mark of every convention."""
    near_marks = [basis.second_mark for basis in bases if basis and basis.second_mark is not None]
    if distance is not None and near_marks:
        check_near_end(DISTANCE, distance, min(near_marks), tube_needed(shoe, angle, hook))


def _outputs(basis: _Basis | None, angle: float, hook: str) -> tuple[Any, ...]:
    if basis is None:
        return None, None, None, None, ()
    marks = _marks(basis, angle, End(hook))
    return basis.spacing, basis.shrink, basis.first_mark, basis.second_mark, marks


def _marks(basis: _Basis, angle: float, hook: End) -> tuple[Mark, ...]:
    """Both marks as instructions: the bend nearer to where the hook points comes first, the tube rolled over between."""
    if basis.first_mark is None or basis.second_mark is None:
        return ()
    positions = (basis.first_mark, basis.second_mark)
    ordered = positions if hook == End.FAR else positions[::-1]
    return tuple(
        Mark(position, End.MEASURED, Reference.TAKE_UP, hook, angle, 180.0 * turn, False, turn + 1)
        for turn, position in enumerate(ordered)
    )


def _of(suffix: str, basis: str, *, optional: bool) -> tuple[Output, ...]:
    """The outputs of one convention, in the order of the result's fields."""
    return (
        Output(f"spacing{suffix}", "in", basis, optional),
        Output(f"shrink{suffix}", "in", basis, optional),
        Output(f"first_mark{suffix}", "in", basis, True),
        Output(f"second_mark{suffix}", "in", basis, True),
        Output(f"marks{suffix}", "", basis),
    )


OFFSET = Calculation(
    name="offset",
    function=offset,
    inputs=(DEPTH, ANGLE, DISTANCE, SHOE, HOOK),
    outputs=(
        *_of("", "sharp-corner", optional=False),
        *_of("_handbook", "handbook", optional=True),
        *_of("_arc", "arc", optional=True),
    ),
    sources=(
        "right-triangle geometry",
        "handbook constants: published bender instruction sheets and training textbooks",
        "shoe: trade practice; radius computed from the handbook gain",
    ),
    area="bending",
    example_inputs={"depth": "6 in", "angle": "30", "distance": "40 in"},
)
