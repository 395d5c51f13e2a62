"""A rolling offset: the straight tube with its marks, and the bent one from the side and from above."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from trainer.calc.layout_space import Vector
from trainer.calc.rolling_offset import RollingOffset, rolling_offset
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.figures.axis import axis_for
from trainer.figures.bend_elevation import Elevation, View, bent_tube, elevation, foot
from trainer.figures.bend_stick import Span, Stick, draw_stick
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.words import Words, angle, length

__all__ = ["draw_rolling_offset"]

_BESIDE = 7.0
_UPRIGHT = 62.0
#: What a tube without a known distance is drawn with in front of its near mark [in].
_BEFORE = 16.0


def draw_rolling_offset(
    inputs: Mapping[str, Any],
    result: RollingOffset,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    An offset that goes up and aside.

    Args:
        inputs: Values of the calculation `rolling_offset`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name; where it puts a mark, that is drawn dashed.
        solved: Whether the marks are shown; else only rise, roll and what is given of the run.
        key: Tells apart equal figures on one page.
    """
    given, rise, roll = inputs.get("distance"), inputs["rise"], inputs["roll"]
    shoe = inputs.get("shoe") or DEFAULT_SHOE
    if given is None:
        more = {name: inputs[name] for name in ("shoe", "hook") if inputs.get(name) is not None}
        result = rolling_offset(rise, roll, inputs["angle"], distance=result.spacing + _BEFORE, **more)
    bent = result.marks_arc or result.marks
    last = max(mark.position for mark in (*result.marks, *bent)) + _BESIDE
    first = min(mark.position for mark in (*result.marks, *bent)) - _BESIDE
    axis = axis_for(max(0.0, first), last, right=WIDTH - MARGIN - 6)
    drawing, top, level = Drawing(), 0.0, 0.0
    if solved:
        top, level = draw_stick(drawing, axis, _stick(result, wrong, known=given is not None), words)
    tube = bent_tube(bent, shoe, last)
    if tube is None:
        level = drawing.paragraph(level + 4, words("saddle.too-near"), "fig-text fig-note")
    else:
        up = math.copysign(1.0, tube.legs[1].along.z)
        for name, across in (("from-the-side", rise), ("from-above", roll)):
            level = drawing.paragraph(level + 4, words(f"bent.{name}"), "fig-text fig-heading")
            view = _view(up * across / result.true_offset)
            shown = elevation(drawing, tube, view, axis, level + 6, diameter=shoe.outside_diameter)
            level = _across(drawing, shown, across, words) + 4
        if given is not None:
            line = Dimension(axis.left, axis.x(given), words("length", length=length(given)))
            level = dimensions_below(drawing, [line], level)
    told = {"rise": length(rise), "roll": length(roll), "angle": angle(inputs["angle"])}
    told |= {"depth": length(result.true_offset), "spacing": length(result.spacing)}
    about = words("rolling.about" if solved else "rolling.asked", **told)
    return drawing.finish(min(top, drawing.highest) - 4, level + 6, words("rolling.title"), about, key)


def _stick(result: RollingOffset, wrong: Mapping[str, float], *, known: bool) -> Stick:
    near, far = sorted(mark.position for mark in result.marks)
    yours = []
    for name, value in wrong.items():
        if name.startswith("spacing"):
            yours.append(far - value)
        elif name.startswith(("first_mark", "second_mark")):
            yours.append(value)
    return Stick(result.marks, (Span(near, far),), known, tuple(yours))


def _view(share: float) -> View:
    """The side from which this share of the true offset is seen."""

    def view(point: Vector) -> Point:
        return point.x, point.z * share

    return view


def _across(drawing: Drawing, shown: Elevation, across: float, words: Words) -> float:
    """How far the tube goes to this side, from middle to middle; returns the lower end."""
    upper, lower = shown.base - across * shown.axis.scale, shown.base
    end = shown.at(*shown.view(shown.tube.end))[0]
    x = min(end - 8, WIDTH - _UPRIGHT)
    drawing.line((shown.axis.x(shown.tube.bends[0].start.x), lower), (x + 4, lower), "fig-axis")
    dimension_upright(drawing, x, (upper, lower), words("length", length=length(across)))
    return max(shown.ground, foot(upper, lower))
