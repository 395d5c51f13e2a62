"""Sections through round parts that share an axis: each part is given by its upper half and cut above and below."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from trainer.figures.hatch import section
from trainer.figures.svg import Drawing, Point

__all__ = ["Axle"]


class Axle(Struct, frozen=True):
    """
    The axis of round parts on the drawing.

    Args:
        drawing: Takes the parts.
        origin: Where the axis' zero lies on the drawing.
        scale: Units of the drawing for an inch.
    """

    drawing: Drawing
    origin: Point
    scale: float

    def at(self, along: float, off: float) -> Point:
        """A point `along` the axis [in] and `off` it [in, upward positive]."""
        return self.origin[0] + along * self.scale, self.origin[1] - off * self.scale

    def shifted(self, off: float) -> Axle:
        """A parallel axis, `off` [in] above this one."""
        return Axle(self.drawing, self.at(0, off), self.scale)

    def moved(self, along: float) -> Axle:
        """The same axis with its zero moved `along` it [in]."""
        return Axle(self.drawing, self.at(along, 0), self.scale)

    def ring(self, profile: Sequence[Point], name: str, *, leftward: bool = False) -> None:
        """
        A round part cut through its axis.

        Args:
            profile: Corners (along, radius) of its cut face above the axis [in].
            name: Class of its two cut faces.
            leftward: Slant of the hatching, so that neighbours differ.
        """
        for side in (1, -1):
            section(
                self.drawing, [self.at(x, side * radius) for x, radius in profile], name, leftward=leftward ^ (side < 0)
            )

    def cut(self, corners: Sequence[Point], name: str, *, leftward: bool = False) -> None:
        """A single cut face (along, off) [in], for a part that is not round."""
        section(self.drawing, [self.at(x, off) for x, off in corners], name, leftward=leftward)

    def solid(self, profile: Sequence[Point], name: str) -> None:
        """A part that is not cut, above the axis only, such as a screw."""
        self.drawing.shape([self.at(x, off) for x, off in profile], name)

    def bore(self, start: float, end: float, radius: float) -> None:
        """The far wall of a bore, seen behind the cut: a plain surface and its two ends."""
        upper, lower = self.at(start, radius), self.at(end, -radius)
        self.drawing.rectangle(upper, lower[0] - upper[0], lower[1] - upper[1], "fig-bore")

    def centre_line(self, start: float, end: float) -> None:
        """The axis itself, chain-dotted."""
        self.drawing.line(self.at(start, 0), self.at(end, 0), "fig-axis")
