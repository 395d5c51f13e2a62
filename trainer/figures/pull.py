"""A pull from end to end: its sections numbered, and the tension that has grown by the end of each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from trainer.calc.message import Quantity
from trainer.calc.pulling import PullingTension
from trainer.calc.pulling_sections import Section
from trainer.figures.bend_total import number_beside, turns_of
from trainer.figures.dimension import arrowhead
from trainer.figures.run import Piece, Run
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["draw_pull"]

#: What may be told of a solved pull: it fed at A, it fed at B, what bends press with, what the conductors can take.
_TELLS = ("a-to-b", "b-to-a", "pressure", "stand")

_TALLEST, _TUBE = 170.0, 7.0
#: Straight pieces keep their proportions; shorter ones and bends are drawn so large that they are seen.
_LONGEST, _LEAST, _RADIUS = 200.0, 26.0, 16.0
_ENDS = 30.0
#: Outputs that a learner may be asked for, with their units.
_ASKED = (
    ("tension", "lbf"),
    ("tension_reversed", "lbf"),
    ("sidewall_pressure", "lbf/ft"),
    ("max_tension", "lbf"),
)


def draw_pull(
    inputs: Mapping[str, Any],
    result: PullingTension,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
    tells: Sequence[str] = _TELLS,
) -> str:
    """
    The run with its sections from end A, where it is fed as the sections are listed, to end B.

    Args:
        inputs: Values of the calculation `pulling_tension`.
        result: Its result.
        words: Sentences.
        wrong: A learner's tension, pressure or limit, by the output's name.
        solved: Whether tensions are shown; else only the sections.
        key: Tells apart equal figures on one page.
        tells: What is told once solved, of "a-to-b", "b-to-a", "pressure" and "stand"; a question that gave nothing of
            radius or conductors leaves those out.
    """
    drawing, sections = Drawing(), tuple(inputs["sections"])
    level = _run(drawing, sections)
    if any(section.is_bend for section in sections):
        level = drawing.paragraph(level + 6, words("pull.not-a-plan"), "fig-text fig-note")
    tensions = result.tensions if solved else ()
    lines = list(_lines(sections, tensions, words))
    if feed := inputs.get("feed_tension"):
        lines.insert(0, words("pull.feed", tension=_whole(feed, "lbf")))
    if solved:
        lines += _outcome(sections, result, words, tells)
    for line in lines:
        level = drawing.paragraph(level + 2, line)
    for name, unit in _ASKED:
        if name in wrong:
            yours = words("pull.yours", value=Quantity(wrong[name], unit))
            level = drawing.paragraph(level + 2, yours, "fig-text fig-wrong-text")
    return drawing.finish(min(-4, drawing.highest - 2), level + 4, words("pull.title"), " ".join(lines), key)


def _outcome(sections: Sequence[Section], result: PullingTension, words: Words, tells: Sequence[str]) -> Iterator[str]:
    """The pull both ways, and what the conductors stand, as far as it is told."""
    ways = (
        ("a-to-b", result.tension, result.sidewall_pressure),
        ("b-to-a", result.tension_reversed, result.sidewall_pressure_reversed),
    )
    for name, tension, pressure in ways:
        if name not in tells:
            continue
        yield words(f"pull.{name}", tension=_whole(tension, "lbf"))
        if "pressure" in tells and any(section.is_bend for section in sections):
            yield words("pull.pressure", pressure=_whole(pressure, "lbf/ft"))
    if "stand" in tells:
        yield words("pull.stand", most=_whole(result.max_tension, "lbf"))


def _whole(value: float, unit: str) -> Quantity:
    """An estimate is no better than to a whole number."""
    return Quantity(round(value), unit)


def _lines(sections: Sequence[Section], tensions: Sequence[float], words: Words) -> Iterator[str]:
    """Each section with its number, and with the tension behind it where that may be seen."""
    for at, section in enumerate(sections):
        message = section.message()
        told = {"number": at + 1, "section": words.of_core(message.id, **message.params)}
        if tensions:
            yield words("pull.section-with-tension", tension=_whole(tensions[at], "lbf"), **told)
        else:
            yield words("pull.section", **told)


def _pieces(sections: Sequence[Section]) -> list[Piece]:
    """The run in units of the drawing; bends to alternate sides, so that it keeps going to the right."""
    longest = max((section.length for section in sections), default=0.0) or 1.0
    turns = iter(turns_of([section.angle for section in sections if section.is_bend]))
    return [
        Piece(_RADIUS * math.radians(section.angle), next(turns))
        if section.is_bend
        else Piece(max(_LEAST, section.length * _LONGEST / longest))
        for section in sections
    ]


def _run(drawing: Drawing, sections: Sequence[Section]) -> float:
    """The run with the numbers of its sections and its ends from height 0 down; returns where it ends."""
    pieces = _pieces(sections)
    trial = Run((0, 0), 0, pieces, 1.0)
    across = [station.point[0] for station in trial.stations]
    down = [station.point[1] for station in trial.stations]
    wide, tall = max(across) - min(across), max(down) - min(down)
    room = WIDTH - 2 * MARGIN - 2 * _ENDS
    scale = min(room / max(1.0, wide), _TALLEST / max(1.0, tall), 3.0)
    left = (WIDTH - wide * scale) / 2 - min(across) * scale
    run = Run((left, 34 - min(down) * scale), 0, pieces, scale)
    drawing.path(run.outline(_TUBE), "fig-tube")
    _name_ends(drawing, run)
    reached = 0.0
    for number, piece in enumerate(run.pieces, start=1):
        station = run.at(reached + piece.length / 2)
        side = math.copysign(1.0, piece.turn) if piece.turn else -1.0
        number_beside(drawing, f"{number}", station.point, station.beside(side))
        reached += piece.length
    return max(34 + tall * scale + 16, drawing.lowest)


def _name_ends(drawing: Drawing, run: Run) -> None:
    """A and B beyond the tube's ends, with an arrow out of B."""
    for station, sign, name in ((run.stations[0], -1.0, "A"), (run.stations[-1], 1.0, "B")):
        along = math.radians(station.heading)
        ahead = (sign * math.cos(along), -sign * math.sin(along))
        x, y = station.point
        drawing.text((x + 20 * ahead[0], y + 20 * ahead[1] + 4.5), name, "fig-text fig-heading", "middle")
        if name == "B":
            arrowhead(drawing, (x + 11 * ahead[0], y + 11 * ahead[1]), ahead, "fig-mark")
