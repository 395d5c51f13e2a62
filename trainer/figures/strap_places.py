"""A run with lettered places where straps could go; once answered, with the straps there and what they leave wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from trainer.calc.length import write_length
from trainer.calc.strap_places import StrapPlaces
from trainer.calc.strap_run import StrapRun, letter
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.lettered import PLAIN, Lettered
from trainer.figures.strap_sheet import Sheet
from trainer.figures.svg import MARGIN, Drawing
from trainer.figures.words import Words

__all__ = ["draw_strap_places"]

_WRONG_TEXT = "fig-text fig-wrong-text"


def draw_strap_places(
    inputs: Mapping[str, Any],
    result: StrapPlaces,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
    lettered: Lettered = PLAIN,
) -> str:
    """
    A run from a panel to a junction box with the places where straps could go.

    Args:
        inputs: Values of the calculation `strap_places`.
        result: Its result.
        words: Sentences.
        wrong: A learner's places under "layouts", by their letters; drawn with the stretches that break the rule. A
            choice that is right is drawn as the answer.
        solved: Whether straps that keep the rule are shown.
        key: Tells apart equal figures on one page.
        lettered: Where the letters lead.
    """
    run, drawing, told = StrapRun.of(inputs), Drawing(), []
    chosen = run.positions(wrong["layouts"]) if "layouts" in wrong else None
    own_is_right = chosen is not None and tuple(chosen) in [layout.positions for layout in result.layouts]
    upright = bool(inputs.get("upright"))
    level = 0.0
    if solved or chosen is None:
        straps = () if not solved else chosen if own_is_right and chosen is not None else result.layouts[0].positions
        level = _one(drawing, Sheet(drawing, run, upright, level, words), straps, lettered)
        told += [words("strap_places.held", places=_letters(run, straps))] if solved else []
    if chosen is not None and not own_is_right:
        top = level + 8 if solved else 0.0
        drawing.text((MARGIN, top + 12), words("strap_places.yours", places=_letters(run, chosen)), _WRONG_TEXT)
        level = _yours(drawing, Sheet(drawing, run, upright, top + 20, words, judged=True), chosen, lettered)
        told += [words("strap_places.yours", places=_letters(run, chosen))]
        told += [words.of_core(fault.id, **fault.params) for fault in map(run.told, run.faults(chosen))]
    level = drawing.paragraph(level + 4, words("strap_places.along", run=_feet(run.run_length)), "fig-text fig-note")
    top = min(0.0, drawing.highest - 4)
    return drawing.finish(top, level + 4, words("strap_places.title"), " ".join([_about(run, words), *told]), key)


def _one(drawing: Drawing, sheet: Sheet, straps: Sequence[float], lettered: Lettered) -> float:
    """The run with straps that hold; between them the distances where it lies straight."""
    sheet.tube()
    for strap in straps:
        drawing.open_group("fig-at", position=strap, kind="strap")
        sheet.strap(strap, "fig-strap fig-set")
        drawing.close_group()
    sheet.places(lettered)
    sheet.names()
    run = sheet.run
    if straps and not sheet.stands:
        stops = sorted({*run.ends, *straps, *run.straps})
        lines = [
            Dimension(sheet.at(here).point[0], sheet.at(there).point[0], _feet(there - here))
            for here, there in pairwise(stops)
        ]
        sheet.lowest = dimensions_below(drawing, lines, sheet.lowest + 4)
    return sheet.lowest


def _yours(drawing: Drawing, sheet: Sheet, chosen: Sequence[float], lettered: Lettered) -> float:
    """The run with a learner's straps and each stretch that breaks the rule."""
    run, words = sheet.run, sheet.words
    sheet.tube()
    for strap in chosen:
        drawing.open_group("fig-at", position=strap, kind="yours")
        sheet.strap(strap, "fig-wrong")
        drawing.close_group()
    sheet.places(lettered)
    sheet.names()
    faults = run.faults(chosen)
    for fault in faults:
        if fault.kind == "on-bend":
            sheet.stretch(fault.start - 4, fault.start + 4, words("strap_places.on-bend"))
        else:
            sheet.stretch(fault.start, fault.end, _feet(fault.end - fault.start))
    if faults:
        return sheet.lowest
    return drawing.paragraph(sheet.lowest + 4, words("straps.more-than-needed"), "fig-text fig-note")


def _about(run: StrapRun, words: Words) -> str:
    """What is given, in sentences."""
    places = [f"{letter(at)} {_feet(place)}" for at, place in enumerate(run.places)]
    said = [words("strap_places.about", run=_feet(run.run_length), places=places)]
    parts = {name: getattr(run, name) for name in ("terminations", "couplings", "straps")}
    said += [
        words(f"strap_places.about-{name}", places=[_feet(one) for one in found])
        for name, found in parts.items()
        if found
    ]
    if run.bends:
        bends = [f"{_feet(bend.start)} – {_feet(bend.end)}" for bend in run.bends]
        said.append(words("strap_places.about-bends", places=bends))
    return " ".join(said)


def _letters(run: StrapRun, positions: Sequence[float]) -> str:
    return ", ".join(letter(run.places.index(position)) for position in positions) or "–"


def _feet(inches: float) -> str:
    return write_length(inches, feet=True)
