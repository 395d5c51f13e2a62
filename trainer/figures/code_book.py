"""The code book lying on its back: its chapters from front to back, and a flag at the page that is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.code_place import CodePlace
from trainer.figures.measure import text_width
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_code_book"]

_ROW = 22.0
_LEFT = MARGIN + 10
#: What the flags beside the pages need.
_FLAGS = 122.0
_CHAPTERS = 9


def draw_code_book(
    inputs: Mapping[str, Any],
    result: CodePlace,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The chapters as layers of a book.

    Args:
        inputs: Values of the calculation `code_place`.
        result: Its result.
        words: Sentences.
        wrong: Taken for the sake of the other figures; a wrong place has its reason beside the question.
        solved: Whether the place is flagged; else only the book.
        key: Tells apart equal figures on one page.
    """
    del inputs, wrong
    drawing = Drawing()
    right = WIDTH - MARGIN - _FLAGS
    layers = ["front", *(f"chapter.{chapter}" for chapter in range(1, _CHAPTERS + 1)), "annexes"]
    for index, layer in enumerate(layers):
        found = solved and index == result.chapter
        drawing.rectangle((_LEFT, index * _ROW), right - _LEFT, _ROW, "fig-bent-part" if found else "fig-part")
        drawing.text((_LEFT + 6, index * _ROW + 15), words(f"code-book.{layer}"), "fig-text fig-note")
        if found:
            _flag(drawing, right, index * _ROW + _ROW / 2, result.reference)
    drawing.rectangle((_LEFT - 6, -3), 6, len(layers) * _ROW + 6, "fig-obstacle")
    told = {"reference": result.reference, "chapter": result.chapter}
    about = words("code-book.about", **told) if solved else words("code-book.asked")
    return drawing.finish(-8, len(layers) * _ROW + 8, words("code-book.title"), about, key)


def _flag(drawing: Drawing, x: float, y: float, reference: str) -> None:
    """A flag out of the pages; a reference too long for it stands on two lines."""
    drawing.open_group("fig-at", position=y, kind="flag")
    drawing.line((x, y), (x + 8, y), "fig-mark")
    drawing.close_group()
    lines = [reference]
    if text_width(reference, "fig-mark-text") > _FLAGS - 8:
        lines = reference.split(", ") if ", " in reference else reference.split(" ")
    for index, line in enumerate(lines):
        level = y + 5 + (index - (len(lines) - 1) / 2) * 16
        drawing.text((x + 11, level), line, "fig-text fig-mark-text")
