"""A piece of tape to scale, divided to the sixteenth, with the end of a tube on it: to be read as on the job."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from trainer.calc.tape_reading import TapeReading
from trainer.figures.callout import Callout, callouts
from trainer.figures.dimension import arrowhead
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.tube import broken_end
from trainer.figures.words import Words, length

__all__ = ["draw_tape"]

_SCALE = 100.0
_TUBE, _TAPE = 20.0, 70.0
#: Length of the lines at whole inches, halves, quarters, eighths, sixteenths.
_LINES = ((16, 36.0), (8, 27.0), (4, 20.0), (2, 13.0), (1, 8.0))
#: Tape that is shown before the inch that is read [in].
_BEFORE = 1.2
_FOOT = 12
#: Room for a line of a flag, where a sentence stands above it.
_FLAGS = 20.0
#: What is left of rounding [in].
_ON_A_LINE = 1e-6


class _Strip(Struct, frozen=True):
    """A stretch of tape from `first` [in], its divided edge at height `edge`."""

    drawing: Drawing
    words: Words
    first: float
    edge: float

    @property
    def last(self) -> float:
        """Where it stops [in]."""
        return self.first + (WIDTH - 2 * MARGIN) / _SCALE

    def x(self, place: float) -> float:
        """Where a place on the tape [in] lies."""
        return MARGIN + (place - self.first) * _SCALE

    def shows(self, place: float) -> bool:
        """Whether a place [in] lies on it."""
        return self.first <= place <= self.last


def draw_tape(
    inputs: Mapping[str, Any],
    result: TapeReading,
    words: Words,
    *,
    wrong: Mapping[str, float],
    solved: bool = True,
    key: str = "",
) -> str:
    """
    The tape where a tube ends on it; where it was begun at another line than its end, that place too.

    Args:
        inputs: Values of the calculation `tape_reading`.
        result: Its result.
        words: Sentences.
        wrong: A learner's value under "length", "on_tape" or "ticks"; marked on the tape.
        solved: Whether the reading is named. A place between two lines is shown only then.
        key: Tells apart equal figures on one page.
    """
    drawing, begun_at = Drawing(), inputs.get("begun_at") or 0.0
    on_a_line = abs(result.rounding) < _ON_A_LINE
    level = _beginning(drawing, words, begun_at) if begun_at else 0.0
    if begun_at:
        level = drawing.paragraph(level, words("tape.ends"), "fig-text fig-note")
        level += _FLAGS * ((1 if solved else 0) + (2 if wrong else 0))
    strip = _Strip(drawing, words, max(0.0, result.inch - _BEFORE), level + 44)
    _tape(strip)
    flags = []
    if on_a_line or solved:
        drawing.rectangle((MARGIN, strip.edge - _TUBE), strip.x(inputs["reading"]) - MARGIN, _TUBE, "fig-tube")
        broken_end(drawing, MARGIN, strip.edge - _TUBE, strip.edge, leftward=True)
        flags.append(_pointer(strip, result.on_tape, words("length", length=length(result.on_tape)) if solved else ""))
    flags += [_yours(strip, *_measured(name, value, result, begun_at)) for name, value in wrong.items()]
    top = callouts(drawing, [flag for flag in flags if flag], strip.edge - _TUBE - 12, above=True)
    bottom = strip.edge + _TAPE
    if solved:
        bottom = _quarters(strip, result.inch, bottom)
    about = _about(inputs, result, words, solved=solved, on_a_line=on_a_line)
    return drawing.finish(min(top, drawing.highest, -2) - 4, bottom + 6, words("tape.title"), about, key)


def _measured(name: str, value: float, result: TapeReading, begun_at: float) -> tuple[float, float]:
    """A learner's value as a length, and where it stands on the tape [in]; sixteenths count from the inch before."""
    length = result.inch + value / 16 - begun_at if name == "ticks" else value
    return length, length + begun_at


def _beginning(drawing: Drawing, words: Words, begun_at: float) -> float:
    """Where the tape is held on the tube's other end; returns where that part ends."""
    level = drawing.paragraph(0, words("tape.begins"), "fig-text fig-note")
    strip = _Strip(drawing, words, max(0.0, begun_at - _BEFORE), level + _TUBE + 20)
    _tape(strip)
    start = strip.x(begun_at)
    drawing.rectangle((start, strip.edge - _TUBE), WIDTH - MARGIN - start, _TUBE, "fig-tube")
    broken_end(drawing, WIDTH - MARGIN, strip.edge - _TUBE, strip.edge)
    _pointer(strip, begun_at, "")
    return strip.edge + _TAPE + 16


