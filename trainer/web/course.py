"""The course of one skill as a drawing: the chance after each answer with its range, and the same in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from trainer.calc.message import Message
from trainer.figures.course import course_figure
from trainer.progress.constants import CURRENT
from trainer.progress.skill import SkillState, chance, likely_range
from trainer.progress.why import tenths
from trainer.text.words import say
from trainer.web.language import language

__all__ = ["course_drawing"]

FEWEST = 2
"""Points that make a line."""


def course_drawing(title: str, states: Sequence[SkillState], zone: ZoneInfo) -> str:
    """
    The drawing (SVG); "" while fewer than two points can be shown, as numbers are said from the fifth answer on.

    Args:
        title: Title of the skill.
        states: Its state after each counted answer.
        zone: In which days are written.
    """
    shown = [state for state in states if state.counted >= CURRENT.said_from]
    if len(shown) < FEWEST:
        return ""
    params: dict[str, str | int] = {"skill": title}
    for name, state in (("first", shown[0]), ("last", shown[-1])):
        low, high = likely_range(state)
        params |= {
            name: state.counted,
            f"{name}_day": _day(state.last_at, zone),
            f"{name}_right": tenths(chance(state)),
            f"{name}_low": tenths(low),
            f"{name}_high": tenths(high),
        }
    return course_figure(
        [(chance(state), *likely_range(state)) for state in shown],
        title=say(Message("course.title", params), language()),
        description=say(Message("course.description", params), language()),
        first=say(Message("course.first", params), language()),
        last=say(Message("course.last", params), language()),
    )


def _day(moment: datetime | None, zone: ZoneInfo) -> str:
    return "" if moment is None else f"{moment.astimezone(zone):%b} {moment.astimezone(zone).day}"
