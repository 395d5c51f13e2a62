"""A scale along the tube: from a position in inches to the drawing, with a stretch that shows nothing broken out."""

from __future__ import annotations

from msgspec import Struct

from trainer.figures.svg import MARGIN, WIDTH

__all__ = ["Axis", "axis_for"]

#: Room on the drawing for a break.
GAP = 16.0


class Axis(Struct, frozen=True):
    """
    Where positions along the tube lie on the drawing.

    Args:
        left: Where position 0 lies, or would lie.
        scale: Units of the drawing for an inch.
        kept: How many inches are drawn before the break [in].
        resume: Position at which the drawing goes on after the break [in]; equal to `kept` when there is none.
        last: Last position drawn [in].
    """

    left: float
    scale: float
    kept: float
    resume: float
    last: float

    @property
    def is_broken(self) -> bool:
        """Whether a stretch is left out."""
        return self.resume > self.kept

    def x(self, position: float) -> float:
        """
        Where a position [in] lies; one in the stretch left out lies in the middle of the break.

        >>> Axis(left=10, scale=2, kept=5, resume=45, last=90).x(50)
        46.0
        """
        if position <= self.kept or not self.is_broken:
            return self.left + position * self.scale
        after = self.left + self.kept * self.scale
        if position < self.resume:
            return after + GAP / 2
        return after + GAP + (position - self.resume) * self.scale

    @property
    def right(self) -> float:
        """Where the last position drawn lies."""
        return self.x(self.last)

    @property
    def break_middle(self) -> float:
        """Where the break lies."""
        return self.left + self.kept * self.scale + GAP / 2


def axis_for(shown_from: float, last: float, *, left: float = MARGIN, right: float = WIDTH - MARGIN) -> Axis:
    """
    The largest scale that shows the tube from `shown_from` to `last`, and its measured end before a break.

    Args:
        shown_from: First position that must be seen besides the end at 0 [in].
        last: Last position that must be seen [in].
        left: Where position 0 lies on the drawing.
        right: Where the last position lies on the drawing.
    """
    window = last - shown_from
    kept = 0.12 * window
    if shown_from < 2.5 * kept:
        return Axis(left, (right - left) / last, 0.0, 0.0, last)
    return Axis(left, (right - left - GAP) / (kept + window), kept, shown_from, last)
