"""Fittings in section, their parts named."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
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


def draw_fitting(kinds: Sequence[str], words: Words, *, yours: Sequence[str] = (), key: str = "") -> str:
    """
    Fittings in section, their parts named; a single one without a heading.

    Args:
        kinds: Keys of `FITTINGS`, one at least.
        words: Sentences.
        yours: Keys of `FITTINGS` that a learner chose wrongly; drawn below and named so.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    names = [_name(kind, words) for kind in kinds]
    headed = [(kind, name, "fig-heading") for kind, name in zip(kinds, names, strict=True)]
    headed += [(kind, words("fitting.yours", fitting=_name(kind, words)), "fig-wrong-text") for kind in yours]
    level = 0.0
    for kind, heading, name in headed:
        if len(headed) > 1:
            level = drawing.paragraph(level, heading, f"fig-text {name}") + 4
        # Drawn once beside the sheet, to learn how far its labels reach up.
        top, _ = _fitting(Drawing(), 0.0, kind, words)
        _, bottom = _fitting(drawing, level - top, kind, words)
        level = bottom + 14
    about = " ".join(words(f"fitting.{kind}.about") for kind in kinds)
    return drawing.finish(-4, level - 10, ", ".join(names), about, key)


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
