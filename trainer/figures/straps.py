"""A run between two boxes with its straps where one good layout has them, to scale along the run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from msgspec import Struct

from trainer.calc.length import write_length
from trainer.calc.straps import StrapCount
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.measure import text_box
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_straps"]

_BOX = 20.0
_LEFT = MARGIN + _BOX
_RIGHT = WIDTH - MARGIN - _BOX
_TUBE = 8.0


def draw_straps(
    inputs: Mapping[str, Any],
    result: StrapCount,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A run between two boxes with its straps.

    Args:
        inputs: Values of the calculation `strap_count`.
        result: Its result.
        words: Sentences.
        wrong: A learner's count under "straps"; that run is drawn below, dashed.
        solved: Whether the straps are shown; else only the run.
        key: Tells apart equal figures on one page.
    """
    drawing, run = Drawing(), float(inputs["run_length"])
    positions = result.positions if solved else ()
    _run(drawing, 0.0, run, positions)
    level = dimensions_below(drawing, _dimensions(run, positions, words), 22)
    yours = wrong.get("straps")
    if solved and yours is not None:
        level = _your_run(drawing, level, _Yours(run, result, round(yours)), words)
    told = {"run": write_length(run, feet=True), "straps": len(positions)}
    description = words("straps.about" if solved else "straps.asked", **told)
    return drawing.finish(-34, level + 6, words("straps.title"), description, key)


def _x(position: float, run: float) -> float:
    """Where a position along the run [in] lies."""
    return _LEFT + position / run * (_RIGHT - _LEFT)


def _run(drawing: Drawing, y: float, run: float, positions: Sequence[float]) -> None:
    """Boxes, tube and straps round height `y`, the straps numbered where they stand apart."""
    for x in (MARGIN, _RIGHT):
        drawing.rectangle((x, y - _BOX / 2), _BOX, _BOX, "fig-box")
    drawing.rectangle((_LEFT, y - _TUBE / 2), _RIGHT - _LEFT, _TUBE, "fig-tube")
    for number, position in enumerate(positions, start=1):
        x = _x(position, run)
        drawing.open_group("fig-at", position=position, kind="strap")
        _strap(drawing, x, y, "fig-strap")
        drawing.close_group()
        if drawing.is_free(text_box(x, y - 16, f"{number}", "middle")):
            drawing.text((x, y - 16), f"{number}", "fig-text", "middle")


def _strap(drawing: Drawing, x: float, y: float, name: str) -> None:
    """A strap over the tube, seen from the front: its saddle and its foot with the screw."""
    drawing.rectangle((x - 3, y - _TUBE / 2 - 2), 6, _TUBE + 4, name)
    drawing.rectangle((x - 3, y + _TUBE / 2 + 2), 6, 9, name)
    drawing.circle((x, y + _TUBE / 2 + 7), 1.3, "fig-thin")


def _dimensions(run: float, positions: Sequence[float], words: Words) -> list[Dimension]:
    """Both ends, one of the equal stretches between straps, and the whole run."""
    lines = [Dimension(_LEFT, _RIGHT, write_length(run, feet=True))]
    if positions:
        first, last = positions[0], positions[-1]
        lines.append(Dimension(_LEFT, _x(first, run), _whole_inches(first, words)))
        lines.append(Dimension(_x(last, run), _RIGHT, _whole_inches(run - last, words)))
    stretches = [(one, other) for one, other in pairwise(positions)]
    if stretches:
        one, other = stretches[len(stretches) // 2]
        apart = _whole_inches(other - one, words)
        text = apart if len(stretches) == 1 else words("straps.each", length=apart)
        lines.append(Dimension(_x(one, run), _x(other, run), text))
    return lines


def _whole_inches(inches: float, words: Words) -> str:
    """A distance between straps to the inch: nobody sets a strap by the sixteenth."""
    written = write_length(inches, denominator=1, feet=True)
    return written if abs(inches - round(inches)) < 1e-6 else words("straps.nearly", length=written)


class _Yours(Struct, frozen=True):
    """A learner's number of straps on a run [in]."""

    run: float
    result: StrapCount
    straps: int

    @property
    def too_few(self) -> bool:
        """Whether more are needed."""
        return self.straps < self.result.straps

    @property
    def positions(self) -> Sequence[float]:
        """Where they would sit: the first places of the layout; or, when they are more, evenly between first and last."""
        if self.too_few:
            return self.result.positions[: max(0, self.straps)]
        return _spread(self.result.positions, min(self.straps, self.result.straps + 12))


def _your_run(drawing: Drawing, level: float, yours: _Yours, words: Words) -> float:
    """The same run with a learner's straps, dashed: too few leave a stretch without; returns where it ends."""
    y = level + 30
    drawing.text((MARGIN, level + 12), words("straps.yours", straps=yours.straps), "fig-text fig-wrong-text")
    _run(drawing, y, yours.run, ())
    for position in yours.positions:
        drawing.open_group("fig-at", position=position, kind="yours")
        _strap(drawing, _x(position, yours.run), y, "fig-wrong")
        drawing.close_group()
    if not yours.too_few:
        return drawing.paragraph(y + 18, words("straps.more-than-needed"), "fig-text fig-note")
    bare = yours.positions[-1] if yours.positions else 0.0
    written = _whole_inches(yours.run - bare, words)
    line = Dimension(_x(bare, yours.run), _RIGHT, written, name="fig-wrong")
    return drawing.paragraph(dimensions_below(drawing, [line], y + 14), words("straps.bare"), "fig-text fig-note")


def _spread(positions: Sequence[float], straps: int) -> list[float]:
    """So many places, evenly from the first of `positions` to the last."""
    first, last = positions[0], positions[-1]
    return [first + (last - first) * index / max(1, straps - 1) for index in range(straps)]
