"""Fittings in section, their parts named."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from trainer.calc.fitting_choice import FITTING_IDS
from trainer.figures.callout import Callout, callouts
from trainer.figures.fitting_parts import Labels, Named
from trainer.figures.fitting_straight import compression, compression_wet, set_screw, two_piece
from trainer.figures.fitting_turning import hub, nipple_between_boxes, offset_connector, right_angle
from trainer.figures.section import Axle
from trainer.figures.svg import MARGIN, Drawing
from trainer.figures.words import Words

__all__ = ["FITTINGS", "draw_fitting"]

_SCALE = 105.0

#: How each fitting is drawn, by its id in the core's table of fittings; "hub" stands at the box beside them.
FITTINGS: Mapping[str, Callable[[Axle], Labels]] = MappingProxyType(
    {
        "set-screw": set_screw,
        "set-screw-steel": set_screw,
        "compression": compression,
        "compression-wet": compression_wet,
        "offset": offset_connector,
        "nipple": nipple_between_boxes,
        "two-piece": two_piece,
        "right-angle": right_angle,
        "hub": hub,
    }
)


def draw_fitting(kind: str, words: Words, *, yours: str = "", key: str = "") -> str:
    """
    A fitting in section, its parts named.

    Args:
        kind: A key of `FITTINGS`.
        words: Sentences.
        yours: A key of `FITTINGS` that a learner chose instead; drawn below it and named so.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    top, bottom = _fitting(drawing, 0.0, kind, words)
    title = _name(kind, words)
    if yours in FITTINGS:
        drawing.text((MARGIN, top - 6), title, "fig-text fig-heading")
        heading = words("fitting.yours", fitting=_name(yours, words))
        trial, _ = _fitting(Drawing(), 0.0, yours, words)
        drawing.text((MARGIN, bottom + 24), heading, "fig-text fig-wrong-text")
        _, bottom = _fitting(drawing, bottom + 32 - trial, yours, words)
        top -= 18
    return drawing.finish(top - 4, bottom + 4, title, words(f"fitting.{kind}.about"), key)


def _name(kind: str, words: Words) -> str:
    """What the fitting is called."""
    return words.of_core(f"fitting.{kind}") if kind in FITTING_IDS else words(f"fitting.{kind}.title")


def _fitting(drawing: Drawing, level: float, kind: str, words: Words) -> tuple[float, float]:
    """One fitting with its axis at `level`; returns where it begins and ends."""
    axle = Axle(drawing, (MARGIN + 2.32 * _SCALE, level), _SCALE)
    labels = FITTINGS[kind](axle)
    top = callouts(drawing, _callouts(axle, labels.above, words), level - labels.highest * _SCALE, above=True)
    bottom = callouts(drawing, _callouts(axle, labels.below, words), level + labels.lowest * _SCALE, above=False)
    return top, bottom


def _callouts(axle: Axle, named: tuple[Named, ...], words: Words) -> list[Callout]:
    """Labels of points given on the axis."""
    return [
        Callout(axle.at(one.along, one.off), (words(f"part.{one.name}"),), side=one.side, dot=True) for one in named
    ]
