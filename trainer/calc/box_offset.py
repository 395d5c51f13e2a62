"""
The box offset: two small bends that lift a tube from the wall into the knockout of a box. Inches and degrees.

The near mark is chosen: straight tube for the connector, and room for the bend on the box side of the mark. The far one
follows; with the near bend given there is no shrink to add. Conventions as in `offset`, never mixed in silence.
"""

from __future__ import annotations

from msgspec import Struct

from trainer.calc.calculation import Calculation, Output
from trainer.calc.inputs import Input, Kind
from trainer.calc.marks import End, Mark, Reference
from trainer.calc.message import Message, Quantity
from trainer.calc.near_end import tube_needed
from trainer.calc.offset import OFFSET, offset
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.trace import note, steps

__all__ = ["BOX_OFFSET", "BoxOffset", "box_offset", "depth_at_box"]

KNOCKOUT = Input("knockout", Kind.LENGTH, "7/8 in", "in", above=0, most=12)
STANDOFF = Input("standoff", Kind.LENGTH, "1/4 in", "in", optional=True, least=0, most=12)
ANGLE = Input("angle", Kind.ANGLE, "10", "deg", optional=True, above=0, most=30)
NEAR_MARK = Input("near_mark", Kind.LENGTH, "2-1/2 in", "in", optional=True, above=0)
SHOE = OFFSET.input("shoe")

#: Where the near mark usually goes and how steep such bends usually are: one place in a published textbook, and habit.
_NEAR_MARK = 2.5
_ANGLE = 10.0


class BoxOffset(Struct, frozen=True):
    """
    A box offset.

    Args:
        depth: Between the tube's line at the wall and the middle of the knockout [in].
        spacing: Between the two marks, along the tube [in].
        far_mark: From the end at the box [in]; the near mark is an input.
        marks: Both as full instructions.

    `_handbook` is None where no handbook constant is common; `_arc` where the two arcs would run into each other.
    """

    depth: float
    spacing: float
    far_mark: float
    marks: tuple[Mark, ...]
    spacing_handbook: float | None
    far_mark_handbook: float | None
    marks_handbook: tuple[Mark, ...]
    spacing_arc: float | None
    far_mark_arc: float | None
    marks_arc: tuple[Mark, ...]


@steps(far_mark="in", far_mark_handbook="in", far_mark_arc="in")
def box_offset(
    knockout: float,
    standoff: float = 0.0,
    angle: float = _ANGLE,
    *,
    near_mark: float = _NEAR_MARK,
    shoe: Shoe = DEFAULT_SHOE,
) -> BoxOffset:
    """
    Depth and marks of an offset into a box.

    Args:
        knockout: From the wall to the middle of the knockout [in], above 0.
        standoff: From the wall to the tube, where straps hold it off [in].
        angle: Of each of the two bends [deg], above 0, at most 30.
        near_mark: From the end that goes into the box [in].
        shoe: The bender's shoe; the tube's outside diameter decides about the depth.

    Raises:
        InputError: When one lies outside its range, the tube lies as high as the knockout, or the near mark has no room.

    Source: geometry; spacing as in `offset`.

    >>> result = box_offset(0.853)
    >>> round(result.depth, 3), round(result.spacing, 3), result.far_mark_handbook
    (0.5, 2.879, 5.5)
    """
    for given, value in ((KNOCKOUT, knockout), (STANDOFF, standoff), (ANGLE, angle), (NEAR_MARK, near_mark)):
        given.check(value)
    outside_diameter = shoe.outside_diameter
    note("depth", "box_offset.depth")
    depth = depth_at_box(knockout, standoff, outside_diameter)
    _check(depth, knockout, standoff + outside_diameter / 2)
    _check_room(near_mark, angle, shoe)
    flat = offset(depth, angle, shoe=shoe)
    spacing, spacing_handbook, spacing_arc = flat.spacing, flat.spacing_handbook, flat.spacing_arc
    note("far_mark", "box_offset.no-shrink")
    far_mark = near_mark + spacing
    far_mark_handbook = far_mark_arc = None
    if spacing_handbook is not None:
        far_mark_handbook = near_mark + spacing_handbook
    if spacing_arc is not None:
        far_mark_arc = near_mark + spacing_arc
    return BoxOffset(
        *(depth, spacing, far_mark, _marks(near_mark, far_mark, angle)),
        *(spacing_handbook, far_mark_handbook, _marks(near_mark, far_mark_handbook, angle)),
        *(spacing_arc, far_mark_arc, _marks(near_mark, far_mark_arc, angle)),
    )


@steps(depth="in")
def depth_at_box(knockout: float, standoff: float, outside_diameter: float) -> float:
    """
    How far the middle of a knockout lies above the middle of a tube on the same wall [in]; below 0 where it lies lower.

    Args:
        knockout: From the wall to the middle of the knockout [in].
        standoff: From the wall to the back of the tube [in].
        outside_diameter: Of the tube [in].
    """
    depth = knockout - standoff - outside_diameter / 2
    return depth  # noqa: RET504 - the assignment is the worked step


def _check(depth: float, knockout: float, middle: float) -> None:
    """The knockout has to lie further from the wall than the tube's middle."""
    if depth <= 0:
        lies = {"middle": Quantity(middle, "in")}
        reason, accepted = Message("box_offset.not-higher", lies), Message("box_offset.higher", lies)
        raise KNOCKOUT.refuse(reason, KNOCKOUT.written(knockout), accepted)


def _check_room(near_mark: float, angle: float, shoe: Shoe) -> None:
    needed = tube_needed(shoe, angle, End.FAR)
    if near_mark < needed:
        params = {"needed": Quantity(needed, "in")}
        reason, accepted = Message("box_offset.no-room", params), Message("box_offset.more-room", params)
        raise NEAR_MARK.refuse(reason, NEAR_MARK.written(near_mark), accepted, NEAR_MARK.written(needed))


def _marks(near: float, far: float | None, angle: float) -> tuple[Mark, ...]:
    """
    The bend at the box first, hook toward the far end, then the tube slid on and rolled over for the far one.

    The marks lie so near each other that the hook would sit on the far bend, were that made first.
    """
    if far is None:
        return ()
    return tuple(
        Mark(position, End.MEASURED, Reference.TAKE_UP, End.FAR, angle, 180.0 * turn, False, turn + 1)
        for turn, position in enumerate((near, far))
    )


BOX_OFFSET = Calculation(
    name="box_offset",
    function=box_offset,
    inputs=(KNOCKOUT, STANDOFF, ANGLE, NEAR_MARK, SHOE),
    outputs=(
        Output("depth", "in"),
        Output("spacing", "in", "sharp-corner"),
        Output("far_mark", "in", "sharp-corner"),
        Output("marks", "", "sharp-corner"),
        Output("spacing_handbook", "in", "handbook", True),
        Output("far_mark_handbook", "in", "handbook", True),
        Output("marks_handbook", "", "handbook"),
        Output("spacing_arc", "in", "arc", True),
        Output("far_mark_arc", "in", "arc", True),
        Output("marks_arc", "", "arc"),
    ),
    sources=(
        "depth: geometry; spacing: right-triangle geometry",
        "handbook constants: published bender instruction sheets and training textbooks; 5 degrees from memory",
        "where the near mark usually goes: common practice, no source",
    ),
    area="bending",
    example_inputs={"knockout": "7/8 in", "angle": "10", "near_mark": "2-1/2 in"},
)
