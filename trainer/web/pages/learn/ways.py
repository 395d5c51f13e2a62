"""Where a problem leads: back to what it was issued for, to the same with new numbers, and on."""

from __future__ import annotations

from collections.abc import Mapping

from flask import url_for
from msgspec import Struct

from trainer.groups.way_on import WayOn
from trainer.lessons.model import Lesson
from trainer.progress.practice import ProblemPage
from trainer.web.language import gettext

__all__ = ["Way", "Ways", "ways_of"]

PROOF, PLACEMENT = "proof", "placement"


class Way(Struct, frozen=True):
    """
    A way to go.

    Args:
        words: What stands on the link or button.
        href: Where it leads.
        fields: What a form sends there; None for a link.
    """

    words: str
    href: str
    fields: Mapping[str, str] | None = None


class Ways(Struct, frozen=True):
    """The ways from a problem: back, the same with new numbers, on to what comes next."""

    back: Way
    again: Way
    onward: Way


def ways_of(page: ProblemPage, lesson: Lesson | None, place: WayOn | None) -> Ways:
    """
    The ways from a problem.

    Args:
        page: The problem.
        lesson: The lesson that it was issued in, if it was.
        place: Its place in assigned work, if it has one.
    """
    ways = _ways_of(page, lesson, place)
    if not page.goes_on or page.job is None:
        return ways
    words = gettext("Next: part %(nth)d of %(parts)d") % {"nth": page.job.nth + 1, "parts": page.job.parts}
    following = url_for("learn.problem_next", problem_id=page.public_id)
    return Ways(ways.back, ways.again, Way(words, following, {}))


def _in_proof(page: ProblemPage) -> Ways:
    here = url_for("learn.proof", skill=page.skill)
    where = Way(gettext("Proof run: %(skill)s") % {"skill": page.skill_title}, here)
    onward = Way(gettext("Next question"), url_for("learn.proof_next", skill=page.skill), {})
    return Ways(where, Way(gettext("Where the run stands"), here), onward)


def _in_placement() -> Ways:
    here = url_for("learn.placement")
    onward = Way(gettext("Next question"), url_for("learn.placement_next"), {})
    return Ways(Way(gettext("What do you know already?"), here), Way(gettext("Where the run stands"), here), onward)


def _ways_of(page: ProblemPage, lesson: Lesson | None, place: WayOn | None) -> Ways:
    if page.context == PROOF:
        return _in_proof(page)
    if page.context == PLACEMENT:
        return _in_placement()
    if place is not None:
        return _in_work(place)
    if lesson is not None:
        return _in_lesson(page, lesson)
    practice = url_for("learn.practice")
    return Ways(
        Way(gettext("Practice"), practice),
        Way(gettext("The whole job again") if page.job else _again(), practice, {"family": page.family_id}),
        Way(gettext("Next problem"), practice, {}),
    )


def _in_lesson(page: ProblemPage, lesson: Lesson) -> Ways:
    here = url_for("learn.lesson", lesson_id=lesson.id)
    once_more = url_for("learn.lesson_try", lesson_id=lesson.id, family_id=page.family_id)
    return Ways(
        Way(lesson.title, here),
        Way(_again(), once_more, {}),
        Way(gettext("Back to the lesson"), f"{here}#try-{page.family_id}"),
    )


def _in_work(place: WayOn) -> Ways:
    work, lines = place.work.work, len(place.work.lines)
    all_lines = url_for("learn.work_one", work_id=work)
    here = url_for("learn.work_open", work_id=work, position=place.position)
    where = gettext("%(work)s, question %(nth)d of %(lines)d")
    back = Way(where % {"work": place.work.title, "nth": place.position, "lines": lines}, all_lines)
    where_all = gettext("Back to the list")
    # In the room and on paper there is one problem for each line.
    once_only = place.work.kind != "home" and not place.work.past_due
    elsewhere = Way(gettext("Today"), url_for("learn.today")) if place.following is None else Way(where_all, all_lines)
    again = elsewhere if once_only else Way(_again(), here, {"new": "numbers"})
    if place.following is None:
        return Ways(back, again, Way(where_all, all_lines))
    onward = url_for("learn.work_open", work_id=work, position=place.following)
    words = gettext("Next: question %(nth)d of %(lines)d") % {"nth": place.following, "lines": lines}
    return Ways(back, again, Way(words, onward, {}))


def _again() -> str:
    return gettext("Again with new numbers")
