"""How many people are ready for each job type: laid along a tape with a division for each of them, all to one scale."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from trainer.figures.hatch import hatch
from trainer.figures.measure import LINE_HEIGHT, text_width
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["JobTally", "draw_ready_tape"]

_BAR, _TAPE = 15.0, 9.0
_SWATCH = 22.0
#: Divisions nearer to each other than this run together.
_NEAREST = 6.0
#: Figures at the divisions nearer to each other than this touch.
_FIGURES = 34.0
_STEPS = (1, 5, 10, 50, 100, 500, 1000, 5000)


class JobTally(Struct, frozen=True):
    """A job type and how many people are ready for it, due to show something again, and not ready yet."""

    name: str
    ready: int
    due: int
    not_yet: int

    @property
    def people(self) -> int:
        """All of them."""
        return self.ready + self.due + self.not_yet


def draw_ready_tape(tallies: Sequence[JobTally], words: Words, *, key: str = "") -> str:
    """
    A bar for each job type on a tape that counts people: solid for ready, hatched for due again, empty for not yet.

    Args:
        tallies: The job types, each with the same people; one at least, and one person at least.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    drawing = Drawing()
    people = max(1, *(tally.people for tally in tallies))
    scale = (WIDTH - 2 * MARGIN) / people
    level = _legend(drawing, words)
    for tally in tallies:
        level = _job(drawing, tally, words, level, scale)
    about = " ".join(words("ready.about", job=tally.name, counts=_counts(tally, words)) for tally in tallies)
    return drawing.finish(0, level, words("ready.title"), about, key)


def _legend(drawing: Drawing, words: Words) -> float:
    """What solid, hatched and empty mean; returns where that ends."""
    x = MARGIN
    for name, state in (("ready", "ready"), ("due", "due"), ("not-yet", "not-yet")):
        _segment(drawing, x, 4, _SWATCH, name)
        box = drawing.text((x + _SWATCH + 6, 16), words(f"ready.is-{state}"), "fig-text fig-note")
        x = box.right + 14
    return 34


def _job(drawing: Drawing, tally: JobTally, words: Words, level: float, scale: float) -> float:
    """One job type from `level` down; returns where the next one begins."""
    level = drawing.paragraph(level, tally.name, "fig-text fig-heading")
    x = MARGIN
    for name, count in (("ready", tally.ready), ("due", tally.due), ("not-yet", tally.not_yet)):
        if count:
            _segment(drawing, x, level, count * scale, name)
        x += count * scale
    _scale(drawing, level + _BAR, scale, tally.people)
    level += _BAR + _TAPE + LINE_HEIGHT
    return drawing.paragraph(level, _counts(tally, words), "fig-text fig-note") + 14


def _segment(drawing: Drawing, x: float, top: float, width: float, name: str) -> None:
    drawing.rectangle((x, top), width, _BAR, f"fig-{name}")
    if name == "due":
        corners = [(x, top), (x + width, top), (x + width, top + _BAR), (x, top + _BAR)]
        drawing.path(hatch(corners, 4.0) or f"M {x} {top + _BAR} L {x + width} {top}", "fig-due-hatch")


def _scale(drawing: Drawing, level: float, scale: float, people: int) -> None:
    """The tape below a bar: a line for each person, or for each 5, 10, 50 where they would run together."""
    drawing.line((MARGIN, level), (MARGIN + people * scale, level), "fig-tick")
    step = next(step for step in _STEPS if step * scale >= _NEAREST)
    figures = next(step for step in _STEPS if step * scale >= _FIGURES)
    for count in range(0, people + 1, step):
        tall = _TAPE if count % figures == 0 else _TAPE / 2
        drawing.line((MARGIN + count * scale, level), (MARGIN + count * scale, level + tall), "fig-tick")
    named = [count for count in range(0, people + 1, figures) if count < people]
    # The end is named, and a figure that would touch it is left out.
    if named[-1] and (people - named[-1]) * scale < text_width(f"{people}") + text_width(f"{named[-1]}") / 2 + 6:
        named.pop()
    for count in (*named, people):
        anchor = "start" if count == 0 else "end" if count == people else "middle"
        drawing.text((MARGIN + count * scale, level + _TAPE + 12), f"{count}", "fig-text fig-note", anchor)
    drawing.line((MARGIN + people * scale, level), (MARGIN + people * scale, level + _TAPE), "fig-tick")


def _counts(tally: JobTally, words: Words) -> str:
    return words("ready.counts", ready=tally.ready, due=tally.due, not_yet=tally.not_yet)
