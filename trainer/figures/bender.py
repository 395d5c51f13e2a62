"""A hand bender on the tube before the bend: which mark of the shoe goes on the pencil mark, and where the bend will lie."""

from __future__ import annotations

from trainer.calc.shoes import DEFAULT_SHOE
from trainer.figures.bender_shoe import HandBender
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.run import Bend
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.tube import broken_end
from trainer.figures.words import Words, angle

__all__ = ["BENDER_ANGLES", "draw_bender", "parts_of_bender"]

_SCALE = 22.0
#: Where the arc will begin on the drawing.
_ARC_X = 152.0

#: Bends that may be shown, by the word for them [deg].
BENDER_ANGLES = {"30": 30.0, "45": 45.0, "90": 90.0}


def draw_bender(bend: str, words: Words, key: str = "") -> str:
    """
    A hand bender on a flat tube, its take-up mark on a pencil mark.

    Args:
        bend: A key of `BENDER_ANGLES`: how far it will be bent.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    drawing, bender, degrees = Drawing(), HandBender(DEFAULT_SHOE, _ARC_X, _SCALE), BENDER_ANGLES[bend]
    arc = Bend(0.0, bender.shoe.radius, degrees).length * _SCALE
    half, pencil = bender.half, bender.x(-bender.shoe.mark_to_arc * _SCALE)
    drawing.rectangle((MARGIN, -half), WIDTH - 2 * MARGIN, 2 * half, "fig-tube")
    drawing.rectangle((_ARC_X, -half), arc, 2 * half, "fig-bent-part")
    broken_end(drawing, WIDTH - MARGIN, -half, half)
    bender.draw(drawing)
    drawing.line((pencil, -half - 12), (pencil, half + 12), "fig-mark")
    top = callouts(drawing, parts_of_bender(bender, words), bender.top - 2, above=True)
    mark = Callout((pencil, half + 10), (words("bender.mark-on-mark"),), "fig-mark")
    line = Dimension(_ARC_X, _ARC_X + arc, words("bender.bend-lies-here", angle=angle(degrees)))
    bottom = max(
        callouts(drawing, [mark], half + 40, above=False),
        dimensions_below(drawing, [line], half + 2),
    )
    about = words("bender.about", angle=angle(degrees))
    return drawing.finish(top - 4, bottom + 4, words("bender.title"), about, key)


def parts_of_bender(bender: HandBender, words: Words) -> list[Callout]:
    """What is named above the bender."""
    x, y = bender.hub
    toward, away = ("left", "right") if bender.hook < 0 else ("right", "left")
    return [
        Callout((x + 14 * bender.hook, y - 34), (words("bender.handle"),), side=away, dot=True),
        Callout((bender.hook_x + 6 * bender.hook, -bender.half - 12), (words("bender.hook"),), side=toward, dot=True),
        Callout(bender.heel, (words("bender.heel"),), dot=True),
    ]
