"""All bends of a run between two pull points: the run as a line with numbered bends, and their sum against the limit."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from trainer.calc.bend_total import BendTotal
from trainer.figures.callout import Callout, callouts
from trainer.figures.hatch import section
from trainer.figures.measure import text_box, text_width
from trainer.figures.run import Piece, Run
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.words import Words, angle

__all__ = ["draw_bend_total", "number_beside", "turns_of"]

_BOX = 22.0
_TUBE = 7.0
_TALLEST = 150.0
#: The run is no plan of a real one: straight pieces and radii are the same everywhere, in units of the drawing.
_STRAIGHT = 34.0
_RADIUS = 14.0
_BAR = 20.0
#: Up to so many bends the angle stands beside each; the bar names the rest.
_MOST_NAMED = 8


def draw_bend_total(
    inputs: Mapping[str, Any],
    result: BendTotal,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    A run between two pull points with its bends counted; turns are drawn in turn, not as a real run lies.

    Args:
        inputs: Values of the calculation `bend_total`.
        result: Its result.
        words: Sentences.
        wrong: A learner's sum under "total"; drawn dashed on the bar.
        solved: Whether the sum is shown; else only the run.
        key: Tells apart equal figures on one page.
    """
    drawing, angles = Drawing(), tuple(inputs["angles"])
    bottom = _run(drawing, angles)
    bottom = drawing.paragraph(bottom + 6, words("bend-total.not-a-plan"), "fig-text fig-note")
    if solved:
        limit = result.total + result.left
        bottom = _bar(drawing, bottom + 8, angles, _Sum(result.total, limit, wrong.get("total")), words)
    about = {"count": len(angles), "total": angle(result.total), "bends": ", ".join(f"{one:g}°" for one in angles)}
    description = words("bend-total.about" if solved else "bend-total.asked", **about)
    return drawing.finish(min(-4, drawing.highest - 2), bottom + 4, words("bend-total.title"), description, key)


def turns_of(angles: Sequence[float]) -> list[float]:
    """Each bend to the side that keeps the run going to the right, between straight down and straight up."""
    heading = 0.0
    turns: list[float] = []
    for one in angles:
        up = abs(heading + one) < abs(heading - one) or (
            abs(heading + one) == abs(heading - one) and len(turns) % 2 == 0
        )
        turn = one if up else -one
        turns.append(turn)
        heading += turn
    return turns


def _pieces(angles: Sequence[float]) -> list[Piece]:
    """The run: straight pieces of one length between bends of one radius."""
    pieces = [Piece(_STRAIGHT)]
    for turn in turns_of(angles):
        pieces += [Piece(_RADIUS * math.radians(abs(turn)), turn), Piece(_STRAIGHT)]
    return pieces


def _run(drawing: Drawing, angles: Sequence[float]) -> float:
    """The run with its boxes and numbered bends from height 0 down; returns where it ends."""
    trial = Run((0, 0), 0, _pieces(angles), 1.0)
    across = [station.point[0] for station in trial.stations]
    down = [station.point[1] for station in trial.stations]
    room = WIDTH - 2 * MARGIN - 2 * _BOX - 24
    scale = min(room / max(1.0, max(across) - min(across)), _TALLEST / max(1.0, max(down) - min(down)), 1.8)
    left = MARGIN + _BOX + 12 - min(across) * scale + (room - (max(across) - min(across)) * scale) / 2
    run = Run((left, 40 - min(down) * scale), 0, _pieces(angles), scale)
    drawing.path(run.outline(_TUBE), "fig-tube")
    _boxes(drawing, run)
    _numbers(drawing, run, angles)
    lowest = max(station.point[1] for station in run.stations) + _BOX
    return max(lowest, drawing.lowest) + 4


def _boxes(drawing: Drawing, run: Run) -> None:
    """A pull point at either end."""
    for station, sign in ((run.stations[0], -1.0), (run.stations[-1], 1.0)):
        along = math.radians(station.heading)
        x = station.point[0] + sign * _BOX / 2 * math.cos(along)
        y = station.point[1] - sign * _BOX / 2 * math.sin(along)
        drawing.rectangle((x - _BOX / 2, y - _BOX / 2), _BOX, _BOX, "fig-box")


