"""
Saddles: the straight tube with its marks, and under it, to the same scale, the tube over what is in the way.

The bent tube is that of the shoe's true arcs, so what is drawn is what was asked for; the marks above are those of sharp
corners, as in the drawing of an offset.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import Any

from msgspec import Struct

from trainer.calc.four_point_saddle import FourPointSaddle, four_point_saddle
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.marks import Mark
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.calc.three_point_saddle import ThreePointSaddle, three_point_saddle
from trainer.figures.axis import Axis, axis_for
from trainer.figures.bend_elevation import Elevation, View, angles_above, bent_tube, elevation, foot
from trainer.figures.bend_stick import Span, Stick, draw_stick
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.hatch import section
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.tube import tube_break
from trainer.figures.words import Words, length

__all__ = ["draw_four_point_saddle", "draw_three_point_saddle"]

_GROUND = 8.0
_BESIDE = 7.0
_LABELS = 34.0
#: Room that an angle takes in its row.
_ANGLE = 54.0
_UPRIGHT = 62.0


class _Job(Struct, frozen=True):
    """A saddle over an obstacle that is `height` high with what is left clear, and reaches from `start` to `end` [in]."""

    height: float
    distance: float
    start: float
    end: float
    stick: Stick
    bent: tuple[Mark, ...]
    shoe: Shoe
    is_round: bool

    @property
    def length(self) -> float:
        """Of the straight tube that is drawn [in]."""
        return max(mark.position for mark in (*self.stick.marks, *self.bent)) + _BESIDE

    @property
    def axis(self) -> Axis:
        """One scale for the straight tube and the bent one."""
        first = min(mark.position for mark in (*self.stick.marks, *self.bent))
        return axis_for(max(0.0, first - _BESIDE), self.length, right=WIDTH - MARGIN - 6)

    @property
    def label_room(self) -> float:
        """Above the tube for the angles, in two rows where bends lie near each other."""
        along = sorted(mark.position for mark in self.bent)
        nearest = min(second - first for first, second in pairwise(along))
        return _LABELS if nearest * self.axis.scale > _ANGLE else 2 * _LABELS - 10


def draw_three_point_saddle(
    inputs: Mapping[str, Any],
    result: ThreePointSaddle,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A three-point saddle; its obstacle is drawn round, as high as the tube has to rise.

    Args:
        inputs: Values of the calculation `three_point_saddle`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name; drawn dashed.
        solved: Whether the marks are shown; else only what is asked for.
        key: Tells apart equal figures on one page.
    """
    height, given = inputs["height"], inputs.get("distance")
    shoe = inputs.get("shoe") or DEFAULT_SHOE
    distance = 2 * result.outer_spacing + 24 if given is None else given
    if given is None:
        result = three_point_saddle(height, inputs["centre_angle"], distance, shoe)
    centre, near, far = result.marks
    spans = (
        Span(near.position, centre.position),
        Span(centre.position, far.position),
        Span(distance, centre.position, "shrink"),
    )
    ways: dict[str, Callable[[float], float]] = {
        "outer_spacing": lambda value: centre.position - value,
        "shrink_to_centre": lambda value: distance + value,
        **dict.fromkeys(("centre_mark", "near_mark", "far_mark"), lambda value: value),
    }
    stick = Stick(result.marks, spans, given is not None, _yours(wrong, ways))
    half = height / 2
    bent = result.marks_arc or result.marks
    job = _Job(height, distance, distance - half, distance + half, stick, bent, shoe, is_round=True)
    told = {
        "height": length(height),
        "spacing": length(result.outer_spacing),
        "shrink": length(result.shrink_to_centre),
    }
    about = words("saddle.about" if solved else "saddle.asked", **told)
    return _draw(job, words, (words("saddle.title"), about), solved=solved, key=key)


