"""Lengths laid end to end, what is taken off them, and what is left parted equally: bars to scale with their dimensions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, pairwise
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from trainer.calc.length import write_length
from trainer.calc.length_sum import LengthSum
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.hatch import section
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_lengths"]

_BAR = 20.0
#: The shortest bar that is drawn to scale; what is less is drawn as a line.
_THINNEST = 0.5


class _Sheet(Struct, frozen=True):
    """The drawing with its words and its scale [units an inch]; `solved` where the answer may be seen."""

    drawing: Drawing
    words: Words
    scale: float
    solved: bool

    def x(self, place: float) -> float:
        """Where a place along the bar [in] lies."""
        return MARGIN + place * self.scale

    def written(self, value: float, *, asked: bool = False) -> str:
        """A length; a question mark where it is what is asked for."""
        if asked and not self.solved:
            return self.words("lengths.asked-for")
        return _feet(value)


def draw_lengths(
    inputs: Mapping[str, Any],
    result: LengthSum,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The lengths that are added, below them what is taken off, below that the equal parts.

    Args:
        inputs: Values of the calculation `length_sum`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value under "total" or "each"; a dashed bar below.
        solved: Whether what is asked for is written; else a question mark stands there.
        key: Tells apart equal figures on one page.
    """
    taken, parts = inputs.get("taken_off") or (), inputs.get("parts") or 1
    yours = [value for value in wrong.values() if isinstance(value, int | float) and value > 0]
    scale = (WIDTH - 2 * MARGIN) / max([result.added, *yours])
    sheet = _Sheet(Drawing(), words, scale, solved)
    level = _added(sheet, inputs["lengths"], whole=not taken and parts == 1)
    if taken:
        level = _taken_off(sheet, result, taken, level + 8)
    if parts > 1:
        level = _parted(sheet, result, parts, level + 8)
    for value in yours:
        level = _yours(sheet, value, level + 8)
    about = " ".join(_sentences(sheet, inputs["lengths"], taken, parts, result))
    return sheet.drawing.finish(-2, level + 6, words("lengths.title"), about, key)


def _bar(sheet: _Sheet, top: float, start: float, end: float, name: str = "fig-tube") -> None:
    sheet.drawing.rectangle((sheet.x(start), top), max((end - start) * sheet.scale, _THINNEST), _BAR, name)


def _added(sheet: _Sheet, lengths: Sequence[float], *, whole: bool) -> float:
    """One bar for each length, end to end, and the dimension over all where that is asked for."""
    places = list(accumulate(lengths, initial=0.0))
    for start, end in pairwise(places):
        _bar(sheet, 0.0, start, end)
    # Beside its own length a dimension would stand under the next one, and be read as that one's.
    lines = [
        replace(_dimension(sheet, pair, sheet.written(pair[1] - pair[0])), beside=False) for pair in pairwise(places)
    ]
    if whole:
        lines.append(_dimension(sheet, (0.0, places[-1]), sheet.written(places[-1], asked=True)))
    return dimensions_below(sheet.drawing, lines, _BAR)


def _taken_off(sheet: _Sheet, result: LengthSum, taken: Sequence[float], top: float) -> float:
    """The same length with what comes off it hatched."""
    places = list(accumulate(taken, initial=result.total))
    lines = [_dimension(sheet, (0.0, result.total), sheet.written(result.total, asked=True))] if result.total else []
    _bar(sheet, top, 0.0, result.total)
    for pair in pairwise(places):
        left, right = sheet.x(pair[0]), min(sheet.x(pair[1]), WIDTH - MARGIN)
        section(sheet.drawing, [(left, top), (right, top), (right, top + _BAR), (left, top + _BAR)], "fig-left")
        off = sheet.words("lengths.off", length=_feet(pair[1] - pair[0]))
        lines.append(_dimension(sheet, pair, off))
    return dimensions_below(sheet.drawing, lines, top + _BAR)


def _parted(sheet: _Sheet, result: LengthSum, parts: int, top: float) -> float:
    """What is left, parted; the dimension over the first part."""
    _bar(sheet, top, 0.0, result.total)
    if result.total * sheet.scale > 3 * parts:
        for part in range(1, parts):
            x = sheet.x(part * result.each)
            sheet.drawing.line((x, top - 4), (x, top + _BAR + 4), "fig-mark")
    if result.each * sheet.scale < 1:
        return top + _BAR
    one = _dimension(sheet, (0.0, result.each), sheet.written(result.each, asked=True))
    return dimensions_below(sheet.drawing, [one], top + _BAR)


def _yours(sheet: _Sheet, value: float, top: float) -> float:
    """A learner's length, dashed."""
    sheet.drawing.open_group("fig-at", position=value, kind="yours")
    _bar(sheet, top, 0.0, value, "fig-wrong")
    sheet.drawing.close_group()
    return sheet.drawing.paragraph(
        top + _BAR + 4, sheet.words("yours-is", length=_feet(value)), "fig-text fig-wrong-text"
    )


def _feet(inches: float) -> str:
    """A length in feet and inches, as it is called out."""
    return write_length(inches, feet=True)


def _dimension(sheet: _Sheet, pair: tuple[float, float], told: str) -> Dimension:
    return Dimension(sheet.x(pair[0]), min(sheet.x(pair[1]), WIDTH - MARGIN), told)


def _sentences(
    sheet: _Sheet, lengths: Sequence[float], taken: Sequence[float], parts: int, result: LengthSum
) -> Iterator[str]:
    """What is added, taken off and parted, and what it comes to once that may be seen."""
    yield sheet.words("lengths.about", lengths=[_feet(one) for one in lengths])
    if taken:
        yield sheet.words("lengths.taken", lengths=[_feet(one) for one in taken])
    if parts > 1:
        yield sheet.words("lengths.parts", parts=parts)
    if sheet.solved:
        yield sheet.words("lengths.comes-to", length=_feet(result.each))
