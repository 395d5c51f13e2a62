"""Back-to-back bends: the second mark on the piece with its first bend, and the finished piece with both stubs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.back_to_back import BackToBack, Way, back_to_back
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Centreline
from trainer.calc.marks import End, Mark
from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.figures.axis import Axis
from trainer.figures.bend_elevation import Elevation, View, bent_tube, elevation, fitted, stations
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.tube import hook_arrow, pencil_mark
from trainer.figures.words import Words, length

__all__ = ["draw_back_to_back"]

_TALLEST = 120.0
#: Room left of the first stub for its height, and as much on the right.
_BESIDE = 72.0
#: Of the stub where its height is not asked for [in].
_STUB = 14.0
_GAP = 22.0


def draw_back_to_back(
    inputs: Mapping[str, Any],
    result: BackToBack,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    Two 90s back to back; before the answer only the finished piece.

    Args:
        inputs: Values of the calculation `back_to_back`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name; drawn dashed, from the back of the first bend.
        solved: Whether the second mark is shown.
        key: Tells apart equal figures on one page.
    """
    distance, shoe, given = inputs["distance"], inputs.get("shoe") or DEFAULT_SHOE, inputs.get("stub")
    by_take_up = inputs.get("way") == Way.TAKE_UP
    stub = max(_STUB, shoe.take_up + 4) if given is None else given
    marks = back_to_back(distance, stub, shoe, Way.TAKE_UP if by_take_up else Way.BACK_MARK).marks
    # The second stub is as high as the first: both legs and what lies between, less what the bends take less.
    tube = bent_tube(marks, shoe, 2 * stub + distance - 2 * shoe.outside_gain)
    drawing = Drawing()
    if tube is None:
        return ""
    axis = fitted([_view(tube)(tube.at(station)) for station in stations(tube)], _TALLEST, _BESIDE)
    level = 0.0
    if solved:
        yours = [value for name, value in wrong.items() if name.startswith("by_")]
        level = _after_first(drawing, axis, marks, shoe, words=words, yours=yours) + _GAP
    finished = elevation(drawing, tube, _view(tube), axis, level, diameter=shoe.outside_diameter, cut=False)
    if given is not None:
        top = finished.at(0, _view(tube)(tube.start)[1])[1]
        left = axis.x(-shoe.outside_diameter / 2) - 10
        dimension_upright(drawing, left, (top, finished.ground), words("length", length=length(given)), side="left")
    level = _between_backs(drawing, finished, distance, words)
    told = {"distance": length(distance), "back": length(result.by_back_mark), "take_up": length(result.by_take_up)}
    about = words("back-to-back.about" if solved else "back-to-back.asked", **told)
    return drawing.finish(min(drawing.highest, 0) - 6, level + 6, words("back-to-back.title"), about, key)


def _view(tube: Centreline) -> View:
    """The leg between the bends lies level, the first stub stands up at the left."""
    along, up = tube.legs[1].along, -tube.legs[0].along
    level = tube.legs[1].start.dot(up)

    def view(point: Vector) -> Point:
        return point.dot(along), point.dot(up) - level

    return view


def _after_first(
    drawing: Drawing, axis: Axis, marks: tuple[Mark, ...], shoe: Shoe, *, words: Words, yours: list[float]
) -> float:
    """The piece after its first bend, with the second mark on its level leg; returns where that ends."""
    first, second = marks
    back = -shoe.outside_diameter / 2
    last = (WIDTH - MARGIN - axis.left) / axis.scale
    tube = bent_tube((first,), shoe, first.position + shoe.take_up + last + 2 * shoe.outside_diameter)
    if tube is None:
        return 0.0
    shown_from = first.position + shoe.take_up - shoe.outside_gain
    tube = bent_tube((first,), shoe, shown_from + last) or tube
    shown = elevation(drawing, tube, _view(tube), axis, 0.0, diameter=shoe.outside_diameter)
    x, half = axis.x(back + second.position), shown.half
    pencil_mark(drawing, x, (shown.base - half - 14, shown.ground + 6), second.position)
    side = "middle" if not yours else "left" if max(yours) > second.position else "right"
    labels = []
    for value in yours:
        at = min(max(axis.x(back + value), axis.x(back)), WIDTH - MARGIN)
        pencil_mark(drawing, at, (shown.base - half - 14, shown.ground + 6), value, "fig-wrong")
        lines = [words("yours-at", length=length(value))]
        if axis.x(back + value) > WIDTH - MARGIN:
            lines.append(words("off-the-drawing"))
        beside = "left" if value < second.position else "right"
        labels.append(Callout((at, shown.base - half - 14), tuple(lines), "fig-wrong", beside))
    # The learner's label is the narrower one: it goes nearest, so that its line runs through no other.
    labels.append(_flag(words, second, (x, shown.base - half - 14), side))
    callouts(drawing, labels, shown.base - half - 16, above=True)
    hook_arrow(drawing, x, shown.ground + 13, 1.0 if second.hook_toward == End.FAR else -1.0, words("hook"))
    said = words("length", length=length(second.position))
    return dimensions_below(drawing, [Dimension(axis.x(back), x, said, shown.ground)], shown.ground + 16)


def _flag(words: Words, mark: Mark, point: Point, side: str) -> Callout:
    reference = words(f"reference.{mark.reference}")
    return Callout(point, (words("bend-number", number=mark.order), reference), "fig-mark", side)


def _between_backs(drawing: Drawing, shown: Elevation, distance: float, words: Words) -> float:
    """The distance that is asked for, from back to back."""
    half = shown.diameter / 2
    ends = shown.axis.x(-half), shown.axis.x(distance - half)
    line = Dimension(*ends, words("back-to-back.distance", length=length(distance)))
    return dimensions_below(drawing, [line], shown.ground)