def draw_four_point_saddle(
    inputs: Mapping[str, Any],
    result: FourPointSaddle,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A four-point saddle over a wide obstacle; arguments as of `draw_three_point_saddle`.

    Args:
        inputs: Values of the calculation `four_point_saddle`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name.
        solved: Whether the marks are shown.
        key: Tells apart equal figures on one page.
    """
    height, given = inputs["height"], inputs.get("distance")
    more = {name: inputs[name] for name in ("clearance", "shoe", "hook") if inputs.get(name) is not None}
    distance = 2 * result.spacing + 24 if given is None else given
    if given is None:
        result = four_point_saddle(height, inputs["width"], inputs["angle"], distance=distance, **more)
    outer, inner, inner_2, outer_2 = sorted(result.marks, key=lambda mark: mark.position)
    spans = tuple(
        Span(one.position, other.position) for one, other in ((outer, inner), (inner, inner_2), (inner_2, outer_2))
    )
    places = ("near_outer_mark", "near_inner_mark", "far_inner_mark", "far_outer_mark")
    ways: dict[str, Callable[[float], float]] = {
        "spacing": lambda value: inner.position - value,
        "inner_spacing": lambda value: inner.position + value,
        **dict.fromkeys(places, lambda value: value),
    }
    stick = Stick(result.marks, spans, given is not None, _yours(wrong, ways))
    shoe = inputs.get("shoe") or DEFAULT_SHOE
    bent = result.marks_arc or result.marks
    job = _Job(height, distance, distance, distance + inputs["width"], stick, bent, shoe, is_round=False)
    told = {"height": length(height), "width": length(inputs["width"]), "spacing": length(result.spacing)}
    told["inner"] = length(result.inner_spacing)
    about = words("wide-saddle.about" if solved else "wide-saddle.asked", **told)
    return _draw(job, words, (words("wide-saddle.title"), about), solved=solved, key=key)


def _yours(wrong: Mapping[str, float], ways: Mapping[str, Callable[[float], float]]) -> tuple[float, ...]:
    """Where a learner's wrong value puts a mark, whichever convention it was held against."""
    plain = ((name.removesuffix("_handbook").removesuffix("_arc"), value) for name, value in wrong.items())
    return tuple(ways[name](value) for name, value in plain if name in ways)


def _draw(job: _Job, words: Words, told: tuple[str, str], *, solved: bool, key: str) -> str:
    drawing, axis = Drawing(), job.axis
    top, level = draw_stick(drawing, axis, job.stick, words) if solved else (0.0, 0.0)
    tube = bent_tube(job.bent, job.shoe, job.length)
    if tube is not None:
        shown = elevation(
            drawing, tube, _from_the_side(tube), axis, level + job.label_room, diameter=job.shoe.outside_diameter
        )
        angles_above(drawing, shown, words)
        level = _job(drawing, shown, job, words, solved=solved)
    else:
        level = drawing.paragraph(level + 4, words("saddle.too-near"), "fig-text fig-note")
    return drawing.finish(min(top, drawing.highest) - 4, level + 6, *told, key)


def _from_the_side(tube: Centreline) -> View:
    """The side on which the tube rises upward: the first bend along it turns toward the shoe or away from it."""
    up = math.copysign(1.0, tube.legs[1].along.z)

    def view(point: Vector) -> Point:
        return point.x, point.z * up

    return view


def _job(drawing: Drawing, shown: Elevation, job: _Job, words: Words, *, solved: bool) -> float:
    """
    Ground and obstacle, how high, how far, how wide; returns the lower end.

    How high a tube rises over a pipe is to be found from the pipe and its clearance, so it stands there only afterward.
    """
    axis, ground = shown.axis, shown.ground
    left, right = axis.left, WIDTH - MARGIN
    section(
        drawing, [(left, ground), (right, ground), (right, ground + _GROUND), (left, ground + _GROUND)], "fig-ground"
    )
    if axis.is_broken:
        tube_break(drawing, axis.break_middle, ground, ground + _GROUND)
    roof = ground - job.height * axis.scale
    if job.is_round:
        middle = axis.x(job.distance)
        drawing.circle((middle, (ground + roof) / 2), (ground - roof) / 2, "fig-obstacle")
        spans = [(0.0, job.distance)]
    else:
        start, end = axis.x(job.start), axis.x(job.end)
        middle = end
        section(drawing, [(start, ground), (start, roof), (end, roof), (end, ground)], "fig-obstacle", 8, leftward=True)
        spans = [(0.0, job.distance), (job.start, job.end)]
    if solved or not job.is_round:
        upright = min(axis.x(job.length) - 4, WIDTH - _UPRIGHT)
        drawing.line((middle, roof), (upright + 4, roof), "fig-dim-thin")
        dimension_upright(drawing, upright, (roof, ground), words("length", length=length(job.height)))
    if not job.stick.known:
        spans = spans[1:]
    lines = [Dimension(axis.x(start), axis.x(end), words("length", length=length(end - start))) for start, end in spans]
    return max(dimensions_below(drawing, lines, ground + _GROUND), foot(roof, ground))
