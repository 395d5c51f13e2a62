"""
Conduit bodies from the front, cover toward you, and from the side: told apart by where their openings are.

Plain shapes at the proportions of small sizes, after no maker's part.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from trainer.calc.conduit_body import ConduitBody
from trainer.calc.message import Quantity
from trainer.figures.callout import Callout, callouts
from trainer.figures.svg import Drawing, Point
from trainer.figures.words import Words

__all__ = ["OPENINGS", "Openings", "draw_conduit_body", "draw_openings"]

_HALF, _LONG = 26.0, 132.0
_FRONT, _SIDE = 112.0, 254.0
_HUB, _HUB_HALF = 20.0, 17.0
_DEEP = 44.0
_COVER = 7.0


class Openings(Struct, frozen=True):
    """Where a body is open, its long part upright and its cover toward you: "bottom", "top", "left", "right", "back"."""

    at: frozenset[str]


def _open(*at: str) -> Openings:
    return Openings(frozenset(at))


#: Bodies by the way that they lead: word of the figure.
OPENINGS: Mapping[str, Openings] = MappingProxyType(
    {
        "straight": _open("bottom", "top"),
        "back": _open("bottom", "back"),
        "left": _open("bottom", "left"),
        "right": _open("bottom", "right"),
        "tee": _open("bottom", "top", "left"),
    }
)


def draw_openings(word: str, words: Words, key: str = "") -> str:
    """
    One body, its parts named.

    Args:
        word: A key of `OPENINGS`.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    bottom = _body(drawing, OPENINGS[word], words)
    edge = callouts(drawing, _labels(OPENINGS[word], words), bottom + 2, above=False)
    title, about = words(f"conduit-body.{word}.title"), words(f"conduit-body.{word}.about")
    return drawing.finish(-54, edge + 4, title, about, key)


def draw_conduit_body(
    inputs: Mapping[str, Any],
    result: ConduitBody,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A body with its opening in the back, and what is given and found below it.

    Args:
        inputs: Values of the calculation `conduit_body`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value under "least_area", "most_through" or "most_spliced"; said below.
        solved: Whether the results are said.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    level = _body(drawing, OPENINGS["back"], words) + 4
    marked = inputs.get("marked_volume")
    given = {"size": inputs["trade_size"], "conductor": f"#{inputs['conductor_size']} {inputs['insulation']}"}
    said = [words("conduit-body.given", **given)]
    said.append(
        words("conduit-body.marked", volume=Quantity(marked, "cu in")) if marked else words("conduit-body.unmarked")
    )
    found = _found(result, words) if solved else []
    for sentence in [*said, *found]:
        level = drawing.paragraph(level, sentence)
    for name, unit in (("least_area", " sq in"), ("most_through", ""), ("most_spliced", "")):
        if solved and isinstance(wrong.get(name), int | float):
            yours = words("yours-is", length=f"{wrong[name]:g}{unit}")
            level = drawing.paragraph(level, yours, "fig-text fig-wrong-text")
    about = " ".join([words("conduit-body.back.about"), *said, *found])
    return drawing.finish(-54, level + 4, words("conduit-body.back.title"), about, key)


def _found(result: ConduitBody, words: Words) -> list[str]:
    if result.least_area is None:
        return [words("conduit-body.large")]
    through = words("conduit-body.through", area=Quantity(result.least_area, "sq in"), count=result.most_through)
    return [through, words("conduit-body.spliced", count=result.most_spliced or 0)]


def _body(drawing: Drawing, openings: Openings, words: Words) -> float:
    """Both views; returns where they end below."""
    _from_the_front(drawing, openings)
    _from_the_side(drawing, openings)
    for x, name in ((_FRONT, "front"), (_SIDE, "side")):
        drawing.text((x, -38 if "top" in openings.at else -18), words(f"conduit-body.{name}"), anchor="middle")
    return _LONG + _HUB + 4


def _hub(drawing: Drawing, at: Point, toward: Point) -> None:
    """A hub that begins at `at` and leads `toward` a side."""
    (x, y), (across, up) = at, toward
    if across:
        drawing.rectangle((x if across > 0 else x - _HUB, y - _HUB_HALF), _HUB, 2 * _HUB_HALF, "fig-part")
    else:
        drawing.rectangle((x - _HUB_HALF, y if up > 0 else y - _HUB), 2 * _HUB_HALF, _HUB, "fig-part")


def _from_the_front(drawing: Drawing, openings: Openings) -> None:
    """The cover with its two screws, the hubs round it; an opening in the back as a hidden line."""
    hubs = {
        "bottom": ((_FRONT, _LONG), (0, 1)),
        "top": ((_FRONT, 0.0), (0, -1)),
        "left": ((_FRONT - _HALF, 32.0), (-1, 0)),
        "right": ((_FRONT + _HALF, 32.0), (1, 0)),
    }
    for name in sorted(openings.at & hubs.keys()):
        _hub(drawing, *hubs[name])
    drawing.rectangle((_FRONT - _HALF, 0), 2 * _HALF, _LONG, "fig-part")
    drawing.rectangle((_FRONT - _HALF + 5, 5), 2 * _HALF - 10, _LONG - 10, "fig-nut")
    for y in (14.0, _LONG - 14):
        drawing.circle((_FRONT, y), 3.5, "fig-screw")
    if "back" in openings.at:
        drawing.circle((_FRONT, 34), _HUB_HALF - 2, "fig-hidden")


def _from_the_side(drawing: Drawing, openings: Openings) -> None:
    """Cover at the left, back at the right; an opening toward you as a circle, one away from you hidden."""
    left = _SIDE - _DEEP / 2
    hubs = {"bottom": ((_SIDE, _LONG), (0, 1)), "top": ((_SIDE, 0.0), (0, -1)), "back": ((left + _DEEP, 32.0), (1, 0))}
    for name in sorted(openings.at & hubs.keys()):
        _hub(drawing, *hubs[name])
    drawing.rectangle((left, 0), _DEEP, _LONG, "fig-part")
    drawing.rectangle((left - _COVER, 3), _COVER, _LONG - 6, "fig-nut")
    if "right" in openings.at:
        drawing.circle((_SIDE, 34), _HUB_HALF, "fig-bore")
    if "left" in openings.at:
        drawing.circle((_SIDE, 34), _HUB_HALF - 2, "fig-hidden")


def _labels(openings: Openings, words: Words) -> list[Callout]:
    """Cover and openings, seen from the side where they show there."""
    where = {
        "bottom": (_FRONT, _LONG + _HUB / 2),
        "top": (_FRONT + 6, -_HUB / 2),
        "left": (_FRONT - _HALF - _HUB / 2, 40.0),
        "right": (_FRONT + _HALF + _HUB / 2, 40.0),
        "back": (_SIDE + _DEEP / 2 + _HUB / 2, 40.0),
    }
    named = [
        Callout(where[name], (words(f"conduit-body.opening.{name}"),), side=_sides(name))
        for name in ("left", "bottom", "right", "back")
        if name in openings.at
    ]
    return [*named, Callout((_SIDE - _DEEP / 2 - 3, _LONG - 14), (words("conduit-body.cover"),), side="middle")]


def _sides(name: str) -> str:
    return {"left": "left", "right": "right", "back": "middle"}.get(name, "middle")
