"""A box offset: the two marks on the straight tube, and the tube from the wall up into the knockout of a box."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.box_offset import BoxOffset
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.figures.axis import Axis, axis_for
from trainer.figures.bend_elevation import View, bent_tube, elevation, foot
from trainer.figures.bend_stick import Span, Stick, draw_stick
from trainer.figures.dimension import dimension_upright
from trainer.figures.hatch import section
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.words import Words, angle, length

__all__ = ["draw_box_offset"]

_BEYOND = 5.0
_BOX = 34.0
_LEFT = MARGIN + 108.0
_WALL = 12.0
#: Room above the bent tube.
_ABOVE = 20.0


def draw_box_offset(
    inputs: Mapping[str, Any],
    result: BoxOffset,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A tube that goes into a box.

    Args:
        inputs: Values of the calculation `box_offset`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name; where it puts a mark, that is drawn dashed.
        solved: Whether the marks are shown; else only the tube at the box.
        key: Tells apart equal figures on one page.
    """
    shoe = inputs.get("shoe") or DEFAULT_SHOE
    marks = result.marks_arc or result.marks
    last = max(mark.position for mark in marks) + _BEYOND
    drawing, top, level = Drawing(), 0.0, 0.0
    if solved:
        near, far = sorted(mark.position for mark in result.marks)
        yours = [value for name, value in wrong.items() if name.startswith("far_mark")]
        yours += [near + value for name, value in wrong.items() if name.startswith("spacing")]
        stick = Stick(result.marks, (Span(near, far),), True, tuple(yours))
        top, level = draw_stick(drawing, axis_for(0.0, last, right=WIDTH - MARGIN - 6), stick, words)
    tube = bent_tube(marks, shoe, last)
    if tube is not None:
        level = _at_the_box(drawing, level, tube, shoe, inputs=inputs, words=words)
    told = {"knockout": length(inputs["knockout"]), "depth": length(result.depth), "spacing": length(result.spacing)}
    told |= {"angle": angle(marks[0].angle)}
    about = words("box-offset.about" if solved else "box-offset.asked", **told)
    return drawing.finish(min(top, drawing.highest) - 4, level + 6, words("box-offset.title"), about, key)


def _at_the_box(
    drawing: Drawing, level: float, tube: Centreline, shoe: Shoe, *, inputs: Mapping[str, Any], words: Words
) -> float:
    """Tube, box and wall, seen from the side; returns the lower end."""
    view = _view(tube)
    axis = Axis(_LEFT, (WIDTH - MARGIN - _LEFT - 8) / tube.length, 0.0, 0.0, tube.length)
    shown = elevation(drawing, tube, view, axis, level + _ABOVE, diameter=shoe.outside_diameter)
    wall = shown.base + shown.half + (inputs.get("standoff") or 0.0) * axis.scale
    middle = wall - inputs["knockout"] * axis.scale
    left, right, back = _LEFT - _BOX, WIDTH - 4, wall + _WALL
    section(drawing, [(left, wall), (right, wall), (right, back), (left, back)], "fig-obstacle")
    top = middle - max(shown.half + 6, min(wall - middle, _ABOVE))
    drawing.rectangle((left, top), _BOX, wall - top, "fig-box")
    drawing.line((_LEFT - 12, middle), (_LEFT + 30, middle), "fig-axis")
    said = words("length", length=length(inputs["knockout"]))
    drawing.line((_LEFT - _BOX - 14, middle), (_LEFT - 12, middle), "fig-dim-thin")
    drawing.line((_LEFT - _BOX - 14, wall), (_LEFT - _BOX, wall), "fig-dim-thin")
    dimension_upright(drawing, _LEFT - _BOX - 10, (middle, wall), said, side="left")
    return max(wall + _WALL, foot(middle, wall), drawing.lowest)


def _view(tube: Centreline) -> View:
    """The run lies level along the wall, its centre line at height 0; the end at the box is on the left."""
    along = tube.legs[-1].along
    up = (tube.start - tube.legs[-1].start).across(along).unit
    base = tube.end.dot(up)
    origin = tube.start.dot(along)

    def view(point: Vector) -> Point:
        return point.dot(along) - origin, point.dot(up) - base

    return view
