"""The shoe of a hand bender on a flat tube: hook, sole, rim, heel and handle, the hook to the left or to the right."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from trainer.calc.shoes import Shoe
from trainer.figures.svg import Drawing, Point, polyline

__all__ = ["HandBender"]

#: How far the sole reaches toward the hook [in], and the rim's thickness on the drawing.
_SOLE = 3.0
_RIM = 22.0
#: How far the rim reaches up behind [deg].
_REACH = 78.0
_PARTS = 24


class HandBender(Struct, frozen=True):
    """
    A bender on a tube whose centre line lies at height 0.

    Args:
        shoe: Its figures.
        arc_x: Where the arc will begin on the drawing, next to the hook.
        scale: Units of the drawing for an inch.
        hook: The way in which the hook points: 1 right, -1 left.
    """

    shoe: Shoe
    arc_x: float
    scale: float
    hook: float = -1.0

    @property
    def half(self) -> float:
        """Half the tube's diameter."""
        return self.shoe.outside_diameter * self.scale / 2

    @property
    def hook_x(self) -> float:
        """Where the hook grips."""
        return self.x(-_SOLE * self.scale)

    @property
    def hub(self) -> Point:
        """Where the handle is fixed to the shoe."""
        return self.x(6), -self.shoe.radius * self.scale + 18

    @property
    def heel(self) -> Point:
        """Where the foot goes."""
        x, y = self._rim(_REACH - 26, _RIM / 2)
        return self.x(x + 36), y - 1

    @property
    def top(self) -> float:
        """How high the handle is drawn."""
        return self.hub[1] - 76

    def x(self, away: float) -> float:
        """A place so far from the arc's beginning, away from the hook."""
        return self.arc_x - self.hook * away

    def draw(self, drawing: Drawing) -> None:
        """The whole bender, painted over the tube."""
        self._shape(drawing, self._body(), "fig-part")
        inner = [self._rim(_REACH * part / _PARTS + 4 * (1 - part / _PARTS), _RIM) for part in range(_PARTS + 1)]
        drawing.path(polyline(self._placed(inner)), "fig-thin")
        self._shape(drawing, self._claw(), "fig-part")
        x, y = self._rim(_REACH - 26, _RIM / 2)
        self._shape(drawing, [(x, y - 5), (x + 44, y - 5), (x + 44, y + 3), (x, y + 3)], "fig-part")
        self._handle(drawing)

    def _rim(self, turned: float, inward: float = 0.0) -> Point:
        """A point of the rim, `turned` [deg] from where it touches the tube: away from the hook, and its height."""
        radius = self.shoe.radius * self.scale - self.half - inward
        about = math.radians(turned)
        return radius * math.sin(about), -self.shoe.radius * self.scale + radius * math.cos(about)

    def _body(self) -> list[Point]:
        hook, under = -_SOLE * self.scale, -self.half
        rim = [self._rim(_REACH * part / _PARTS) for part in range(_PARTS + 1)]
        hub_y = self.hub[1]
        inner = [self._rim(_REACH, _RIM), (18.0, hub_y), (-6.0, hub_y), (-34.0, under - _RIM), (hook, under - _RIM)]
        return [(hook, under), *rim, *inner]

    def _claw(self) -> list[Point]:
        hook, half = -_SOLE * self.scale, self.half
        top = -half - _RIM
        outer = [(hook - 4, half + 5), (hook - 14, half - 2), (hook - 14, -half - 6), (hook - 6, top)]
        return [(hook + 4, top), (hook + 4, half + 5), *outer]

    def _handle(self, drawing: Drawing) -> None:
        """Broken off above the shoe, leaning toward the hook."""
        y, top = self.hub[1], self.top
        lean = 6 - 0.4 * (y - top)
        self._shape(drawing, [(-2.0, y + 6), (14.0, y + 6), (lean + 8, top), (lean - 8, top)], "fig-tube")
        drawing.line((self.x(lean - 12), top - 1), (self.x(lean + 12), top - 1), "fig-break-line")

    def _shape(self, drawing: Drawing, points: Sequence[Point], name: str) -> None:
        drawing.shape(self._placed(points), name)

    def _placed(self, points: Sequence[Point]) -> list[Point]:
        return [(self.x(away), y) for away, y in points]
