"""
Asked against got: what the bench was asked for, and what the tube measures that is bent by the marks it gave.

One small function for each bend calculation. It takes the input values and the marks, bends a tube by them in
`layout`, and measures it; no result of the calculation but the marks goes in.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.layout import lay_out
from trainer.calc.layout_change import bent
from trainer.calc.layout_marks import bent_by_marks
from trainer.calc.layout_measure import (
    along_first_leg,
    back_to_back,
    corner,
    corner_distance,
    crossing,
    crown_height,
    leg_angle,
    leg_offset,
    out_of_plane,
    stub_height,
)
from trainer.calc.layout_space import START, Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.shoes import DEFAULT_SHOE, DEFAULT_SHOES, Shoe

__all__ = [
    "COMPARE",
    "NINETY",
    "Compared",
    "Values",
    "back_to_back_as_bent",
    "bent_by",
    "box_offset_as_bent",
    "four_point_saddle_as_bent",
    "kick_as_bent",
    "offset_as_bent",
    "parallel_offset_as_bent",
    "rolling_offset_as_bent",
    "segment_bend_as_bent",
    "stick_for",
    "stub_up_as_bent",
    "three_point_saddle_as_bent",
    "wide_radius",
]

Values = Mapping[str, Any]

#: Straight tube beyond the furthest mark: enough for any arc and for a leg to measure at [in].
_BEYOND = 120.0

#: A 90 that is there before the bend in question.
NINETY = Mark(20.0, End.MEASURED, Reference.TAKE_UP, End.MEASURED, 90.0, 0.0, False, 1)


class Compared(Struct, frozen=True):
    """
    One measure of the bent tube.

    Args:
        name: What is measured: an input's name, or what should be nothing, such as "out_of_plane".
        asked: What it should be, in the unit.
        got: What it is on the bent tube.
        unit: "in" or "deg".
    """

    name: str
    asked: float
    got: float
    unit: str = "in"

    @property
    def miss(self) -> float:
        """How much too large it came out."""
        return self.got - self.asked


def offset_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """
    An offset: its depth, where its far corner stands, and whether the legs are parallel in one plane.

    Args:
        values: Inputs of `offset`, `distance` among them.
        marks: Both marks.

    Raises:
        InputError: When the arcs run into each other.
    """
    return _offset_of(values["depth"], values, marks, "depth")


def box_offset_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """A box offset: how high the tube's end stands over the wall that its other leg lies on, middle to wall."""
    shoe = values.get("shoe") or DEFAULT_SHOE
    tube = bent_by(marks, shoe)
    lies = (values.get("standoff") or 0.0) + shoe.outside_diameter / 2
    return (Compared("knockout", values["knockout"], leg_offset(tube, 0, 2) + lies), *_flat_and_parallel(tube))


def rolling_offset_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """A rolling offset as it lies on the floor: as deep as rise and roll are together, and else as an offset."""
    return _offset_of(math.hypot(values["rise"], values["roll"]), values, marks, "true_offset")


def three_point_saddle_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """A saddle: how high its crown is, where the middle of it stands, and whether the run goes on in line."""
    tube = bent_by(marks, values.get("shoe") or DEFAULT_SHOE)
    middle = tube.bends[1]
    return (
        Compared("height", values["height"], crown_height(tube, 1)),
        Compared("distance", values["distance"], along_first_leg(tube, middle.at(middle.length / 2))),
        Compared("out_of_line", 0.0, leg_offset(tube, 0, 3)),
        *_flat_and_parallel(tube),
    )


def four_point_saddle_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """A saddle: how high its flat is, how long from corner to corner, where it stands, and whether the run goes on."""
    tube = bent_by(marks, values.get("shoe") or DEFAULT_SHOE)
    beside = values.get("clearance") or 0.0
    near, far = corner_distance(tube, 1), corner_distance(tube, 2)
    return (
        Compared("height", values["height"], leg_offset(tube, 0, 2)),
        Compared("distance", values["distance"], near + beside),
        Compared("width", values["width"], far - near - 2 * beside),
        Compared("out_of_line", 0.0, leg_offset(tube, 0, 4)),
        Compared("flat_not_level", 0.0, leg_angle(tube, 0, 2), "deg"),
        *_flat_and_parallel(tube),
    )


def back_to_back_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """Two 90s: over their backs, the stub, and whether both stubs stand the same way."""
    shoe = values.get("shoe") or DEFAULT_SHOE
    tube = bent_by(marks, shoe)
    return (
        Compared("distance", values["distance"], back_to_back(tube, 0, 2, shoe.outside_diameter)),
        Compared("stub", values["stub"], stub_height(tube, shoe.outside_diameter)),
        Compared("angle_between_stubs", 180.0, leg_angle(tube, 0, 2), "deg"),
        Compared("out_of_plane", 0.0, out_of_plane(tube)),
    )


def wide_radius(values: Values) -> float:
    """Radius of a wide bend, or of a neighbor outside around the same centre [in]."""
    return float(values["radius"] + (values.get("centre_spacing") or 0.0) * (values.get("neighbour") or 1))


