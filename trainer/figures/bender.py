"""A hand bender on the tube before the bend: which mark of the shoe goes on the pencil mark, and where the bend will lie."""

from __future__ import annotations

import math
from dataclasses import dataclass

from trainer.calc.shoes import DEFAULT_SHOE, Shoe
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.run import Bend
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point, units
from trainer.figures.tube import broken_end
from trainer.figures.words import Words, angle

__all__ = ["BENDER_ANGLES", "draw_bender"]

_SCALE = 22.0
#: Where the arc will begin on the drawing.
_ARC_X = 152.0
#: How far the shoe's sole reaches toward the hook [in], and its thickness over the rim, in units of the drawing.
_SOLE = 3.0
_RIM = 22.0
#: How far the rim reaches up behind [deg].
_REACH = 78.0

#: Bends that may be shown, by the word for them [deg].
BENDER_ANGLES = {"30": 30.0, "45": 45.0, "90": 90.0}


@dataclass(frozen=True, slots=True)
class _Place:
    """The shoe on the drawing: the tube's centre line lies at height 0."""

    shoe: Shoe

    @property
    def half(self) -> float:
        """Half the tube's diameter."""
        return self.shoe.outside_diameter * _SCALE / 2

    def rim(self, turned: float, inward: float = 0.0) -> Point:
        """A point of the rim, `turned` [deg] from where it touches the tube, `inward` from its edge."""
        radius = self.shoe.radius * _SCALE - self.half - inward
        about = math.radians(turned)
        return _ARC_X + radius * math.sin(about), -self.shoe.radius * _SCALE + radius * math.cos(about)

    @property
    def mark(self) -> float:
        """Where the take-up mark stands."""
        return _ARC_X - self.shoe.mark_to_arc * _SCALE

    @property
    def hook(self) -> float:
        """Where the hook grips."""
        return _ARC_X - _SOLE * _SCALE


def draw_bender(bend: str, words: Words, key: str = "") -> str:
    """
    A hand bender on a flat tube, its take-up mark on a pencil mark.

    Args:
        bend: A key of `BENDER_ANGLES`: how far it will be bent.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    drawing, place, degrees = Drawing(), _Place(DEFAULT_SHOE), BENDER_ANGLES[bend]
    arc = Bend(0.0, place.shoe.radius, degrees).length * _SCALE
    half = place.half
    drawing.rectangle((MARGIN, -half), WIDTH - 2 * MARGIN, 2 * half, "fig-tube")
    drawing.rectangle((_ARC_X, -half), arc, 2 * half, "fig-bent-part")
    broken_end(drawing, WIDTH - MARGIN, -half, half)
    _shoe(drawing, place)
    _handle(drawing, place)
    drawing.line((place.mark, -half - 12), (place.mark, half + 12), "fig-mark")
    top = callouts(drawing, _labels(place, words), _handle_top(place) - 2, above=True)
    mark = Callout((place.mark, half + 10), (words("bender.mark-on-mark"),), "fig-mark")
    line = Dimension(_ARC_X, _ARC_X + arc, words("bender.bend-lies-here", angle=angle(degrees)))
    bottom = max(
        callouts(drawing, [mark], half + 40, above=False),
        dimensions_below(drawing, [line], half + 2),
    )
    about = words("bender.about", angle=angle(degrees))
    return drawing.finish(top - 4, bottom + 4, words("bender.title"), about, key)


def _shoe(drawing: Drawing, place: _Place) -> None:
    """Hook, sole, rim, web and heel in one outline; the hook's claw reaches round the tube."""
    half = place.half
    radius = place.shoe.radius * _SCALE - half
    end, inner = place.rim(_REACH), place.rim(_REACH, _RIM)
    hub = _hub(place)
    body = (
        f"M {units(place.hook)} {units(-half)} L {units(_ARC_X)} {units(-half)} "
        f"A {units(radius)} {units(radius)} 0 0 0 {units(end[0])} {units(end[1])} L {units(inner[0])} {units(inner[1])} "
        f"L {units(hub[0] + 12)} {units(hub[1])} L {units(hub[0] - 12)} {units(hub[1])} "
        f"L {units(_ARC_X - 34)} {units(-half - _RIM)} L {units(place.hook)} {units(-half - _RIM)} Z"
    )
    drawing.path(body, "fig-part")
    inside = radius - _RIM
    start, stop = place.rim(4.0, _RIM), place.rim(_REACH, _RIM)
    arc = f"A {units(inside)} {units(inside)} 0 0 0 {units(stop[0])} {units(stop[1])}"
    drawing.path(f"M {units(start[0])} {units(start[1])} {arc}", "fig-thin")
    x, top = place.hook, -half - _RIM
    claw = [(x + 4, top), (x + 4, half + 5), (x - 4, half + 5), (x - 14, half - 2), (x - 14, -half - 6), (x - 6, top)]
    drawing.shape(claw, "fig-part")
    x, y = _heel(place)
    drawing.shape([(x, y - 5), (x + 44, y - 5), (x + 44, y + 3), (x, y + 3)], "fig-part")


def _hub(place: _Place) -> Point:
    """Where the handle is fixed to the shoe."""
    return _ARC_X + 6, -place.shoe.radius * _SCALE + 18


def _heel(place: _Place) -> Point:
    """Where the heel leaves the rim."""
    return place.rim(_REACH - 26, _RIM / 2)


def _handle_top(place: _Place) -> float:
    """How high the handle is drawn."""
    return _hub(place)[1] - 76


def _handle(drawing: Drawing, place: _Place) -> None:
    """The handle, broken off above the shoe, leaning toward the hook."""
    (x, y), top = _hub(place), _handle_top(place)
    lean = 0.4 * (y - top)
    drawing.shape([(x - 8, y + 6), (x + 8, y + 6), (x + 8 - lean, top), (x - 8 - lean, top)], "fig-tube")
    drawing.line((x - 12 - lean, top - 1), (x + 12 - lean, top - 1), "fig-break-line")


def _labels(place: _Place, words: Words) -> list[Callout]:
    """What is named above the bender."""
    (x, y), (heel_x, heel_y) = _hub(place), _heel(place)
    return [
        Callout((x - 14, y - 34), (words("bender.handle"),), side="right", dot=True),
        Callout((place.hook - 6, -place.half - 12), (words("bender.hook"),), side="left", dot=True),
        Callout((heel_x + 36, heel_y - 1), (words("bender.heel"),), dot=True),
    ]
