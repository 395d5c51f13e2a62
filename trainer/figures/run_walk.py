"""A finished run with its straps, each stretch and part that can be named lettered; solved, what breaks the rule is marked."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import accumulate, pairwise
from typing import Any

from trainer.calc.length import write_length
from trainer.calc.run_walk import RunWalk
from trainer.calc.strap_run import StrapRun
from trainer.figures.lettered import PLAIN, Lettered
from trainer.figures.strap_sheet import Sheet
from trainer.figures.svg import Drawing
from trainer.figures.words import Words, angle

__all__ = ["draw_run_walk"]


def draw_run_walk(
    inputs: Mapping[str, Any],
    result: RunWalk,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
    lettered: Lettered = PLAIN,
) -> str:
    """
    A run from a panel to a junction box with its straps, to scale.

    Args:
        inputs: Values of the calculation `run_walk`.
        result: Its result.
        words: Sentences.
        wrong: Has no place here.
        solved: Whether what breaks the rule on straps is marked and said.
        key: Tells apart equal figures on one page.
        lettered: Letters of "gap-1" (panel to first strap), "gap-2", ..., "bend-1", ... and "coupling-1", ....
    """
    del wrong
    gaps = tuple(inputs["gaps"])
    straps = tuple(accumulate(gaps[:-1]))
    given = {name: tuple(inputs.get(name) or ()) for name in ("bends", "couplings")}
    run = StrapRun(result.run_length, (), straps, bends=given["bends"], couplings=given["couplings"])
    drawing = Drawing()
    sheet = Sheet(drawing, run, bool(inputs.get("upright")), 0.0, words, judged=solved)
    sheet.tube()
    named = dict(_named(run, inputs, words))
    for here, there in pairwise((0.0, *straps, run.run_length)):
        sheet.span(here, there)
    sheet.labels(
        [
            (position, f"{lettered.letters[place]}  {said}" if place in lettered.letters else said, lettered.at(place))
            for place, (position, said) in named.items()
            if place.startswith("gap") or place in lettered.letters
        ]
    )
    sheet.names([name for name in ("coupling",) if not any(place.startswith(name) for place in lettered.letters)])
    told = [words("run_walk.about", run=_feet(run.run_length), gaps=[_feet(gap) for gap in gaps])]
    told += [words("run_walk.part", part=f"{lettered.letters.get(place, '')} {said}".strip(), place=_feet(position))
             for place, (position, said) in named.items() if not place.startswith("gap")]  # fmt: skip
    if solved:
        for fault in result.violations:
            sheet.stretch(fault.start, max(fault.end, fault.start + 4), _feet(fault.end - fault.start))
            line = fault.message()
            told.append(words.of_core(line.id, **line.params))
        if not result.violations:
            told.append(words.of_core("strap_check.holds"))
    said = words("run_walk.along" if not solved else "run_walk.found", count=result.violation_count)
    level = drawing.paragraph(sheet.lowest + 4, said, "fig-text fig-note")
    return drawing.finish(min(0.0, drawing.highest - 4), level + 4, words("run_walk.title"), " ".join(told), key)


def _named(run: StrapRun, inputs: Mapping[str, Any], words: Words) -> list[tuple[str, tuple[float, str]]]:
    """Each place that can be lettered: where it is [in], and what is written there."""
    stops = (0.0, *run.straps, run.run_length)
    found = [
        (f"gap-{nth}", (_straight_middle(run, here, there), _feet(there - here)))
        for nth, (here, there) in enumerate(pairwise(stops), 1)
    ]
    angles = tuple(inputs.get("angles") or ())
    for nth, bend in enumerate(run.bends, 1):
        turned = (
            words("run_walk.bend", angle=angle(angles[nth - 1])) if nth <= len(angles) else words("run_walk.bend-plain")
        )
        found.append((f"bend-{nth}", ((bend.start + bend.end) / 2, turned)))
    found += [
        (f"coupling-{nth}", (place, words("strap_places.coupling"))) for nth, place in enumerate(run.couplings, 1)
    ]
    return sorted(found, key=lambda one: one[1][0])


def _straight_middle(run: StrapRun, start: float, end: float) -> float:
    """The middle of the longest straight part of a stretch, where its words stand clear of a bend."""
    turns = sorted(at for bend in run.bends for at in (bend.start, bend.end) if start < at < end)
    parts = [(here, there) for here, there in pairwise((start, *turns, end)) if not _is_bent(run, (here + there) / 2)]
    here, there = max(parts or [(start, end)], key=lambda part: part[1] - part[0])
    return (here + there) / 2


def _is_bent(run: StrapRun, position: float) -> bool:
    return any(bend.start < position < bend.end for bend in run.bends)


def _feet(inches: float) -> str:
    return write_length(inches, feet=True)