def _numbers(drawing: Drawing, run: Run, angles: Sequence[float]) -> None:
    """The number and the angle of each bend, on its outer side where there is room."""
    reached, bends = 0.0, iter(enumerate(angles, start=1))
    for piece in run.pieces:
        if piece.turn:
            number, one = next(bends)
            station = run.at(reached + piece.length / 2)
            words = f"{number}: {one:g}°" if len(angles) <= _MOST_NAMED else f"{number}"
            number_beside(drawing, words, station.point, station.beside(math.copysign(1.0, piece.turn)))
        reached += piece.length


def number_beside(drawing: Drawing, words: str, at: Point, outward: Point) -> None:
    """A text beside a bend, at the first distance and side where it touches no other."""
    x, y = at
    across, down = outward[0] - x, outward[1] - y
    half = text_width(words) / 2
    for distance in (16.0, 28.0, 40.0):
        for sign in (1.0, -1.0):
            middle = x + sign * across * (distance + half), y + sign * down * distance + 4.5
            if drawing.is_free(text_box(*middle, words, "middle")):
                drawing.text(middle, words, "fig-text", "middle")
                return


class _Sum(Struct, frozen=True):
    """The sum of the bends, its limit, and a learner's sum [deg]."""

    total: float
    limit: float
    yours: float | None


def _bar(drawing: Drawing, top: float, angles: Sequence[float], whole: _Sum, words: Words) -> float:
    """The bends one behind the other on a bar, the limit across it; what lies beyond the limit is hatched."""
    yours = whole.yours if whole.yours is not None and 0 <= whole.yours <= 2 * max(whole.limit, whole.total) else None
    scale = (WIDTH - 2 * MARGIN) / max(whole.limit, whole.total, yours or 0.0)
    flags = [Callout((MARGIN + whole.limit * scale, top + 24), (words("bend-total.limit", limit=angle(whole.limit)),))]
    bar = top + 28
    callouts(drawing, flags, bar - 6, above=True)
    drawing.rectangle((MARGIN, bar), whole.limit * scale, _BAR, "fig-left")
    reached = 0.0
    for number, one in enumerate(angles, start=1):
        _share(drawing, bar, (reached, one), number, scale)
        reached += one
    if whole.total > whole.limit:
        start, end = MARGIN + whole.limit * scale, MARGIN + whole.total * scale
        section(drawing, [(start, bar), (end, bar), (end, bar + _BAR), (start, bar + _BAR)], "fig-over")
    drawing.line((MARGIN + whole.limit * scale, bar - 6), (MARGIN + whole.limit * scale, bar + _BAR + 6), "fig-limit")
    below = [
        Callout(
            (MARGIN + whole.total * scale, bar + _BAR), (words("bend-total.sum", total=angle(whole.total)),), "fig-mark"
        )
    ]
    if whole.yours is not None:
        below.append(_your_sum(drawing, bar, whole.yours, scale, words, is_shown=yours is not None))
    return callouts(drawing, below, bar + _BAR + 10, above=False)


def _share(drawing: Drawing, bar: float, share: tuple[float, float], number: int, scale: float) -> None:
    """One bend's part of the bar, with its number where it fits."""
    start, one = share
    left, width = MARGIN + start * scale, one * scale
    drawing.open_group("fig-at", position=start + one, kind="sum")
    drawing.rectangle((left, bar), width, _BAR, "fig-tube")
    drawing.close_group()
    if text_width(f"{number}") + 4 < width:
        drawing.text((left + width / 2, bar + 15), f"{number}", "fig-text fig-on-tube", "middle")


def _your_sum(drawing: Drawing, bar: float, yours: float, scale: float, words: Words, *, is_shown: bool) -> Callout:
    """A learner's sum as a dashed line across the bar; at its end when it lies far beyond."""
    x = MARGIN + yours * scale if is_shown else WIDTH - MARGIN
    drawing.open_group("fig-at", position=yours, kind="yours")
    drawing.line((x, bar - 4), (x, bar + _BAR + 8), "fig-wrong")
    drawing.close_group()
    return Callout((x, bar + _BAR + 8), (words("bend-total.yours", total=angle(yours)),), "fig-wrong")
