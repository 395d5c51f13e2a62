"""A run from pull point to pull point, each stretch a line of its own with its bends; solved, with its sum."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any

from trainer.calc.bend_stretches import BendStretches
from trainer.figures.bend_total import turns_of
from trainer.figures.lettered import PLAIN, Lettered
from trainer.figures.measure import text_box
from trainer.figures.run import Piece, Run
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words, angle

__all__ = ["PLACES", "draw_bend_stretches"]

#: The stretches, and the coupling in the second of them.
PLACES = ("first", "second", "third", "coupling")
_BOX, _TUBE, _STRAIGHT, _RADIUS = 20.0, 6.0, 30.0, 12.0
_WIDE, _HIGH = WIDTH - 2 * MARGIN - 2 * _BOX - 20, 74.0


def draw_bend_stretches(
    inputs: Mapping[str, Any],
    result: BendStretches,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
    lettered: Lettered = PLAIN,
) -> str:
    """
    Three stretches one below the other; turns are drawn in turn, not as a real run lies.

    Args:
        inputs: Values of the calculation `bend_stretches`.
        result: Its result.
        words: Sentences.
        wrong: Has no place here.
        solved: Whether the sums are shown, and what is too much.
        key: Tells apart equal figures on one page.
        lettered: Letters of "first", "second", "third" and "coupling".
    """
    del wrong
    drawing, level, told = Drawing(), 0.0, [words("bend_stretches.about")]
    for nth, place in enumerate(PLACES[:3]):
        bends = tuple(inputs[place])
        total = float(getattr(result, f"{place}_total"))
        letter = lettered.letters.get(place, chr(ord("A") + nth))
        name = words(f"bend_stretches.{place}")
        drawing.link((MARGIN, level + 11), f"{letter}  {name}", lettered.at(place), "fig-text fig-place-leader-text")
        run = _stretch(drawing, level + 22, bends)
        if place == "second":
            coupling = lettered.letters.get("coupling", "D")
            label = f"{coupling}  {words('bend_stretches.coupling')}"
            _coupling(drawing, run, label, lettered.at("coupling"))
            told.append(words("bend_stretches.with-coupling", letter=coupling))
        level += 22 + _BOX + _HIGH + 4
        listed = _listed(bends)
        level = drawing.paragraph(level, listed)
        told.append(words("bend_stretches.stretch", letter=letter, where=name, bends=listed))
        if solved:
            over = total > result.most + 1e-9
            said = words("bend_stretches.too-much" if over else "bend_stretches.sum", total=angle(total), most=angle(result.most))  # fmt: skip
            level = drawing.paragraph(level - 4, said, "fig-text fig-wrong-text" if over else "fig-text")
            told.append(said)
        level += 10
    level = drawing.paragraph(level - 4, words("bend-total.not-a-plan"), "fig-text fig-note")
    return drawing.finish(-4, level + 4, words("bend_stretches.title"), " ".join(told), key)


def _listed(bends: Sequence[float]) -> str:
    """The bends in their order, equal ones behind each other counted: "3 x 90°, 10°, 10°"."""
    parts = []
    for one, group in groupby(bends):
        count = len(list(group))
        parts += [f"{count} x {one:g}°"] if count > 2 else [f"{one:g}°"] * count
    return ", ".join(parts)


def _stretch(drawing: Drawing, top: float, bends: Sequence[float]) -> Run:
    """One stretch between two pull points, in a strip from `top` down."""
    pieces = [Piece(_STRAIGHT)]
    for turn in turns_of(bends):
        pieces += [Piece(_RADIUS * math.radians(abs(turn)), turn), Piece(_STRAIGHT)]
    trial = Run((0, 0), 0, pieces, 1.0)
    across = [station.point[0] for station in trial.stations]
    down = [station.point[1] for station in trial.stations]
    wide, tall = max(across) - min(across), max(down) - min(down)
    scale = min(_WIDE / max(1.0, wide), _HIGH / max(1.0, tall), 1.4)
    left = (WIDTH - wide * scale) / 2 - min(across) * scale
    middle = top + _BOX / 2 + _HIGH / 2 - (min(down) + tall / 2) * scale
    run = Run((left, middle), 0, pieces, scale)
    drawing.path(run.outline(_TUBE), "fig-tube")
    for station, sign in ((run.stations[0], -1.0), (run.stations[-1], 1.0)):
        along = math.radians(station.heading)
        x = station.point[0] + sign * _BOX / 2 * math.cos(along)
        y = station.point[1] - sign * _BOX / 2 * math.sin(along)
        drawing.rectangle((x - _BOX / 2, y - _BOX / 2), _BOX, _BOX, "fig-box")
    return run


def _coupling(drawing: Drawing, run: Run, label: str, href: str) -> None:
    """A coupling in the straight piece behind the second bend, or behind the only one, and its label where there is room."""
    straight = min(4, len(run.pieces) - 1)
    reached = sum(piece.length for piece in run.pieces[:straight]) + run.pieces[straight].length / 2
    x, y = run.at(reached).point
    drawing.circle((x, y), 7.0, "fig-part")
    name = "fig-text fig-place-leader-text"
    spots = [
        (x - 14, y - 4, "end"),
        (x + 14, y + 24, "start"),
        (x - 14, y + 24, "end"),
        (WIDTH - MARGIN, y - 24, "end"),
    ]
    free = [spot for spot in spots if drawing.is_free(text_box(spot[0], spot[1], label, spot[2], name))]
    left, base, anchor = (free or spots)[0]
    drawing.link((left, base), label, href, name, anchor)
