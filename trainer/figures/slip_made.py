"""A piece with a slip: the bent tube to scale, where it stands, and where it should."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.shoes import DEFAULT_SHOE
from trainer.calc.slip_made import SlipMade, tube_with_slip
from trainer.figures.bend_elevation import View, fitted, foot, stations
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.measure import text_width
from trainer.figures.svg import MARGIN, Drawing, Point
from trainer.figures.tube import broken_end, ribbon
from trainer.figures.words import Words, length

__all__ = ["draw_slip_made"]

_TALLEST = 110.0
#: What of the tube is drawn beyond the piece, and before it [in].
_BEYOND = 9.0
_LABELS = 30.0
#: Between the tube's end and its upright dimension, and at the edge beside the words of that.
_GAP, _EDGE = 14.0, 8.0
_THINNEST = 5.0


def draw_slip_made(
    inputs: Mapping[str, Any],
    result: SlipMade,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A piece with a slip.

    Args:
        inputs: Values of the calculation `slip_made`.
        result: Its result.
        words: Sentences.
        wrong: Taken for the sake of the other figures; a slip that was taken for another has no mark.
        solved: Whether the slip is named; else only what the tape finds.
        key: Tells apart equal figures on one page.
    """
    del wrong
    shoe = inputs.get("shoe") or DEFAULT_SHOE
    named = (inputs[name] for name in ("bend", "slip", "wanted", "angle", "distance"))
    tube = tube_with_slip(*named, shoe=shoe)
    drawing = Drawing()
    level = _piece(drawing, tube, shoe.outside_diameter, inputs["distance"], result, words=words)
    told = {"came": length(result.size), "wanted": length(inputs["wanted"])}
    sizes = words("slip-made.wanted-size", size=told["wanted"], came=told["came"])
    level = drawing.paragraph(level + 4, sizes, "fig-text fig-note")
    slip = words.of_core(f"slip.{inputs['slip']}")
    if solved:
        level = drawing.paragraph(level, slip, "fig-text fig-wrong-text")
    told |= {"place": length(result.place), "distance": length(inputs["distance"])}
    about = words("slip-made.about", slip=slip, **told) if solved else words("slip-made.asked", **told)
    return drawing.finish(drawing.highest - 6, level + 6, words("slip-made.title"), about, key)


def _piece(
    drawing: Drawing, tube: Centreline, diameter: float, wanted: float, result: SlipMade, *, words: Words
) -> float:
    """The tube from its end on, with the dimension of where it stands; returns the lower end."""
    last = max(tube.bends[-1].end.x, wanted) + _BEYOND
    view = _view(tube)
    line = [view(tube.at(station)) for station in stations(tube) if tube.at(station).x < last]
    line.append((last, line[-1][1] if len(line) < len(stations(tube)) else view(tube.end)[1]))
    size = words("length", length=length(result.size))
    beside = _GAP + text_width(size, "fig-dim-text") + 2 * _EDGE
    axis = fitted([*line, (0.0, 0.0)], _TALLEST, max(beside - MARGIN, 0.0))
    half = max(diameter * axis.scale, _THINNEST) / 2
    ground = _LABELS + half + max(y for _, y in line) * axis.scale

    def at(point: Point) -> Point:
        return axis.x(point[0]), ground - point[1] * axis.scale

    drawn = [at(point) for point in line]
    drawing.shape(ribbon(drawn, half), "fig-tube")
    broken_end(drawing, drawn[-1][0], drawn[-1][1] - half, drawn[-1][1] + half)
    top = _LABELS - 4
    place = axis.x(wanted)
    drawing.line((place, top), (place, ground + half + 6), "fig-mark")
    callouts(
        drawing,
        [Callout((place, top), (words("slip-made.wanted", length=length(wanted)),), "fig-mark")],
        top,
        above=True,
    )
    highest = min(y for _, y in drawn)
    x = drawn[-1][0] + _GAP
    drawing.line((axis.x(result.place), highest), (x + 4, highest), "fig-dim-thin")
    drawing.line((axis.x(result.place), ground), (x + 4, ground), "fig-axis")
    dimension_upright(drawing, x, (highest, ground), size)
    place_line = Dimension(axis.left, axis.x(result.place), words("length", length=length(result.place)))
    return dimensions_below(drawing, [place_line], max(ground + half, foot(highest, ground)) + 4)


def _view(tube: Centreline) -> View:
    """The first leg lies level from 0 on, the bends rise."""
    sign = 1.0 if tube.legs[1].along.z >= 0 else -1.0

    def view(point: Vector) -> Point:
        return point.x, point.z * sign

    return view
