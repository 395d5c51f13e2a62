"""A conduit body in which large conductors turn, from the front without its cover: hubs, tubes, conductors, its length."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from trainer.calc.pull_boxes import PullBox
from trainer.calc.pull_boxes_entries import Entry
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, Drawing, Point
from trainer.figures.words import Words, length

__all__ = ["draw_corner_body"]

_LEFT, _RIGHT = 92.0, 322.0
#: How high the body and how long its hubs are, in parts of the trade size; how long it is drawn before that is known.
_HIGH, _HUB, _UNKNOWN = 1.35, 0.55, 5.0
_STUB = 30.0


def draw_corner_body(
    inputs: Mapping[str, Any],
    result: PullBox,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A body with one opening at its end and one in its side near the other end.

    Args:
        inputs: Values of the calculation `pull_box`; its first entry is the opening at the end.
        result: Its result.
        words: Sentences.
        wrong: A learner's length under "width"; said below.
        solved: Whether the length is shown; else a body that is not to scale.
        key: Tells apart equal figures on one page.
    """
    drawing, entries = Drawing(), inputs["entries"]
    first: Entry = entries[0]
    needed = result.width or result.height
    known = solved and needed is not None
    parts = (needed or 0.0) / first.inches if known else _UNKNOWN
    scale = (_RIGHT - _LEFT) / parts
    bottom = _body(drawing, scale)
    _conductors(drawing, scale)
    named = [
        Callout((_LEFT - _HUB * scale / 2, -0.3 * scale), (words("corner-body.end", size=first.trade_size),)),
        Callout((_RIGHT - 0.35 * scale, -_HIGH * scale / 2 + 9), (words("corner-body.across"),), side="left"),
    ]
    top = callouts(drawing, named, -_HIGH * scale / 2 - 8, above=True)
    x = _RIGHT - 1.05 * scale
    drawing.text(
        (x - 0.62 * scale - 6, bottom - 8), words("corner-body.side", size=_second(entries).trade_size), anchor="end"
    )
    asked = words("corner-body.length", length=length(needed)) if known and needed else words("corner-body.how-long")
    level = dimensions_below(drawing, [Dimension(_LEFT, _RIGHT, asked, base=_HIGH * scale / 2)], bottom + 4)
    params: dict[str, object] = {"size": first.trade_size, "second": _second(entries).trade_size}
    told = [words("corner-body.about", **params)]
    if known and needed:
        told.append(words("corner-body.told", length=length(needed)))
        level = drawing.paragraph(level + 2, told[-1])
        if isinstance(wrong.get("width"), int | float):
            yours = words("pull-box.yours", length=length(float(wrong["width"])))
            level = drawing.paragraph(level, yours, "fig-text fig-wrong-text")
    level = drawing.paragraph(
        level, words("corner-body.scale" if known else "pull-box.not-to-scale"), "fig-text fig-note"
    )
    return drawing.finish(top - 4, level + 4, words("corner-body.title"), " ".join(told), key)


def _second(entries: Sequence[Entry]) -> Entry:
    """The opening in the side."""
    return entries[min(1, len(entries) - 1)]


def _body(drawing: Drawing, scale: float) -> float:
    """Body, hubs and the ends of both tubes; returns where it ends below."""
    half, tube = _HIGH * scale / 2, scale / 2
    side = _RIGHT - 1.05 * scale
    hub = _HUB * scale
    drawing.rectangle((max(MARGIN - 8, _LEFT - hub - _STUB), -tube), _STUB + 6, 2 * tube, "fig-tube")
    drawing.rectangle((_LEFT - hub, -tube * 1.24), hub, 2.48 * tube, "fig-part")
    drawing.rectangle((side - tube, half + hub - 6), 2 * tube, _STUB, "fig-tube")
    drawing.rectangle((side - 1.24 * tube, half), 2.48 * tube, hub, "fig-part")
    drawing.rectangle((_LEFT, -half), _RIGHT - _LEFT, 2 * half, "fig-part")
    wall = max(3.0, 0.07 * scale)
    drawing.rectangle((_LEFT + wall, -half + wall), _RIGHT - _LEFT - 2 * wall, 2 * (half - wall), "fig-bore")
    for x in (_LEFT + 14, _RIGHT - 14):
        for y in (-half + wall / 2, half - wall / 2):
            drawing.circle((x, y), 2.2, "fig-screw")
    return half + hub + _STUB - 6


def _conductors(drawing: Drawing, scale: float) -> None:
    """Three conductors from the end through the body and out of its side."""
    half = _HIGH * scale / 2
    side = _RIGHT - 1.05 * scale
    for nth in (-1, 0, 1):
        off = nth * 0.24 * scale
        start: Point = (_LEFT - _HUB * scale, off)
        radius = 0.72 * scale + off
        turn = (side - off - radius, off)
        data = (
            f"M {start[0]:.2f} {start[1]:.2f} L {turn[0]:.2f} {turn[1]:.2f} "
            f"A {radius:.2f} {radius:.2f} 0 0 1 {side - off:.2f} {off + radius:.2f} "
            f"L {side - off:.2f} {half + _HUB * scale:.2f}"
        )
        drawing.path(data, "fig-conductor")
