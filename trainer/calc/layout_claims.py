"""
Promised against got: numbers of a calculation that are no marks, and what the bent tube measures.

One small function for each calculation that gives such numbers: gain, developed length, the angle by which a rolling
offset is turned. It takes the input values and the result, builds the tube in `layout`, and measures it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from trainer.calc.layout import lay_out
from trainer.calc.layout_compare import Compared, Values, bent_by, stick_for
from trainer.calc.layout_marks import bent_by_marks
from trainer.calc.layout_measure import along_first_leg, corner
from trainer.calc.layout_space import START
from trainer.calc.marks import Datum
from trainer.calc.shoes import DEFAULT_SHOE

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
    """With the tape at the end: travel and advance from there to the sharp corner."""
    (mark,) = result.marks_arc
    if mark.measured_from == Datum.BACK:
        return ()
    tube = bent_by(result.marks_arc, values.get("shoe") or DEFAULT_SHOE)
    bend, run = corner(tube, 0), tube.legs[1].along
    return (
        Compared("travel", result.travel, (bend - tube.start).length),
        Compared("advance", result.advance, (bend - tube.start).dot(run)),
    )


#: By calculation.
CLAIMS: Mapping[str, Callable[[Values, Any], tuple[Compared, ...]]] = MappingProxyType(
    {
        "rolling_offset": _rolling_offset,
        "three_point_saddle": _saddle,
        "four_point_saddle": _saddle,
        "kick": _kick,
    }
)
