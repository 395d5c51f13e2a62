"""
The segment bend: a wide bend made of many small ones, evenly spaced. Inches and degrees.

Each shot has its middle on its mark, the first one half a spacing in from where the curve begins. By the usual rule the
spacing is the developed length divided by the shots. On the arc basis (`_arc`) it is the spacing with which the small
arcs of this very shoe lie around the wanted curve.
"""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.arcs import arc_and_gain
from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.message import Quantity
from trainer.calc.near_end import check_near_end
from trainer.calc.shoes import DEFAULT_SHOE, HOOK_NEEDS, Shoe
from trainer.calc.trace import note, steps
from trainer.calc.trig import tan

__all__ = ["SEGMENT_BEND", "SegmentBend", "segment_bend"]

RADIUS = Input("radius", Kind.LENGTH, "30 in", "in", above=0, most=600)
ANGLE = Input("angle", Kind.ANGLE, "90", "deg", above=0, most=170)
SHOTS = Input("shots", Kind.COUNT, "15", "count", least=2, most=100)
DISTANCE = Input("distance", Kind.LENGTH, "60 in", "in", optional=True, above=0)
SHOE = Input("shoe", Kind.SHOE, "1/2", optional=True)
CENTRE_SPACING = Input("centre_spacing", Kind.LENGTH, "3 in", "in", optional=True, above=0, most=60)
NEIGHBOUR = Input("neighbour", Kind.COUNT, "1", "count", optional=True, least=1, most=50)


class SegmentBend(Struct, frozen=True):
    """
    A wide bend in shots.

    Args:
        shot_angle: Of each shot [deg].
        shot_spacing: From the middle of a shot to the middle of the next, along the tube [in].
        developed_length: Of the whole curve [in].
        first_shot: From where the curve begins to the middle of the first shot [in].
        setback: From where the curve begins to the corner of its two legs [in].
        first_mark: From the end where measuring starts to the first shot [in]; None without a distance.
        marks: All shots as full instructions, in the order of bending; empty without a distance.
        shot_spacing_arc: As `shot_spacing`, for the arcs of this shoe [in]; None where its own radius is larger.
        first_mark_arc: As `first_mark`, likewise.
        marks_arc: As `marks`, likewise.
        own_radius: Of the tube that is asked about [in]: the radius, or of a neighbor outside around the same centre.
    """

    shot_angle: float
    shot_spacing: float
    developed_length: float
    first_shot: float
    setback: float
    first_mark: float | None
    marks: tuple[Mark, ...]
    shot_spacing_arc: float | None
    first_mark_arc: float | None
    marks_arc: tuple[Mark, ...]
    own_radius: float


@steps(shot_angle="deg", shot_spacing="in", developed_length="in", first_shot="in", setback="in", curve_begins="in")
def segment_bend(
    radius: float,
    angle: float,
    shots: int,
    distance: float | None = None,
    shoe: Shoe = DEFAULT_SHOE,
    *,
    centre_spacing: float | None = None,
    neighbour: int = 1,
) -> SegmentBend:
    """
    Shots of a wide bend.

    Args:
        radius: Of the bend, to the centreline of the tubing [in], above 0.
        angle: Of the whole bend [deg], above 0, at most 170.
        shots: How many, 2 to 100; 15 to 30 make a 90 look smooth.
        distance: From the end where measuring starts, along the first leg, to the corner of the two legs [in].
        shoe: The bender's shoe, for the arc.
        centre_spacing: From the middle of a tube to the middle of the next, where the question is about a neighbor outside
            around the same centre [in]; `radius` is then of the innermost tube.
        neighbour: Which neighbor, counted outward from that tube.

    Raises:
        InputError: When one lies outside its range, or the first shot has no room before the end of the tube.

    Source: geometry; middle-of-bend marking is trade practice.

    >>> result = segment_bend(30, 90, 15)
    >>> result.shot_angle, round(result.shot_spacing, 3), round(result.developed_length, 3)
    (6.0, 3.142, 47.124)
    """
    values = (radius, angle, shots, distance, centre_spacing, neighbour)
    for given, value in zip((RADIUS, ANGLE, SHOTS, DISTANCE, CENTRE_SPACING, NEIGHBOUR), values, strict=True):
        given.check(value)
    radius = _own_radius(radius, centre_spacing, neighbour)
    shot_angle = angle / shots
    arc, _ = arc_and_gain(radius, angle)
    developed_length = arc
    shot_spacing = developed_length / shots
    first_shot = shot_spacing / 2
    setback = radius * tan(angle / 2)
    spacing_arc = _spacing_on_shoe(radius, shot_angle, shoe)
    first_mark = first_mark_arc = None
    if distance is not None:
        curve_begins = distance - setback
        first_mark = _first_mark(curve_begins, shot_spacing)
        first_mark_arc = _first_mark_arc(curve_begins, spacing_arc)
        _check_room(distance, (first_mark, first_mark_arc), shoe, shot_angle)
    return SegmentBend(
        shot_angle,
        shot_spacing,
        developed_length,
        first_shot,
        setback,
        first_mark,
        _marks(first_mark, shot_spacing, shot_angle, shots),
        spacing_arc,
        first_mark_arc,
        _marks(first_mark_arc, spacing_arc, shot_angle, shots),
        radius,
    )


