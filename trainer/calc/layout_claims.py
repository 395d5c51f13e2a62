"""
Promised against got: numbers of a calculation that are no marks, and what the bent tube measures.

One small function for each calculation that gives such numbers: gain, developed length, the angle by which a rolling
offset is turned. It takes the input values and the result, builds the tube in `layout`, and measures it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from msgspec.structs import replace

from trainer.calc.layout import BendProgram, Move, lay_out
from trainer.calc.layout_change import bent
from trainer.calc.layout_compare import NINETY, Compared, Values, bent_by, stick_for, wide_radius
from trainer.calc.layout_marks import bent_by_marks
from trainer.calc.layout_measure import along_first_leg, corner, corner_distance, stub_height
from trainer.calc.layout_reach import bend_reach
from trainer.calc.layout_space import START, Frame, Vector
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.ways import STEPS

__all__ = ["CLAIMS"]


def _rolling_offset(values: Values, result: Any) -> tuple[Compared, ...]:
    """Hung with the offset's plane turned by `roll_angle` from level, the far leg is up and aside as asked."""
    if not result.marks_arc:
        return ()
    program = bent_by_marks(result.marks_arc, values.get("shoe") or DEFAULT_SHOE, stick_for(result.marks_arc))
    level = START.rolled(90 - program.moves[0].roll)  # The first bend goes left.
    tube = lay_out(program, level.rolled(-result.roll_angle))
    aside = tube.legs[2].start - tube.start
    return (Compared("rise", values["rise"], aside.z), Compared("roll", values["roll"], aside.y))


def _saddle(values: Values, result: Any) -> tuple[Compared, ...]:
    """The ends of the bent tube stand nearer to each other than those of the stick by the total shrink."""
    if not result.marks_arc:
        return ()
    tube = bent_by(result.marks_arc, values.get("shoe") or DEFAULT_SHOE)
    short = stick_for(result.marks_arc) - along_first_leg(tube, tube.end)
    return (Compared("total_shrink", result.total_shrink_arc, short),)


def _kick(values: Values, result: Any) -> tuple[Compared, ...]:
    """Travel and advance from the end to the sharp corner; or, behind a 90, how far that lies from the 90's back."""
    (mark,) = result.marks_arc
    shoe = values.get("shoe") or DEFAULT_SHOE
    if mark.measured_from == Datum.BACK:
        return (Compared("corner", result.corner, _behind_ninety(result.marks_arc, shoe)),)
    tube = bent_by(result.marks_arc, shoe)
    bend, run = corner(tube, 0), tube.legs[1].along
    return (
        Compared("travel", result.travel, (bend - tube.start).length),
        Compared("advance", result.advance, (bend - tube.start).dot(run)),
    )


def _behind_ninety(marks: Sequence[Mark], shoe: Shoe) -> float:
    """From the back of a 90 that was bent before to the corner of the kick, along the leg between."""
    tube = bent_by([NINETY, *marks], shoe)
    along = tube.legs[1].along
    return corner(tube, 1).dot(along) + bend_reach(tube.bends[0], -along, shoe.outside_diameter)


def _gain(values: Values, result: Any) -> tuple[Compared, ...]:
    """One bend between two legs of 10 in; its outside is a line of its own, half a diameter further out."""
    leg, angle, half = 10.0, values["angle"], (values.get("outside_diameter") or 0.0) / 2
    tube, outside = (
        lay_out(BendProgram((Move(leg, 0.0, angle, radius),), leg))
        for radius in (values["radius"], values["radius"] + half)
    )
    to_corner, to_outer_corner = corner_distance(tube, 0), corner_distance(outside, 0)
    return (
        Compared("setback", result.setback, to_corner - leg),
        Compared("developed_length", result.developed_length, tube.length - 2 * leg),
        Compared("gain", result.gain, 2 * to_corner - tube.length),
        Compared("outside_gain", result.outside_gain, 2 * to_outer_corner - tube.length),
    )


def _segment_bend(values: Values, result: Any) -> tuple[Compared, ...]:
    """The curve as it was asked for, in one arc."""
    curve = lay_out(BendProgram((Move(10.0, 0.0, values["angle"], wide_radius(values)),), 10.0))
    return (
        Compared("developed_length", result.developed_length, curve.length - 20),
        Compared("setback", result.setback, corner_distance(curve, 0) - 10),
    )


def _measure_shoe(values: Values, result: Any) -> tuple[Compared, ...]:
    """The scrap bent once more, on the shoe that was found; and by its back-of-bend mark."""
    shoe, stick = result.shoe, values["stick"]
    ninety = Mark(values["mark"], End.MEASURED, Reference.TAKE_UP, End.MEASURED, 90.0, 0.0, False, 1)
    scrap = bent([ninety], shoe, stick)
    by_back = replace(ninety, position=values["mark"] + result.back_mark, reference=Reference.BACK_OF_BEND)
    legs = [stub_height(way, shoe.outside_diameter) for way in (scrap, scrap.from_other_end())]
    stub_by_back = stub_height(bent([by_back], shoe, stick), shoe.outside_diameter)
    return (
        Compared("stub", values["stub"], legs[0]),
        Compared("other_leg", values["other_leg"], legs[1]),
        Compared("outside_gain", result.outside_gain, sum(legs) - stick),
        Compared("stub_by_back_mark", values["stub"], stub_by_back),
    )


def _run_in_space(values: Values, result: Any) -> tuple[Compared, ...]:
    """The run bent 90 by 90 with the rolls that were told, its first leg and first bend held the way they go."""
    legs, radius = values["legs"], (values.get("shoe") or DEFAULT_SHOE).radius
    last = len(legs) - 1
    straight = [leg.length - radius * (1 if at in {0, last} else 2) for at, leg in enumerate(legs)]
    moves = [Move(feed, roll, 90.0, radius) for feed, roll in zip(straight, result.rolls, strict=False)]
    along, up = (Vector(*map(float, STEPS[leg.direction])) for leg in legs[:2])
    tube = lay_out(BendProgram(tuple(moves), straight[-1]), Frame(Vector(0.0, 0.0, 0.0), along, up))
    return (
        Compared("ahead", result.ahead, tube.end.x),
        Compared("left", result.left, tube.end.y),
        Compared("up", result.up, tube.end.z),
        Compared("tube", result.tube, tube.length),
    )


#: By calculation.
CLAIMS: Mapping[str, Callable[[Values, Any], tuple[Compared, ...]]] = MappingProxyType(
    {
        "rolling_offset": _rolling_offset,
        "three_point_saddle": _saddle,
        "four_point_saddle": _saddle,
        "kick": _kick,
        "run_in_space": _run_in_space,
        "gain": _gain,
        "segment_bend": _segment_bend,
        "measure_shoe": _measure_shoe,
    }
)