def _tape(strip: _Strip) -> None:
    """The tape with its lines, the inches numbered and whole feet named."""
    drawing, edge = strip.drawing, strip.edge
    drawing.rectangle((MARGIN, edge), WIDTH - 2 * MARGIN, _TAPE, "fig-tape")
    for sixteenth in range(math.ceil(16 * strip.first), math.floor(16 * strip.last) + 1):
        tall = next(tall for every, tall in _LINES if sixteenth % every == 0)
        x = strip.x(sixteenth / 16)
        drawing.line((x, edge), (x, edge + tall), "fig-tick")
    for inch in range(math.ceil(strip.first), math.floor(strip.last) + 1):
        if not strip.first + 0.1 < inch < strip.last - 0.1:
            continue
        drawing.text((strip.x(inch), edge + 50), f"{inch}", "fig-text fig-tape-text", "middle")
        if inch % _FOOT == 0:
            feet = strip.words("tape.foot", feet=inch // _FOOT)
            drawing.text((strip.x(inch), edge + 65), feet, "fig-text fig-heading", "middle")
    if strip.first > 0:
        broken_end(drawing, MARGIN, edge, edge + _TAPE, leftward=True)
    broken_end(drawing, WIDTH - MARGIN, edge, edge + _TAPE)


def _pointer(strip: _Strip, place: float, told: str) -> Callout | None:
    """An arrow onto a line of the tape, and its flag."""
    x = strip.x(place)
    strip.drawing.open_group("fig-at", position=place, kind="mark")
    strip.drawing.line((x, strip.edge - _TUBE - 12), (x, strip.edge - 6), "fig-mark")
    strip.drawing.close_group()
    arrowhead(strip.drawing, (x, strip.edge), (0, 1), "fig-mark")
    return Callout((x, strip.edge - _TUBE - 12), (told,), "fig-mark", "right") if told else None


def _yours(strip: _Strip, value: float, place: float) -> Callout:
    """A learner's value, at the edge where this stretch of tape does not reach it."""
    at = min(max(place, strip.first + 0.02), strip.last - 0.02)
    x = strip.x(at)
    strip.drawing.open_group("fig-at", position=place, kind="yours")
    strip.drawing.line((x, strip.edge - _TUBE - 12), (x, strip.edge + _TAPE), "fig-wrong")
    strip.drawing.close_group()
    lines = [strip.words("yours-is", length=length(value))]
    if not strip.shows(place):
        lines.append(strip.words("off-the-drawing"))
    return Callout((x, strip.edge - _TUBE - 12), tuple(lines), "fig-wrong", "left")


def _quarters(strip: _Strip, inch: float, level: float) -> float:
    """Below the tape, what the quarters behind the inch are called; returns where that ends."""
    for quarter, name in ((1, "1/4"), (2, "1/2"), (3, "3/4")):
        x = strip.x(inch + quarter / 4)
        strip.drawing.line((x, strip.edge + _LINES[2][1] + 2), (x, level + 3), "fig-dim-thin")
        strip.drawing.text((x, level + 15), name, "fig-text fig-note", "middle")
    return level + 20


def _about(inputs: Mapping[str, Any], result: TapeReading, words: Words, *, solved: bool, on_a_line: bool) -> str:
    """What the tape shows, said by its lines, so that it has to be read by ear too."""
    return " ".join(_sentences(inputs, result, words, solved=solved, on_a_line=on_a_line))


def _sentences(
    inputs: Mapping[str, Any], result: TapeReading, words: Words, *, solved: bool, on_a_line: bool
) -> Iterator[str]:
    told = {"inch": f"{result.inch:g}", "next": f"{result.inch + 1:g}", "ticks": result.ticks}
    yield words("tape.about")
    if begun_at := inputs.get("begun_at"):
        yield words("tape.begun", begun_at=length(begun_at))
    if on_a_line or solved:
        yield words("tape.between" if result.ticks else "tape.on-inch", **told)
    else:
        yield words("tape.no-place", **told)
    if solved:
        yield words("tape.reads", reading=length(result.on_tape))
