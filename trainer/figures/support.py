"""Straps and hangers, seen along the tube: what holds it, and what that is fastened to."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from trainer.figures.callout import Callout, callouts
from trainer.figures.hatch import section
from trainer.figures.svg import Drawing, Point
from trainer.figures.words import Words

__all__ = ["SUPPORTS", "draw_support"]

#: Where the tube's middle lies, its radius, and how thick a strap is drawn.
_X, _Y, _R, _THICK = 180.0, 0.0, 26.0, 4.0
_WALL = 16.0

Labels = tuple[tuple[Point, str, bool], ...]
"""What is named: a point on it, the name of its word, and whether the label stands above."""


def draw_support(inputs: Mapping[str, Any], words: Words, key: str = "") -> str:
    """
    One kind of support.

    Args:
        inputs: "support" names it.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    kind, drawing = inputs["support"], Drawing()
    labels = SUPPORTS[kind](drawing)
    ends = [*((point[1], above) for point, _, above in labels)]
    top = callouts(drawing, _named(labels, words, above=True), min(y for y, above in ends if above) - 22, above=True)
    bottom = callouts(drawing, _named(labels, words, above=False), 62, above=False)
    return drawing.finish(top - 4, bottom + 4, words(f"support.{kind}.title"), words(f"support.{kind}.about"), key)


def _named(labels: Labels, words: Words, *, above: bool) -> list[Callout]:
    return [Callout(point, (words(f"part.{name}"),), dot=True) for point, name, up in labels if up == above]


def _tube(drawing: Drawing, x: float = _X, y: float = _Y, radius: float = _R) -> None:
    drawing.circle((x, y), radius, "fig-tube")
    drawing.circle((x, y), radius - 2.5, "fig-bore")


def _block(drawing: Drawing, left: float, right: float, top: float, bottom: float) -> None:
    """Something solid, cut."""
    section(drawing, [(left, top), (right, top), (right, bottom), (left, bottom)], "fig-obstacle")


def _over(drawing: Drawing, foot: float, left: float, right: float) -> None:
    """A strap bent over the tube, down to `foot`, and out to `left` and `right` on the surface."""

    def line(radius: float, lift: float) -> list[Point]:
        arc = [
            (_X - radius * math.cos(math.radians(at)), _Y - radius * math.sin(math.radians(at)))
            for at in range(0, 181, 10)
        ]
        start = [(left, foot - lift), (_X - radius, foot - lift)] if left < _X - _R - 8 else [(_X - radius, foot)]
        end = [(_X + radius, foot - lift), (right, foot - lift)] if right > _X + _R + 8 else [(_X + radius, foot)]
        return [*start, *arc, *end]

    drawing.shape([*line(_R + _THICK, _THICK), *reversed(line(_R, 0.0))], "fig-strap")


def _screw(drawing: Drawing, x: float, top: float, depth: float = 18.0) -> None:
    """A screw from its head at `top` down into what it holds in."""
    drawing.shape([(x - 5, top - 4), (x + 5, top - 4), (x + 3, top), (x - 3, top)], "fig-screw")
    drawing.rectangle((x - 1.8, top), 3.6, depth, "fig-screw")


def _one_hole(drawing: Drawing) -> Labels:
    _block(drawing, 70, 290, _R, _R + _WALL + 12)
    _tube(drawing)
    _over(drawing, _R, _X - _R, 240)
    _screw(drawing, 226, _R - _THICK)
    return ((_X, -_R - 2), "strap", True), ((226, _R - 6), "one-screw", True), ((100, _R + 14), "surface", False)


def _two_hole(drawing: Drawing) -> Labels:
    _block(drawing, 70, 290, _R, _R + _WALL + 12)
    _tube(drawing)
    _over(drawing, _R, 120, 240)
    for x in (134, 226):
        _screw(drawing, x, _R - _THICK)
    return ((_X, -_R - 2), "strap", True), ((226, _R - 6), "two-screws", True), ((100, _R + 14), "surface", False)


def _standoff(drawing: Drawing) -> Labels:
    back = _R + 9
    _block(drawing, 70, 290, back, back + _WALL + 8)
    drawing.rectangle((_X - _R - 6, _R), 2 * _R + 68, 9, "fig-part")
    _tube(drawing)
    _over(drawing, _R, _X - _R, 240)
    _screw(drawing, 226, _R - _THICK, 26)
    return (
        ((_X, -_R - 2), "strap", True),
        ((_X + 44, _R + 4), "spacer", True),
        ((110, _R + 4), "air-gap", False),
        ((270, back + 14), "surface", False),
    )


