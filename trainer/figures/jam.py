"""Three equal conductors in a raceway, and beside it the three in a row across its bore, to scale."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.conductors import ConductorGroup
from trainer.calc.fill_jam import JamRatio
from trainer.calc.raceways import raceway_of
from trainer.figures.dimension import arrowhead
from trainer.figures.pile import pile
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_jam"]

#: Radius of the tube outside, in units of the drawing.
_RADIUS = 70.0
_GAP = 26.0


def draw_jam(
    inputs: Mapping[str, Any],
    result: JamRatio,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The three conductors as they are pushed in, and, once solved, lined up against the bore.

    Args:
        inputs: Values of the calculation `jam_ratio`.
        result: Its result.
        words: Sentences.
        wrong: Nothing of it has a place here.
        solved: Whether row and ratio are shown.
        key: Tells apart equal figures on one page.
    """
    del wrong
    tube = raceway_of(inputs["raceway"], inputs["trade_size"])
    scale = 2 * _RADIUS / tube.outside_diameter
    drawing = Drawing()
    x = MARGIN + _RADIUS if solved else WIDTH / 2
    centre, radius = (x, _RADIUS), result.diameter * scale / 2
    drawing.circle(centre, _RADIUS, "fig-tube")
    drawing.circle(centre, result.bore * scale / 2, "fig-bore")
    for x, y, each in pile([result.diameter / 2] * 3, result.bore / 2):
        drawing.circle((centre[0] + x * scale, centre[1] + y * scale), each * scale, "fig-insulation")
    name = words("raceway-section.tube", kind=inputs["raceway"].upper(), size=inputs["trade_size"])
    group = ConductorGroup(3, inputs["conductor_size"], inputs["insulation"])
    level = 2 * _RADIUS
    if solved:
        level = max(level, _row(drawing, result, radius, scale, words))
    told = [words("jam.tube", tube=name, conductors=str(group))]
    if solved:
        told.append(words("jam.ratio", ratio=result.ratio))
        told.append(words(f"jam.{result.risk}"))
    for line in told:
        level = drawing.paragraph(level + 10, line)
    return drawing.finish(-4, level + 4, words("jam.title"), " ".join(told), key)


def _row(drawing: Drawing, result: JamRatio, radius: float, scale: float, words: Words) -> float:
    """The three in a row over the width of the bore; returns where it ends."""
    left = MARGIN + 2 * _RADIUS + _GAP
    bore = result.bore * scale
    middle = left + max(bore, 6 * radius) / 2
    y = _RADIUS - 14
    for place in (-1, 0, 1):
        drawing.circle((middle + 2 * place * radius, y), radius, "fig-insulation")
    for edge in (middle - bore / 2, middle + bore / 2):
        drawing.line((edge, y - radius - 10), (edge, y + radius + 10), "fig-limit")
    said = words("jam.bore", bore=f"{result.bore:g} in")
    drawing.text((middle, y - radius - 18), said, "fig-text fig-dim-text", "middle")
    level = y + radius + 22
    for side in (-1, 1):
        end = middle + 3 * side * radius
        drawing.line((end, y + radius + 2), (end, level + 4), "fig-dim-thin")
        arrowhead(drawing, (end, level), (side, 0), "fig-dim")
    drawing.line((middle - 3 * radius, level), (middle + 3 * radius, level), "fig-dim")
    row = words("jam.row", diameter=f"{result.diameter:g} in")
    return drawing.text((middle, level + 18), row, "fig-text fig-dim-text", "middle").bottom
