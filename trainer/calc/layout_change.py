"""
What a slip does to the bent tube: found by bending it once right and once wrong, not by a formula. Inches and degrees.

A slip is made on one mark: the pencil mark off along the tube, the bend opened or closed too far, the tube rolled too
far. All other marks stay where they are, and the bends after it are rolled to where they belong.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.layout import lay_out
from trainer.calc.layout_marks import bent_by_marks
from trainer.calc.layout_measure import out_of_plane
from trainer.calc.layout_tube import Centreline
from trainer.calc.marks import Mark
from trainer.calc.shoes import Shoe

__all__ = ["DogLeg", "Effect", "bent", "dog_leg", "far_end_effects", "sensitivity", "slipped"]

_EIGHTH = 1 / 8
_DEGREE = 1.0


class Effect(Struct, frozen=True):
    """
    What a small slip on one mark does to something measured.

    Args:
        order: Which bend, in the order of bending.
        eighth: When the pencil mark is 1/8 in off.
        degree: When the bend is 1 degree too much.
        roll: When the tube is rolled 1 degree too far.
    """

    order: int
    eighth: float
    degree: float
    roll: float


class DogLeg(Struct, frozen=True):
    """
    How far a bend leads out of the plane of the first one.

    Args:
        at_end: The far end beside that plane [in].
        per_foot: How fast the last leg leaves it [in per foot of tube].
    """

    at_end: float
    per_foot: float


def slipped(
    marks: Sequence[Mark], order: int, *, along: float = 0.0, angle: float = 0.0, roll: float = 0.0
) -> tuple[Mark, ...]:
    """
    The marks with a slip on one of them, in the order of bending.

    Args:
        marks: As they should be.
        order: Which bend is slipped.
        along: The pencil mark further from the end where its tape hooks on [in].
        angle: Bent more [deg].
        roll: Rolled further clockwise before this bend [deg], and as much less before the next.
    """
    changed: list[Mark] = []
    before = 0.0
    for mark in sorted(marks, key=lambda mark: mark.order):
        hit = 1 if mark.order == order else 0
        position, rolled = mark.position + hit * along, mark.roll + hit * roll - before
        changed.append(replace(mark, position=position, angle=mark.angle + hit * angle, roll=rolled))
        before = hit * roll
    return tuple(changed)


def bent(marks: Sequence[Mark], shoe: Shoe, stick: float) -> Centreline:
    """
    The tube bent by its own marks.

    Raises:
        InputError: When arcs would overlap or leave the stick.
    """
    return lay_out(bent_by_marks(marks, shoe, stick))


def sensitivity(
    marks: Sequence[Mark], shoe: Shoe, stick: float, measure: Callable[[Centreline], float]
) -> tuple[Effect, ...]:
    """
    What an eighth of an inch and a degree on each mark do to one measure, in the measure's unit.

    Half the step is taken each way, so that the figure holds for a slip to either side; a bend that would leave
    the stick by it raises InputError.

    >>> from trainer.calc.layout_measure import stub_height
    >>> from trainer.calc.marks import End, Reference
    >>> from trainer.calc.shoes import DEFAULT_SHOE
    >>> stub = Mark(5.0, End.MEASURED, Reference.TAKE_UP, End.MEASURED, 90.0, 0.0, False, 1)
    >>> effect = sensitivity([stub], DEFAULT_SHOE, 40, lambda tube: stub_height(tube, DEFAULT_SHOE.outside_diameter))
    >>> effect[0].eighth
    0.125
    """

    def difference(order: int, **step: float) -> float:
        ends = (slipped(marks, order, **{name: value * half for name, value in step.items()}) for half in (0.5, -0.5))
        more, less = (measure(bent(end, shoe, stick)) for end in ends)
        return more - less

    return tuple(
        Effect(
            order,
            difference(order, along=_EIGHTH),
            difference(order, angle=_DEGREE),
            difference(order, roll=_DEGREE),
        )
        for order in sorted(mark.order for mark in marks)
    )


def far_end_effects(marks: Sequence[Mark], shoe: Shoe, stick: float) -> tuple[Effect, ...]:
    """How far the tube's far end moves for an eighth of an inch or a degree on each mark [in]; the first leg is held."""
    right = bent(marks, shoe, stick).end

    def moved(order: int, **step: float) -> float:
        return (bent(slipped(marks, order, **step), shoe, stick).end - right).length

    return tuple(
        Effect(order, moved(order, along=_EIGHTH), moved(order, angle=_DEGREE), moved(order, roll=_DEGREE))
        for order in sorted(mark.order for mark in marks)
    )


def dog_leg(marks: Sequence[Mark], shoe: Shoe, stick: float, order: int, roll_error: float) -> DogLeg:
    """
    The dog-leg that a roll error before one bend makes in a piece that should lie flat.

    Args:
        marks: As they should be, all in one plane.
        shoe: The bender's shoe.
        stick: Length of the tube [in].
        order: Before which bend the tube is rolled wrong.
        roll_error: How far [deg].

    Raises:
        InputError: When arcs would overlap or leave the stick.
    """
    tube = bent(slipped(marks, order, roll=roll_error), shoe, stick)
    first = tube.bends[0]
    return DogLeg(out_of_plane(tube), tube.legs[-1].along.dot(first.toward.cross(first.along)) * 12)
