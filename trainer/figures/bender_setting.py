"""The tube on which the bender is to be set: its pencil marks by letters; then where the bend lies, yours and the right one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from trainer.calc.bender_settings import SettingJob
from trainer.calc.layout_marks import BendOnStick
from trainer.calc.marks import Datum, Mark
from trainer.figures.axis import Axis, axis_for
from trainer.figures.bend_on_mark import draw_bend_on_mark
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import Dimension, dimensions_below
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.tube import TAPE, pencil_mark, straight_tube, tape
from trainer.figures.words import Words, angle, length

__all__ = ["draw_bender_setting"]

_THICKNESS = 16.0
#: Tube that is drawn before the first mark and behind the last one [in].
_BESIDE = 6.0
_STUB = 40.0


class _Sheet(Struct, frozen=True):
    """The drawing of the marked tube, its upper edge at height 0."""

    drawing: Drawing
    axis: Axis
    job: SettingJob
    words: Words

    @property
    def is_bent(self) -> bool:
        """Whether the tape starts at the back of a bend."""
        return self.job.measured_from == Datum.BACK

    @property
    def made(self) -> list[BendOnStick]:
        """The bends that are made on the stretch that is drawn."""
        return [bend for bend in self.job.lying if bend.mark.measured_from == self.job.measured_from]

    def span(self, bend: BendOnStick) -> tuple[float, float]:
        """From where to where a bend lies on the drawing, as far as that reaches; the tape of the marks starts at 0."""
        want, axis = self.job.wanted[0], self.axis
        start = want.pencil - want.mark.position
        left, right = (min(max(axis.x(place - start), axis.left), axis.right) for place in (bend.start, bend.end))
        return left, right


def draw_bender_setting(
    job: SettingJob,
    pencils: Mapping[str, float],
    words: Words,
    *,
    right: Sequence[Mark] = (),
    yours: Mark | None = None,
    key: str = "",
) -> str:
    """
    The marked tube, and below it the bender as it sits: a learner's, and the right ones.

    Args:
        job: The bends that are made, and the one that comes next.
        pencils: The pencil marks by their letters [in].
        words: Sentences.
        right: Instructions that give the bend; empty while they may not be seen.
        yours: What the learner's wrong choice comes to.
        key: Tells apart equal figures on one page.

    Returns:
        One `<svg>` element after the other.
    """
    places = pencils.values()
    sheet = _Sheet(Drawing(), axis_for(max(0.0, min(places) - _BESIDE), max(places) + _BESIDE), job, words)
    top = _tube(sheet, pencils)
    bottom = _below(sheet, right, yours)
    drawn = [sheet.drawing.finish(top - 4, bottom + 6, words("setting.title"), _about(sheet, pencils), key)]
    if yours is not None:
        drawn.append(draw_bend_on_mark(yours, job.shoe, words, f"{key}-yours", words("setting.yours"), wrong=True))
    for nth, mark in enumerate(right, start=1):
        heading = words("setting.right" if nth == 1 else "setting.right-too")
        drawn.append(draw_bend_on_mark(mark, job.shoe, words, f"{key}-right-{nth}", heading))
    return "".join(drawn)


def _tube(sheet: _Sheet, pencils: Mapping[str, float]) -> float:
    """The tube with what is bent of it, its tape and its pencil marks; returns where that begins."""
    drawing, axis, words = sheet.drawing, sheet.axis, sheet.words
    if sheet.is_bent:
        width = max(_THICKNESS, sheet.job.shoe.outside_diameter * axis.scale)
        drawing.rectangle((axis.left, 0), width, _THICKNESS + _STUB, "fig-tube")
    straight_tube(drawing, axis, 0, _THICKNESS)
    for bend in sheet.made:
        left, right = sheet.span(bend)
        drawing.rectangle((left, 0), right - left, _THICKNESS, "fig-bent-part")
    tape(drawing, axis, 0, [axis.x(place) for place in pencils.values()])
    for place in pencils.values():
        pencil_mark(drawing, axis.x(place), (-TAPE, _THICKNESS + 6), place)
    flags = [
        Callout((axis.x(place), -TAPE), (letter, words("length", length=length(place))), "fig-mark")
        for letter, place in pencils.items()
    ]
    start = words("setting.back-of-first-bend" if sheet.is_bent else "measured-from")
    return callouts(drawing, [*flags, Callout((axis.left, -TAPE), (start,), side="right")], -TAPE - 2, above=True)


def _below(sheet: _Sheet, right: Sequence[Mark], yours: Mark | None) -> float:
    """What is bent already, where the bend belongs, where yours comes to lie; returns where that ends."""
    drawing, words, level = sheet.drawing, sheet.words, _THICKNESS + 8.0
    lines = [
        Dimension(*sheet.span(bend), words("setting.made", number=bend.mark.order), _THICKNESS) for bend in sheet.made
    ]
    if right:
        said = words("setting.belongs", angle=angle(right[0].angle))
        lines.append(Dimension(*sheet.span(sheet.job.lies(right[0])), said, _THICKNESS))
    if lines:
        level = dimensions_below(drawing, lines, level)
    if yours is not None:
        level = _yours(sheet, yours, level)
    start = words("setting.first-leg" if sheet.is_bent else "on-mark.measured-end")
    drawing.text((MARGIN + 30 * sheet.is_bent, level + 18), start, "fig-text fig-note")
    drawing.text((WIDTH - MARGIN, level + 18), words("on-mark.far-end"), "fig-text fig-note", "end")
    return max(level + 22, (_THICKNESS + _STUB) * sheet.is_bent)


def _yours(sheet: _Sheet, yours: Mark, level: float) -> float:
    left, right = sheet.span(sheet.job.lies(yours))
    sheet.drawing.rectangle((left, 0), max(right - left, 1.0), _THICKNESS, "fig-wrong")
    item = Callout(((left + right) / 2, _THICKNESS), (sheet.words("setting.yours-lies"),), "fig-wrong")
    return callouts(sheet.drawing, [item], level + 4, above=False)


def _about(sheet: _Sheet, pencils: Mapping[str, float]) -> str:
    """What the drawing shows, with every mark."""
    words = sheet.words
    listed = [words("setting.listed", letter=letter, length=length(place)) for letter, place in pencils.items()]
    about = words("setting.about-bent" if sheet.is_bent else "setting.about", marks=", ".join(listed))
    return " ".join([about, *(words("setting.made-about", number=bend.mark.order) for bend in sheet.made)])