@steps(own_radius="in")
def _own_radius(radius: float, centre_spacing: float | None, neighbour: int) -> float:
    """Each tube outward has the spacing between centres more."""
    if centre_spacing is None:
        return radius
    own_radius = radius + neighbour * centre_spacing
    return own_radius  # noqa: RET504 - the assignment is the step


@steps(shot_spacing_arc="in")
def _spacing_on_shoe(radius: float, shot_angle: float, shoe: Shoe) -> float | None:
    """Corners around a circle of the wanted radius, less what each arc of the shoe gains."""
    shoe_radius = shoe.radius
    note("shoe_radius", "offset.shoe", size=shoe.trade_size, radius=Quantity(shoe_radius, "in"))
    if shoe_radius > radius:
        note("shot_spacing_arc", "segment_bend.too-tight")
        return None
    _, gain = arc_and_gain(shoe_radius, shot_angle)
    shot_spacing_arc = 2 * radius * tan(shot_angle / 2) - gain
    return shot_spacing_arc  # noqa: RET504 - the assignment is the step


@steps(first_mark="in")
def _first_mark(curve_begins: float, shot_spacing: float) -> float:
    first_mark = curve_begins + shot_spacing / 2
    return first_mark  # noqa: RET504 - the assignment is the step


@steps(first_mark_arc="in")
def _first_mark_arc(curve_begins: float, shot_spacing_arc: float | None) -> float | None:
    if shot_spacing_arc is None:
        return None
    first_mark_arc = curve_begins + shot_spacing_arc / 2
    return first_mark_arc  # noqa: RET504 - the assignment is the step


def _check_room(distance: float, first_marks: tuple[float | None, ...], shoe: Shoe, shot_angle: float) -> None:
    """Half of the first shot's arc lies behind its mark."""
    nearest = min(mark for mark in first_marks if mark is not None)
    arc, _ = arc_and_gain(shoe.radius, shot_angle)
    check_near_end(DISTANCE, distance, nearest, max(HOOK_NEEDS, arc / 2))


def _marks(first: float | None, spacing: float | None, shot_angle: float, shots: int) -> tuple[Mark, ...]:
    """From the far shot back toward the measured end, the hook toward the far end, the tube never rolled."""
    if first is None or spacing is None:
        return ()
    return tuple(
        Mark(
            first + shot * spacing, End.MEASURED, Reference.SADDLE_CENTRE, End.FAR, shot_angle, 0.0, False, shots - shot
        )
        for shot in reversed(range(shots))
    )


SEGMENT_BEND = Calculation(
    name="segment_bend",
    function=segment_bend,
    inputs=(RADIUS, ANGLE, SHOTS, DISTANCE, SHOE, CENTRE_SPACING, NEIGHBOUR),
    outputs=(
        Output("shot_angle", "deg"),
        Output("shot_spacing", "in", "handbook"),
        Output("developed_length", "in"),
        Output("first_shot", "in", "handbook"),
        Output("setback", "in"),
        Output("first_mark", "in", "handbook", True),
        Output("marks", "", "handbook"),
        Output("shot_spacing_arc", "in", "arc", True),
        Output("first_mark_arc", "in", "arc", True),
        Output("marks_arc", "", "arc"),
        Output("own_radius", "in"),
    ),
    sources=("geometry", "middle-of-bend marking: common practice, no source"),
    area="power_bending",
    example_inputs={"radius": "30 in", "angle": "90", "shots": "15"},
)