def _strut(drawing: Drawing) -> Labels:
    """Strut in section: a channel open toward the tube; the clamp's two halves hook into its lips."""
    _tube(drawing)
    top, deep, half = _R, 34.0, 40.0
    for side in (-1, 1):
        lip = [(_X + side * half, top), (_X + side * (half - 18), top), (_X + side * (half - 18), top + 8)]
        inner = [
            (_X + side * (half - 14), top + 8),
            (_X + side * (half - 14), top + 4),
            (_X + side * (half - 4), top + 4),
        ]
        foot = [
            (_X + side * (half - 4), top + deep - 4),
            (_X, top + deep - 4),
            (_X, top + deep),
            (_X + side * half, top + deep),
        ]
        drawing.shape([*lip, *inner, *foot], "fig-part")
        reach = _R + _THICK
        arc = [
            (_X + side * reach * math.cos(math.radians(at)), -reach * math.sin(math.radians(at)))
            for at in range(0, 81, 8)
        ]
        inside = [
            (_X + side * _R * math.cos(math.radians(at)), -_R * math.sin(math.radians(at))) for at in range(80, -1, -8)
        ]
        hook = [(_X + side * 16, top + 12), (_X + side * 20, top + 12), (_X + side * 20, top)]
        drawing.shape(
            [*hook, (_X + side * reach, top - 6), *arc, *inside, (_X + side * _R, top - 8), (_X + side * 16, top)],
            "fig-strap",
        )
        drawing.rectangle((_X + side * 6 - 2, -_R - 20), 4, 18, "fig-strap")
    drawing.rectangle((_X - 16, -_R - 15), 32, 5, "fig-screw")
    return (
        ((_X + 16, -_R - 13), "clamp-screw", True),
        ((_X - _R - 2, -4), "strut-clamp", True),
        ((_X + half - 2, _R + 20), "strut", False),
    )


def _rod(drawing: Drawing, x: float, top: float, bottom: float) -> None:
    """Threaded rod."""
    drawing.rectangle((x - 3, top), 6, bottom - top, "fig-screw")
    for at in range(round(top) + 3, round(bottom) - 1, 4):
        drawing.line((x - 3, at), (x + 3, at - 2), "fig-thin")


def _hanger(drawing: Drawing) -> Labels:
    """A pear-shaped band round the tube, closed by a bolt, on a rod."""
    _block(drawing, 90, 270, -104, -84)
    _rod(drawing, _X, -84, -44)
    _tube(drawing)

    def band(radius: float) -> list[Point]:
        arc = [
            (_X + radius * math.cos(math.radians(at)), radius * math.sin(math.radians(at)))
            for at in range(-40, 221, 10)
        ]
        return [(_X + 9, -_R - 24 - (radius - _R)), *arc, (_X - 9, -_R - 24 - (radius - _R))]

    drawing.shape([*band(_R + _THICK), *reversed(band(_R))], "fig-strap")
    drawing.rectangle((_X - 18, -_R - 18), 36, 5, "fig-screw")
    return (
        ((240, -94), "structure", True),
        ((_X + 2, -70), "rod", True),
        ((_X + _R + 2, 4), "hanger", False),
        ((_X - 16, -_R - 16), "hanger-bolt", True),
    )


def _beam_clamp(drawing: Drawing) -> Labels:
    """A clamp gripping the lower flange of a beam, a rod below it."""
    section(
        drawing,
        [(130, -110), (138, -110), (138, -84), (230, -84), (230, -74), (60, -74), (60, -84), (130, -84)],
        "fig-obstacle",
    )
    jaw = [(206, -92), (250, -92), (250, -56), (206, -56), (206, -68), (236, -68), (236, -84), (206, -84)]
    drawing.shape(jaw, "fig-part")
    drawing.rectangle((212, -104), 5, 20, "fig-screw")
    _rod(drawing, 222, -56, 20)
    return (
        ((100, -79), "flange", True),
        ((214, -102), "clamp-screw", True),
        ((246, -64), "beam-clamp", False),
        ((222, 0), "rod", False),
    )


def _trapeze(drawing: Drawing) -> Labels:
    """Two rods, a piece of strut between them, tubes side by side on it."""
    _block(drawing, 50, 310, -104, -88)
    for x in (84, 276):
        _rod(drawing, x, -88, 44)
        drawing.rectangle((x - 7, 36), 14, 6, "fig-nut")
    drawing.rectangle((66, 18), 228, 18, "fig-part")
    for x in (124, 180, 236):
        _tube(drawing, x, 2, 16)
        drawing.shape([(x - 19, 18), (x - 19, 0), (x - 16, 0), (x - 16, 18)], "fig-strap")
        drawing.shape([(x + 16, 18), (x + 16, 0), (x + 19, 0), (x + 19, 18)], "fig-strap")
        drawing.rectangle((x - 4, -20), 8, 5, "fig-screw")
    return (
        ((180, -96), "structure", True),
        ((84, -60), "rod", True),
        ((236, -18), "strut-clamp", True),
        ((150, 30), "strut", False),
    )


#: How each support is drawn, by the name that a lesson gives.
SUPPORTS: Mapping[str, Callable[[Drawing], Labels]] = MappingProxyType(
    {
        "one-hole": _one_hole,
        "two-hole": _two_hole,
        "standoff": _standoff,
        "strut": _strut,
        "hanger": _hanger,
        "beam-clamp": _beam_clamp,
        "trapeze": _trapeze,
    }
)
