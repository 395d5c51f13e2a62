"""A kick: the mark on the straight tube, and the tube with its end lifted off the line of the run."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.kick import Kick
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.marks import Datum, End, Mark, Reference
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.figures.axis import axis_for
from trainer.figures.bend_elevation import Elevation, View, bent_tube, elevation, fitted, foot, stations
from trainer.figures.bend_stick import Stick, draw_stick
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import dimension_upright
from trainer.figures.kick_behind_ninety import draw_kick_behind_ninety
from trainer.figures.measure import text_width
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.words import Words, angle, length

__all__ = ["draw_kick"]

_TALLEST = 130.0
_BESIDE = 10.0
_RUN = 12.0
#: Room above the tube for one label, and for each further one.
_LABELS = 34.0
_LABEL = 22.0


def draw_kick(
    inputs: Mapping[str, Any],
    result: Kick,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A kick that lifts the end of a tube, or a 90 that was bent before.

    Args:
        inputs: Values of the calculation `kick`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name; a mark is drawn dashed.
        solved: Whether the mark is shown, and the angle where it was asked for.
        key: Tells apart equal figures on one page.
    """
    if inputs.get("measured_from") == Datum.BACK:
        return draw_kick_behind_ninety(inputs, result, words, wrong=wrong, solved=solved, key=key)
    shoe = inputs.get("shoe") or DEFAULT_SHOE
    hook = End(inputs.get("hook") or End.FAR)
    drawing, level, top = Drawing(), 0.0, 0.0
    shown, bent = (
        Mark(position, End.MEASURED, Reference.TAKE_UP, hook, result.angle, 0.0, False, 1)
        for position in (result.mark, result.mark_arc)
    )
    if solved:
        ways = ("mark", "travel", "mark_handbook", "travel_handbook", "mark_arc")
        stick = Stick((shown,), (), True, tuple(value for name, value in wrong.items() if name in ways))
        last = max(shown.position, bent.position) + _RUN
        top, level = draw_stick(drawing, axis_for(0.0, last, right=WIDTH - MARGIN - 6), stick, words)
    tube = bent_tube((bent,), shoe, bent.position + _RUN + shoe.radius)
    if tube is not None:
        is_angle_known = solved or inputs.get("angle") is not None
        level = _lifted(drawing, tube, shoe, inputs, level, words=words, is_angle_known=is_angle_known)
    told = {"rise": length(inputs["rise"]), "angle": angle(round(result.angle, 1)), "mark": length(result.mark)}
    about = words("kick.about" if solved else "kick.asked", **told)
    return drawing.finish(min(top, drawing.highest) - 4, level + 8, words("kick.title"), about, key)


def _view(tube: Centreline) -> View:
    """The run lies level to the right, its centre line at height 0; the lifted end is on the left."""
    along = tube.legs[1].along
    up = (-tube.legs[0].along).across(along).unit
    level = tube.end.dot(up)

    def view(point: Vector) -> Point:
        return point.dot(along), point.dot(up) - level

    return view


def _lifted(
    drawing: Drawing,
    tube: Centreline,
    shoe: Shoe,
    inputs: Mapping[str, Any],
    level: float,
    *,
    words: Words,
    is_angle_known: bool,
) -> float:
    """The bent tube with its rise, its angle or the length of its leg; returns the lower end."""
    view = _view(tube)
    further = _LABEL if is_angle_known and inputs.get("length") is not None else 0.0
    said = words("length", length=length(inputs["rise"]))
    beside = text_width(said) + _BESIDE
    axis = fitted([view(tube.at(station)) for station in stations(tube)], _TALLEST, beside)
    shown = elevation(drawing, tube, view, axis, level + _LABELS + further, diameter=shoe.outside_diameter)
    end = shown.at(*view(tube.start))
    x = end[0] - shown.half - 6
    drawing.line((x - 6, shown.base), (WIDTH - MARGIN, shown.base), "fig-axis")
    drawing.line((x - 4, end[1]), (end[0], end[1]), "fig-dim-thin")
    dimension_upright(drawing, x, (end[1], shown.base), said, side="left")
    callouts(drawing, _labels(shown, inputs, words, is_angle_known=is_angle_known), shown.top - 4, above=True)
    return max(shown.ground, drawing.lowest, foot(end[1], shown.base))


def _labels(shown: Elevation, inputs: Mapping[str, Any], words: Words, *, is_angle_known: bool) -> list[Callout]:
    tube, said = shown.tube, []
    bend = tube.bends[0]
    if inputs.get("length") is not None:
        said.append((tube.legs[0].length / 2, words("kick.leg", length=length(inputs["length"]))))
    if is_angle_known:
        said.append((bend.station + bend.length / 2, words("angle", angle=angle(round(bend.angle, 1)))))
    return [Callout(shown.at(*shown.view(tube.at(station))), (text,), dot=True) for station, text in said]
