"""The end of a tube from the front with a ridge in its bore, or from the side where it is cut at a slant; to scale."""

from __future__ import annotations

from collections.abc import Mapping
from math import radians, tan
from typing import Any

from trainer.calc.cut_end import CutEnd
from trainer.calc.message import Quantity
from trainer.calc.raceways import raceway_of
from trainer.figures.dimension import Dimension, dimension_upright, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words, small_length

__all__ = ["draw_bore"]

_RADIUS = 84.0
_THICK = 120.0
#: Where the long side of a slanted end stands.
_TIP = 250.0


def draw_bore(
    inputs: Mapping[str, Any],
    result: CutEnd,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The end of the tube.

    Args:
        inputs: Values of the calculation `cut_end`; with a slant the tube is seen from the side.
        result: Its result.
        words: Sentences.
        wrong: A learner's value under the name of an output; said below.
        solved: Whether what was asked for is shown.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    params = {
        "size": inputs["trade_size"],
        "ridge": small_length(inputs.get("ridge") or 0.0),
        "slant": Quantity(inputs.get("slant") or 0.0, "deg"),
        "bore": _inches(result.bore),
        "left": _inches(result.bore_left),
        "lost": Quantity(round(result.lost_percent, 1), "%"),
        "out": _inches(result.out_of_square),
    }
    slanted = bool(inputs.get("slant"))
    view = _from_the_side if slanted else _from_the_front
    top, level = view(drawing, inputs, result, words, solved=solved)
    kind = "slant" if slanted else "ridge"
    level = drawing.paragraph(level + 4, words(f"bore.{kind}.given", **params))
    if solved:
        level = drawing.paragraph(level, words(f"bore.{kind}.told", **params))
        level = _yours(drawing, level, wrong, words)
    about = words(f"bore.{kind}.about" if solved else f"bore.{kind}.asked", **params)
    return drawing.finish(top, level + 4, words(f"bore.{kind}.title"), about, key)


def _inches(inches: float) -> str:
    return f"{inches:.3f} in"


def _from_the_front(
    drawing: Drawing, inputs: Mapping[str, Any], result: CutEnd, words: Words, *, solved: bool
) -> tuple[float, float]:
    """Wall, ridge and what is left of the bore as circles."""
    scale = 2 * _RADIUS / raceway_of("emt", inputs["trade_size"]).outside_diameter
    centre = (WIDTH / 2, 0.0)
    drawing.circle(centre, _RADIUS, "fig-tube")
    drawing.circle(centre, result.bore / 2 * scale, "fig-burr")
    drawing.circle(centre, result.bore_left / 2 * scale, "fig-bore")
    half = result.bore_left / 2 * scale
    if solved:
        line = Dimension(centre[0] - half, centre[0] + half, _inches(result.bore_left), base=0.0)
        return -_RADIUS - 8, dimensions_below(drawing, [line], _RADIUS + 4)
    drawing.text((centre[0], 5), words("bore.left"), anchor="middle")
    return -_RADIUS - 8, _RADIUS + 6


def _from_the_side(
    drawing: Drawing, inputs: Mapping[str, Any], result: CutEnd, words: Words, *, solved: bool
) -> tuple[float, float]:
    """The slanted end, and a dashed line where a square one would be."""
    lean = _THICK * tan(radians(float(inputs["slant"])))
    drawing.shape([(MARGIN + 20, 0), (_TIP - lean, 0), (_TIP, _THICK), (MARGIN + 20, _THICK)], "fig-tube")
    drawing.line((_TIP, -12), (_TIP, _THICK + 10), "fig-axis")
    drawing.text((_TIP + 8, 16), words("bore.square"))
    dimension_upright(drawing, 70, (0, _THICK), _inches(raceway_of("emt", inputs["trade_size"]).outside_diameter))
    if not solved:
        return -20, _THICK + 14
    line = Dimension(_TIP - lean, _TIP, _inches(result.out_of_square), base=0.0)
    return -20, dimensions_below(drawing, [line], _THICK + 6)


def _yours(drawing: Drawing, level: float, wrong: Mapping[str, Any], words: Words) -> float:
    for name in ("bore_left", "open_percent", "lost_percent", "out_of_square"):
        value = wrong.get(name)
        if isinstance(value, int | float):
            said = f"{value:.1f} %" if name.endswith("percent") else _inches(float(value))
            level = drawing.paragraph(level, words("yours-is", length=said), "fig-text fig-wrong-text")
    return level
