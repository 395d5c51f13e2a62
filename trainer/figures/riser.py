"""An upright run from a panel to a pull box, to scale, through the floors that it passes; solved, with its straps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from trainer.calc.length import write_length
from trainer.calc.straps import StrapCount
from trainer.figures.callout import label
from trainer.figures.dimension import arrowhead, dimension_upright
from trainer.figures.hatch import section
from trainer.figures.svg import MARGIN, Drawing
from trainer.figures.words import Words

__all__ = ["draw_riser"]

_HIGH, _X = 300.0, 150.0
_TUBE, _PANEL, _BOX = 8.0, (44.0, 46.0), 24.0
#: A floor slab: how thick it is [in], and from where to where it is drawn; the wall behind the tube.
_SLAB, _FROM, _TO = 8.0, 70.0, 214.0
_RIGHT = 338.0


def draw_riser(
    inputs: Mapping[str, Any],
    result: StrapCount,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The riser from the front.

    Args:
        inputs: Values of the calculation `strap_count`.
        result: Its result.
        words: Sentences.
        wrong: A learner's count under "straps"; said below.
        solved: Whether the straps of one good layout are shown.
        key: Tells apart equal figures on one page.
    """
    drawing, run = Drawing(), float(inputs["run_length"])
    floors = [float(floor) for floor in inputs.get("floors") or () if float(floor) < run]
    scale = _HIGH / run
    _shaft(drawing, floors, scale)
    straps = result.positions if solved else ()
    for position in straps:
        _strap(drawing, position, scale)
    _heights(drawing, floors, straps, run, scale)
    drawing.text((_X, -_BOX - 8), words("riser.box"), "fig-text fig-note", "middle")
    drawing.text((_X - _PANEL[0] / 2 - 6, _HIGH + 30), words("riser.panel"), "fig-text fig-note", "end")
    level = _HIGH + _PANEL[1] + 10
    params: dict[str, object] = {"run": _feet(run), "floors": [_feet(floor) for floor in floors]}
    told = [words("riser.about" if floors else "riser.no-floors", **params)]
    if solved:
        apart = max((there - here for here, there in pairwise(straps)), default=0.0)
        name = "riser.straps" if len(straps) > 1 else "riser.one-strap"
        told.append(words(name, count=len(straps), first=_inches(straps[0]), apart=_inches(apart)))
        level = drawing.paragraph(level, told[-1])
        if isinstance(wrong.get("straps"), int | float):
            yours = words("straps.yours", straps=round(wrong["straps"]))
            level = drawing.paragraph(level, yours, "fig-text fig-wrong-text")
    return drawing.finish(-_BOX - 26, level + 4, words("riser.title"), " ".join(told), key)


def _shaft(drawing: Drawing, floors: Sequence[float], scale: float) -> None:
    """Floors in section with the tube through them, the panel below and the pull box on top."""
    for floor in floors:
        top, bottom = _HIGH - (floor + _SLAB / 2) * scale, _HIGH - (floor - _SLAB / 2) * scale
        section(drawing, [(_FROM, top), (_TO, top), (_TO, bottom), (_FROM, bottom)], "fig-obstacle")
    drawing.rectangle((_X - _TUBE / 2, 0), _TUBE, _HIGH, "fig-tube")
    drawing.rectangle((_X - _PANEL[0] / 2, _HIGH), *_PANEL, "fig-box")
    drawing.rectangle((_X - _BOX / 2, -_BOX), _BOX, _BOX, "fig-box")


def _strap(drawing: Drawing, position: float, scale: float) -> None:
    """A one-hole strap over the tube, its foot to the right."""
    y = _HIGH - position * scale
    drawing.open_group("fig-at", position=position, kind="strap")
    drawing.rectangle((_X - _TUBE / 2 - 3, y - 3), _TUBE + 6, 6, "fig-strap")
    drawing.rectangle((_X + _TUBE / 2 + 3, y - 3), 10, 6, "fig-strap")
    drawing.close_group()
    drawing.circle((_X + _TUBE / 2 + 8, y), 1.4, "fig-thin")


def _heights(drawing: Drawing, floors: Sequence[float], straps: Sequence[float], run: float, scale: float) -> None:
    """The whole height, one storey on the left, and on the right where the straps are."""
    drawing.line((_X + _PANEL[0] / 2, _HIGH), (_RIGHT + 6, _HIGH), "fig-dim-thin")
    drawing.line((_X + _BOX / 2, 0), (_RIGHT + 6, 0), "fig-dim-thin")
    if len(floors) > 1:
        low, high = floors[0], floors[1]
        dimension_upright(
            drawing, MARGIN + 50, (_HIGH - high * scale, _HIGH - low * scale), _feet(high - low), side="left"
        )
        for floor in (low, high):
            drawing.line((MARGIN + 44, _HIGH - floor * scale), (_FROM, _HIGH - floor * scale), "fig-dim-thin")
    stops = [0.0, *straps, run] if straps else []
    for here, there in pairwise(stops):
        dimension_upright(drawing, 226.0, (_HIGH - there * scale, _HIGH - here * scale), _inches(there - here))
        drawing.line((_X + 20, _HIGH - here * scale), (230, _HIGH - here * scale), "fig-dim-thin")
    _whole(drawing, _feet(run))


def _whole(drawing: Drawing, words: str) -> None:
    """The whole height at the right, its words where no other distance stands."""
    drawing.line((_RIGHT, 0), (_RIGHT, _HIGH), "fig-dim")
    arrowhead(drawing, (_RIGHT, 0), (0, -1), "fig-dim")
    arrowhead(drawing, (_RIGHT, _HIGH), (0, 1), "fig-dim")
    heights = (_HIGH / 2, *(_HIGH * share / 40 for share in range(3, 38)))
    label(drawing, words, [((_RIGHT - 5, height), "end") for height in heights], "fig-text fig-dim-text")


def _feet(inches: float) -> str:
    return write_length(inches, feet=True)


def _inches(inches: float) -> str:
    """A distance between straps to the inch: nobody sets a strap by the sixteenth."""
    return write_length(inches, denominator=1, feet=True)
