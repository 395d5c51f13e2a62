"""A wall from the front: from what to what one measures across it, up it, and why at both ends. Not to scale, no numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.hatch import section
from trainer.figures.svg import WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["WALLS", "draw_wall"]

_BOX = 44.0
_KNOCKOUT = 7.0
_CORNER = 26.0

#: Draws a wall; gives its upper and its lower end.
_Draw = Callable[[Drawing, Words], tuple[float, float]]


def draw_wall(shows: str, words: Words, key: str = "") -> str:
    """
    A wall with boxes, and the dimensions that are taken on it.

    Args:
        shows: A key of `WALLS`.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    top, bottom = WALLS[shows](drawing, words)
    about = words(f"wall.{shows}.about")
    return drawing.finish(min(top, drawing.highest) - 6, bottom + 6, words(f"wall.{shows}.title"), about, key)


def _box(drawing: Drawing, x: float, y: float) -> None:
    """A box around its centre, with the knockouts of its two sides and centre lines."""
    half = _BOX / 2
    drawing.rectangle((x - half, y - half), _BOX, _BOX, "fig-box")
    for side in (-1.0, 1.0):
        drawing.rectangle((x + side * half - 2, y - _KNOCKOUT), 4, 2 * _KNOCKOUT, "fig-bore")
    drawing.line((x - half - 5, y), (x + half + 5, y), "fig-axis")
    drawing.line((x, y - half - 5), (x, y + half + 5), "fig-axis")


def _across(drawing: Drawing, words: Words) -> tuple[float, float]:
    """Corner, two boxes on one height, the tube between them."""
    first, second, y = 164.0, 316.0, 40.0
    section(drawing, [(4, -10), (_CORNER, -10), (_CORNER, 90), (4, 90)], "fig-ground")
    drawing.rectangle((first + _BOX / 2, y - 4), second - first - _BOX, 8, "fig-tube")
    for x in (first, second):
        _box(drawing, x, y)
    knockout = Callout((second - _BOX / 2, y - 3), (words("wall.knockout"),), dot=True)
    top = callouts(drawing, [knockout], -10, above=True)
    lines = [
        Dimension(first + _BOX / 2, second - _BOX / 2, words("wall.face-to-face"), y + _BOX / 2),
        Dimension(first, second, words("wall.center-to-center"), y + _BOX / 2 + 6),
        Dimension(_CORNER, first, words("wall.corner-to-center"), 62),
    ]
    return top, dimensions_below(drawing, lines, 90)


def _heights(drawing: Drawing, words: Words) -> tuple[float, float]:
    """A box over a floor that lies on a subfloor."""
    x, y, floor, thick, right = 150.0, 0.0, 150.0, 16.0, 318.0
    section(drawing, [(4, floor), (right, floor), (right, floor + thick), (4, floor + thick)], "fig-left")
    below = floor + thick + 14
    section(
        drawing, [(4, floor + thick), (right, floor + thick), (right, below), (4, below)], "fig-ground", leftward=True
    )
    _box(drawing, x, y)
    for at, lower, name in ((x + 40, floor, "wall.from-finished"), (x - 40, floor + thick, "wall.from-sub")):
        side = 1.0 if at > x else -1.0
        drawing.line((x + side * (_BOX / 2 + 5), y), (at + side * 5, y), "fig-dim-thin")
        dimension_upright(drawing, at, (y, lower), words(name), side="right" if side > 0 else "left")
    names = [
        Callout((262, floor + 4), (words("wall.finished"),), dot=True),
        Callout((60, below - 8), (words("wall.sub"),), dot=True),
    ]
    return -_BOX / 2 - 8, callouts(drawing, names, below + 4, above=False)


def _both_ends(drawing: Drawing, words: Words) -> tuple[float, float]:
    """Two boxes on a plumb line beside a corner that leans."""
    x, upper, lower, floor = 236.0, 20.0, 120.0, 190.0
    foot, head = 96.0, 44.0
    section(drawing, [(4, -14), (head, -14), (foot, floor), (4, floor)], "fig-ground")
    section(drawing, [(4, floor), (WIDTH - 8, floor), (WIDTH - 8, floor + 10), (4, floor + 10)], "fig-left")
    drawing.line((x, -14), (x, floor), "fig-mark")
    for y, name in ((upper, "wall.longer"), (lower, "wall.shorter")):
        _box(drawing, x, y)
        level = y + _BOX / 2 + 4
        wall = head + (foot - head) * (level + 14 + 16) / (floor + 14)
        dimensions_below(drawing, [Dimension(wall, x, words(name), level)], level)
    plumb = Callout((x, -14), (words("wall.plumb"),), "fig-mark")
    level = drawing.paragraph(floor + 12, words("wall.exaggerated"), "fig-text fig-note")
    return callouts(drawing, [plumb], -16, above=True), level


#: What can be shown, by its word.
WALLS: Mapping[str, _Draw] = MappingProxyType({"across": _across, "heights": _heights, "both-ends": _both_ends})
