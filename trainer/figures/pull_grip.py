"""What hangs on the pulling rope: the conductors that are pulled at once, and what they can take together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from trainer.calc.conductors import ConductorGroup
from trainer.calc.message import Quantity
from trainer.calc.pulling import PullingTension
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import arrowhead
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_pull_grip"]

_HEAD, _APART = 118.0, 13.0
#: Conductors that are drawn; of more the number is said.
_MOST = 8


def draw_pull_grip(
    inputs: Mapping[str, Any],
    result: PullingTension,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    Rope, head and conductors from the side; sizes are not to scale.

    Args:
        inputs: Values of the calculation `pulling_tension`; "conductors" are drawn.
        result: Its result.
        words: Sentences.
        wrong: A learner's limit under "max_tension"; said below.
        solved: Whether it is said what they can take.
        key: Tells apart equal figures on one page.
    """
    groups: Sequence[ConductorGroup] = inputs["conductors"]
    drawing, count = Drawing(), min(_MOST, sum(group.count for group in groups))
    half = count * _APART / 2
    drawing.line((MARGIN + 8, 0), (_HEAD, 0), "fig-mark")
    arrowhead(drawing, (MARGIN, 0), (-1, 0), "fig-mark")
    for nth in range(count):
        y = (nth - (count - 1) / 2) * _APART
        drawing.line((_HEAD + 20, y / 2), (_HEAD + 60, y), "fig-wire")
        drawing.line((_HEAD + 60, y), (WIDTH - MARGIN, y), "fig-wire")
    drawing.shape([(_HEAD, -5), (_HEAD + 34, -half * 0.7 - 4), (_HEAD + 34, half * 0.7 + 4), (_HEAD, 5)], "fig-part")
    named = [Callout((60, -2), (words("pull_grip.rope"),)), Callout((_HEAD + 20, -8), (words("pull_grip.head"),))]
    top = callouts(drawing, named, -half - 6, above=True)
    listed = words("pull_grip.asked", conductors=", ".join(str(group) for group in groups))
    told = [words("pull_grip.most", most=Quantity(round(result.max_tension), "lbf"))] if solved else []
    level = half + 8
    for line in [listed, *told]:
        level = drawing.paragraph(level, line)
    if solved and isinstance(wrong.get("max_tension"), int | float):
        yours = words("pull.yours", value=Quantity(wrong["max_tension"], "lbf"))
        level = drawing.paragraph(level, yours, "fig-text fig-wrong-text")
    return drawing.finish(top - 4, level + 4, words("pull_grip.title"), " ".join([listed, *told]), key)
