"""The straight tube that is cut for a bent piece, and a learner's below it."""

from __future__ import annotations

from collections.abc import Mapping

from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words, length

__all__ = ["straight_tube_to_cut"]

_BAR = 12.0


def straight_tube_to_cut(
    drawing: Drawing, words: Words, tube: float, top: float, wrong: Mapping[str, float], *, solved: bool
) -> float:
    """
    A bar for the tube, to a scale of its own, and a dashed one for each wrong length.

    Args:
        drawing: Takes them.
        words: Sentences.
        tube: Length to cut [in].
        top: Where the bar begins.
        wrong: A learner's lengths by the name of the output [in].
        solved: Whether the length is written; else a question mark.

    Returns:
        Where that ends.
    """
    yours = [value for value in wrong.values() if isinstance(value, int | float) and value > 0]
    scale = (WIDTH - 2 * MARGIN) / max([tube, *yours])
    drawing.rectangle((MARGIN, top), tube * scale, _BAR, "fig-tube")
    said = words("bent-piece.cut", length=length(tube)) if solved else words("bent-piece.cut-asked")
    level = dimensions_below(drawing, [Dimension(MARGIN, MARGIN + tube * scale, said)], top + _BAR)
    for value in yours:
        drawing.open_group("fig-at", position=value, kind="yours")
        drawing.rectangle((MARGIN, level + 4), value * scale, _BAR, "fig-wrong")
        drawing.close_group()
        level = drawing.paragraph(level + _BAR + 8, words("yours-is", length=length(value)), "fig-text fig-wrong-text")
    return level
