"""A bent tube seen from one side, to scale: its outline, the angles of its bends, and points of the job beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct

from trainer.calc.layout import lay_out
from trainer.calc.layout_marks import bent_by_marks
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Bend, Centreline
from trainer.calc.marks import Mark
from trainer.calc.message import InputError
from trainer.calc.shoes import Shoe
from trainer.figures.axis import Axis
from trainer.figures.callout import Callout, callouts
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.tube import broken_end, ribbon, tube_break
from trainer.figures.words import Words, angle

__all__ = ["Elevation", "View", "angles_above", "bent_tube", "elevation", "fitted", "foot", "stations"]

#: From a point in space to inches along the run and upward from it.
View = Callable[[Vector], Point]

_STEP = 0.4
_THINNEST = 5.0
#: An upright dimension shorter than this has its arrows outside, which takes so much room.
_SHORT = 20.0
_OUTSIDE = 16.0


def bent_tube(marks: Sequence[Mark], shoe: Shoe, stick: float) -> Centreline | None:
    """The tube that these marks give; None where its arcs would run into each other or off the tube."""
    if not marks:
        return None
    try:
        return lay_out(bent_by_marks(marks, shoe, stick))
    except InputError:
        return None


def fitted(flat: Sequence[Point], tallest: float, beside: float = 0.0) -> Axis:
    """A scale that shows all these points [in], no higher than `tallest`, with room `beside` them left and right."""
    left, right = min(x for x, _ in flat), max(x for x, _ in flat)
    tall = max(y for _, y in flat) - min(y for _, y in flat)
    room = WIDTH - 2 * MARGIN - 2 * beside
    scale = min(room / max(right - left, 1.0), tallest / max(tall, 1.0), 14.0)
    return Axis((WIDTH - (right + left) * scale) / 2, scale, 0.0, 0.0, right)


def stations(tube: Centreline) -> list[float]:
    """Both ends of every leg, and enough stations on arcs that they look round [in]."""
    found = {0.0, tube.length}
    for piece in tube.pieces:
        if isinstance(piece, Bend):
            parts = max(round(piece.length / _STEP), 2)
            found |= {piece.station + piece.length * part / parts for part in range(parts + 1)}
    return sorted(found)


class Elevation(Struct, frozen=True):
    """
    The tube on its drawing.

    Args:
        tube: The bent tube.
        view: From which side.
        axis: The scale along the run.
        base: Height at which the run's centre line lies.
        diameter: Of the tube [in].
        top: Where the drawing's highest point lies.
    """

    tube: Centreline
    view: View
    axis: Axis
    base: float
    diameter: float
    top: float

    @property
    def half(self) -> float:
        """Half of the tube's thickness on the drawing."""
        return max(self.diameter * self.axis.scale, _THINNEST) / 2

    @property
    def ground(self) -> float:
        """The lower side of the run."""
        return self.base + self.half

    def at(self, along: float, up: float) -> Point:
        """Where a point lies, so far along the run and above its centre line [in]."""
        return self.axis.x(along), self.base - up * self.axis.scale


def elevation(
    drawing: Drawing, tube: Centreline, view: View, axis: Axis, level: float, *, diameter: float, cut: bool = True
) -> Elevation:
    """
    The tube below `level`.

    Args:
        drawing: Takes it.
        tube: The bent tube.
        view: From which side; heights count from the run.
        axis: The scale along the run.
        level: Where it begins.
        diameter: Of the tube [in].
        cut: Whether the drawing stops at the tube's far end though the tube goes on.
    """
    flat = [view(tube.at(station)) for station in stations(tube)]
    highest = max(y for _, y in flat)
    half = max(diameter * axis.scale, _THINNEST) / 2
    shown = Elevation(tube, view, axis, level + half + highest * axis.scale, diameter, level)
    line = [shown.at(*point) for point in flat]
    drawing.shape(ribbon(line, half), "fig-tube")
    if axis.is_broken:
        tube_break(drawing, axis.break_middle, line[0][1] - half, line[0][1] + half)
    end, before = line[-1], line[-2]
    if cut and abs(end[1] - before[1]) < abs(end[0] - before[0]) * 0.02:
        broken_end(drawing, min(end[0], WIDTH - 8), end[1] - half, end[1] + half)
    return shown


def angles_above(drawing: Drawing, shown: Elevation, words: Words) -> None:
    """The angle of each bend in a row above the tube, with a line to its arc."""
    labels = []
    for bend in shown.tube.bends:
        x, y = shown.at(*shown.view(bend.at(bend.length / 2)))
        labels.append(Callout((x, y), (words("angle", angle=angle(bend.angle)),), dot=True))
    callouts(drawing, labels, shown.top - 6, above=True)


def foot(upper: float, lower: float) -> float:
    """Where an upright dimension between these heights ends: the arrows of a short one stand outside it."""
    return lower + (_OUTSIDE if lower - upper < _SHORT else 0.0)