def segment_bend_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """A wide bend: its angle, where its corner stands, and that every straight touches the same circle."""
    tube = bent_by(marks, values.get("shoe") or DEFAULT_SHOE)
    first, last = tube.legs[0], tube.legs[-1]
    radius = wide_radius(values)
    half = math.radians(values["angle"]) / 2
    centre = first.at(values["distance"] - radius * math.tan(half)) + tube.bends[0].toward * radius
    touching = [(centre - leg.start).across(leg.along).length for leg in tube.legs]
    return (
        Compared("angle", values["angle"], leg_angle(tube, 0, len(tube.bends)), "deg"),
        Compared("distance", values["distance"], along_first_leg(tube, crossing(first, last))),
        Compared("radius", radius, max(touching, key=lambda one: abs(one - radius))),
        Compared("out_of_plane", 0.0, out_of_plane(tube)),
    )


def kick_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """A kick: how far its end stands off the line of the run, or the middle of the 90 that was bent before it."""
    shoe = values.get("shoe") or DEFAULT_SHOE
    behind_90 = marks[0].measured_from == Datum.BACK
    tube = bent_by([NINETY, *marks] if behind_90 else marks, shoe)
    lifted, run = corner(tube, 0) if behind_90 else tube.start, tube.legs[-1]
    lines = (Compared("rise", values["rise"], (lifted - run.start).across(run.along).length),)
    if values.get("angle") is None:
        corner_of_kick = corner(tube, len(tube.bends) - 1)
        return (*lines, Compared("length", values["length"], (corner_of_kick - lifted).length))
    last = len(tube.legs) - 1
    return (*lines, Compared("angle", values["angle"], leg_angle(tube, last - 1, last), "deg"))


def parallel_offset_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """A neighbour in a rack: how far each of its three legs lies from the same leg of the first tube."""
    shoe = values.get("shoe") or DEFAULT_SHOE
    program = bent_by_marks(marks, shoe, stick_for(marks))
    tube = lay_out(program, START.rolled(-program.moves[0].roll))  # The first bend goes up.
    depth, distance, angle = values["depth"], values["distance"], math.radians(values["angle"])
    apart = values["centre_spacing"] * (values.get("neighbour") or 1)
    if values.get("plane") == "away-from-rack":
        apart = 0.0
    elif values.get("side") == "from-turn":
        apart = -apart
    across = (Vector(0, 0, 1), Vector(-math.sin(angle), 0, math.cos(angle)), Vector(0, 0, 1))
    line_of_first = (Vector(0, 0, 0), Vector(distance, 0, depth), Vector(distance, 0, depth))
    gaps = (
        (leg.start + Vector(0, 0, apart) - point).dot(way)
        for leg, point, way in zip(tube.legs, line_of_first, across, strict=True)
    )
    return (
        *(
            Compared(f"{leg}_legs_apart", apart, gap)
            for leg, gap in zip(("first", "middle", "last"), gaps, strict=True)
        ),
        *_flat_and_parallel(tube),
    )


def stub_up_as_bent(values: Values, marks: Sequence[Mark]) -> tuple[Compared, ...]:
    """A stub: its height to the back of the bend, on a usual shoe of its size with the take-up that is given."""
    shoe = DEFAULT_SHOES[values.get("trade_size") or DEFAULT_SHOE.trade_size]
    shoe = replace(shoe, take_up=values.get("take_up") or shoe.take_up)
    height = stub_height(bent_by(marks, shoe), shoe.outside_diameter)
    return (Compared("stub_height", values["stub_height"], height),)


#: By calculation.
COMPARE: Mapping[str, Callable[[Values, Sequence[Mark]], tuple[Compared, ...]]] = MappingProxyType(
    {
        "offset": offset_as_bent,
        "box_offset": box_offset_as_bent,
        "rolling_offset": rolling_offset_as_bent,
        "three_point_saddle": three_point_saddle_as_bent,
        "four_point_saddle": four_point_saddle_as_bent,
        "parallel_offset": parallel_offset_as_bent,
        "kick": kick_as_bent,
        "back_to_back": back_to_back_as_bent,
        "segment_bend": segment_bend_as_bent,
        "stub_up": stub_up_as_bent,
    }
)


def bent_by(marks: Sequence[Mark], shoe: Shoe) -> Centreline:
    """The tube bent by its marks, on a stick that is long enough for all of them."""
    return bent(marks, shoe, stick_for(marks))


def stick_for(marks: Sequence[Mark]) -> float:
    """A stick that is long enough for these marks, wherever each is measured from [in]."""
    return sum(mark.position for mark in marks) + _BEYOND


def _offset_of(depth: float, values: Values, marks: Sequence[Mark], name: str) -> tuple[Compared, ...]:
    tube = bent_by(marks, values.get("shoe") or DEFAULT_SHOE)
    return (
        Compared(name, depth, leg_offset(tube, 0, 2)),
        Compared("distance", values["distance"], corner_distance(tube, 1)),
        *_flat_and_parallel(tube),
    )


def _flat_and_parallel(tube: Centreline) -> tuple[Compared, ...]:
    """First and last leg run the same way, in the plane of the first bend."""
    return (
        Compared("angle_between_legs", 0.0, leg_angle(tube, 0, len(tube.legs) - 1), "deg"),
        Compared("out_of_plane", 0.0, out_of_plane(tube)),
    )
