"""Things that are looked over one by one, each in a cell of its own with its letter; solved, what fails is framed and said."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from trainer.calc.look_over import THINGS, LookOver, said
from trainer.figures.lettered import PLAIN, Lettered
from trainer.figures.look_box import BOX
from trainer.figures.look_ends import ENDS
from trainer.figures.look_joints import JOINTS
from trainer.figures.look_wet import WET
from trainer.figures.svg import MARGIN, WIDTH, Drawing, Point
from trainer.figures.words import Words

__all__ = ["PLACES", "draw_look_over"]

#: What may be given, in the order of the letters.
PLACES = ("first", "second", "third", "fourth", "fifth", "sixth")
_CELLS: Mapping[str, Callable[[Drawing, Point], None]] = MappingProxyType({**ENDS, **JOINTS, **WET, **BOX})
_ACROSS, _HIGH, _LETTER = 2, 96.0, 26.0
_WIDE = (WIDTH - 2 * MARGIN) / _ACROSS


def draw_look_over(
    inputs: Mapping[str, Any],
    result: LookOver,
    words: Words,
    *,
    wrong: Mapping[str, Any],
    solved: bool = True,
    key: str = "",
    lettered: Lettered = PLAIN,
) -> str:
    """
    Each thing drawn large, in section where its inside counts.

    Args:
        inputs: Values of the calculation `look_over`.
        result: Its result.
        words: Sentences.
        wrong: Has no place here.
        solved: Whether what breaks a rule is framed and said.
        key: Tells apart equal figures on one page.
        lettered: Letters of "first", "second", ...; without any, the things are numbered.
    """
    del wrong
    drawing = Drawing()
    seen = [place for place in PLACES if inputs.get(place) is not None]
    told = []
    row = _HIGH + _LETTER + (16 if solved else 0)
    for nth, place in enumerate(seen):
        name = str(inputs[place])
        letter = lettered.letters.get(place, f"{nth + 1}")
        fails = solved and bool(getattr(result, f"{place}_breaks"))
        corner = (MARGIN + nth % _ACROSS * _WIDE, nth // _ACROSS * row)
        _cell(drawing, corner, name, fails=fails)
        label = letter if not _is_short(name) else f"{letter}  {_short(name, words)}"
        at = (corner[0] + _WIDE / 2, corner[1] + _HIGH + 17)
        drawing.link(at, label, lettered.at(place), "fig-text fig-place-leader-text", "middle")
        if fails:
            drawing.text((at[0], at[1] + 16), words("look_over.breaks"), "fig-text fig-wrong-text", "middle")
        message = said(name)
        told.append(words("look_over.thing", letter=letter, thing=words.of_core(message.id, **message.params)))
        if fails:
            told.append(words("look_over.fails", label=letter))
    rows = -(-len(seen) // _ACROSS)
    level = rows * row + 4
    if not lettered.letters:
        level = _listed(drawing, level, told)
    level = drawing.paragraph(level, words(f"look_over.{THINGS[str(inputs['first'])].scene}"), "fig-text fig-note")
    if solved:
        level = drawing.paragraph(
            level, words("look_over.count" if result.fault_count else "look_over.sound", count=result.fault_count)
        )
    return drawing.finish(-4, level + 4, words("look_over.title"), " ".join(told), key)


def _cell(drawing: Drawing, corner: Point, name: str, *, fails: bool) -> None:
    """One thing in its frame, dashed where it fails."""
    drawing.open_group("fig-at", position=0.0, kind=f"look-{name}")
    drawing.rectangle((corner[0] + 3, corner[1]), _WIDE - 6, _HIGH, "fig-wrong" if fails else "fig-frame")
    drawing.close_group()
    _CELLS[name](drawing, (corner[0] + _WIDE / 2, corner[1] + _HIGH / 2))


def _listed(drawing: Drawing, level: float, told: Sequence[str]) -> float:
    """What each cell shows, where no letters of choices say it."""
    for sentence in told:
        level = drawing.paragraph(level, sentence)
    return level


def _is_short(name: str) -> bool:
    """Whether a thing has a few words to stand beside its letter."""
    return THINGS[name].scene in {"wet", "box"}


def _short(name: str, words: Words) -> str:
    message = said(name, "short")
    return words.of_core(message.id, **message.params)
