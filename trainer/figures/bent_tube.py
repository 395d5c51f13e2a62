"""The tube as it comes off the bender, to scale: from the side, and from above too where it does not lie flat."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from msgspec import Struct

from trainer.calc.layout import lay_out
from trainer.calc.layout_marks import bends_on_stick, bent_by_marks
from trainer.calc.layout_space import Vector
from trainer.calc.layout_tube import Bend, Centreline
from trainer.calc.marks import Mark
from trainer.calc.shoes import Shoe
from trainer.figures.callout import label
from trainer.figures.measure import text_width
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.tube import ribbon
from trainer.figures.words import Words

__all__ = ["draw_bent_tube"]

_TALLEST = 230.0
#: Straight tube that is drawn at both ends at most, and how near to flat counts as flat [in].
_LEG = 14.0
_FLAT = 0.05
#: A first bend of so much makes the leg behind it the one that lies level [deg].
_STANDS_UP = 60.0
_STEP = 0.5
#: Of more bends only the first and the last are numbered.
_MOST_NAMED = 6

View = Callable[[Vector], Point]


class _Bent(Struct, frozen=True):
    """The tube, its bends' numbers along it, and the stretch of it that is drawn [in]."""

    tube: Centreline
    numbers: Sequence[int]
    start: float
    end: float

    def points(self) -> list[Vector]:
        """Points of the centre line along the stretch, both ends of every leg among them."""
        corners = {self.start, self.end}
        for piece in self.tube.pieces:
            if isinstance(piece, Bend):
                parts = max(round(piece.length / _STEP), 1)
                corners |= {piece.station + piece.length * part / parts for part in range(parts + 1)}
        return [self.tube.at(one) for one in sorted(corners) if self.start <= one <= self.end]


def draw_bent_tube(marks: Sequence[Mark], shoe: Shoe, stick: float, words: Words, key: str = "") -> str:
    """
    The tube that these marks give on this shoe.

    Args:
        marks: Full instructions.
        shoe: The shoe.
        stick: Length of the straight tube, long enough for the marks [in].
        words: Sentences.
        key: Tells apart equal figures on one page.

    Raises:
        InputError: When the arcs overlap or leave the tube.
    """
    bent, drawing = _bent(marks, shoe, stick), Drawing()
    side, above = _views(bent.tube)
    points = bent.points()
    level = 0.0
    is_flat = max(abs(above(point)[1] - above(points[0])[1]) for point in points) < _FLAT
    for name, view in (("from-the-side", side),) if is_flat else (("from-the-side", side), ("from-above", above)):
        if not is_flat:
            level = drawing.paragraph(level, words(f"bent.{name}"), "fig-text fig-heading")
        level = _view(drawing, bent, view, level + 20, shoe.outside_diameter) + 10
    angles = ", ".join(f"{mark.angle:g}°" for mark in sorted(marks, key=lambda mark: mark.order))
    return drawing.finish(
        min(-2, drawing.highest - 2), level, words("bent.title"), words("bent.about", angles=angles), key
    )


def _bent(marks: Sequence[Mark], shoe: Shoe, stick: float) -> _Bent:
    tube = lay_out(bent_by_marks(marks, shoe, stick))
    along = sorted(bends_on_stick(marks, shoe, stick), key=lambda bend: bend.start)
    start = max(0.0, along[0].start - _LEG)
    return _Bent(tube, [bend.mark.order for bend in along], start, min(stick, along[-1].end + _LEG))


def _views(tube: Centreline) -> tuple[View, View]:
    """From the side, the level leg to the right and the first bend to the upper side; and from above."""
    first = tube.bends[0]
    stands = first.angle >= _STANDS_UP or len(tube.bends) == 1
    along = tube.legs[1 if stands else 0].along
    other = -tube.legs[0].along if stands else tube.legs[1].along
    up = (other - along * other.dot(along)).unit
    beside = along.cross(up)
    return (
        lambda point: (point.dot(along), -point.dot(up)),
        lambda point: (point.dot(along), point.dot(beside)),
    )


def _view(drawing: Drawing, bent: _Bent, view: View, level: float, diameter: float) -> float:
    """One view below `level`; returns where it ends."""
    flat = [view(point) for point in bent.points()]
    left, right = min(x for x, _ in flat), max(x for x, _ in flat)
    upper, lower = min(y for _, y in flat), max(y for _, y in flat)
    wide, tall = max(right - left, 1.0), lower - upper
    scale = min((WIDTH - 2 * MARGIN - 16) / wide, _TALLEST / max(tall, 1.0), 14.0)
    thick = max(diameter * scale, 5.0)
    shift = (WIDTH - wide * scale) / 2

    def on_sheet(point: Point) -> Point:
        return shift + (point[0] - left) * scale, level + thick / 2 + (point[1] - upper) * scale

    line = [on_sheet(point) for point in flat]
    drawing.shape(ribbon(line, thick / 2), "fig-tube")
    bottom = level + tall * scale + thick
    shown = (1, len(bent.numbers)) if len(bent.numbers) > _MOST_NAMED else bent.numbers
    for number, bend in zip(bent.numbers, bent.tube.bends, strict=True):
        if number in shown:
            at, centre = on_sheet(view(bend.at(bend.length / 2))), on_sheet(view(bend.centre))
            _number(drawing, f"{number}: {bend.angle:g}°", at, centre, thick)
    return max(bottom, drawing.lowest)


def _number(drawing: Drawing, words: str, at: Point, centre: Point, thick: float) -> None:
    """Number and angle of a bend on its outer side, or its inner one where that has no room."""
    (x, y), long = at, math.dist(at, centre) or 1.0
    across, down = (x - centre[0]) / long, (y - centre[1]) / long
    out = thick / 2 + 8
    outer, inner = (
        ((x + way * across * (out + text_width(words) / 2), y + way * down * (out + 6) + 4.5), "middle")
        for way in (1.0, -1.0)
    )
    spots = [outer, inner, ((x, y - out), "middle"), ((x, y + out + 8), "middle")]
    label(drawing, words, spots)
