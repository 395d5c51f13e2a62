"""Two tubes of a rack that turn in its plane: their marks on the straight tubes, and both tubes bent, evenly spaced."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.marks import Mark
from trainer.calc.offset import offset
from trainer.calc.parallel_offset import ParallelOffset, Plane, Side
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.figures.axis import Axis, axis_for
from trainer.figures.bend_elevation import View, bent_tube, elevation
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.tube import pencil_mark, straight_tube
from trainer.figures.words import Words, angle, length

__all__ = ["draw_rack"]

_BESIDE = 7.0
_THICKNESS = 12.0
_BETWEEN = 34.0
#: An offset to draw where its depth or distance is not given [in].
_DEPTH = 6.0
_BEFORE = 16.0
_UPRIGHT = 84.0


def draw_rack(
    inputs: Mapping[str, Any],
    result: ParallelOffset,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The first tube and the neighbour that is asked about.

    Args:
        inputs: Values of the calculation `parallel_offset`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name; a shift is drawn dashed on the neighbour.
        solved: Whether the marks and their shift are shown.
        key: Tells apart equal figures on one page.
    """
    shoe, count = inputs.get("shoe") or DEFAULT_SHOE, inputs.get("neighbour") or 1
    away = inputs.get("plane") == Plane.AWAY
    toward = -1.0 if inputs.get("side") == Side.FROM else 1.0
    depth = inputs.get("depth") or _DEPTH
    plain = offset(depth, inputs["angle"])
    distance = plain.spacing + _BEFORE + result.neighbour_shift
    first = offset(depth, inputs["angle"], distance, shoe)
    other = offset(depth, inputs["angle"], distance - toward * result.neighbour_shift, shoe)
    positions = [mark.position for one in (first, other) for mark in (*one.marks, *one.marks_arc)]
    axis = axis_for(max(0.0, min(positions) - _BESIDE), max(positions) + _BESIDE, right=WIDTH - MARGIN - 6)
    drawing, level = Drawing(), 0.0
    if solved:
        times = {"mark_shift": toward * count, "neighbour_shift": toward}
        yours = [times[name] * value for name, value in wrong.items() if name in times]
        pair = first.marks, other.marks
        level = _straight(drawing, axis, pair, words, count=count, yours=yours, is_above=toward > 0)
    spread = 0.0 if away else toward * count * inputs["centre_spacing"]
    tubes = [bent_tube(one.marks_arc or one.marks, shoe, axis.last) for one in (first, other)]
    shown = [tube for tube in tubes if tube is not None]
    spacing = inputs["centre_spacing"]
    said = words("length", length=length(spacing))
    if count > 1:
        said = words("rack.apart", count=count, spacing=length(spacing))
    level = _bent(drawing, axis, shown, level + 14, spread=spread, said=said, diameter=shoe.outside_diameter)
    told = {"spacing": length(spacing), "angle": angle(inputs["angle"]), "shift": length(result.neighbour_shift)}
    about = words("rack.about" if solved else "rack.asked", **told)
    return drawing.finish(min(0, drawing.highest) - 6, level + 8, words("rack.title"), about, key)


def _straight(
    drawing: Drawing,
    axis: Axis,
    pair: tuple[tuple[Mark, ...], tuple[Mark, ...]],
    words: Words,
    *,
    count: int,
    yours: list[float],
    is_above: bool,
) -> float:
    """Both straight tubes, the neighbour above or below as it lies in the rack; returns the lower end."""
    first, other = pair
    rows = ((other, count + 1), (first, 1)) if is_above else ((first, 1), (other, count + 1))
    far = [max(mark.position for mark in marks) for marks in (first, other)]
    for row, (marks, number) in enumerate(rows):
        top = row * _BETWEEN
        straight_tube(drawing, axis, top, _THICKNESS)
        drawing.text((axis.left, top - 5), words("rack.tube", number=number), "fig-text fig-note")
        for mark in marks:
            pencil_mark(drawing, axis.x(mark.position), (top - 5, top + _THICKNESS + 5), mark.position)
        if marks is other:
            for value in yours:
                _yours(drawing, axis, far[0] - value, top, words)
    left, right = sorted(axis.x(position) for position in far)
    bottom = _BETWEEN + _THICKNESS
    if right - left < 1:
        return drawing.paragraph(bottom + 8, words("rack.same"), "fig-text fig-note")
    said = words("rack.shift", shift=length(abs(far[0] - far[1])))
    return dimensions_below(drawing, [Dimension(left, right, said, bottom + 5)], bottom + 5)


def _yours(drawing: Drawing, axis: Axis, position: float, top: float, words: Words) -> None:
    """A learner's mark on the neighbour, at the edge when it lies beyond."""
    x = min(max(axis.x(position), axis.left), axis.right)
    pencil_mark(drawing, x, (top - 5, top + _THICKNESS + 5), position, "fig-wrong")
    off = position < 0 or position > axis.last
    lines = (words("yours"), words("off-the-drawing")) if off else (words("yours"),)
    callouts(drawing, [Callout((x, top - 5), lines, "fig-wrong")], drawing.highest - 2, above=True)


def _bent(
    drawing: Drawing,
    axis: Axis,
    tubes: list[Centreline],
    level: float,
    *,
    spread: float,
    said: str,
    diameter: float,
) -> float:
    """Both tubes in the rack's plane, as far apart as their middles are; returns the lower end."""
    bases, level_ends = [], []
    for number, tube in enumerate(tubes):
        up = math.copysign(1.0, tube.legs[1].along.z)
        top = level + (max(spread, 0.0) - number * spread) * axis.scale
        shown = elevation(drawing, tube, _view(up), axis, top, diameter=diameter)
        bases.append(shown.at(*shown.view(tube.end))[1])
        level_ends.append(shown.base)
    if not bases:
        return level
    upper, lower = min(bases), max(bases)
    if lower - upper > 1:
        dimension_upright(drawing, WIDTH - _UPRIGHT, (upper, lower), said)
    return max(level_ends) + diameter * axis.scale


def _view(up: float) -> View:
    """The side on which the rack turns upward."""

    def view(point: Vector) -> Point:
        return point.x, point.z * up

    return view
