"""
The four-point saddle: over a wide obstacle and back down, two offsets back to back. Inches and degrees.

All four bends have the same angle and the hook the same way, so that every arc lies equally far beside its mark. Three
conventions, never mixed in silence: sharp corners, the handbook's constants, and the true arc of the shoe.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import astuple

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

__all__ = ["FOUR_POINT_SADDLE", "FourPointSaddle", "four_point_saddle"]

HEIGHT = Input("height", Kind.LENGTH, "4 in", "in", above=0)
WIDTH = Input("width", Kind.LENGTH, "12 in", "in", above=0)
ANGLE = Input("angle", Kind.ANGLE, "30", "deg", above=0, below=90)
CLEARANCE = Input("clearance", Kind.LENGTH, "1 in", "in", optional=True, least=0)
DISTANCE = Input("distance", Kind.LENGTH, "40 in", "in", optional=True, above=0)
SHOE = Input("shoe", Kind.SHOE, "1/2", optional=True)
HOOK = Input("hook", Kind.CHOICE, "far-end", optional=True, choices=(End.FAR, End.MEASURED))


class FourPointSaddle(Struct, frozen=True):
    """
    A four-point saddle, on three conventions.

    Args:
        spacing: Along the tube from an outer mark to its inner mark [in].
        inner_spacing: Along the tube from one inner mark to the other [in].
        total_shrink: What the run comes short by in all [in].
        near_outer_mark: From the end where the run starts [in]; None without a distance.
        near_inner_mark: Likewise [in].
        far_inner_mark: Likewise [in].
        far_outer_mark: Likewise [in].
        marks: All as full instructions, in the order of bending; empty without a distance.

    `_handbook` is None where no handbook constant is common; `_arc` where the arcs would run into each other.
    """

    spacing: float
    inner_spacing: float
    total_shrink: float
    near_outer_mark: float | None
    near_inner_mark: float | None
    far_inner_mark: float | None
    far_outer_mark: float | None
    marks: tuple[Mark, ...]
    spacing_handbook: float | None
    inner_spacing_handbook: float | None
    total_shrink_handbook: float | None
    near_outer_mark_handbook: float | None
    near_inner_mark_handbook: float | None
    far_inner_mark_handbook: float | None
    far_outer_mark_handbook: float | None
    marks_handbook: tuple[Mark, ...]
    spacing_arc: float | None
    inner_spacing_arc: float | None
    total_shrink_arc: float | None
    near_outer_mark_arc: float | None
    near_inner_mark_arc: float | None
    far_inner_mark_arc: float | None
    far_outer_mark_arc: float | None
    marks_arc: tuple[Mark, ...]


class _Basis(Struct, frozen=True):
    """What one convention gives."""

    spacing: float
    inner_spacing: float
    total_shrink: float | None
    near_outer_mark: float | None = None
    near_inner_mark: float | None = None
    far_inner_mark: float | None = None
    far_outer_mark: float | None = None


@steps(near_corner="in", flat="in")
def four_point_saddle(
    height: float,
    width: float,
    angle: float,
    *,
    clearance: float = 0.0,
    distance: float | None = None,
    shoe: Shoe = DEFAULT_SHOE,
    hook: str = End.FAR,
) -> FourPointSaddle:
    """
    Marks of a saddle over a wide obstacle.

    Args:
        height: What the tube has to rise, bottom of tube to bottom of tube [in], above 0.
        width: Of the obstacle, along the run [in], above 0.
        angle: Of each of the four bends [deg], above 0, below 90.
        clearance: What is to be left along the run on each side, from the obstacle to the inner corner [in]. The tube
            has its full height only a little behind the corner: see the steps.
        distance: From the end where the run starts to the NEAR EDGE of the obstacle [in].
        shoe: The bender's shoe, for the arc.
        hook: End that the hook points at on all four marks.

    Raises:
        InputError: When one lies outside its range, or the near bend has no room before the end of the tube.

    Source: right-triangle geometry; handbook constants in tables/bends.toml; arcs of the shoe's radius.

    >>> result = four_point_saddle(4, 12, 30, distance=40)
    >>> result.near_inner_mark_handbook, result.near_outer_mark_handbook, result.far_inner_mark_handbook
    (41.0, 33.0, 53.0)
    """
    values = (height, width, angle, clearance, distance, hook)
    for given, value in zip((HEIGHT, WIDTH, ANGLE, CLEARANCE, DISTANCE, HOOK), values, strict=True):
        given.check(value)
    flat = width + 2 * clearance
    if distance is None:  # noqa: SIM108 - the formula that is taken is the step
        near_corner = None
    else:
        near_corner = distance - clearance
    sharp = _sharp(height, angle, flat, near_corner)
    handbook = _handbook(height, angle, flat, near_corner)
    arc = _arc(height, angle, flat, near_corner, shoe=shoe, hook=hook)
    _check_room((sharp, handbook, arc), angle, shoe, hook, distance)
    return FourPointSaddle(*_outputs(sharp, angle, hook), *_outputs(handbook, angle, hook), *_outputs(arc, angle, hook))


@steps(
    spacing="in",
    inner_spacing="in",
    shrink="in",
    total_shrink="in",
    near_inner_mark="in",
    near_outer_mark="in",
    far_inner_mark="in",
    far_outer_mark="in",
)
def _sharp(height: float, angle: float, flat: float, near_corner: float | None) -> _Basis:
    spacing = height / sin(angle)
    inner_spacing = flat
    shrink = height * tan(angle / 2)
    total_shrink = 2 * shrink
    if near_corner is None:
        return _Basis(spacing, inner_spacing, total_shrink)
    near_inner_mark = near_corner + shrink
    near_outer_mark = near_inner_mark - spacing
    far_inner_mark = near_inner_mark + inner_spacing
    far_outer_mark = far_inner_mark + spacing
    marks = (near_outer_mark, near_inner_mark, far_inner_mark, far_outer_mark)
    return _Basis(spacing, inner_spacing, total_shrink, *marks)


@steps(
    spacing_handbook="in",
    inner_spacing_handbook="in",
    shrink_handbook="in",
    total_shrink_handbook="in",
    near_inner_mark_handbook="in",
    near_outer_mark_handbook="in",
    far_inner_mark_handbook="in",
    far_outer_mark_handbook="in",
)
def _handbook(height: float, angle: float, flat: float, near_corner: float | None) -> _Basis | None:
    constants = offset_constants(angle)
    if constants is None:
        return None
    multiplier, shrink_per_inch = constants.multiplier, constants.shrink_per_inch
    note("multiplier", "offset.multiplier", angle=Quantity(angle, "deg"), multiplier=multiplier)
    spacing_handbook = height * multiplier
    inner_spacing_handbook = flat
    if shrink_per_inch is None:
        return _Basis(spacing_handbook, inner_spacing_handbook, None)
    shrink = Quantity(shrink_per_inch, "in")
    note("shrink_per_inch", "four_point_saddle.shrink", angle=Quantity(angle, "deg"), shrink=shrink)
    shrink_handbook = height * shrink_per_inch
    total_shrink_handbook = 2 * shrink_handbook
    if near_corner is None:
        return _Basis(spacing_handbook, inner_spacing_handbook, total_shrink_handbook)
    near_inner_mark_handbook = near_corner + shrink_handbook
    near_outer_mark_handbook = near_inner_mark_handbook - spacing_handbook
    far_inner_mark_handbook = near_inner_mark_handbook + inner_spacing_handbook
    far_outer_mark_handbook = far_inner_mark_handbook + spacing_handbook
    marks = (near_outer_mark_handbook, near_inner_mark_handbook, far_inner_mark_handbook, far_outer_mark_handbook)
    return _Basis(spacing_handbook, inner_spacing_handbook, total_shrink_handbook, *marks)


@steps(
    full_height_after="in",
    spacing_arc="in",
    inner_spacing_arc="in",
    shrink_arc="in",
    total_shrink_arc="in",
    middle_of_near_inner_arc="in",
    near_inner_mark_arc="in",
    near_outer_mark_arc="in",
    far_inner_mark_arc="in",
    far_outer_mark_arc="in",
)
def _arc(
    height: float, angle: float, flat: float, near_corner: float | None, *, shoe: Shoe, hook: str
) -> _Basis | None:
    take_up, radius, outside_diameter = shoe.take_up, shoe.radius, shoe.outside_diameter
    note("radius", "offset.shoe", size=shoe.trade_size, radius=Quantity(radius, "in"))
    arc, gain = arc_and_gain(radius, angle)
    full_height_after = radius * tan(angle / 2)
    note("full_height_after", "four_point_saddle.full-height", after=Quantity(full_height_after, "in"))
    spacing_arc = height / sin(angle) - gain
    inner_spacing_arc = flat - gain
    if min(spacing_arc, inner_spacing_arc) < arc:
        note("spacing_arc", "four_point_saddle.arcs-meet", arc=Quantity(arc, "in"))
        return None
    shrink_arc = height * tan(angle / 2) - 2 * gain
    total_shrink_arc = 2 * shrink_arc
    if near_corner is None:
        return _Basis(spacing_arc, inner_spacing_arc, total_shrink_arc)
    middle_of_near_inner_arc = near_corner + shrink_arc + gain / 2
    note("take_up", "offset.take-up", take_up=Quantity(take_up, "in"), diameter=write_number(outside_diameter))
    shift = shift_beside_mark(take_up, radius, outside_diameter, arc)
    if hook == End.FAR:  # noqa: SIM108 - the formula that is taken is the step
        near_inner_mark_arc = middle_of_near_inner_arc + shift
    else:
        near_inner_mark_arc = middle_of_near_inner_arc - shift
    near_outer_mark_arc = near_inner_mark_arc - spacing_arc
    far_inner_mark_arc = near_inner_mark_arc + inner_spacing_arc
    far_outer_mark_arc = far_inner_mark_arc + spacing_arc
    marks = (near_outer_mark_arc, near_inner_mark_arc, far_inner_mark_arc, far_outer_mark_arc)
    return _Basis(spacing_arc, inner_spacing_arc, total_shrink_arc, *marks)


def _check_room(bases: Sequence[_Basis | None], angle: float, shoe: Shoe, hook: str, distance: float | None) -> None:
    near_marks = [basis.near_outer_mark for basis in bases if basis and basis.near_outer_mark is not None]
    if distance is not None:
        check_near_end(DISTANCE, distance, min(near_marks), tube_needed(shoe, angle, hook))


def _outputs(basis: _Basis | None, angle: float, hook: str) -> tuple[Any, ...]:
    return (*astuple(basis), _marks(basis, angle, End(hook))) if basis else (*[None] * 7, ())


def _marks(basis: _Basis, angle: float, hook: End) -> tuple[Mark, ...]:
    """
    All four, the one nearest to where the hook points first.

    The tube is rolled over before the second bend of either offset; between the two offsets it stays as it lies.
    """
    _, _, _, *positions = astuple(basis)
    if None in positions:
        return ()
    ordered = positions[::-1] if hook == End.FAR else positions
    return tuple(
        Mark(position, End.MEASURED, Reference.TAKE_UP, hook, angle, roll, False, order)
        for order, (position, roll) in enumerate(zip(ordered, (0.0, 180.0, 0.0, 180.0), strict=True), start=1)
    )


def _of(suffix: str, basis: str, *, optional: bool) -> tuple[Output, ...]:
    """The outputs of one convention, in the order of the result's fields."""
    marks = (f"{place}_mark" for place in ("near_outer", "near_inner", "far_inner", "far_outer"))
    return (
        *(Output(f"{name}{suffix}", "in", basis, optional) for name in ("spacing", "inner_spacing", "total_shrink")),
        *(Output(f"{name}{suffix}", "in", basis, True) for name in marks),
        Output(f"marks{suffix}", "", basis),
    )


FOUR_POINT_SADDLE = Calculation(
    name="four_point_saddle",
    function=four_point_saddle,
    inputs=(HEIGHT, WIDTH, ANGLE, CLEARANCE, DISTANCE, SHOE, HOOK),
    outputs=(
        *_of("", "sharp-corner", optional=False),
        *_of("_handbook", "handbook", optional=True),
        *_of("_arc", "arc", optional=True),
    ),
    sources=(
        "right-triangle geometry: two offsets back to back",
        "handbook constants: published bender instruction sheets and training textbooks",
        "shoe: trade practice; radius computed from the handbook gain",
    ),
    area="bending",
    example_inputs={"height": "4 in", "width": "12 in", "angle": "30", "clearance": "1 in", "distance": "40 in"},
)
