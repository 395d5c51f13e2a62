"""The offset: the straight tube with its marks, and under it, to the same scale, the tube bent on those marks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from trainer.calc.offset import Offset
from trainer.figures.offset_bent import draw_bent
from trainer.figures.offset_job import OffsetSheet, offset_job
from trainer.figures.offset_straight import draw_straight
from trainer.figures.svg import Drawing
from trainer.figures.words import Words, angle, length

__all__ = ["draw_offset"]


def draw_offset(
    inputs: Mapping[str, Any],
    result: Offset,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    An offset as marks on the straight tube and as the bent tube in elevation.

    Args:
        inputs: Values of the calculation `offset`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value by the output's name; drawn dashed.
        solved: Whether the marks are shown; else only what is to be bent.
        key: Tells apart equal figures on one page.
    """
    job = offset_job(inputs, result, wrong)
    sheet = OffsetSheet(Drawing(), job, job.axis(), words)
    top, level = draw_straight(sheet) if solved else (0.0, 0.0)
    bottom = draw_bent(sheet, level, solved=solved)
    about = {"depth": length(job.depth), "angle": angle(job.angle), "spacing": length(result.spacing)}
    about["shrink"] = length(result.shrink)
    description = words("offset.about" if solved else "offset.asked", **about)
    return sheet.drawing.finish(top - 4, bottom + 6, words("offset.title"), description, key)
