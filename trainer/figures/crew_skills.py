"""Where each person of a crew stands on each skill: a row of short tapes from 0 to 10, with the likely range on each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import count

from msgspec import Struct

from trainer.figures.measure import LINE_HEIGHT
from trainer.figures.svg import MARGIN, WIDTH, Drawing
from trainer.figures.words import Words

__all__ = ["CrewRow", "Stands", "draw_crew_skills"]

COLUMNS = 6
_GAP = 10.0
_CELL = (WIDTH - 2 * MARGIN - (COLUMNS - 1) * _GAP) / COLUMNS
_TAPE = 22.0
#: No I and no O, as on drawings: they read like figures.
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


class Stands(Struct, frozen=True):
    """Right answers out of 10 that are likely at the first try, and the range that holds the truth in 90 of 100 cases."""

    about: float
    low: float
    high: float


class CrewRow(Struct, frozen=True):
    """A person, and where he or she stands by id of the skill; a skill that says nothing yet is left out."""

    name: str
    stands: Mapping[str, Stands]


def draw_crew_skills(
    skills: Sequence[tuple[str, str]], people: Sequence[CrewRow], words: Words, *, key: str = ""
) -> str:
    """
    A sheet of people by skills; a column's letter stands for the skill, and what it is stands above.

    Args:
        skills: Id and title of each skill that has a column.
        people: The rows.
        words: Sentences.
        key: Tells apart equal figures on one page.
    """
    drawing, level, letter = Drawing(), 0.0, count()
    for start in range(0, len(skills), COLUMNS):
        named = [(_letter(next(letter)), skill, title) for skill, title in skills[start : start + COLUMNS]]
        for sign, _, title in named:
            level = drawing.paragraph(level, f"{sign}  {title}", "fig-text fig-note") - 4
        level += 8
        for person in people:
            level = _row(drawing, person, named, words, level)
        level += 16
    about = " ".join(_told(skills, people, words))
    return drawing.finish(0, level - 16, words("crew.title"), about, key)


def _row(drawing: Drawing, person: CrewRow, named: Sequence[tuple[str, str, str]], words: Words, level: float) -> float:
    """One person's tapes; returns where the next row begins."""
    level = drawing.paragraph(level, person.name, "fig-text fig-heading")
    for column, (sign, skill, _) in enumerate(named):
        left = MARGIN + column * (_CELL + _GAP)
        stands = person.stands.get(skill)
        told = f"{sign} {round(stands.about)}" if stands else f"{sign} {words('crew.nothing')}"
        drawing.text((left, level + 10), told, "fig-text fig-note")
        if stands:
            _tape(drawing, left, level + 14, stands)
    empty = not any(skill in person.stands for _, skill, _ in named)
    return level + (LINE_HEIGHT if empty else _TAPE + LINE_HEIGHT) + 6


def _tape(drawing: Drawing, left: float, top: float, stands: Stands) -> None:
    """A tape of ten divisions: the range as a band along it, where it is about as a heavy line."""
    scale, edge = _CELL / 10, top + 14
    drawing.rectangle(
        (left + stands.low * scale, top + 3), max(1.0, (stands.high - stands.low) * scale), 7, "fig-range"
    )
    drawing.line((left, edge), (left + _CELL, edge), "fig-tick")
    for division in range(11):
        tall = 5 if division % 5 == 0 else 2.5
        drawing.line((left + division * scale, edge), (left + division * scale, edge - tall), "fig-tick")
    drawing.line((left + stands.about * scale, top + 1), (left + stands.about * scale, edge), "fig-about")


def _told(skills: Sequence[tuple[str, str]], people: Sequence[CrewRow], words: Words) -> Iterator[str]:
    for person in people:
        known = [
            words("crew.stands", skill=title, about=round(one.about), low=round(one.low), high=round(one.high))
            for skill, title in skills
            if (one := person.stands.get(skill))
        ]
        yield (
            words("crew.person", person=person.name, stands="; ".join(known))
            if known
            else words("crew.no-person", person=person.name)
        )


def _letter(nth: int) -> str:
    """A, B, ... Z, AA, AB, ... without I and O."""
    return _LETTERS[nth] if nth < len(_LETTERS) else _letter(nth // len(_LETTERS) - 1) + _LETTERS[nth % len(_LETTERS)]
