"""A cut plan: every stick as a bar to scale, its pieces in the order of cutting, and what is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any

from msgspec import Struct

from trainer.calc.cut_plan import CutPlan, StickCuts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.hatch import section
from trainer.figures.measure import text_width
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words, length

__all__ = ["draw_cut_plan"]

_BAR = 22.0


class _Sheet(Struct, frozen=True):
    """The drawing with its words, its scale [units an inch] and the saw's kerf [in]."""

    drawing: Drawing
    words: Words
    scale: float
    kerf: float

    def x(self, position: float) -> float:
        """Where a position on a stick [in] lies."""
        return MARGIN + position * self.scale


class _Stretch(Struct, frozen=True):
    """Equal pieces that lie side by side on a stick."""

    piece: float
    count: int
    start: float
    end: float


def draw_cut_plan(
    inputs: Mapping[str, Any],
    result: CutPlan,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The sticks of a cut plan, equal ones once.

    Args:
        inputs: Values of the calculation `cut_plan`.
        result: Its result.
        words: Sentences.
        wrong: A learner's number under "sticks"; said above the plan.
        solved: Whether the plan is shown; else the pieces that are wanted, one of each length.
        key: Tells apart equal figures on one page.
    """
    longest = max([*(stick.length for stick in result.cuts), *inputs["pieces"]])
    sheet = _Sheet(Drawing(), words, (WIDTH - 2 * MARGIN) / longest, float(inputs.get("kerf") or 0.0))
    if not solved:
        bottom = _wanted(sheet, inputs["pieces"])
        return sheet.drawing.finish(-2, bottom + 6, words("cut-plan.title"), words("cut-plan.asked"), key)
    level = 0.0
    if "sticks" in wrong:
        yours = words("cut-plan.yours", yours=round(wrong["sticks"]), sticks=result.sticks)
        level = sheet.drawing.paragraph(level, yours, "fig-text fig-wrong-text")
    for stick, same in groupby(result.cuts):
        level = _stick(sheet, level, stick, len(list(same)))
    told = {"sticks": result.sticks, "waste": length(result.waste)}
    return sheet.drawing.finish(-2, level + 6, words("cut-plan.title"), words("cut-plan.about", **told), key)


def _stretches(pieces: Sequence[float], kerf: float) -> Iterator[_Stretch]:
    """Equal neighbours together, from the stick's start; each cut takes a kerf."""
    at = 0.0
    for piece, same in groupby(pieces):
        count = len(list(same))
        end = at + count * piece + (count - 1) * kerf
        yield _Stretch(piece, count, at, end)
        at = end + kerf


def _stick(sheet: _Sheet, top: float, stick: StickCuts, count: int) -> float:
    """One stick with its pieces below a line that names it; returns where it ends."""
    drawing, words = sheet.drawing, sheet.words
    name = words("cut-plan.offcut" if stick.offcut else "cut-plan.stick", length=length(stick.length))
    times = words("cut-plan.times", count=count, stick=name) if count > 1 else name
    drawing.text((MARGIN, top + 12), times, "fig-text fig-heading")
    bar = top + 19
    drawing.rectangle((MARGIN, bar), stick.length * sheet.scale, _BAR, "fig-tube")
    below = []
    for stretch in _stretches(stick.pieces, sheet.kerf):
        _cuts(sheet, bar, stretch, stick.length)
        below += _piece_words(sheet, bar, stretch)
    if stick.left > 0:
        start, end = sheet.x(stick.length - stick.left), sheet.x(stick.length)
        section(drawing, [(start, bar), (end, bar), (end, bar + _BAR), (start, bar + _BAR)], "fig-left")
        below.append(Dimension(start, end, words("cut-plan.left", length=length(stick.left))))
    return dimensions_below(drawing, below, bar + _BAR) + 10


def _cuts(sheet: _Sheet, bar: float, stretch: _Stretch, last: float) -> None:
    """A line behind each piece, as wide as the kerf where that can be seen."""
    for number in range(1, stretch.count + 1):
        end = stretch.start + number * stretch.piece + (number - 1) * sheet.kerf
        if end < last - 1e-6:
            sheet.drawing.open_group("fig-at", position=end, kind="cut")
            width = max(1.2, sheet.kerf * sheet.scale)
            sheet.drawing.rectangle((sheet.x(end), bar - 2), width, _BAR + 4, "fig-kerf")
            sheet.drawing.close_group()


def _piece_words(sheet: _Sheet, bar: float, stretch: _Stretch) -> list[Dimension]:
    """The length inside each piece where it fits; else a dimension below for all equal neighbours together."""
    text = sheet.words("length", length=length(stretch.piece))
    if text_width(text) + 8 > stretch.piece * sheet.scale:
        several = sheet.words("cut-plan.several", count=stretch.count, length=length(stretch.piece))
        return [Dimension(sheet.x(stretch.start), sheet.x(stretch.end), text if stretch.count == 1 else several)]
    each = (stretch.end - stretch.start) / stretch.count
    for number in range(stretch.count):
        middle = sheet.x(stretch.start + (number + 0.5) * each)
        sheet.drawing.text((middle, bar + 16), text, "fig-text fig-on-tube", "middle")
    return []


def _wanted(sheet: _Sheet, pieces: Sequence[float]) -> float:
    """One bar for each length that is wanted, with how many of it; returns where they end."""
    level = 0.0
    for piece in sorted(set(pieces), reverse=True):
        text = sheet.words("cut-plan.several", count=pieces.count(piece), length=length(piece))
        sheet.drawing.text((MARGIN, level + 12), text)
        sheet.drawing.rectangle((MARGIN, level + 18), piece * sheet.scale, 12, "fig-tube")
        level += 38
    return level
